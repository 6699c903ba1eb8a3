package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/convert/batch"
	"lapwright/engine"
)

func batchFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "resume", Usage: "skip what an earlier run of the same batch has done"},
		&cli.StringFlag{Name: "shard", Usage: "take only the `I/N`-th part of the batch, or /N where a batch system says which"},
		&cli.StringFlag{Name: "split", Usage: "a workbook for each plot, drop or type (`WORD`) of one survey, and one with the order of all"},
		&cli.BoolFlag{Name: "watch", Usage: "take off what is put into the folder until interrupted"},
		&cli.DurationFlag{Name: "every", Usage: "how often --watch looks, as in 10s", Value: 2 * time.Second},
	}
}

// batchJob is a batch that leaves a record and a report in its folder.
type batchJob struct {
	folder string
	items  []batch.Item
	shard  batch.Shard
	resume bool
	o      convert.Options
}

// batchOf returns the batch that a command line asks for, or nil where it only
// names surveys.
func batchOf(c *cli.Context, o convert.Options) (*batchJob, error) {
	names := expanded(c.Args().Slice())
	split, shard, resume := convert.SplitBy(c.String("split")), c.String("shard"), c.Bool("resume")
	folders := 0
	for _, n := range names {
		if batch.IsBatch(n) {
			folders++
		}
	}
	switch {
	case folders == 0 && split == "" && shard == "" && !resume:
		return nil, nil
	case folders > 0 && len(names) > 1:
		return nil, usageError{"name one folder of surveys at a time, and no surveys beside it"}
	case len(names) == 0:
		return nil, usageError{"name a folder of surveys, or a survey"}
	case !slices.Contains([]convert.SplitBy{"", convert.SplitPlot, convert.SplitDrop, convert.SplitType}, split):
		return nil, usageError{"--split is plot, drop or type, not " + string(split)}
	case split != "" && (folders > 0 || len(names) > 1):
		return nil, usageError{"--split splits one survey"}
	case o.OutIsFile():
		return nil, usageError{"--out names one file but there may be several takeoffs: name a folder"}
	}
	j := &batchJob{folder: o.Out, resume: resume, o: o}
	if err := j.find(c.Context, names, folders > 0, split); err != nil {
		return nil, err
	}
	return j, j.choose(shard, folders > 0 || split != "")
}

// surveysIn puts the surveys of a folder in the place of its name.
func surveysIn(names []string) ([]string, error) {
	var out []string
	for _, n := range names {
		if !batch.IsBatch(n) {
			out = append(out, n)
			continue
		}
		items, err := batch.Find(n, "")
		if err != nil {
			return nil, err
		}
		for _, it := range items {
			out = append(out, it.In)
		}
	}
	return out, nil
}

// find lists the batch: a folder, the parts of one survey, or surveys named
// one by one.
func (j *batchJob) find(ctx context.Context, names []string, folder bool, split convert.SplitBy) (err error) {
	one := names[0]
	switch {
	case folder:
		j.folder = cmp.Or(j.folder, one)
		j.items, err = batch.Find(one, j.folder)
	case len(names) == 1 && (split != "" || !j.resume):
		if j.folder == "" {
			j.folder = strings.TrimSuffix(one, filepath.Ext(one)) + " takeoffs"
		}
		j.items, err = batch.Split(ctx, one, j.folder, split, j.o)
	case j.folder == "":
		return usageError{"--resume and --shard keep a record: name its folder with --out"}
	default:
		take, _ := chosen(names)
		j.items = batch.Named(take, j.folder)
	}
	return err
}

// choose keeps the items of the shard. What a batch system has set counts of
// itself only where the batch is known to be one.
func (j *batchJob) choose(text string, batched bool) error {
	if text == "" && !batched {
		return nil
	}
	shard, _, err := batch.ParseShard(text, os.Getenv)
	if err != nil {
		return usageError{err.Error()}
	}
	j.shard, j.items = shard, shard.Pick(j.items)
	return nil
}

// run converts the batch and writes its report, finished or not.
func (j *batchJob) run(ctx context.Context, p *printer) error {
	record, err := batch.Open(j.folder, j.shard, j.o, j.resume)
	if err != nil {
		return err
	}
	bar := newProgress(p.stderr, len(j.items), p.quiet)
	entries, failed := batch.Run(ctx, j.items, batch.Options{Convert: j.o, Record: record, Progress: bar.step})
	bar.clear()
	if err := record.Close(); err != nil {
		return err
	}
	name, err := batch.Write(context.WithoutCancel(ctx), j.folder, version, j.shard, entries)
	if err != nil {
		return err
	}
	if err := p.batch(entries, name); err != nil {
		return err
	}
	return ended(p, entries, failed)
}

// ended says how a batch ended: the failure that decides has been told, unless
// it is the batch's own.
func ended(p *printer, entries []batch.Entry, failed error) error {
	if failed != nil {
		if convert.KindOf(failed) == convert.Interrupted {
			fmt.Fprintln(p.stderr, "lapwright:", failed)
		}
		return &toldError{failed}
	}
	for _, e := range entries {
		if e.Stops > 0 {
			return stopsError{}
		}
	}
	return nil
}

// batch prints what a batch came to.
func (p *printer) batch(entries []batch.Entry, name string) error {
	if p.json {
		enc := json.NewEncoder(p.stdout)
		enc.SetIndent("", " ")
		enc.SetEscapeHTML(false)
		return enc.Encode(map[string]any{"version": version, "batch": name, "surveys": entries})
	}
	if p.quiet {
		return nil
	}
	var walls, boards, bound, quick int
	results := map[string]int{}
	for _, e := range entries {
		results[e.Result]++
		walls, boards, bound = walls+e.Built, boards+e.Boards, bound+e.Bound
		if e.Effort == engine.EffortQuick {
			quick++
		}
	}
	fmt.Fprintf(p.stdout, "%s: ", convert.Count(len(entries), "survey"))
	for _, r := range []string{batch.Done, batch.Stopped, batch.Refused, batch.Failed, batch.Undone} {
		if results[r] > 0 || r == batch.Done {
			fmt.Fprintf(p.stdout, "%d %s, ", results[r], r)
		}
	}
	fmt.Fprintf(p.stdout, "%s, %s (no layout takes fewer than %d)\n", convert.Count(walls, "wall"), convert.Count(boards, "board"), bound)
	if p.bySize && quick > 0 {
		fmt.Fprintf(p.stdout, "  effort: quick for %s %s\n", convert.Count(quick, "survey"), whyQuick)
	}
	if name != "" {
		fmt.Fprintln(p.stdout, "  written:", name)
	}
	return nil
}

// watch takes off what is put into a folder until interrupted.
func watch(c *cli.Context, o convert.Options, p *printer) error {
	if c.NArg() != 1 || o.OutIsFile() {
		return usageError{"--watch wants one folder, and a folder after --out"}
	}
	box := batch.Inbox{Folder: c.Args().First(), Out: o.Out, Every: c.Duration("every"), Convert: o, Done: func(r convert.Report, err error) {
		p.report(r, err)
		p.entries = nil
	}}
	p.message("watching " + box.Folder + "; interrupt to end")
	return box.Watch(c.Context)
}

func orderCommand() *cli.Command {
	return &cli.Command{
		Name:            "order",
		Usage:           "merge the orders of takeoff workbooks into one, with their spare, packs and prices as they stand",
		ArgsUsage:       "TAKEOFF...",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write to this `FILE`", Value: "lapwright-order.xlsx"},
			exportFlag(),
		},
		Action: mergeOrders,
	}
}

func mergeOrders(c *cli.Context) error {
	names := expanded(c.Args().Slice())
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
	merged, err := batch.Order(c.Context, names, convert.Options{Out: out, Version: version, Export: formats})
	if err != nil {
		return err
	}
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
	for _, name := range merged.Written {
		fmt.Fprintln(c.App.Writer, "  written:", name)
	}
	if len(merged.Lacks) > 0 {
		return stopsError{}
	}
	return nil
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
	name, entries, err := batch.Merge(c.Context, names, folder)
	if err != nil {
		return err
	}
	p := &printer{stdout: c.App.Writer, stderr: c.App.ErrWriter, quiet: c.Bool("quiet"), json: c.Bool("json")}
	if err := p.batch(entries, name); err != nil {
		return err
	}
	for _, e := range entries {
		if e.Result != batch.Done {
			return stopsError{}
		}
	}
	return nil
}
