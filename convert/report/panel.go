package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine"
)

// fixersPanel is what the fixer needs on the scaffold: the order of work, the
// tools, and what this wall in particular wants care with.
func (b *book) fixersPanel(w *engine.WallResult, pixels float64) [][]cell {
	out := [][]cell{{{v: "On the scaffold", l: heading}}}
	for i := 1; i < len(cutHeaders)+2; i++ {
		out[0] = append(out[0], cell{l: heading})
	}
	for _, s := range panelLines(w, b.res.Board) {
		out = append(out, panelText(s, pixels)...)
	}
	return out
}

func panelLines(w *engine.WallResult, board engine.Product) []string {
	out := []string{
		"Order of work: breather membrane; battens; vent strips at base and heads; tape on corner, jamb and joint battens; vertical trims; starter, checked level; boards from the bottom up.",
		"Datum and level: check the datum against the survey, set the starter level right round, and check level again every fourth course against the rod.",
		"Tools: saw with a blade for fibre cement and dust extraction, mask, drill and bits, level, rod, line, brush and edge sealer, gauge blocks.",
		"Mark the centre of every batten on the membrane or the board below, where the next screws can still find it.",
		"Seal every sawn edge before the board goes up, and wipe sealer off its face at once.",
		carrying(board),
	}
	return append(out, careLines(w)...)
}

// careLines are what only some walls want.
func careLines(w *engine.WallResult) []string {
	var out []string
	notched := marksOf(w, func(p *engine.Piece) bool { return len(p.Cutouts) > 0 })
	if notched != "" {
		out = append(out, "Notches ("+notched+"): drill the inside corners first, saw up to the hole, never overcut.")
	}
	if s := marksOf(w, func(p *engine.Piece) bool { return p.Packed }); s != "" {
		out = append(out, "Cut top edge ("+s+"): pack it out behind, so that the board stands at the same slope.")
	}
	if s := marksOf(w, func(p *engine.Piece) bool { return p.Left.Kind == engine.Rake || p.Right.Kind == engine.Rake }); s != "" {
		out = append(out, "Rakes ("+s+"): Length is along the longer edge, degrees are from square; try each in place before sealing.")
	}
	if s := marksOf(w, func(p *engine.Piece) bool { return p.Fragile }); s != "" {
		out = append(out, "Thin strips ("+s+"): support along the whole length when carrying and drilling.")
	}
	if n := countScrews(w, func(s engine.Screw) bool { return s.PreDrilled }); n > 0 {
		out = append(out, fmt.Sprintf("Drill first: %s near a board's end.", plural(n, "screw")))
	}
	if n := countScrews(w, func(s engine.Screw) bool { return s.Visible }); n > 0 {
		out = append(out, fmt.Sprintf("Left in sight: %s; use the colour-matched ones.", plural(n, "screw")))
	}
	return append(out, w.Advice...)
}

func countScrews(w *engine.WallResult, is func(engine.Screw) bool) int {
	n := 0
	for _, s := range w.Screws {
		if is(s) {
			n++
		}
	}
	return n
}

// marksOf lists the marks of the pieces that are so, at most a dozen.
func marksOf(w *engine.WallResult, is func(*engine.Piece) bool) string {
	var marks []string
	for i := range w.Pieces {
		if is(&w.Pieces[i]) {
			marks = append(marks, w.Pieces[i].Mark)
		}
	}
	if n := len(marks); n > 12 {
		marks = append(slices.Clone(marks[:12]), fmt.Sprintf("and %d more", n-12))
	}
	return strings.Join(marks, ", ")
}

// panelText writes a text over as many rows as it takes, all but the first set
// in. Wrapped in a merged cell it would not get its height in every reader.
func panelText(s string, pixels float64) [][]cell {
	const setIn = "    "
	var out [][]cell
	for i, line := range foldPixels(s, pixels-cellPadding-textPixels(setIn)) {
		if i > 0 {
			line = setIn + line
		}
		out = append(out, []cell{{v: line, l: panel}})
	}
	return out
}
