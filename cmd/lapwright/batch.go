package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
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
	all    int // items of all shards
	shard  batch.Shard
	resume bool
	o      convert.Options
}

// batchOf returns the batch that a command line asks for, or nil where it only
// names surveys.
func batchOf(c *cli.Context, o convert.Options, p *printer) (*batchJob, error) {
	names := expanded(c.Args().Slice())
	split, shard, resume := convert.SplitBy(c.String("split")), c.String("shard"), c.Bool("resume")
	var found *batch.Found
	for _, n := range names {
		f, err := foundIn(c, n, cmp.Or(o.Out, n))
		if err != nil {
			return nil, err
		}
		if f != nil {
			found = f
		}
	}
	switch {
	case found == nil && split == "" && shard == "" && !resume:
		return nil, nil
	case found != nil && len(names) > 1:
		return nil, usageError{"name one folder of surveys at a time, and no surveys beside it"}
	case len(names) == 0:
		return nil, usageError{"name a folder of surveys, or a survey"}
	case !slices.Contains([]convert.SplitBy{"", convert.SplitPlot, convert.SplitDrop, convert.SplitType}, split):
		return nil, usageError{"--split is plot, drop or type, not " + string(split)}
	case split != "" && (found != nil || len(names) > 1):
		return nil, usageError{"--split splits one survey"}
	case o.OutIsFile():
		return nil, usageError{"--out names one file but there may be several takeoffs: name a folder"}
	}
	j := &batchJob{folder: o.Out, resume: resume, o: o}
	if found != nil {
		p.found(names[0], found)
		j.folder, j.items = cmp.Or(j.folder, names[0]), found.Items
	} else if err := j.find(c.Context, names, split); err != nil {
		return nil, err
	}
	return j, j.choose(shard, found != nil || split != "")
}

// find lists the batch: the parts of one survey, or surveys named one by one.
func (j *batchJob) find(ctx context.Context, names []string, split convert.SplitBy) (err error) {
	one := names[0]
	switch {
	case len(names) == 1 && (split != "" || !j.resume):
		if j.folder == "" {
			j.folder = batch.PartsFolder(one)
		}
		j.items, err = batch.Split(ctx, one, j.folder, split, j.o)
	case j.folder == "":
		return usageError{"what is done is recorded in the folder of the takeoffs: name it with --out"}
	default:
		take, _ := chosen(names)
		j.items = batch.Named(take, j.folder)
	}
	return err
}

// choose keeps the items of the shard. What a batch system has set counts of
// itself only where the batch is known to be one.
func (j *batchJob) choose(text string, batched bool) error {
	j.all = len(j.items)
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
	var earlier []string
	bar := newProgress(p.stderr, len(j.items), p.quiet)
	entries, failed := batch.Run(ctx, j.items, batch.Options{Convert: j.o, Record: record, Progress: bar.step, Done: func(r convert.Report, _ error) {
		if k := keptLine(convert.Saved{Kept: r.Kept, Why: r.Why}, "takeoff"); k != "" {
			bar.clear()
			p.message(k)
		}
		earlier = append(earlier, r.Earlier...)
	}})
	bar.clear()
	p.earlier(earlier)
	if err := record.Close(); err != nil {
		return err
	}
	book, err := batch.Write(context.WithoutCancel(ctx), j.folder, version, record.Options(), j.shard, entries)
	if err != nil {
		return errors.Join(failed, err)
	}
	if len(j.items) == 0 && j.all > 0 {
		p.message(fmt.Sprintf("nothing of %s falls to shard %v; merge takes its report all the same", convert.Count(j.all, "survey"), j.shard))
	}
	if others := record.Others(); len(others) > 0 {
		p.message("done again, as the file there is not the takeoff that was written: " + firstOf(others))
	}
	if changed := record.Changed(); len(changed) > 0 {
		p.message("changed since they were written, and ordered as they stand: " + firstOf(changed))
	}
	if others := batch.NotWritten(j.folder, entries); len(others) > 0 && failed == nil && j.shard.N == 0 {
		p.message("not of this run, though they lie with its takeoffs: " + firstOf(others) + "; leave them out of an order, or take them away")
	}
	if n := record.Skipped(); n > 0 {
		p.message(fmt.Sprintf("%d of %s skipped: done before", n, convert.Count(len(j.items), "survey")))
	}
	if err := p.batch(entries, book); err != nil {
		return err
	}
	if failed != nil {
		return failed
	}
	return ended(entries)
}

// ended returns what surveys came to, each of which has been told of.
func ended(entries []batch.Entry) error {
	failed, stops := batch.Outcome(entries)
	switch {
	case failed != nil:
		return &toldError{failed}
	case stops:
		return stopsError{}
	}
	return nil
}

// batch prints what a batch came to.
func (p *printer) batch(entries []batch.Entry, book convert.Saved) error {
	name := book.Name
	if k := keptLine(book, "report"); k != "" {
		p.message(k)
	}
	if p.json {
		enc := json.NewEncoder(p.stdout)
		enc.SetIndent("", " ")
		enc.SetEscapeHTML(false)
		return enc.Encode(map[string]any{"version": version, "batch": name, "surveys": entries})
	}
	if p.quiet {
		return nil
	}
	var walls, quick int
	results := map[string]int{}
	for _, e := range entries {
		results[e.Result]++
		walls += e.Built
		if e.Effort == engine.EffortQuick {
			quick++
		}
	}
	if len(entries) == 0 {
		fmt.Fprintf(p.stdout, "0 surveys: nothing to do\n  written: %s\n", name)
		return nil
	}
	fmt.Fprintf(p.stdout, "%s: ", convert.Count(len(entries), "survey"))
	for _, r := range []string{batch.Done, batch.Stopped, batch.Refused, batch.Failed, batch.Undone} {
		if results[r] > 0 || r == batch.Done {
			fmt.Fprintf(p.stdout, "%d %s, ", results[r], r)
		}
	}
	boards := batch.Boards(entries)
	fmt.Fprintf(p.stdout, "%s, %s%s", convert.Count(walls, "wall"), convert.Count(boards.Boards, "board"), boards.BoundWords())
	if boards.Unpriced > 0 {
		fmt.Fprintf(p.stdout, ", %s without a price", convert.Count(boards.Unpriced, "line"))
	}
	fmt.Fprintln(p.stdout)
	p.stopped(entries)
	if n := kept(entries); n > 0 {
		fmt.Fprintf(p.stdout, "  kept: %s that stood where takeoffs go, which went beside: the list Batch says which and why\n", convert.Count(n, "file"))
	}
	if p.bySize && quick > 0 {
		fmt.Fprintf(p.stdout, "  effort: quick for %s %s\n", convert.Count(quick, "survey"), whyQuick)
	}
	if name != "" {
		fmt.Fprintln(p.stdout, "  written:", name)
	}
	return nil
}

// kept counts the takeoffs that were not written over.
func kept(entries []batch.Entry) int {
	n := 0
	for _, e := range entries {
		if e.Kept != "" {
			n++
		}
	}
	return n
}

// stopped names the first surveys of a batch of which something was left out: by a
// stop, or as it was not read.
func (p *printer) stopped(entries []batch.Entry) {
	const most = 8
	var told []batch.Entry
	for _, e := range entries {
		if e.Result == batch.Stopped || e.Result == batch.Done && e.Stopping != "" {
			told = append(told, e)
		}
	}
	slices.SortStableFunc(told, func(a, b batch.Entry) int { return cmp.Compare(min(b.Stops, 1), min(a.Stops, 1)) })
	for _, e := range told[:min(len(told), most)] {
		what := convert.Count(e.Stops, "stop")
		switch {
		case e.Left > 0:
			what = convert.Count(e.Left, "wall") + " left out"
		case e.Stops == 0:
			what = "to check"
		}
		fmt.Fprintf(p.stdout, "  %s: %s: %s\n", e.File, what, e.Stopping)
	}
	if n := len(told) - most; n > 0 {
		fmt.Fprintf(p.stdout, "  and %d more: the list Batch names them\n", n)
	}
}
