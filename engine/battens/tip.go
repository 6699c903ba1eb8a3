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
	Deep measure.Length // by how much farther down it starts where it would be shorter than 150 mm, if there is room

	// Reach is how far along x the tip may reach beyond its batten, and Head the
	// height a batten for it stands up to; 0 and 0: 300 mm, and up to the slope.
	Reach, Head measure.Length

	// Fixing gives the height of the board's fixing at a place, the least where it may
	// be lower; false where the board is not high enough for one.
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
		if w.Held(t, lines) {
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

// Held reports whether one of the lines holds the tip.
func (w *Wall) Held(t *Tip, lines []Line) bool {
	far := t.far()
	for i := range lines {
		l := &lines[i]
		if l.Centre < min(t.X, far) || l.Centre > max(t.X, far) {
			continue
		}
		if z, ok := t.Fixing(l.Centre); ok && w.Behind(l, z) {
			return true
		}
	}
	return false
}

// Behind reports whether one of the line's battens stands behind a fixing at z
// and still does, cut square on whole millimetres, where a joint makes it wide.
func (w *Wall) Behind(l *Line, z measure.Length) bool { return w.Reaches(l, z, w.head(l)) }

// head returns the height below the wall's top at which a batten of the line is
// cut square, where a joint makes it wide.
func (w *Wall) head(l *Line) measure.Length {
	x := l.X()
	if l.jointed() {
		x = x.Grow((w.Wide - l.Width + 1) / 2)
	}
	return w.Top.Least(x)
}

// Heads returns, for each line, the head for [Wall.Reaches].
func (w *Wall) Heads(lines []Line) []measure.Length {
	out := make([]measure.Length, len(lines))
	for i := range lines {
		out[i] = w.head(&lines[i])
	}
	return out
}

// Reaches is [Wall.Behind] for many fixings over one line, whose head is known.
func (w *Wall) Reaches(l *Line, z, head measure.Length) bool {
	return w.under(z, head) && slices.ContainsFunc(l.Spans, func(s measure.Span) bool {
		return s.Lo.UpTo(measure.Millimetre) <= z && w.under(z, s.Hi)
	})
}

// beside returns the short batten that holds the tip from farthest off, in
// whole millimetres, at least the gap clear of the lines.
func (w *Wall) beside(t *Tip, lines []Line, cuts []Void, gap measure.Length) (Line, bool) {
	dir := measure.Length(1) // towards the board
	if t.far() > t.Near {
		dir = -1
	}
	limit := measure.Span{Lo: t.Foot, Hi: cmp.Or(t.Head, always().Hi)}
	rooted := w.rooted(t, cuts)
	for x := t.far(); dir*(t.Near-x) >= 0; x += dir * measure.Millimetre {
		l := Line{Centre: x, Width: w.Width, Why: AtShort, Bay: -1}
		if rooted {
			if past := w.past(&l, t.Foot, lines, gap, dir); past != x {
				x = past - dir*measure.Millimetre
				continue
			}
		}
		z, ok := t.Fixing(x)
		if !ok || w.taken(&l, z, lines, gap) || z >= w.Top.Least(l.X()) {
			continue
		}
		l.Spans = w.over(&l, limit, cuts, z)
		if w.Behind(&l, z) && w.fits(&l, lines, gap) {
			return w.deepened(l, t.Deep, lines, cuts, gap), true
		}
	}
	return Line{}, false
}

// deepened returns a short batten that starts by so much farther down where it
// would have no room for two fixings to the wall, if it can stand there.
func (w *Wall) deepened(l Line, deep measure.Length, lines []Line, cuts []Void, gap measure.Length) Line {
	own := l.Spans[0]
	if deep == 0 || own.Length() >= aboveLeast {
		return l
	}
	long := l
	long.Spans = w.over(&long, measure.Span{Lo: own.Lo - deep, Hi: own.Hi}, cuts, own.Lo+own.Length()/2)
	if long.Spans == nil || !w.fits(&long, lines, gap) {
		return l
	}
	return long
}

// rooted reports whether a short batten for the tip starts at the tip's foot
// wherever it stands: neither the wall's base nor a void is in the way. Then what
// stands at the foot leaves no room for it, whatever the height of the fixing.
func (w *Wall) rooted(t *Tip, cuts []Void) bool {
	x := measure.Span{Lo: min(t.far(), t.Near), Hi: max(t.far(), t.Near)}.Grow(w.Width)
	return most(w.Base, x) <= t.Foot && !slices.ContainsFunc(cuts, func(v Void) bool {
		return !v.X.And(x).Empty() && v.Z.Hi > t.Foot
	})
}

// past returns the next place, in whole millimetres, at which a short batten is
// clear of the lines that stand at the foot's height.
func (w *Wall) past(l *Line, foot measure.Length, lines []Line, gap, dir measure.Length) measure.Length {
	x := l.X().Grow(gap)
	for i := range lines {
		o := lines[i].wideX(w)
		if o.And(x).Empty() || !slices.ContainsFunc(lines[i].Spans, func(s measure.Span) bool { return s.Lo <= foot && foot < s.Hi }) {
			continue
		}
		if dir > 0 {
			return l.Centre + (o.Hi - x.Lo).UpTo(measure.Millimetre)
		}
		return l.Centre - (x.Hi - o.Lo).UpTo(measure.Millimetre)
	}
	return l.Centre
}

// over returns the one span of a line within the limit that the height lies in, if
// it is long enough for a batten.
func (w *Wall) over(l *Line, limit measure.Span, cuts []Void, z measure.Length) []measure.Span {
	spans := w.spans(l.X(), limit, cuts)
	for i, s := range spans {
		if s.Holds(z) && !Stub(s) {
			return spans[i : i+1]
		}
	}
	return nil
}

// wideX returns what the line covers along x once boards may butt on it.
func (l *Line) wideX(w *Wall) measure.Span {
	width := l.Width
	if l.jointed() {
		width = max(width, w.Wide)
	}
	left := l.Centre - width/2
	return measure.Span{Lo: left, Hi: left + width}
}

// taken reports whether a line nearer than the gap stands at that height, so
// that a short batten which is to stand there does not fit: that is soon seen.
func (w *Wall) taken(l *Line, z measure.Length, lines []Line, gap measure.Length) bool {
	x := l.X().Grow(gap)
	for i := range lines {
		if lines[i].wideX(w).And(x).Empty() {
			continue
		}
		for _, s := range lines[i].Spans {
			if s.Lo < z && z < s.Hi {
				return true
			}
		}
	}
	return false
}

// fits reports whether a short batten stands within the wall and at least the
// gap clear of the lines, grid ones as wide as at a joint.
func (w *Wall) fits(l *Line, lines []Line, gap measure.Length) bool {
	x := l.X()
	if x.And(w.Span) != x {
		return false
	}
	x = x.Grow(gap)
	for i := range lines {
		if !lines[i].wideX(w).And(x).Empty() && meet(lines[i].Spans, l.Spans) {
			return false
		}
	}
	return true
}

// meet reports whether two lists of spans share any length.
func meet(a, b []measure.Span) bool {
	return slices.ContainsFunc(a, func(s measure.Span) bool {
		return slices.ContainsFunc(b, func(t measure.Span) bool { return !s.And(t).Empty() })
	})
}
