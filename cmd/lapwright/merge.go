package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/convert/batch"
)

func orderCommand() *cli.Command {
	return &cli.Command{
		Name:            "order",
		Usage:           "merge the orders of takeoff workbooks into one, with their spare, packs and prices as they stand",
		ArgsUsage:       "TAKEOFF...",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write to this `FILE`", Value: "lapwright-order.xlsx"},
			&cli.BoolFlag{Name: "twice", Usage: "count each time what two of the takeoffs both hold, as of one survey built twice"},
			exportFlag(),
		},
		Action: mergeOrders,
	}
}

func mergeOrders(c *cli.Context) error {
	names, left := ordersIn(expanded(c.Args().Slice()))
	for _, why := range left {
		fmt.Fprintln(c.App.ErrWriter, why)
	}
	out := c.String("out")
	switch {
	case len(names) == 0:
		return usageError{"name the takeoffs whose orders are merged"}
	case !strings.EqualFold(filepath.Ext(out), ".xlsx"):
		return usageError{"an order is a workbook that ends in .xlsx"}
	}
	for _, n := range names {
		a, err1 := os.Stat(n)
		if b, err2 := os.Stat(out); err1 == nil && err2 == nil && os.SameFile(a, b) {
			return usageError{"--out names " + n + ", which is one of the takeoffs"}
		}
	}
	formats, err := formatsOf(c)
	if err != nil {
		return err
	}
	merged, err := batch.Order(c.Context, names, c.Bool("twice"), convert.Options{Out: out, Version: version, Export: formats})
	if err != nil {
		return err
	}
	for _, what := range merged.Twice {
		fmt.Fprintln(c.App.ErrWriter, what+": counted twice, as asked.")
	}
	for _, what := range merged.Beside {
		fmt.Fprintln(c.App.ErrWriter, what+".")
	}
	if k := keptLine(merged.Saved, "order"); k != "" {
		fmt.Fprintln(c.App.ErrWriter, k)
	}
	(&printer{stderr: c.App.ErrWriter}).earlier(merged.Earlier)
	if slices.Contains(formats, convert.UBL) && merged.Plain {
		fmt.Fprintln(c.App.ErrWriter, plainUBL)
	}
	for _, l := range merged.Lines {
		if l.Remark != "" {
			fmt.Fprintf(c.App.ErrWriter, "%s %s: %s\n", l.Role, l.Code, l.Remark)
		}
	}
	for _, l := range merged.Lacks {
		fmt.Fprintln(c.App.ErrWriter, "the order is incomplete:", l)
	}
	fmt.Fprintf(c.App.Writer, "%s, %s\n", convert.Count(len(names), "takeoff"), convert.Count(len(merged.Lines), "line"))
	for _, name := range append([]string{merged.Saved.Name}, merged.Exports...) {
		fmt.Fprintln(c.App.Writer, "  written:", name)
	}
	if len(merged.Lacks) > 0 {
		return stopsError{}
	}
	return nil
}

// ordersIn splits the names into those whose orders are merged and remarks: of a
// merged order that a wildcard caught with the takeoffs beside it, of which it may
// be made.
func ordersIn(names []string) (take, remarks []string) {
	takeoffsIn := map[string]bool{}
	for _, n := range names {
		takeoffsIn[filepath.Dir(n)] = takeoffsIn[filepath.Dir(n)] || !convert.IsOwn(n)
	}
	for _, n := range names {
		if convert.IsOwn(n) && takeoffsIn[filepath.Dir(n)] {
			remarks = append(remarks, n+" is left alone: it is a merged order. Name it alone, or under another name, to have it counted.")
			continue
		}
		take = append(take, n)
	}
	return take, remarks
}

func mergeCommand() *cli.Command {
	return &cli.Command{
		Name:            "merge",
		Usage:           "put the reports of all shards of a batch together",
		ArgsUsage:       "REPORT.json...",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write to this `FOLDER` (default: that of the first report)"},
			&cli.BoolFlag{Name: "json", Usage: "print the report as JSON on standard output"},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print nothing but failures"},
		},
		Action: mergeReports,
	}
}

func mergeReports(c *cli.Context) error {
	names := expanded(c.Args().Slice())
	if len(names) == 0 {
		return usageError{"name the reports of the shards"}
	}
	folder := cmp.Or(c.String("out"), filepath.Dir(names[0]))
	book, entries, err := batch.Merge(c.Context, names, folder)
	if err != nil {
		return err
	}
	p := &printer{stdout: c.App.Writer, stderr: c.App.ErrWriter, quiet: c.Bool("quiet"), json: c.Bool("json")}
	if err := p.batch(entries, book); err != nil {
		return err
	}
	for _, e := range entries {
		if e.Error != "" {
			fmt.Fprintln(p.stderr, "lapwright:", e.Error)
		}
	}
	return ended(entries)
}
