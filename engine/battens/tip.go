package battens

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// tipMost is how far along x the raked tip of a board may reach beyond the
// batten that holds it next to the tip (common practice).
const tipMost = 300 * measure.Millimetre

// tipPast is how far beyond the first place where its board can be fixed a tip's
// batten may stand at least, however slight the slope, so that there is room for
// it beside another (common practice).
const tipPast = 100 * measure.Millimetre

// tipClear is the clearance along x that a short batten keeps from others
// where there is room for it (common practice).
const tipClear = 50 * measure.Millimetre

// Tip is an end of a board that a batten has to stand near: a raked one under a
// slope, or a square one.
type Tip struct {
	X    measure.Length // its outermost place
	Near measure.Length // place next to it at which the board is high enough to be fixed
	Last measure.Length // the last such place from there on, left or right of Near
	Foot measure.Length // height from which a batten for it stands

	// Reach is how far along x the tip may reach beyond its batten, and Head the
	// height a batten for it stands up to; 0 and 0: 300 mm, and up to the slope.
	Reach, Head measure.Length

	// Fixing gives the height of the board's fixing at a place; false where the
	// board is not high enough for one.
	Fixing func(x measure.Length) (measure.Length, bool)
}

// Hold returns the lines, from the left, with short battens added so that no
// tip reaches farther than its reach beyond a batten that stands behind its board
// at the height of the fixing; or, where a slight slope or a cut-out leaves no
// room for one, than 100 mm beyond the first place where the board can be fixed. A tip is left as it is where there is no room for
// one. Tips are given from the lowest board up: a batten stands as far from its
// tip as may be and goes up to the slope, so that it holds the tips above too.
func (w Wall) Hold(tips []Tip, lines []Line) []Line {
	cuts := w.rising()
	for i := range tips {
		t := &tips[i]
		if w.held(t, lines) {
			continue
		}
		for _, gap := range []measure.Length{tipClear, 0} {
			if l, ok := w.beside(t, lines, cuts, gap); ok {
				lines = append(lines, l)
				break
			}
		}
	}
	slices.SortStableFunc(lines, func(a, b Line) int { return cmp.Compare(a.Centre, b.Centre) })
	return lines
}

// far returns the whole millimetre farthest from the tip at which a batten
// still holds it.
func (t *Tip) far() measure.Length {
	reach := cmp.Or(t.Reach, tipMost)
	if t.Near >= t.X {
		return min(max((t.X+reach).DownTo(measure.Millimetre), t.Near+tipPast), t.Last)
	}
	return max(min((t.X-reach).UpTo(measure.Millimetre), t.Near-tipPast), t.Last)
}

// held reports whether one of the lines holds the tip.
func (w *Wall) held(t *Tip, lines []Line) bool {
	far := t.far()
	for i := range lines {
		l := &lines[i]
		if l.Centre < min(t.X, far) || l.Centre > max(t.X, far) {
			continue
		}
		if z, ok := t.Fixing(l.Centre); ok && w.Behind(*l, z) {
			return true
		}
	}
	return false
}

// Behind reports whether one of the line's battens stands behind a fixing at z
// and still does, cut square on whole millimetres, where a joint makes it wide.
func (w *Wall) Behind(l Line, z measure.Length) bool {
	x := l.X()
	if l.jointed() {
		x = x.Grow((w.Wide - l.Width + 1) / 2)
	}
	if !under(z, w.Top.Least(x)) {
		return false
	}
	return slices.ContainsFunc(l.Spans, func(s measure.Span) bool {
		return s.Lo.UpTo(measure.Millimetre) <= z && under(z, s.Hi)
	})
}

// beside returns the short batten that holds the tip from farthest off, in
// whole millimetres, at least the gap clear of the lines.
func (w *Wall) beside(t *Tip, lines []Line, cuts []Void, gap measure.Length) (Line, bool) {
	step, n := measure.Millimetre, t.far()-t.Near
	if n > 0 {
		step = -step
	}
	for x, left := t.far(), max(n, -n); left >= 0; x, left = x+step, left-measure.Millimetre {
		z, ok := t.Fixing(x)
		l := Line{Centre: x, Width: w.Width, Why: AtShort, Bay: -1}
		if !ok || w.taken(&l, z, lines, gap) || z >= w.Top.Least(l.X()) {
			continue
		}
		l.Spans = w.over(l, measure.Span{Lo: t.Foot, Hi: cmp.Or(t.Head, always().Hi)}, cuts, z)
		if w.Behind(l, z) && w.fits(l, lines, gap) {
			return l, true
		}
	}
	return Line{}, false
}

// over returns the one span of a line within the limit that the height lies in.
func (w *Wall) over(l Line, limit measure.Span, cuts []Void, z measure.Length) []measure.Span {
	for _, stood := range w.stand(nil, l, limit, cuts) {
		for _, s := range stood.Spans {
			if s.Holds(z) {
				return []measure.Span{s}
			}
		}
	}
	return nil
}

// taken reports whether a line nearer than the gap stands at that height, so
// that a short batten which is to stand there does not fit: that is soon seen.
func (w *Wall) taken(l *Line, z measure.Length, lines []Line, gap measure.Length) bool {
	x := l.X().Grow(gap)
	for i := range lines {
		o := &lines[i]
		width := o.Width
		if o.jointed() {
			width = max(width, w.Wide)
		}
		if left := o.Centre - width/2; left >= x.Hi || left+width <= x.Lo {
			continue
		}
		for _, s := range o.Spans {
			if s.Lo < z && z < s.Hi {
				return true
			}
		}
	}
	return false
}

// fits reports whether a short batten stands within the wall and at least the
// gap clear of the lines, grid ones as wide as at a joint.
func (w *Wall) fits(l Line, lines []Line, gap measure.Length) bool {
	x := l.X()
	if x.And(w.Span) != x {
		return false
	}
	return !slices.ContainsFunc(lines, func(o Line) bool {
		if o.jointed() {
			o.Width = max(o.Width, w.Wide)
		}
		return !o.X().And(x.Grow(gap)).Empty() && slices.ContainsFunc(o.Spans, func(s measure.Span) bool {
			return slices.ContainsFunc(l.Spans, func(z measure.Span) bool { return !s.And(z).Empty() })
		})
	})
}
