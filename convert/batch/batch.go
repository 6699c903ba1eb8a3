// Package batch takes off many surveys at once: the workbooks of a folder, or
// the parts of one large survey. Each is converted on its own, so that one
// that fails stops no other, what is done can be skipped when the batch is run
// again, and shards of it may run on several machines. Whatever the number of
// workers or shards, the files and the report come out the same, byte for
// byte.
package batch

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"syscall"

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

	mu      sync.Mutex
	done    int
	told    int
	waiting map[int]outcome // done, while one before it is not
	cutOff  error           // of an item that was interrupted
}

type outcome struct {
	report convert.Report
	err    error
}

// Run converts the items and returns an entry for each, in their order; what
// failed stands in the entries. The error is of the batch itself: where ctx was
// done before every item, of the kind [convert.Interrupted]; where a record could
// not be kept or the disk is full, that, and the rest is not tried. What was
// finished stays.
func Run(ctx context.Context, items []Item, o Options) ([]Entry, error) {
	r := &run{o: o, items: items, out: make([]Entry, len(items)), waiting: map[int]outcome{}}
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
	case ctx.Err() == nil || r.done == len(items):
		return r.out, nil
	case len(items) == 1 && r.cutOff != nil:
		return r.out, r.cutOff
	}
	return r.out, &convert.Error{Kind: convert.Interrupted, Path: "the batch", What: "was interrupted " + r.howFar(), Do: "Run it again" + r.again(), Err: ctx.Err()}
}

// again says how to go on: what is done can be skipped only where a record of
// it was kept.
func (r *run) again() string {
	if r.o.Record == nil {
		return "; with --out FOLDER --resume a record is kept there, and what is done is skipped the next time"
	}
	return "; with --resume what is done is skipped"
}

// howFar is to be asked when nothing runs any more, or with mu held.
func (r *run) howFar() string {
	how := fmt.Sprintf("after %d of %s", r.done, convert.Count(len(r.items), "survey"))
	if r.done > 0 {
		how += "; what is done is kept"
	}
	return how
}

// chain converts items that could write the same file, one after the other.
func (r *run) chain(ctx context.Context, it *Item) error {
	var keep []string
	for ; it != nil && ctx.Err() == nil; it = it.next {
		entry, known := r.o.Record.known(ctx, it)
		var result outcome
		if !known {
			result = r.convert(ctx, it, append(keep, it.keep...))
			entry = entryOf(it, result)
			if entry.Result == Undone {
				r.interrupted(result.err)
				continue
			}
			if err := r.o.Record.add(it, entry); err != nil {
				return err
			}
		} else {
			result = entry.outcome(it)
		}
		if result.report.Out != "" {
			keep = append(keep, result.report.Out)
		}
		r.finish(it.at, entry, result)
		if err := r.full(result.err); err != nil {
			return err
		}
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

func (r *run) interrupted(err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.cutOff = err
}

// full returns an error that ends the batch where a disk takes no more: what
// follows would fail alike, after all its work.
func (r *run) full(err error) error {
	if !errors.Is(err, syscall.ENOSPC) && !errors.Is(err, syscall.EDQUOT) {
		return nil
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	return &convert.Error{Kind: convert.CannotSave, Path: "the batch", What: "ended, the disk being full, " + r.howFar(), Do: "Free some space and run it again" + r.again(), Err: err}
}

// finish notes an outcome and tells those that are next in order.
func (r *run) finish(at int, e Entry, result outcome) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.out[at] = e
	r.done++
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
