package report

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
)

// TestAskLines: what is flagged at a place on the wall is asked about on its sheet,
// with what it is; what the office settles is counted only.
func TestAskLines(t *testing.T) {
	w := houseWall()
	w.Battens[2].Tight, w.Battens[5].Tight, w.Trims[0].Loose = true, true, true
	w.Pieces[1].Unfixed = []string{"held by fewer than two fixings"}
	flag := func(s engine.Severity, code, what string) engine.Flag {
		return engine.Flag{Severity: s, Code: code, Plot: w.Plot, Wall: w.Name, What: what}
	}
	res := &engine.Result{Job: &engine.Job{Rules: engine.DefaultRules()}, Flags: []engine.Flag{
		flag(engine.Check, "trim-unbacked", "there is no room for a batten behind the trim: W1 left jamb"),
		flag(engine.Check, "joint-rules", "no layout keeps the joint rules here"),
		flag(engine.Note, "base-raised", "boards start higher"),
		{Severity: engine.Check, Code: "trim-unbacked", Plot: w.Plot, Wall: "another", What: "elsewhere"},
	}}
	want := []string{
		"ASK before fixing A1.2: held by fewer than two fixings.",
		"ASK before fixing boards to b3, b6: a screw stands nearer than 20 mm to the batten's end, which may split.",
		"ASK before fixing trims A-t1: an end has no batten near enough behind it, or one batten holds all of it.",
		"ASK: there is no room for a batten behind the trim: W1 left jamb.",
		"To be decided before anyone cuts: 2 checks on this wall, on the sheet Flagged issues.",
	}
	surveyed := w
	surveyed.Mirrored = 0
	if got := askLines(&surveyed, res); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	want[3] = "ASK (left and right as surveyed, not as built): there is no room for a batten behind the trim: W1 left jamb."
	if got := askLines(w.Handed(), res); !slices.Equal(got, want) {
		t.Errorf("handed: got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
