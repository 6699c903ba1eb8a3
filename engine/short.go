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
	wide := wall.Wide
	if !slices.ContainsFunc(f.runs, func(r boards.Run) bool { return r.Span.Length() > t.board.Length }) {
		wall.Wide = wall.Width // no joint needs to make a batten wide
	}
	ends := make([]ended, len(f.runs))
	for k := range ends {
		ends[k] = t.ended(f, &f.runs[k])
	}
	f.lines = wall.Hold(tips(ends), f.lines)
	for k := range ends {
		e := &ends[k]
		first, n := e.held(&wall, f.lines)
		for _, in := range []measure.Length{1, -1} {
			if n > 1 || e.room.Empty() {
				continue
			}
			l, ok := e.short(&wall, f.lines, in)
			if ok && (n == 0 || max(l.Centre-first, first-l.Centre) >= shortApart) {
				f.lines = append(f.lines, l)
				if n++; n == 1 {
					first = l.Centre
				}
			}
		}
	}
	f.holdStrips(&wall, f.strips(&wall))
	slices.SortStableFunc(f.lines, func(a, b battens.Line) int { return cmp.Compare(a.Centre, b.Centre) })
	if wall.Wide < wide {
		battens.Bar(f.lines, wide)
	}
}

// ended is a board with what its ends ask of battens.
type ended struct {
	holder
	room        measure.Span   // where it can be fixed
	foot, deep  measure.Length // from which a short batten behind it starts, and how much farther down one does that would be too short
	left, right bool           // its ends lie under a slope
}

func (t *takeoff) ended(f *face, run *boards.Run) ended {
	e := ended{holder: t.holder(f, run), foot: f.foot(run)}
	if k := run.Course; k > 0 {
		e.deep = max(0, e.foot-f.belowLap(k-1, f.marks[k-1]))
	}
	e.room = e.holder.room()
	e.left, e.right = e.raked()
	return e
}

// short returns the short batten nearest to an end of the room that the board can
// be fixed to clear of the batten's head, inwards from the left for 1 and from the
// right for -1; where that leaves none, one at the very end.
func (e *ended) short(wall *battens.Wall, lines []battens.Line, in measure.Length) (battens.Line, bool) {
	at := func(x measure.Length) (battens.Line, bool) {
		return wall.Short(x, measure.Span{Lo: e.foot, Hi: e.run.Z.Hi}, e.deep, lines)
	}
	from := e.room.Lo
	if in < 0 {
		from = e.room.Hi
	}
	for x := from; e.room.Holds(x); x += in * measure.Millimetre {
		z, ok := e.fixing(x)
		if !ok {
			continue
		}
		if l, ok := at(x); ok && wall.Behind(&l, z) {
			return l, true
		}
	}
	return at(from)
}

// tips returns the ends of boards: the raked ones under slopes, from the lowest
// board up, then the square ones. A batten for a square end stands behind its own
// course and what that laps.
func tips(ends []ended) []battens.Tip {
	out := make([]battens.Tip, 0, 2*len(ends))
	for _, raked := range []bool{true, false} {
		for k := range ends {
			e := &ends[k]
			if e.room.Empty() || e.left != raked && e.right != raked {
				continue
			}
			tip := battens.Tip{X: e.run.Span.Lo, Near: e.room.Lo, Last: e.room.Hi, Foot: e.foot, Deep: e.deep, Fixing: e.fixing}
			if !raked {
				tip.Reach, tip.Head = endMost, e.run.Z.Hi
			}
			if e.left == raked {
				out = append(out, tip)
			}
			if tip.X, tip.Near, tip.Last = e.run.Span.Hi, e.room.Hi, e.room.Lo; e.right == raked {
				out = append(out, tip)
			}
		}
	}
	return out
}

// holdStrips adds short battens for the strips along the base, over heads and under
// sills where no batten that they cross is near an end, beside an opening or a step of
// the base the next one does not reach there, or none in that half of the strip: a
// single one does not keep it from turning.
func (f *face) holdStrips(wall *battens.Wall, strips []battens.Tip) {
	for _, s := range strips {
		if wall.Held(&s, f.lines) {
			continue
		}
		s.Reach = endMost // once one is needed it stands near the end
		f.lines = wall.Hold([]battens.Tip{s}, f.lines)
	}
}

// strips returns the two ends of every strip along a level base, over a head and
// under a sill.
func (f *face) strips(wall *battens.Wall) []battens.Tip {
	var out []battens.Tip
	var doors []measure.Span
	for _, v := range f.voids {
		o, keep := f.trimsOpening(v), v.Keep[0].Z
		if !o.AtTop {
			out = append(out, stripEnds(wall, o.X, f.over(keep.Hi), keep.Hi)...)
		}
		if o.AtBase {
			doors = append(doors, o.X)
			continue
		}
		sill := o.X
		if !o.Sill.Z.Empty() {
			sill = o.Sill.X
		}
		out = append(out, stripEnds(wall, sill, measure.Span{Lo: f.ending(keep).Lo, Hi: keep.Lo}, keep.Lo-wall.End-measure.Millimetre)...)
	}
	slices.SortFunc(doors, byFoot)
	for i := 1; i < len(f.base); i++ {
		if a, b := f.base[i-1], f.base[i]; a.Z == b.Z {
			for _, x := range measure.Less([]measure.Span{{Lo: a.X, Hi: b.X}}, doors) {
				out = append(out, stripEnds(wall, x, f.over(a.Z), a.Z.UpTo(measure.Millimetre))...)
			}
		}
	}
	return out
}

// over returns the heights of a short batten that stands on z: up to the top of the
// first course that leaves room for two fixings to the wall.
func (f *face) over(z measure.Length) measure.Span {
	for _, m := range f.marks {
		if top := m + f.width; top-z >= unbackedLeast {
			return measure.Span{Lo: z, Hi: top}
		}
	}
	return measure.Span{Lo: z, Hi: f.cladTop.Most(f.span)}
}

// stripEnds returns the two ends of a strip over x, for a batten over z that
// reaches a height. Each asks for one within reach in its own half, so that two
// hold the strip; one so short that a board's ends would do so as well takes one.
func stripEnds(wall *battens.Wall, x, z measure.Span, at measure.Length) []battens.Tip {
	clear := min(wall.Width, x.Length()) / 2
	left := battens.Tip{X: x.Lo, Near: (x.Lo + clear).UpTo(measure.Millimetre), Last: (x.Hi - clear).DownTo(measure.Millimetre),
		Reach: max(endMost, min(stripReach, x.Length()/2-measure.Micrometre)), Foot: z.Lo, Head: z.Hi, Fixing: func(measure.Length) (measure.Length, bool) { return at, true }}
	right := left
	right.X, right.Near, right.Last = x.Hi, left.Last, left.Near
	return []battens.Tip{left, right}
}

// lap returns how far the board below a run's course reaches behind it.
func (f *face) lap(run *boards.Run) measure.Length {
	if run.Course == 0 {
		return 0
	}
	return f.marks[run.Course-1] + f.width - f.marks[run.Course]
}

// foot returns where a short batten behind a run starts, so that the course below
// is fixed well clear of its end.
func (f *face) foot(run *boards.Run) measure.Length {
	return f.belowLap(run.Course, run.Z.Lo)
}

// belowLap returns the foot of a batten that is to hold the board below the k-th
// course, which begins at z there: a lap below z, but not behind the course under
// that board.
func (f *face) belowLap(k int, z measure.Length) measure.Length {
	if k == 0 {
		return z
	}
	foot := z - (f.marks[k-1] + f.width - f.marks[k])
	if k > 1 {
		if under := f.marks[k-2] + f.width; under < z {
			return max(foot, under)
		}
	}
	return foot
}

// holder states a run for its fixings.
func (t *takeoff) holder(f *face, run *boards.Run) holder {
	over := f.lap(run) + t.belowLeast()
	return holder{run: run, edge: t.rules.EdgeDistance, need: t.rules.EdgeDistance + over, above: max(over, t.rules.EndDistanceLeast)}
}

// holder finds where a board can be fixed.
type holder struct {
	run        *boards.Run
	edge, need measure.Length // need: least height of a board for a fixing, under a level top
	above      measure.Length // least height of a fixing over the board's lower edge
}

// fixing returns the height of the fixing at x, if the board is tall enough
// there. Under a slope it is the least: there a fixing may hang lower, so as to
// keep its distance from the end of the batten.
func (h *holder) fixing(x measure.Length) (measure.Length, bool) {
	if z, ok := h.run.Level(x, measure.Millimetre); ok { // nearly everywhere
		return z.Hi - h.edge, z.Length() >= h.need
	}
	at := h.run.At(x)
	if at.Empty() {
		return 0, false
	}
	drop := h.drop(h.rise(x))
	return min(at.Hi-drop, at.Lo+h.above), at.Length() >= h.need-h.edge+drop
}

// rise returns how much the board's upper edge rises over the two millimetres
// about x.
func (h *holder) rise(x measure.Length) measure.Length {
	return h.run.At(x+measure.Millimetre).Hi - h.run.At(x-measure.Millimetre).Hi
}

// drop returns how far below an upper edge of that rise the fixing is, so as to
// keep its distance square to the edge.
func (h *holder) drop(rise measure.Length) measure.Length {
	if rise == 0 {
		return h.edge
	}
	s := float64(rise) / float64(2*measure.Millimetre)
	return measure.Length(math.Ceil(float64(h.edge)*math.Sqrt(1+s*s))) + measure.Millimetre
}

// raked reports whether the board's left and right end lie under a slope.
func (h *holder) raked() (left, right bool) {
	top := func(x measure.Length) measure.Length { return h.run.At(x).Hi }
	s := h.run.Span
	return top(s.Lo+measure.Millimetre) > top(s.Lo), top(s.Hi-measure.Millimetre) > top(s.Hi)
}

// held returns how many battens hold the board, two for two and more, and the
// first of them.
func (h *holder) held(wall *battens.Wall, lines []battens.Line) (first measure.Length, n int) {
	for i := 0; i < len(lines) && n < 2; i++ {
		if z, ok := h.over(&lines[i]); ok && wall.Behind(&lines[i], z) {
			if n++; n == 1 {
				first = lines[i].Centre
			}
		}
	}
	return first, n
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
func (t *takeoff) wanted(f *face, wall *battens.Wall) [][]measure.Length {
	out := make([][]measure.Length, len(f.lines))
	heads := wall.Heads(f.lines)
	var loose []unheld
	runs := t.runsOf(f)
	for k := range runs {
		h := t.holder(f, &runs[k])
		held, n := measure.Span{}, 0 // the first and the last batten that holds it, and how many
		loose = loose[:0]
		for i := range f.lines {
			l := &f.lines[i]
			switch z, ok := h.over(l); {
			case !ok:
			case wall.Reaches(l, z, heads[i]):
				if held.Hi = l.Centre; n == 0 {
					held.Lo = l.Centre
				}
				n++
			default:
				loose = append(loose, unheld{i, z})
			}
		}
		if len(loose) == 0 {
			continue
		}
		left, right := h.raked()
		for _, u := range loose {
			if x := f.lines[u.line].Centre; n < 2 || left && x < held.Lo && held.Lo-h.run.Span.Lo > tipHeld ||
				right && x > held.Hi && h.run.Span.Hi-held.Hi > tipHeld {
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
	room := measure.Span{Lo: clear.Lo.UpTo(measure.Millimetre), Hi: clear.Hi.DownTo(measure.Millimetre)}
	room.Lo = h.seek(room.Lo, room.Hi, 1)
	room.Hi = h.seek(room.Hi, room.Lo, -1)
	return room
}

// seek returns the first place from x on, to the right for dir 1 and to the left
// for dir -1, at which the board can be fixed; the last place if none before it
// will do.
func (h *holder) seek(x, last, dir measure.Length) measure.Length {
	for left := dir * (last - x); left > 0; left = dir * (last - x) {
		if _, ok := h.fixing(x); ok {
			break
		}
		low := h.run.Lower(x, measure.Millimetre, h.leastAbout(x), dir).DownTo(measure.Millimetre)
		x += dir * min(left, max(low, measure.Millimetre))
	}
	return x
}

// leastAbout returns a height that a board is never too low for, by less than a
// tenth of a millimetre, where it can be fixed and its edges go on as at x.
func (h *holder) leastAbout(x measure.Length) measure.Length {
	rise := h.rise(x)
	if max(rise, -rise) <= 1 {
		return h.need // one place may read as level, the next as sloped
	}
	// Heights are read in whole micrometres, so that the rise over two
	// millimetres is off by one at most, and the drop by as many in 2,000.
	return h.need - h.edge + h.drop(rise) - h.edge/2000 - 2
}
