package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"lapwright/convert"
	"lapwright/engine"
)

// printer tells the user what was done: results on standard output, failures
// on standard error.
type printer struct {
	stdout, stderr     io.Writer
	quiet, json, check bool
	entries            []entry
}

// entry is one survey in the JSON report.
type entry struct {
	convert.Report
	Error string `json:"error,omitempty"`
	Exit  int    `json:"exit"`
}

// reportedError is a failure the printer has already told.
type reportedError struct{ err error }

func (e *reportedError) Error() string { return e.err.Error() }
func (e *reportedError) Unwrap() error { return e.err }

func (p *printer) report(r convert.Report, err error) {
	if err != nil {
		fmt.Fprintln(p.stderr, "lapwright:", err)
	}
	if p.json {
		p.entries = append(p.entries, newEntry(r, err))
		return
	}
	if p.quiet || (err != nil && len(r.Flags) == 0) {
		return
	}
	if p.check || errors.As(err, new(*convert.Error)) {
		for _, f := range r.Flags {
			fmt.Fprintln(p.stdout, flagLine(f))
		}
	}
	p.summary(r)
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

// flagLine is one flag on one line, place first, as compilers write them.
func flagLine(f engine.Flag) string {
	place := filepath.Base(f.Place.File)
	if f.Place.Sheet != "" {
		place += " " + f.Place.Sheet + "!" + f.Place.Cell
	}
	what := f.What
	if f.Wall != "" {
		what = wallName(f) + ": " + what
	}
	return fmt.Sprintf("%s: %s %s: %s; %s", place, f.Severity, f.Code, what, f.Do)
}

func wallName(f engine.Flag) string {
	if f.Plot == "" {
		return f.Wall
	}
	return f.Plot + " " + f.Wall
}

func (p *printer) summary(r convert.Report) {
	w := p.stdout
	fmt.Fprintf(w, "%s: %s\n", r.In, r.Headline())
	stops, checks, notes := r.Counts()
	fmt.Fprintf(w, "  flags: %d to stop, %d to check, %d to note\n", stops, checks, notes)
	if stops > 0 && !p.check {
		fmt.Fprintln(w, "  the order is incomplete: see the sheet Flagged issues, or run lapwright check")
	}
	if r.Out != "" {
		fmt.Fprintf(w, "  written: %s\n", r.Out)
	}
}

// close prints the JSON report, if one was asked for.
func (p *printer) close() error {
	if !p.json {
		return nil
	}
	enc := json.NewEncoder(p.stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(map[string]any{"version": version, "surveys": p.entries})
}
