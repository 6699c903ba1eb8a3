package main

import (
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// completionFlag is the library's hidden option by which a shell asks what may
// come next; it must stay the last argument.
const completionFlag = "--generate-bash-completion"

// arranged returns the arguments as the library wants them: a command first
// (bare file names do the main job), then options, then names.
func arranged(app *cli.App, args []string) ([]string, error) {
	rest := slices.Clone(args[1:])
	command := firstName(rest, app)
	switch {
	case len(rest) > 0 && rest[len(rest)-1] == completionFlag,
		command == "" && onlyGlobal(rest, app):
		return args, nil
	case command == "help", command == "h":
		return args, helpless(rest, app)
	case app.Command(command) != nil:
		i := slices.Index(rest, command)
		rest = slices.Delete(rest, i, i+1)
	default:
		if err := mistyped(command, app); err != nil {
			return nil, err
		}
		command = "takeoff"
	}
	rest, err := optionsFirst(rest, app.Command(command).Flags)
	return append([]string{args[0], command}, rest...), err
}

// optionsFirst moves options that stand after file names before them, with
// their values, so that both orders work. Everything after "--" stays a name.
func optionsFirst(args []string, flags []cli.Flag) ([]string, error) {
	var options, names []string
	for i := 0; i < len(args); i++ {
		arg := args[i]
		if arg == "--" {
			names = append(names, args[i+1:]...)
			break
		}
		if len(arg) < 2 || arg[0] != '-' {
			names = append(names, arg)
			continue
		}
		options = append(options, arg)
		if takesValue(arg, flags) {
			if i++; i == len(args) {
				return nil, usageError{arg + " wants a value after it"}
			}
			options = append(options, args[i])
		}
	}
	return append(append(options, "--"), names...), nil
}

// takesValue reports whether the option's value is the next argument.
func takesValue(arg string, flags []cli.Flag) bool {
	name := strings.TrimLeft(arg, "-")
	for _, f := range flags {
		if _, isBool := f.(*cli.BoolFlag); !isBool && slices.Contains(f.Names(), name) {
			return true
		}
	}
	return false
}

// firstName returns the first argument that is neither an option nor the value
// of one.
func firstName(args []string, app *cli.App) string {
	for i := 0; i < len(args); i++ {
		switch {
		case args[i] == "--":
			return ""
		case !strings.HasPrefix(args[i], "-") || args[i] == "-":
			return args[i]
		case takesValue(args[i], app.Command("takeoff").Flags):
			i++
		}
	}
	return ""
}

func onlyGlobal(args []string, app *cli.App) bool {
	for _, a := range args {
		name := strings.TrimLeft(a, "-")
		if !slices.ContainsFunc(app.Flags, func(f cli.Flag) bool { return slices.Contains(f.Names(), name) }) &&
			!slices.Contains([]string{"help", "h", "version", "v"}, name) {
			return false
		}
	}
	return true
}

// mistyped returns an error for a first word that is no file and looks like a
// command, with the nearest command.
func mistyped(word string, app *cli.App) error {
	if word == "" || strings.ContainsAny(word, `./\*?[`) {
		return nil
	}
	if _, err := os.Stat(word); err == nil {
		return nil
	}
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Names()...)
	}
	near := nearest(word, names)
	for _, ext := range []string{".xlsx", ".xlsm", ".csv"} {
		if _, err := os.Stat(word + ext); err == nil {
			near = word + ext
			break
		}
	}
	return noSuch("command or file "+word, near)
}

// helpless returns an error where help is asked for of no command.
func helpless(words []string, app *cli.App) error {
	i := slices.IndexFunc(words, func(w string) bool { return w != "help" && w != "h" && !strings.HasPrefix(w, "-") })
	if i < 0 || app.Command(words[i]) != nil {
		return nil
	}
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Names()...)
	}
	return noSuch("command "+words[i], nearest(words[i], names))
}

// noSuch says that something is not there, and what was meant by it if that is
// known.
func noSuch(what, near string) error {
	if near != "" {
		what += "; did you mean " + near + "?"
	}
	return usageError{"there is no " + what}
}

// usage turns the library's complaint about an option into ours, with the
// nearest option, or the command that has it.
func usage(c *cli.Context, err error, _ bool) error {
	text := err.Error()
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		name = strings.TrimLeft(name, "-")
		for _, other := range c.App.Commands {
			if slices.Contains(optionNames(other.Flags), name) {
				return usageError{dashed(name) + " is an option of " + other.Name + ", not of " + c.Command.Name}
			}
		}
		near := nearest(name, optionNames(c.Command.Flags))
		if near != "" {
			near = dashed(near)
		}
		return noSuch("option "+dashed(name), near)
	}
	if m := badValue.FindStringSubmatch(text); m != nil {
		text = dashed(m[2]) + " cannot be " + m[1]
		for _, f := range c.Command.Flags {
			if doc, ok := f.(cli.DocGenerationFlag); ok && slices.Contains(f.Names(), m[2]) {
				text += ": it says " + strings.ReplaceAll(doc.GetUsage(), "`", "")
			}
		}
	}
	return usageError{text}
}

// badValue is how the library says that it cannot read an option's value.
var badValue = regexp.MustCompile(`^invalid (?:\w+ )?value (".*") for (?:flag )?-+([a-z-]+): `)

func optionNames(flags []cli.Flag) []string {
	var out []string
	for _, f := range flags {
		out = append(out, f.Names()...)
	}
	return out
}

// dashed writes an option as it is typed.
func dashed(name string) string {
	name = strings.TrimLeft(name, "-")
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}
