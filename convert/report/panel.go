package report

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"lapwright/convert/lettering"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// fixersPanel is what the fixer needs on the scaffold: the order of work, the
// tools, and what this wall in particular wants care with.
func (b *book) fixersPanel(w *engine.WallResult, pixels float64) [][]cell {
	out := [][]cell{{{v: "On the scaffold", l: heading}}}
	for i := 1; i < len(listWidths); i++ {
		out[0] = append(out[0], cell{l: heading})
	}
	for _, s := range panelLines(w, b.res) {
		out = append(out, panelText(s, pixels)...)
	}
	return out
}

func panelLines(w *engine.WallResult, res *engine.Result) []string {
	out := []string{
		"Order of work: breather membrane; battens; vent strips; tape on corner, edge, jamb and joint battens; vertical and verge trims; starter, checked level; boards from the bottom up.",
		"Datum and level: check the datum against the survey, set each starter level, each step of the base by the rod, and check level again every fourth course against the rod.",
		"Tools: saw with a blade for fibre cement and dust extraction, mask, drill and bits, level, rod, line, brush and edge sealer, gauge blocks.",
		"Mark the centre of every batten on the membrane or the board below, where the next screws can still find it.",
		"Seal every sawn edge before the board goes up, and wipe sealer off its face at once.",
		carrying(res.Board),
	}
	out = append(out, cornerLines(w)...)
	out = append(out, screwLines(w, res.Job.Rules.EdgeDistance)...)
	out = append(out, fixingLines(w, &res.Job.Rules)...)
	out = append(out, spliceLines(w)...)
	out = append(out, careLines(w)...)
	return append(out, askLines(w, res)...)
}

// fixingLines say which fixing goes where, and how close those stand that are
// not the boards'.
func fixingLines(w *engine.WallResult, r *engine.Rules) []string {
	codes := map[string]string{}
	for _, row := range w.Fixings {
		if row.Role != "" && row.Fixing != "" && row.Packers.Hi == 0 { // what goes through packers is said with them
			codes[row.Role] = " " + row.Fixing
		}
	}
	var out []string
	if code, ok := codes[engine.RoleBattenFixing]; ok {
		out = append(out, fmt.Sprintf("Batten fixings%s: at both ends of a batten and at most %v mm apart.", code, r.BattenFixing))
	}
	if code, ok := codes[engine.RoleTrimFixing]; ok {
		out = append(out, fmt.Sprintf("Trim fixings%s: starters, vent strips and verge trims on the battens they cross, %v mm apart where battens allow; other trims at most %v mm apart, corners on both legs.", code, r.StripFixing, r.TrimFixing))
	}
	return append(out, boardScrewLines(w, codes[engine.RoleScrew], codes[engine.RoleVisibleScrew])...)
}

// boardScrewLines say which screws hold the boards, those of each kind that there are.
func boardScrewLines(w *engine.WallResult, hidden, seen string) []string {
	var parts []string
	if hidden != "" {
		parts = append(parts, "Board screws"+hidden)
	}
	if seen != "" {
		parts = append(parts, "those left in sight"+seen)
	}
	if len(parts) > 0 && slices.ContainsFunc(w.Packings, func(k engine.Packing) bool { return !k.Foot }) {
		parts = append(parts, "those through packers by the list Packers")
	}
	switch {
	case len(parts) == 0:
		return nil
	case hidden == "":
		parts[0] = "Board screws: " + parts[0]
	}
	return []string{strings.Join(parts, "; ") + "."}
}

// cornerLines say which wall's sheet has the trim of a corner that this one
// shares.
func cornerLines(w *engine.WallResult) []string {
	var out []string
	for _, c := range []struct{ side, meets string }{{"left", w.LeftMeets}, {"right", w.RightMeets}} {
		has := slices.ContainsFunc(w.Trims, func(t engine.Trim) bool { return t.Where == c.side+" edge" })
		if c.meets != "" && !has {
			out = append(out, fmt.Sprintf("Corner at the %s edge: its trim is on the sheet of wall %s.", c.side, c.meets))
		}
	}
	return out
}

// screwLines say where the screws go, from where they were placed.
func screwLines(w *engine.WallResult, edge measure.Length) []string {
	if len(w.Screws) == 0 {
		return nil
	}
	out := []string{fmt.Sprintf("Screws: one in each batten, at its centre, %v mm below the board's top edge; never through the board below.", edge)}
	ends, rakes, beside, most := map[measure.Length]bool{}, map[measure.Length]bool{}, 0, measure.Length(0)
	for _, s := range w.Screws {
		if s.Piece >= len(w.Pieces) || s.Batten >= len(w.Battens) || len(w.Pieces[s.Piece].Outline) == 0 {
			continue
		}
		xs, _ := w.Pieces[s.Piece].Outline.Bounds()
		off := s.X - w.Battens[s.Batten].Centre
		switch {
		case s.Kind == "joint":
			ends[min(s.X-xs.Lo, xs.Hi-s.X).Nearest(measure.Millimetre)] = true
		case s.Kind == "rake":
			rakes[(topAt(w.Pieces[s.Piece].Outline, s.X) - s.Z).Nearest(measure.Millimetre)] = true
		case s.Kind == "field" && off != 0:
			beside, most = beside+1, max(most, off, -off)
		}
	}
	if len(ends) > 0 {
		out = append(out, "At a joint: two screws in the wide batten, one each side, "+spread(ends)+" mm from the boards' ends.")
	}
	if len(rakes) > 0 {
		out = append(out, fmt.Sprintf("At a sloped cut: %s mm below it, measured upright in the middle of the batten: at least %v mm square to the cut, and lower where the batten's own end would be near.", spread(rakes), edge))
	}
	if beside > 0 {
		out = append(out, fmt.Sprintf("Where a joint or an end of the next course falls on the batten, the screw is set to one side of it, up to %v mm off the batten's centre, so that the board above hides it (%s).", most.Nearest(measure.Millimetre), plural(beside, "screw")))
	}
	return out
}

// topAt returns the height of an outline's upper edge at x.
func topAt(outline measure.Polygon, x measure.Length) measure.Length {
	top := outline[0].Z
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if b.X < a.X && b.X <= x && x <= a.X { // the board lies to the left of its edges, anticlockwise
			top = measure.Segment{A: b, B: a}.At(x)
		}
	}
	return top
}

// spread writes the least and the greatest of some lengths.
func spread(of map[measure.Length]bool) string {
	all := slices.Sorted(maps.Keys(of))
	if len(all) == 1 {
		return all[0].String()
	}
	return all[0].String() + " to " + all[len(all)-1].String()
}

// careLines are what only some walls want.
func careLines(w *engine.WallResult) []string {
	var out []string
	notched := marksOf(w, func(p *engine.Piece) bool { return len(p.Cutouts) > 0 })
	if notched != "" {
		out = append(out, "Notches ("+notched+"): drill the inside corners first, saw up to the hole, never overcut.")
	}
	out = append(out, packerLines(w)...)
	if s := marksOf(w, func(p *engine.Piece) bool { side, _ := slopedCorner(p); return raked(p) || side != "" }); s != "" {
		out = append(out, "Rakes ("+s+"): Shape says which corner comes off, so much along the edge x so much of the end, and the angle from square; Length is along the longer edge. Try each in place before sealing.")
	}
	if s := marksOf(w, saidByOutline); s != "" {
		out = append(out, "Outline ("+s+"): Shape lists the corners as x,z from the piece's lower left corner, all the way round.")
	}
	if s := marksOf(w, func(p *engine.Piece) bool { return isReveal(p) }); s != "" {
		out = append(out, "Lined reveals ("+s+"): frame trims at the window, reveal boards into them, unequal corners over their edges, all before the boards beside them, unless the trims' maker says otherwise.")
	}
	if slices.ContainsFunc(w.Pieces, func(p engine.Piece) bool { return strings.Contains(p.Stock, stockMark) }) {
		out = append(out, "Board B5+2 means B5 and two boards more: the saw sheet has them.")
	}
	if s := marksOf(w, func(p *engine.Piece) bool { return p.Fragile }); s != "" {
		out = append(out, "Thin strips ("+s+"): support along the whole length when carrying and drilling.")
	}
	if n := countScrews(w, func(s engine.Screw) bool { return s.PreDrilled }); n > 0 {
		out = append(out, fmt.Sprintf("Drill first: %s near a board's end.", plural(n, "screw")))
	}
	if n := countScrews(w, func(s engine.Screw) bool { return s.Visible }); n > 0 {
		out = append(out, fmt.Sprintf("Left in sight: %s; use the colour-matched ones: %s.", plural(n, "screw"), inSight(w)))
	}
	return append(out, setOutLines(w)...)
}

// packerLines say what packers are for; where they stand is a list of its own.
func packerLines(w *engine.WallResult) []string {
	var out []string
	for _, kind := range []struct {
		foot bool
		said string
	}{
		{false, "Behind a cut upper edge, packers stand on the batten at the screw, so that the board keeps its slope, and a longer screw goes through both: list Packers."},
		{true, "No starter lies along the slope below. With the flashing up, packers stand under the boards' lower edge on each batten, each stack pinned: list Packers at lower edges."},
	} {
		if slices.ContainsFunc(w.Packings, func(k engine.Packing) bool { return k.Foot == kind.foot }) {
			out = append(out, kind.said)
		}
	}
	return out
}

// spliceLines say which battens are of two lengths, how these meet and what holds
// them there (common practice).
func spliceLines(w *engine.WallResult) []string {
	at := map[measure.Length][]string{}
	for i := range w.Battens {
		for k := range w.Battens {
			if low, up := &w.Battens[i], &w.Battens[k]; low.Centre == up.Centre && low.Z.Hi == up.Z.Lo {
				at[up.Z.Lo] = append(at[up.Z.Lo], shortMark(w, low.Mark)+" and "+shortMark(w, up.Mark))
			}
		}
	}
	if len(at) == 0 {
		return nil
	}
	var said []string
	for _, z := range slices.Sorted(maps.Keys(at)) {
		said = append(said, "at "+z.String()+" mm "+strings.Join(at[z], ", "))
	}
	return []string{"Battens of two lengths (" + strings.Join(said, "; ") + "): the upper stands tight on the lower, in line with it, and each has a batten fixing of its own beside the joint, one below and one above it."}
}

// shortMark is a batten's mark as it stands in the drawing of its own wall.
func shortMark(w *engine.WallResult, mark string) string {
	return strings.TrimPrefix(mark, w.Code+"-")
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

// inSight says where the screws stand that stay in sight: courses of which all do,
// and of other pieces at which battens; those through packers are in a list.
func inSight(w *engine.WallResult) string {
	type course struct{ all, seen int }
	courses, at := map[int]course{}, make([][]string, len(w.Pieces))
	for _, s := range w.Screws {
		if s.Piece >= len(w.Pieces) || s.Batten >= len(w.Battens) {
			continue
		}
		c := courses[w.Pieces[s.Piece].Course]
		c.all++
		if s.Visible {
			c.seen++
			batten := shortMark(w, w.Battens[s.Batten].Mark)
			if s.Packing == 0 && !slices.Contains(at[s.Piece], batten) {
				at[s.Piece] = append(at[s.Piece], batten)
			}
		}
		courses[w.Pieces[s.Piece].Course] = c
	}
	var whole, out []string
	for i := range w.Pieces {
		n := w.Pieces[i].Course
		switch c := courses[n]; {
		case len(at[i]) == 0:
		case c.seen < c.all:
			out = append(out, w.Pieces[i].Mark+" at "+strings.Join(at[i], ", "))
		default:
			if s := fmt.Sprintf("all of course %d", n); !slices.Contains(whole, s) {
				whole = append(whole, s)
			}
		}
	}
	if slices.ContainsFunc(w.Screws, func(s engine.Screw) bool { return s.Visible && s.Packing > 0 }) {
		out = append(out, "those of the list Packers")
	}
	return strings.Join(append(whole, out...), "; ")
}

// marksOf lists the marks of the pieces that are so, at most a dozen.
func marksOf(w *engine.WallResult, is func(*engine.Piece) bool) string {
	return marked(w.Pieces, is, func(p *engine.Piece) string { return p.Mark })
}

// marked lists the marks of what is so, at most a dozen.
func marked[T any](list []T, is func(*T) bool, mark func(*T) string) string {
	var marks []string
	for i := range list {
		if is(&list[i]) {
			marks = append(marks, mark(&list[i]))
		}
	}
	if n := len(marks); n > 12 {
		marks = append(slices.Clone(marks[:12]), fmt.Sprintf("and %d more", n-12))
	}
	return strings.Join(marks, ", ")
}

// setIn stands before the rows on which a text goes on.
const setIn = "    "

// panelText writes a text over as many rows as it takes, all but the first set
// in. Wrapped in a merged cell it would not get its height in every reader.
func panelText(s string, pixels float64) [][]cell {
	var out [][]cell
	for i, line := range lettering.Lines(s, pixels-cellPadding-lettering.Width(setIn)) {
		if i > 0 {
			line = setIn + line
		}
		out = append(out, []cell{{v: line, l: panel}})
	}
	return out
}
