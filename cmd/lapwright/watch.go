package main

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/convert/batch"
)

// watch takes off what is put into a folder until interrupted.
func watch(c *cli.Context, o convert.Options, p *printer) error {
	switch {
	case c.NArg() != 1 || o.OutIsFile():
		return usageError{"--watch wants one folder, and a folder after --out"}
	case isFile(c.Args().First()):
		return usageError{"--watch wants a folder, and " + c.Args().First() + " is a file: leave --watch out to take it off"}
	case slices.ContainsFunc([]string{"resume", "shard", "split", "example"}, c.IsSet):
		return usageError{"--watch takes off whatever comes: it goes with none of --resume, --shard, --split and --example"}
	case c.Duration("every") <= 0:
		return usageError{"--every is how long between two looks, as in 10s"}
	}
	told := p.report
	if p.json {
		told = p.jsonLine
	}
	box := batch.Inbox{Folder: c.Args().First(), Out: o.Out, Every: c.Duration("every"), Convert: o, Done: told,
		Left: func(path, why string) { p.message(path + " is left alone: " + why + ".") }}
	box.Begun = func() { p.message("watching " + box.Folder + "; interrupt to end") }
	return box.Watch(c.Context)
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && !info.IsDir()
}

// jsonLine prints the report of one survey as JSON on a line, as it comes.
func (p *printer) jsonLine(r convert.Report, err error) {
	if err != nil {
		fmt.Fprintln(p.stderr, "lapwright:", err)
	}
	enc := json.NewEncoder(p.stdout)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(newEntry(r, err)) // what standard output does not take decides the exit code
}
