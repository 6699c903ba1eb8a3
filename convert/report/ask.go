package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine"
)

// asked are the checks that change what the fixer does at a place on the wall, by
// their codes; all others are for the office to settle. Those of pieces that cannot
// be fixed, of battens' ends and of loose trims are said by what is marked so.
var asked = []string{
	"base-raised", "batten-no-stud", "bay-wide", "corner-lines", "fixing-overloaded", "opening-at-slope", "opening-below-base", "packer-misfit",
	"packer-screw", "pier-closed", "reveal-wide", "soffit-uneven", "top-scribed", "trim-unbacked", "wind-fails",
}

// askLines say what the fixer is to ask about before it is fixed, and that the wall
// has flags that want a decision.
func askLines(w *engine.WallResult, res *engine.Result) []string {
	out := unfixedLines(w)
	if s := marked(w.Battens, func(b *engine.Batten) bool { return b.Tight }, func(b *engine.Batten) string { return shortMark(w, b.Mark) }); s != "" {
		out = append(out, fmt.Sprintf("ASK before fixing boards to %s: a screw stands nearer than %v mm to the batten's end, which may split.", s, res.Job.Rules.BattenEndLeast))
	}
	if s := marked(w.Trims, func(t *engine.Trim) bool { return t.Loose }, func(t *engine.Trim) string { return t.Mark }); s != "" {
		out = append(out, "ASK before fixing trims "+s+": an end has no batten near enough behind it, or one batten holds all of it.")
	}
	open := 0
	for _, f := range res.Flags {
		if f.Severity != engine.Check || f.Plot != w.Plot || f.Wall != w.Name {
			continue
		}
		open++
		if slices.Contains(asked, f.Code) {
			out = append(out, "ASK"+asSurveyed(w)+": "+strings.TrimSuffix(f.What, ".")+".")
		}
	}
	if open > 0 {
		out = append(out, fmt.Sprintf("To be decided before anyone cuts: %s on this wall, on the sheet Flagged issues.", plural(open, "check")))
	}
	return out
}

// asSurveyed warns of words on a handed wall's pages that are not mirrored.
func asSurveyed(w *engine.WallResult) string {
	if w.Mirrored > 0 {
		return " (left and right as surveyed, not as built)"
	}
	return ""
}

// unfixedLines say which pieces cannot be fixed like the others, and why.
func unfixedLines(w *engine.WallResult) []string {
	var out, words []string
	for i := range w.Pieces {
		for _, s := range w.Pieces[i].Unfixed {
			if !slices.Contains(words, s) {
				words = append(words, s)
			}
		}
	}
	for _, s := range words {
		out = append(out, "ASK before fixing "+marksOf(w, func(p *engine.Piece) bool { return slices.Contains(p.Unfixed, s) })+": "+s+".")
	}
	return out
}
