package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// The scripts ask the program itself for what may come next, by the command
// line library's own hidden option, and fall back to file names. The word
// being typed is passed on only where it begins an option.
var completions = map[string]string{
	"bash": `_lapwright() {
  local cur="${COMP_WORDS[COMP_CWORD]}" words=("${COMP_WORDS[@]:0:$COMP_CWORD}")
  [[ "$cur" == -* ]] && words+=("$cur")
  COMPREPLY=($(compgen -W "$("${words[@]}" ` + completionFlag + ` 2>/dev/null)" -- "$cur"))
  [[ "$cur" == -* ]] || COMPREPLY+=($(compgen -f -- "$cur"))
}
complete -o filenames -F _lapwright lapwright
`,
	"zsh": `#compdef lapwright
_lapwright() {
  local -a asked opts
  asked=("${(@)words[1,CURRENT-1]}")
  [[ "${words[CURRENT]}" == -* ]] && asked+=("${words[CURRENT]}")
  opts=("${(@f)$("${(@)asked}" ` + completionFlag + ` 2>/dev/null)}")
  [[ -n "${opts[1]}" ]] && _describe 'lapwright' opts
  _files
}
compdef _lapwright lapwright
`,
	"fish": `function __lapwright
  set -l words (commandline -opc)
  set -l cur (commandline -ct)
  string match -q -- '-*' $cur; and set -a words $cur
  $words ` + completionFlag + ` 2>/dev/null
end
complete -c lapwright -a '(__lapwright)'
`,
	"powershell": `Register-ArgumentCompleter -Native -CommandName lapwright -ScriptBlock {
  param($word, $ast, $position)
  $words = @($ast.CommandElements | Select-Object -Skip 1 | ForEach-Object { "$_" })
  if ($word -and -not $word.StartsWith('-')) { $words = @($words | Select-Object -SkipLast 1) }
  & lapwright @words ` + completionFlag + ` 2>$null |
    Where-Object { $_ -like "$word*" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
}
`,
}

func completionCommand() *cli.Command {
	shells := slices.Sorted(maps.Keys(completions))
	return &cli.Command{
		Name:            "completion",
		Usage:           "print the completion script of a shell: " + strings.Join(shells, ", "),
		ArgsUsage:       "SHELL",
		OnUsageError:    usage,
		HideHelpCommand: true,
		BashComplete: func(c *cli.Context) {
			fmt.Fprintln(c.App.Writer, strings.Join(shells, "\n"))
		},
		Action: func(c *cli.Context) error {
			script, ok := completions[c.Args().First()]
			if !ok || c.NArg() > 1 {
				return usageError{"completion wants one of " + strings.Join(shells, ", ")}
			}
			_, err := fmt.Fprint(c.App.Writer, script)
			return err
		},
	}
}
