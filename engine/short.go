package engine

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/battens"
	"lapwright/engine/boards"
	"lapwright/engine/measure"
)

// shortFoot is how far a short batten reaches below the board it is there for,
// so that the course below is fixed well clear of its end (common practice).
const shortFoot = 100 * measure.Millimetre

// shortApart is the least distance of two battens for one board to be held
// against turning (common practice).
const shortApart = 100 * measure.Millimetre

// addShort stands short battens behind boards that fewer than two battens would
// hold: the last ones under an apex, the narrow end of a cheek.
func (t *takeoff) addShort(f *face) {
	wall := t.battensOf(f)
	for k := range f.runs {
		run := &f.runs[k]
		need := t.rules.EdgeDistance + 5*measure.Millimetre
		if run.Course > 0 {
			need += f.marks[run.Course-1] + f.width - f.marks[run.Course]
		}
		h := holder{run: run, edge: t.rules.EdgeDistance, need: need}
		held := h.held(f.lines)
		if len(held) > 1 {
			continue
		}
		room := h.room()
		for _, x := range []measure.Length{room.Lo, room.Hi} {
			if room.Empty() || (len(held) > 0 && max(x-held[0], held[0]-x) < shortApart) || len(held) > 1 {
				continue
			}
			z := measure.Span{Lo: run.Z.Lo - shortFoot, Hi: run.Z.Hi}
			if l, ok := wall.Short(x, z, f.lines); ok {
				f.lines = append(f.lines, l)
				held = append(held, x)
			}
		}
	}
	slices.SortStableFunc(f.lines, func(a, b battens.Line) int { return cmp.Compare(a.Centre, b.Centre) })
}

// holder finds where a board can be fixed.
type holder struct {
	run        *boards.Run
	edge, need measure.Length // need: least height of a board for a fixing, under a level top
}

// fixing returns the height of the fixing at x, if the board is tall enough
// there.
func (h *holder) fixing(x measure.Length) (measure.Length, bool) {
	at := h.run.At(x)
	if at.Empty() {
		return 0, false
	}
	drop := h.edge
	if rise := h.run.At(x+measure.Millimetre).Hi - h.run.At(x-measure.Millimetre).Hi; rise != 0 {
		s := float64(rise) / float64(2*measure.Millimetre)
		drop = measure.Length(math.Ceil(float64(h.edge)*math.Sqrt(1+s*s))) + measure.Millimetre
	}
	return at.Hi - drop, at.Length() >= h.need-h.edge+drop
}

// held returns the battens that hold the board, two at most.
func (h *holder) held(lines []battens.Line) []measure.Length {
	var out []measure.Length
	for i := 0; i < len(lines) && len(out) < 2; i++ {
		l := &lines[i]
		if l.Centre <= h.run.Span.Lo || l.Centre >= h.run.Span.Hi {
			continue
		}
		z, ok := h.fixing(l.Centre)
		if ok && slices.ContainsFunc(l.Spans, func(s measure.Span) bool { return s.Lo <= z && z < s.Hi }) {
			out = append(out, l.Centre)
		}
	}
	return out
}

// room returns the first and the last place, in whole millimetres, at which the
// board can be fixed clear of its ends.
func (h *holder) room() measure.Span {
	clear := h.run.Span.Grow(-2 * h.edge)
	lo, hi := clear.Lo.UpTo(measure.Millimetre), clear.Hi.DownTo(measure.Millimetre)
	fits := func(x measure.Length) bool { _, ok := h.fixing(x); return ok }
	for lo < hi && !fits(lo) {
		lo += measure.Millimetre
	}
	for hi > lo && !fits(hi) {
		hi -= measure.Millimetre
	}
	return measure.Span{Lo: lo, Hi: hi}
}
