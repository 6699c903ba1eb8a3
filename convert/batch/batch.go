// Package batch takes off many surveys at once: the workbooks of a folder, or
// the parts of one large survey. Each is converted on its own, so that one
// that fails stops no other, what is done can be skipped when the batch is run
// again, and shards of it may run on several machines. Whatever the number of
// workers or shards, the files and the report come out the same, byte for
// byte.
package batch

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"lapwright/convert"
)

// Item is one takeoff of a batch.
type Item struct {
	Name string // within the batch, with slashes; its shard follows from it
	In   string // the survey
	Out  string // the takeoff's file or folder, as [convert.Options] has it
	part *part
	keep []string // files that are not written over
	next *Item    // of the same output; it comes after this one
	at   int
}

// part is what an item takes off where that is not the whole survey.
type part struct {
	survey *convert.Survey
	part   convert.Part
	by     convert.SplitBy
}

// Options of a batch. The zero value converts every item with all cores and
// keeps no record.
type Options struct {
	Convert convert.Options
	Record  *Record // what is done already and is skipped; nil: nothing
	Workers int     // 0: as many as there are cores

	// Progress is told, as each item is done, the count of those done and of
	// all and how it failed; Done is told each outcome in the order of the
	// items. Either may be nil. They are never called at the same time.
	Progress func(done, all int, err error)
	Done     func(convert.Report, error)
}

// run is a batch under way.
type run struct {
	o     Options
	items []Item
	out   []Entry

	mu       sync.Mutex
	done     int
	told     int
	waiting  map[int]outcome // done, while one before it is not
	firstErr map[int]error
}

type outcome struct {
	report convert.Report
	err    error
}

// Run converts the items and returns an entry for each, in their order. The
// error is the first failure in that order, or that of a record that could not
// be kept; when ctx is done before every item, it is of the kind
// [convert.Interrupted] and what was finished stays.
func Run(ctx context.Context, items []Item, o Options) ([]Entry, error) {
	r := &run{o: o, items: items, out: make([]Entry, len(items)), waiting: map[int]outcome{}, firstErr: map[int]error{}}
	if r.o.Workers == 0 {
		r.o.Workers = runtime.GOMAXPROCS(0)
	}
	for i := range items {
		r.out[i] = notDone(&items[i])
	}
	group, inner := errgroup.WithContext(ctx)
	group.SetLimit(r.o.Workers)
	for _, first := range chained(items) {
		if inner.Err() != nil {
			break
		}
		group.Go(func() error { return r.chain(inner, first) })
	}
	if err := group.Wait(); err != nil {
		return r.out, err
	}
	switch {
	case ctx.Err() == nil:
	case len(items) == 1 && r.firstErr[0] != nil:
		return r.out, r.firstErr[0]
	case r.done < len(items):
		return r.out, &convert.Error{Kind: convert.Interrupted, Path: "the batch", What: r.howFar(), Do: r.again(), Err: ctx.Err()}
	}
	for i := range items {
		if err := r.firstErr[i]; err != nil {
			return r.out, err
		}
	}
	return r.out, nil
}

// again says how to go on: what is done can be skipped only where a record of
// it was kept.
func (r *run) again() string {
	if r.o.Record == nil {
		return "Run it again; with --out FOLDER --resume a record is kept there, and what is done is skipped the next time"
	}
	return "Run it again; with --resume what is done is skipped"
}

func (r *run) howFar() string {
	return "was interrupted after " + fmt.Sprint(r.done) + " of " + convert.Count(len(r.items), "survey") + ", which are kept"
}

// chain converts items that could write the same file, one after the other.
func (r *run) chain(ctx context.Context, it *Item) error {
	var keep []string
	for ; it != nil && ctx.Err() == nil; it = it.next {
		entry, known := r.o.Record.known(it)
		var result outcome
		if !known {
			result = r.convert(ctx, it, append(keep, it.keep...))
			entry = entryOf(it, result)
			if entry.Result == Undone {
				r.interrupted(it.at, result.err)
				continue
			}
			if err := r.o.Record.add(it, entry); err != nil {
				return err
			}
		} else {
			result.report = entry.report(it)
		}
		if result.report.Out != "" {
			keep = append(keep, result.report.Out)
		}
		r.finish(it.at, entry, result)
	}
	return nil
}

func (r *run) convert(ctx context.Context, it *Item, keep []string) (out outcome) {
	o := r.o.Convert
	o.Out, o.Keep = it.Out, keep
	if it.part != nil {
		out.report, out.err = it.part.survey.ConvertPart(ctx, it.part.part, o)
		return out
	}
	out.report, out.err = convert.Convert(ctx, it.In, o)
	return out
}

func (r *run) interrupted(at int, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.firstErr[at] = err
}

// finish notes an outcome and tells those that are next in order.
func (r *run) finish(at int, e Entry, result outcome) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.out[at] = e
	r.done++
	if result.err != nil {
		r.firstErr[at] = result.err
	}
	if r.o.Progress != nil {
		r.o.Progress(r.done, len(r.items), result.err)
	}
	if r.o.Done == nil {
		return
	}
	r.waiting[at] = result
	for {
		next, ok := r.waiting[r.told]
		if !ok {
			return
		}
		delete(r.waiting, r.told)
		r.told++
		r.o.Done(next.report, next.err)
	}
}

// chained links the items that name the same output and returns the first of
// each chain.
func chained(items []Item) []*Item {
	var out []*Item
	last := map[string]*Item{}
	for i := range items {
		it := &items[i]
		it.at, it.next = i, nil
		k := it.target()
		if before := last[k]; before != nil && k != "" {
			before.next = it
		} else {
			out = append(out, it)
		}
		last[k] = it
	}
	return out
}
