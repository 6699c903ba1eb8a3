package batch

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/engine"
	"lapwright/engine/natural"
	"lapwright/engine/quantity"
)

// The results an entry may have.
const (
	Done    = "done"
	Stopped = "done with stops" // part of it was left out
	Refused = "refused"         // has stops, and none was asked for
	Failed  = "failed"
	Undone  = "not done" // the batch was interrupted before
)

// Entry is what a batch keeps of one survey.
type Entry struct {
	File     string               `json:"file"`               // name within the batch
	Takeoff  string               `json:"takeoff,omitempty"`  // seen from the report; blank: none
	Kept     string               `json:"kept,omitempty"`     // what the takeoff went beside, seen from the report; blank: nothing
	Why      string               `json:"kept_why,omitempty"` // in words, and how to go on
	Result   string               `json:"result"`
	Error    string               `json:"error,omitempty"`
	Failure  string               `json:"failure,omitempty"` // the [convert.Kind] of the error
	Digest   string               `json:"digest,omitempty"`  // SHA-256 of the input
	Effort   engine.Effort        `json:"effort,omitempty"`
	Walls    int                  `json:"walls"` // taken off, as drawn
	Built    int                  `json:"built"` // with repeats
	Left     int                  `json:"left_out"`
	NetArea  float64              `json:"net_m2"`
	Boards   int                  `json:"boards"`
	Bound    int                  `json:"boards_bound,omitempty"` // no layout takes fewer; 0 where lengths are chosen by price, then Least counts
	Cost     float64              `json:"boards_cost,omitempty"`
	Least    float64              `json:"boards_cost_bound,omitempty"` // no layout costs less
	Waste    float64              `json:"waste_percent"`
	Amount   float64              `json:"amount"`
	Unpriced int                  `json:"unpriced,omitempty"` // lines without a price, which Amount leaves out
	Currency string               `json:"currency,omitempty"`
	Stops    int                  `json:"stops"`
	Checks   int                  `json:"checks"`
	Notes    int                  `json:"notes"`
	Codes    []Code               `json:"flags,omitempty"`
	Stopping string               `json:"stopping,omitempty"` // in words, the first stops and what was not read
	Order    []exchange.OrderLine `json:"order,omitempty"`
	Held     *report.Held         `json:"held,omitempty"` // which dwellings the takeoff counts
}

// Code counts the flags of one code.
type Code struct {
	Code string `json:"code"`
	N    int    `json:"n"`
}

// Report is a batch, whole or one shard of it.
type Report struct {
	Version string  `json:"version"`
	Shard   string  `json:"shard,omitempty"` // as "2/4"; blank: the whole
	Options string  `json:"options"`         // a digest, equal for shards of one batch
	Entries []Entry `json:"surveys"`
}

func notDone(it *Item) Entry { return Entry{File: it.Name, Result: Undone} }

func entryOf(it *Item, o outcome) Entry {
	r := o.report
	e := Entry{
		File: it.Name, Takeoff: r.Out, Kept: r.Kept, Why: r.Why, Result: Done, Digest: r.Digest, Effort: r.Effort, Walls: r.Walls, Built: r.Built,
		Left: r.Left, NetArea: r.NetArea, Boards: r.Boards, Bound: r.Bound, Cost: r.Cost, Least: r.Least, Waste: r.Waste, Amount: r.Amount,
		Unpriced: r.Unpriced, Currency: r.Currency, Codes: codes(r.Flags), Order: r.Order,
	}
	e.Stops, e.Checks, e.Notes = r.Counts()
	if e.Stops > 0 {
		e.Result = Stopped
	}
	e.Stopping = stopping(r.Foremost())
	if o.err == nil {
		held := r.Held // not a place in the report, which would be kept with all its flags
		e.Held = &held
		return e
	}
	e.fail(o.err)
	switch convert.KindOf(o.err) {
	case convert.Interrupted:
		return notDone(it)
	case convert.Refused:
		e.Result = Refused
	}
	return e
}

// Outcome returns what entries came to: the first failure among them, and whether
// a stop left something out. Where some were not done that comes first.
func Outcome(entries []Entry) (failed error, stops bool) {
	for _, e := range entries {
		stops = stops || e.Stops > 0
		switch {
		case e.Result == Undone:
			return &convert.Error{Kind: convert.Interrupted, Path: e.File, What: "was not done", Do: "Run the batch again with --resume"}, stops
		case e.Failure != "" && failed == nil:
			failed = &convert.Error{Kind: convert.KindNamed(e.Failure), Path: e.File, What: "failed"}
		}
	}
	return failed, stops
}

// Boards sums the boards of entries, their lines without a price, and their bound as far as all have one in
// the same measure: a number of boards, or money.
func Boards(entries []Entry) convert.Report {
	var sum convert.Report
	counted, priced := true, true
	for _, e := range entries {
		sum.Unpriced += e.Unpriced
		if e.Boards == 0 {
			continue
		}
		if sum.Currency == "" {
			sum.Currency = e.Currency
		}
		counted = counted && e.Bound > 0
		priced = priced && e.Least > 0 && e.Currency == sum.Currency
		sum.Boards, sum.Bound, sum.Cost, sum.Least = sum.Boards+e.Boards, sum.Bound+e.Bound, sum.Cost+e.Cost, sum.Least+e.Least
	}
	if !counted {
		sum.Bound = 0
	}
	if !priced {
		sum.Least = 0
	}
	return sum
}

// NotWritten lists the takeoffs in a folder, in order of name, that are of none of
// the entries and were not kept for one: of a survey that has gone or fails now, or
// of another split. Whoever takes all that lie there orders them too.
func NotWritten(folder string, entries []Entry) []string {
	ours := map[string]bool{}
	for _, e := range entries {
		ours[filepath.Clean(e.Takeoff)], ours[filepath.Clean(e.Kept)] = true, true
	}
	files, err := filepath.Glob(filepath.Join(globbed(folder), "*"+suffix))
	if err != nil {
		return nil
	}
	slices.SortFunc(files, natural.Compare)
	return slices.DeleteFunc(files, func(name string) bool { return ours[filepath.Clean(name)] })
}

// byName is the order of entries in a report.
func byName(a, b Entry) int { return natural.Compare(a.File, b.File) }

// outcome is what can be told of an item that was done before.
func (e Entry) outcome(it *Item) outcome {
	var out outcome
	if e.Failure != "" {
		out.err = errors.New(e.Error)
	}
	out.report = convert.Report{
		In: it.In, Out: e.Takeoff, Digest: e.Digest, Effort: e.Effort, Walls: e.Walls, Built: e.Built, Left: e.Left,
		NetArea: e.NetArea, Boards: e.Boards, Bound: e.Bound, Cost: e.Cost, Least: e.Least, Waste: e.Waste, Amount: e.Amount, Unpriced: e.Unpriced, Currency: e.Currency,
		Order: e.Order, Flags: []engine.Flag{},
	}
	return out
}

// asStands returns the entry of a takeoff that was changed since, with its order as
// it stands there now: what was typed into it counts, here as where orders are
// merged. Where it cannot be counted the entry fails.
func (e Entry) asStands(ctx context.Context) Entry {
	s, err := readOrder(ctx, e.Takeoff)
	if err != nil {
		e.fail(err)
		return e
	}
	e.Order, e.Currency, e.Amount, e.Unpriced = s.lines, s.currency, 0, 0
	for _, l := range s.lines {
		e.Amount += l.Amount
		if l.Price == 0 {
			e.Unpriced++
		}
	}
	e.Amount = quantity.Round(e.Amount)
	return e
}

// fail makes the entry one of a failure: nothing of it is ordered.
func (e *Entry) fail(err error) {
	e.Result, e.Error, e.Failure = Failed, err.Error(), convert.KindOf(err).String()
	e.Order, e.Amount, e.Unpriced = nil, 0, 0
}

// codes counts flags by code, in order of code.
func codes(flags []engine.Flag) []Code {
	n := map[string]int{}
	for _, f := range flags {
		n[f.Code]++
	}
	var out []Code
	for c, k := range n {
		out = append(out, Code{c, k})
	}
	slices.SortFunc(out, func(a, b Code) int { return cmp.Compare(a.Code, b.Code) })
	return out
}

// stopping says the first of the flags that kept something out, in words, and how
// many there are more. Notes are left out: a sheet of the surveyor's own is nothing
// wrong, and may be in every survey.
func stopping(flags []engine.Flag) string {
	const most = 3
	var said []string
	n := 0
	for _, f := range flags {
		if f.Severity < engine.Check {
			continue
		}
		if n++; n <= most {
			at := strings.Trim(f.Place.Sheet+"!"+f.Place.Cell, "!")
			if at == "" && f.Place.File != "" {
				at = filepath.Base(f.Place.File)
			}
			said = append(said, strings.TrimLeft(at+": "+strings.TrimLeft(strings.TrimSpace(f.Plot+" "+f.Wall)+": ", ": ")+f.What, ": "))
		}
	}
	if n > most {
		said = append(said, fmt.Sprintf("and %d more", n-most))
	}
	return strings.Join(said, "; ")
}

// from names the files of an entry, which are seen from the folder of its report,
// as they are seen from here.
func (e Entry) from(folder string) Entry {
	for _, name := range []*string{&e.Takeoff, &e.Kept} {
		if *name != "" {
			*name = filepath.Join(folder, filepath.FromSlash(*name))
		}
	}
	return e
}

// relative names each takeoff, and what is kept, as seen from the folder of the report.
func relative(entries []Entry, folder string) []Entry {
	out := slices.Clone(entries)
	for i := range out {
		for _, name := range []*string{&out[i].Takeoff, &out[i].Kept} {
			if *name == "" {
				continue
			}
			if rel, err := filepath.Rel(folder, *name); err == nil && !strings.HasPrefix(rel, "..") {
				*name = rel
			}
			*name = filepath.ToSlash(*name)
		}
	}
	return out
}

// writeJSON writes a report for machines, an entry at a time.
func (r Report) writeJSON(w io.Writer) error {
	entries := r.Entries
	r.Entries = []Entry{}
	return exchange.Stream(w, r, "surveys", len(entries), func(i int) any { return &entries[i] })
}

// readReport reads a report back.
func readReport(path string) (Report, error) {
	var r Report
	data, err := os.ReadFile(path)
	if err != nil {
		return r, &convert.Error{Kind: convert.Missing, Path: path, What: "is not there, or may not be read", Do: "Check the name and the folder", Err: err}
	}
	if err := json.Unmarshal(data, &r); err != nil || r.Entries == nil {
		return r, &convert.Error{Kind: convert.Unusable, Path: path, What: "is no report of a batch", Do: "Name the JSON reports that the shards wrote", Err: err}
	}
	return r, nil
}
