package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/engine"
)

// printer tells the user what was done: results on standard output, failures
// and remarks on standard error.
type printer struct {
	stdout, stderr     io.Writer
	quiet, json, check bool
	bySize             bool // the effort was left to the program
	entries            []entry
}

// entry is one survey in the JSON report.
type entry struct {
	convert.Report
	Error string `json:"error,omitempty"`
	Exit  int    `json:"exit"`
}

// toldError is a failure the printer has already told.
type toldError struct{ err error }

func (e *toldError) Error() string { return e.err.Error() }
func (e *toldError) Unwrap() error { return e.err }

func (p *printer) report(r convert.Report, err error) {
	if err != nil {
		fmt.Fprintln(p.stderr, "lapwright:", err)
	}
	if k := keptLine(convert.Saved{Kept: r.Kept, Why: r.Why}, "takeoff"); k != "" {
		p.message(k)
	}
	if r.PlainUBL && slices.ContainsFunc(r.Exports, func(name string) bool { return filepath.Ext(name) == ".xml" }) {
		p.message(plainUBL)
	}
	p.earlier(r.Earlier)
	refused := err != nil && convert.KindOf(err) == convert.Refused
	switch {
	case p.json:
		p.entries = append(p.entries, newEntry(r, err))
	case p.quiet:
	case err != nil && !refused && r.Out == "":
		if p.check {
			p.flags(r)
		}
		p.written(r.Beside)
	default:
		if p.check || refused {
			p.flags(r)
		}
		p.summary(r)
	}
}

// keptLine says why a file was not written over; blank where one was, or none
// was there.
func keptLine(s convert.Saved, what string) string {
	if s.Kept == "" {
		return ""
	}
	return fmt.Sprintf("%s is kept, so the %s goes beside it: %s.", s.Kept, what, s.Why)
}

// earlier names the forms that lie beside a new workbook and are not of it.
func (p *printer) earlier(names []string) {
	if len(names) == 0 {
		return
	}
	p.message("left from an earlier run, and not what the new workbook holds: " + firstOf(names) + "; remove what no longer counts, or have it written anew with --export")
}

// plainUBL says what an order without endpoint identifiers is good for.
const plainUBL = "the order is plain UBL: without the endpoints of buyer and seller (sheet Job) no network carries it by itself"

// whyQuick says why the program took quick effort of itself, and what to do.
const whyQuick = "for its many different walls; --effort normal takes longer and often needs fewer boards"

// message prints a remark that is no failure.
func (p *printer) message(text string) {
	if !p.quiet {
		fmt.Fprintln(p.stderr, text)
	}
}

func newEntry(r convert.Report, err error) entry {
	e := entry{Report: r, Exit: exitCode(err)}
	if err != nil {
		e.Error = err.Error()
	} else if r.Stops() > 0 {
		e.Exit = exitStops
	}
	return e
}

// flags prints every flag: stops first, then what to check, then notes. One
// of the whole job has no place, and names its survey, as there may be several.
func (p *printer) flags(r convert.Report) {
	flags := slices.Clone(r.Flags)
	slices.SortStableFunc(flags, convert.ByWeight)
	for _, f := range flags {
		f.Place.File = cmp.Or(f.Place.File, r.In)
		fmt.Fprintln(p.stdout, flagLine(f))
	}
}

// flagLine is one flag on one line, place first, as compilers write them.
func flagLine(f engine.Flag) string {
	place := ""
	if f.Place.File != "" {
		place = filepath.Base(f.Place.File)
		if f.Place.Sheet != "" {
			place += " " + f.Place.Sheet + "!" + f.Place.Cell
		}
		place += ": "
	}
	what := sentence(f.What)
	if f.Wall != "" {
		what = strings.TrimSpace(f.Plot+" "+f.Wall) + ": " + what
	}
	return strings.TrimSpace(fmt.Sprintf("%s%s %s: %s %s", place, f.Severity, f.Code, what, sentence(f.Do)))
}

// sentence ends a text with a full stop, unless it ends already.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

func (p *printer) summary(r convert.Report) {
	w := p.stdout
	fmt.Fprintf(w, "%s: %s\n", r.In, r.Headline())
	stops, checks, notes := r.Counts()
	if len(r.Flags) == 0 {
		fmt.Fprintln(w, "  nothing was flagged")
	} else {
		fmt.Fprintf(w, "  flagged: %s, %s, %s\n", convert.Count(stops, "stop"), convert.Count(checks, "check"), convert.Count(notes, "note"))
	}
	switch {
	case p.check && len(r.Flags) > 0:
		fmt.Fprintf(w, "  by code: %s\n", byCode(r.Flags))
	case !p.check:
		p.foremost(r)
	}
	if stops > 0 {
		fmt.Fprintln(w, "  the order is incomplete: a stop keeps its wall out")
	}
	if p.bySize && r.Effort == engine.EffortQuick {
		fmt.Fprintln(w, "  effort: quick", whyQuick)
	}
	p.written(slices.Concat(r.Beside, []string{r.Out}, r.Exports))
}

// written names the files that were written; blanks stand for none.
func (p *printer) written(names []string) {
	for _, name := range names {
		if name != "" {
			fmt.Fprintf(p.stdout, "  written: %s\n", name)
		}
	}
}

// foremost prints the first of the flags that kept something from being taken
// off, and says where they all are.
func (p *printer) foremost(r convert.Report) {
	const most = 8
	flags := r.Foremost()
	for _, f := range flags[:min(len(flags), most)] {
		fmt.Fprintln(p.stdout, "   ", flagLine(f))
	}
	if n := len(flags) - most; n > 0 {
		fmt.Fprintf(p.stdout, "    and %d more\n", n)
	}
	if r.Out != "" && len(r.Flags) > 0 {
		fmt.Fprintln(p.stdout, "  each flag, with its cell and what to do, is on the sheet Flagged issues")
	}
}

// byCode counts flags by their code, in order of code.
func byCode(flags []engine.Flag) string {
	counts := map[string]int{}
	for _, f := range flags {
		counts[f.Code]++
	}
	var parts []string
	for _, code := range slices.Sorted(maps.Keys(counts)) {
		parts = append(parts, fmt.Sprintf("%s %d", code, counts[code]))
	}
	return strings.Join(parts, ", ")
}

// close prints the JSON report, if one was asked for.
func (p *printer) close() error {
	if !p.json {
		return nil
	}
	enc := json.NewEncoder(p.stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(map[string]any{"version": version, "surveys": p.entries}); err != nil {
		return outputError{fmt.Errorf("standard output cannot be written: %w", err)}
	}
	return nil
}
