package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"lapwright/convert"
	"lapwright/engine"
)

// Every kind of failure has its own code, after sysexits.h (from memory:
// EX_DATAERR 65, EX_NOINPUT 66, EX_SOFTWARE 70, EX_CANTCREAT 73, EX_IOERR 74,
// EX_TEMPFAIL 75).
func TestExitCode(t *testing.T) {
	of := func(k convert.Kind) error { return &convert.Error{Kind: k} }
	tests := []struct {
		name string
		err  error
		want int
	}{
		{"none", nil, 0},
		{"stops", stopsError{}, 1},
		{"refused", of(convert.Refused), 1},
		{"usage", usageError{"no"}, 2},
		{"unusable", of(convert.Unusable), 65},
		{"missing", of(convert.Missing), 66},
		{"ours", of(convert.Internal), 70},
		{"unknown", errors.New("surprise"), 70},
		{"audit", fmt.Errorf("x: %w", engine.ErrAudit), 70},
		{"cannot make", of(convert.CannotMake), 73},
		{"cannot save", of(convert.CannotSave), 74},
		{"standard output", outputError{errors.New("full")}, 74},
		{"interrupted", of(convert.Interrupted), 75},
		{"wrapped", &toldError{fmt.Errorf("x: %w", of(convert.Missing))}, 66},
		{"the first of two", errors.Join(of(convert.Missing), of(convert.Unusable)), 66},
	}
	seen := map[int]bool{}
	for _, tt := range tests {
		if got := exitCode(tt.err); got != tt.want {
			t.Errorf("exitCode(%s): got %d, want %d", tt.name, got, tt.want)
		}
		seen[tt.want] = true
	}
	for _, m := range exitMeanings {
		if !seen[m.code] {
			t.Errorf("code %d is documented and never given", m.code)
		}
		delete(seen, m.code)
	}
	if len(seen) > 0 {
		t.Errorf("codes given and not documented: %v", seen)
	}
}

// One interruption ends the whole run, whatever is still to do.
func TestInterruptedRun(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	t.Chdir(t.TempDir())
	if err := os.WriteFile("walls.csv", []byte("Wall,Width mm,Height mm\nFront,4000,2700\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs strings.Builder
	code := run(ctx, []string{"lapwright", "--example", "--out", "a", "walls.csv"}, &out, &errs)
	if code != exitInterrupted || out.Len() > 0 {
		t.Errorf("got code %d and output %q, want %d and none", code, out.String(), exitInterrupted)
	}
	if !strings.HasPrefix(errs.String(), "lapwright: ") || !strings.Contains(errs.String(), "was interrupted") || strings.Count(errs.String(), "\n") != 1 {
		t.Errorf("standard error: got %q, want one line that it was interrupted", errs.String())
	}
	if entries, err := os.ReadDir("."); err != nil || len(entries) != 1 {
		t.Errorf("left behind: %v (%v), want the survey alone", entries, err)
	}
}

func TestNearest(t *testing.T) {
	words := []string{"takeoff", "check", "template", "completion", "json", "q"}
	tests := []struct{ word, want string }{
		{"takeoff", "takeoff"},
		{"takeof", "takeoff"},
		{"tkaeoff", "takeoff"}, // swapped
		{"chekc", "check"},
		{"chock", "check"},
		{"jsno", "json"},
		{"plate", ""},
		{"x", ""},
		{"", ""},
	}
	for _, tt := range tests {
		if got := nearest(tt.word, words); got != tt.want {
			t.Errorf("nearest(%q): got %q, want %q", tt.word, got, tt.want)
		}
	}
}

// Worked by hand from the definition: each pair is that many changes,
// additions, losses and swaps apart.
func TestDistance(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "abc", 0}, {"abc", "axc", 1}, {"abc", "ac", 1},
		{"abc", "acb", 1}, {"abc", "bac", 1}, {"kitten", "sitting", 3}, {"abcd", "badc", 2},
	}
	for _, tt := range tests {
		for _, pair := range [][2]string{{tt.a, tt.b}, {tt.b, tt.a}} {
			if got := distance([]rune(pair[0]), []rune(pair[1])); got != tt.want {
				t.Errorf("distance(%q, %q): got %d, want %d", pair[0], pair[1], got, tt.want)
			}
		}
	}
}

func TestFlagLine(t *testing.T) {
	at := engine.Place{File: "/jobs/house.xlsx", Sheet: "Walls", Cell: "B3"}
	tests := []struct {
		flag engine.Flag
		want string
	}{
		{engine.Flag{Severity: engine.Stop, Code: "type-error", Plot: "7", Wall: "Back", Place: at, What: "no number", Do: "type one"},
			"house.xlsx Walls!B3: stop type-error: 7 Back: no number. type one."},
		{engine.Flag{Severity: engine.Note, Code: "blank-row", Place: engine.Place{File: "house.xlsx"}, What: "left out"},
			"house.xlsx: note blank-row: left out."},
		{engine.Flag{Severity: engine.Check, Code: "wind-not-given", What: "no wind", Do: "give it"},
			"check wind-not-given: no wind. give it."},
	}
	for _, tt := range tests {
		if got := flagLine(tt.flag); got != tt.want {
			t.Errorf("got  %q\nwant %q", got, tt.want)
		}
	}
}
