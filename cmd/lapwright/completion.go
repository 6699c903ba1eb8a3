package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// The scripts ask the program itself for what may come next, by the command
// line library's own hidden option, and fall back to file names.
var completions = map[string]string{
	"bash": `_lapwright() {
  local cur="${COMP_WORDS[COMP_CWORD]}"
  COMPREPLY=($(compgen -W "$("${COMP_WORDS[@]:0:$COMP_CWORD}" --generate-bash-completion 2>/dev/null)" -- "$cur") $(compgen -f -- "$cur"))
}
complete -o filenames -F _lapwright lapwright
`,
	"zsh": `#compdef lapwright
_lapwright() {
  local -a opts
  opts=("${(@f)$(${words[1,CURRENT-1]} --generate-bash-completion 2>/dev/null)}")
  _describe 'values' opts
  _files
}
compdef _lapwright lapwright
`,
	"fish": `complete -c lapwright -a '(eval (commandline -opc) --generate-bash-completion 2>/dev/null)'
`,
	"powershell": `Register-ArgumentCompleter -Native -CommandName lapwright -ScriptBlock {
  param($word, $ast, $position)
  & lapwright @($ast.CommandElements | Select-Object -Skip 1) --generate-bash-completion |
    Where-Object { $_ -like "$word*" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
}
`,
}

func completionCommand() *cli.Command {
	shells := slices.Sorted(maps.Keys(completions))
	return &cli.Command{
		Name:         "completion",
		Usage:        "print the completion script of a shell: " + strings.Join(shells, ", "),
		ArgsUsage:    "SHELL",
		OnUsageError: usage,
		Action: func(c *cli.Context) error {
			script, ok := completions[c.Args().First()]
			if !ok {
				return usageError{"completion wants one of " + strings.Join(shells, ", ")}
			}
			_, err := fmt.Fprint(c.App.Writer, script)
			return err
		},
	}
}
