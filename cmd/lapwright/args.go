package main

import (
	"os"
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
		command == "" && onlyGlobal(rest, app),
		command == "help", command == "h":
		return args, nil
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
	text := "there is no command or file " + word
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Names()...)
	}
	if near := nearest(word, names); near != "" {
		text += "; did you mean " + near + "?"
	}
	return usageError{text}
}

// usage turns the library's complaint about an option into ours, with the
// nearest option.
func usage(c *cli.Context, err error, _ bool) error {
	text := err.Error()
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		text = "there is no option " + dashed(name)
		var names []string
		for _, f := range c.Command.Flags {
			names = append(names, f.Names()...)
		}
		if near := nearest(strings.TrimLeft(name, "-"), names); near != "" {
			text += "; did you mean " + dashed(near) + "?"
		}
	}
	return usageError{text}
}

// dashed writes an option as it is typed.
func dashed(name string) string {
	name = strings.TrimLeft(name, "-")
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}
