package engine

import (
	"slices"
	"strings"

	"lapwright/engine/measure"
	"lapwright/engine/trims"
)

// flagLoose notes the pieces of which a square end reaches farther than endMost
// beyond the last fixing: where boards end at a deep sill's horns or as a strip
// too thin to be fixed. Pieces that fewer than two fixings hold are flagged as
// such.
func (t *takeoff) flagLoose(s *stand, w *WallResult) {
	var marks []string
	for i := range t.fixer.pieces {
		p, x, r := &w.Pieces[i], t.fixer.xs[i], t.fixer.held[i].x
		if p.Few {
			continue
		}
		if p.Left.Kind == Square && r.Lo-x.Lo > endMost || p.Right.Kind == Square && x.Hi-r.Hi > endMost {
			p.Loose, p.Unfixed = true, append(p.Unfixed, unfixed("overhang"))
			marks = append(marks, p.Mark)
		}
	}
	if len(marks) > 0 {
		s.flag(Flag{Check, "fixing-overhang", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			unfixed("overhang"), "add a batten near the end where there is room, or hold the end with the trim"}, marks...)
	}
}

// flagBattenEnds notes the battens that may split because a board's fixing stands
// too near their end.
func (t *takeoff) flagBattenEnds(s *stand, w *WallResult) {
	var marks []string
	var least measure.Length
	for i := range w.Screws {
		c := &w.Screws[i]
		b := &w.Battens[c.Batten]
		off := min(c.Z-b.Z.Lo, b.Z.Hi-c.Z)
		if off.UpTo(measure.Millimetre) >= t.rules.BattenEndLeast { // battens are cut to the millimetre
			continue
		}
		if least == 0 || off < least {
			least = off
		}
		if !b.Tight {
			b.Tight, marks = true, append(marks, b.Mark)
		}
	}
	if len(marks) > 0 {
		s.flag(Flag{Check, "batten-end", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			"a board's fixing stands nearer than " + t.rules.BattenEndLeast.String() + " mm to the end of its batten, which may split, down to " + least.DownTo(measure.Millimetre).String() + " mm",
			"let these battens run on where there is room, or drill them first"}, marks...)
	}
}

// unbackedLeast is the least height of an upright trim worth a batten of its own:
// room for two fixings to the wall (common practice).
const unbackedLeast = 150 * measure.Millimetre

// flagUnbacked notes the jamb trims that no batten stands behind: beside another
// opening or the wall's end there may be no room for one.
func (t *takeoff) flagUnbacked(s *stand, w *WallResult) {
	var where []string
	for i := range w.Trims {
		tr := &w.Trims[i]
		if x, ok := t.besideJamb(tr); ok && !slices.Contains(where, tr.Where) && w.unbacked(tr, x) >= unbackedLeast {
			where = append(where, tr.Where)
		}
	}
	if len(where) > 0 {
		s.flag(Flag{Check, "trim-unbacked", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			"there is no room for a batten behind the trim", "fix these trims to the frame or the reveal, or pack out the strip of wall there"}, where...)
	}
}

// besideJamb returns where along x a batten for a jamb's trim may begin and end:
// within a wide batten's width beyond the gap kept to the opening.
func (t *takeoff) besideJamb(tr *Trim) (measure.Span, bool) {
	reach := t.rules.VentilationGap + measure.Millimetre + t.rules.WideBattenWidth
	switch x := tr.From.X; {
	case x != tr.To.X || tr.Role != string(trims.EdgeTrim) && tr.Role != string(trims.UnequalCorner):
		return measure.Span{}, false
	case strings.HasSuffix(tr.Where, " left jamb"):
		return measure.Span{Lo: x - reach, Hi: x}, true
	case strings.HasSuffix(tr.Where, " right jamb"):
		return measure.Span{Lo: x, Hi: x + reach}, true
	}
	return measure.Span{}, false
}

// unbacked returns the longest stretch of an upright trim that no batten within
// x stands behind and no sill or opening interrupts.
func (w *WallResult) unbacked(tr *Trim, x measure.Span) measure.Length {
	var cover []measure.Span
	for i := range w.Battens {
		b := &w.Battens[i]
		if !(measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}).And(x).Empty() {
			cover = append(cover, b.Z)
		}
	}
	slices.SortFunc(cover, byFoot)
	var most measure.Length
	for _, s := range measure.Less([]measure.Span{{Lo: tr.From.Z, Hi: tr.To.Z}}, cover) {
		most = max(most, s.Length())
	}
	return most
}

func byFoot(a, b measure.Span) int { return int(min(max(a.Lo-b.Lo, -1), 1)) }
