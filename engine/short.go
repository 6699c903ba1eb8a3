package engine

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/battens"
	"lapwright/engine/boards"
	"lapwright/engine/measure"
)

// shortApart is the least distance of two battens for one board to be held
// against turning (common practice).
const shortApart = 100 * measure.Millimetre

// endMost is how far a square end of a board may reach beyond its last fixing, a
// quarter of the widest usual bay (common practice).
const endMost = 150 * measure.Millimetre

// addShort stands short battens where the grid leaves boards without: beside a
// slope for the tips that would reach too far beyond it, beside a deep sill for
// the square ends that stop short of the jamb's batten, then behind boards that
// fewer than two battens would hold, the last ones under an apex, the narrow end
// of a cheek.
func (t *takeoff) addShort(f *face) {
	wall := t.battensOf(f)
	if !slices.ContainsFunc(f.runs, func(r boards.Run) bool { return r.Span.Length() > t.board.Length }) {
		wall.Wide = wall.Width // no joint makes a batten wide
	}
	f.lines = wall.Hold(append(t.tips(f), t.ends(f)...), f.lines)
	for k := range f.runs {
		h := t.holder(f, &f.runs[k])
		held := h.held(wall, f.lines)
		if len(held) > 1 {
			continue
		}
		room := h.room()
		for _, x := range []measure.Length{room.Lo, room.Hi} {
			if room.Empty() || (len(held) > 0 && max(x-held[0], held[0]-x) < shortApart) || len(held) > 1 {
				continue
			}
			z := measure.Span{Lo: f.foot(h.run), Hi: h.run.Z.Hi}
			if l, ok := wall.Short(x, z, f.lines); ok {
				f.lines = append(f.lines, l)
				held = append(held, x)
			}
		}
	}
	slices.SortStableFunc(f.lines, func(a, b battens.Line) int { return cmp.Compare(a.Centre, b.Centre) })
}

// tips returns the raked ends of boards under slopes, from the lowest board up.
func (t *takeoff) tips(f *face) []battens.Tip {
	var out []battens.Tip
	for k := range f.runs {
		h := t.holder(f, &f.runs[k])
		left, right := h.raked()
		if !left && !right {
			continue
		}
		room := h.room()
		tip := battens.Tip{X: h.run.Span.Lo, Near: room.Lo, Last: room.Hi, Foot: f.foot(h.run), Fixing: h.fixing}
		if left && !room.Empty() {
			out = append(out, tip)
		}
		if tip.X, tip.Near, tip.Last = h.run.Span.Hi, room.Hi, room.Lo; right && !room.Empty() {
			out = append(out, tip)
		}
	}
	return out
}

// ends returns the square ends of boards, from the lowest board up. A batten for
// one stands behind its own course and what that laps.
func (t *takeoff) ends(f *face) []battens.Tip {
	var out []battens.Tip
	for k := range f.runs {
		h := t.holder(f, &f.runs[k])
		left, right := h.raked()
		room := h.room()
		if room.Empty() {
			continue
		}
		tip := battens.Tip{X: h.run.Span.Lo, Near: room.Lo, Last: room.Hi, Foot: f.foot(h.run), Fixing: h.fixing, Reach: endMost, Head: h.run.Z.Hi}
		if !left {
			out = append(out, tip)
		}
		if tip.X, tip.Near, tip.Last = h.run.Span.Hi, room.Hi, room.Lo; !right {
			out = append(out, tip)
		}
	}
	return out
}

// lap returns how far the board below a run's course reaches behind it.
func (f *face) lap(run *boards.Run) measure.Length {
	if run.Course == 0 {
		return 0
	}
	return f.marks[run.Course-1] + f.width - f.marks[run.Course]
}

// foot returns where a short batten behind a run starts: a lap below it, so that
// the course below is fixed well clear of its end, but not behind the course
// under that one.
func (f *face) foot(run *boards.Run) measure.Length {
	lap := f.lap(run)
	if run.Course > 1 {
		if under := f.marks[run.Course-2] + f.width; under < run.Z.Lo {
			return max(run.Z.Lo-lap, under)
		}
	}
	return run.Z.Lo - lap
}

// holder states a run for its fixings.
func (t *takeoff) holder(f *face, run *boards.Run) holder {
	return holder{run: run, edge: t.rules.EdgeDistance, need: t.rules.EdgeDistance + 5*measure.Millimetre + f.lap(run)}
}

// holder finds where a board can be fixed.
type holder struct {
	run        *boards.Run
	edge, need measure.Length // need: least height of a board for a fixing, under a level top
}

// fixing returns the height of the fixing at x, if the board is tall enough
// there.
func (h *holder) fixing(x measure.Length) (measure.Length, bool) {
	if z, ok := h.run.Level(x, measure.Millimetre); ok { // nearly everywhere
		return z.Hi - h.edge, z.Length() >= h.need
	}
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

// raked reports whether the board's left and right end lie under a slope.
func (h *holder) raked() (left, right bool) {
	top := func(x measure.Length) measure.Length { return h.run.At(x).Hi }
	s := h.run.Span
	return top(s.Lo+measure.Millimetre) > top(s.Lo), top(s.Hi-measure.Millimetre) > top(s.Hi)
}

// held returns where battens hold the board, from the left.
func (h *holder) held(wall battens.Wall, lines []battens.Line) []measure.Length {
	var out []measure.Length
	for i := range lines {
		if z, ok := h.over(&lines[i]); ok && wall.Behind(lines[i], z) {
			out = append(out, lines[i].Centre)
		}
	}
	return out
}

// over returns the height of the fixing over a line, if the board is tall enough
// there and clear of its ends.
func (h *holder) over(l *battens.Line) (measure.Length, bool) {
	if l.Centre <= h.run.Span.Lo || l.Centre >= h.run.Span.Hi {
		return 0, false
	}
	return h.fixing(l.Centre)
}

// unheld is where a board would be fixed to a line that does not reach there.
type unheld struct {
	line int
	z    measure.Length
}

// wanted returns, for each line, the heights at which boards have to be fixed to
// it whether it is wide or not: without it fewer than two battens would hold
// them, or a raked tip would reach too far beyond the next one.
func (t *takeoff) wanted(f *face, wall battens.Wall) [][]measure.Length {
	out := make([][]measure.Length, len(f.lines))
	for k := range f.runs {
		h := t.holder(f, &f.runs[k])
		var held []measure.Length
		var loose []unheld
		for i := range f.lines {
			l := &f.lines[i]
			switch z, ok := h.over(l); {
			case !ok:
			case wall.Behind(*l, z):
				held = append(held, l.Centre)
			default:
				loose = append(loose, unheld{i, z})
			}
		}
		if len(loose) == 0 {
			continue
		}
		left, right := h.raked()
		n := len(held)
		for _, u := range loose {
			if x := f.lines[u.line].Centre; n < 2 || left && x < held[0] && held[0]-h.run.Span.Lo > tipHeld ||
				right && x > held[n-1] && h.run.Span.Hi-held[n-1] > tipHeld {
				out[u.line] = append(out[u.line], u.z)
			}
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
