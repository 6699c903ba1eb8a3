package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// optionsFirst moves options that stand after file names before them, with
// their values, so that both orders work. Everything after "--" stays a name.
func optionsFirst(args []string, flags []cli.Flag) []string {
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
		if takesValue(arg, flags) && i+1 < len(args) {
			i++
			options = append(options, args[i])
		}
	}
	return append(append(options, "--"), names...)
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

// arranged returns the arguments as the library wants them: a command first
// (bare file names do the main job), then options, then names.
func arranged(app *cli.App, args []string) ([]string, error) {
	rest := slices.Clone(args[1:])
	command := firstName(rest, app)
	switch {
	case command == "" && onlyGlobal(rest, app), command == "help", command == "h":
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
	return append([]string{args[0], command}, optionsFirst(rest, app.Command(command).Flags)...), nil
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
			!slices.Contains([]string{"help", "h", "version", "v", "generate-bash-completion"}, name) {
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
	text := "there is no command or file " + quoted(word)
	if near := cli.SuggestCommand(app.Commands, word); near != "" {
		text += "; did you mean " + quoted(near) + "?"
	}
	return usageError{text}
}

func quoted(s string) string { return `"` + s + `"` }

// expanded returns the names with wildcards filled in, for shells that leave
// them to the program. A pattern that matches nothing stays as it is, so that
// it is reported as missing.
func expanded(names []string) []string {
	var out []string
	for _, n := range names {
		if matches, err := filepath.Glob(n); err == nil && len(matches) > 0 && strings.ContainsAny(n, "*?[") {
			out = append(out, matches...)
			continue
		}
		out = append(out, n)
	}
	return out
}
