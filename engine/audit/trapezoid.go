package audit

import (
	"slices"

	"lapwright/engine/measure"
)

// line is a straight line from a to b, a.X < b.X. play is how far it may be
// off, measured upright, because its ends are kept to the micrometre: 0 for a
// level line.
type line struct {
	a, b measure.Point
	play measure.Length
}

func newLine(a, b measure.Point) line {
	if a.X > b.X {
		a, b = b, a
	}
	l := line{a: a, b: b}
	if rise := max(b.Z-a.Z, a.Z-b.Z); rise > 0 {
		dx := b.X - a.X
		l.play = 2 + (2*rise+dx-1)/dx
	}
	return l
}

func level(xs measure.Span, z measure.Length) line {
	return line{a: measure.Point{X: xs.Lo, Z: z}, b: measure.Point{X: xs.Hi, Z: z}}
}

// at returns the height at x, at most a micrometre from the true one.
func (l *line) at(x measure.Length) measure.Length {
	if l.play == 0 {
		return l.a.Z
	}
	return l.a.Z + (l.b.Z-l.a.Z)*(x-l.a.X)/(l.b.X-l.a.X)
}

// cross returns the x at which a sloped line passes a height, rounded towards
// a; a.X for a line that does not.
func (l *line) cross(z measure.Length) measure.Length {
	if (z <= l.a.Z) == (z <= l.b.Z) {
		return l.a.X
	}
	return l.a.X + (z-l.a.Z)*(l.b.X-l.a.X)/(l.b.Z-l.a.Z)
}

// kind says what a trapezoid stands for.
type kind uint8

const (
	ofPiece kind = iota
	ofVoid
	ofGap // the gap of a declared joint, as high as its course
)

// trapezoid has upright sides over xs, and lo and hi below and above.
type trapezoid struct {
	xs     measure.Span
	lo, hi line
	kind   kind
	course int // 0 for a void
	piece  int // -1 where it is no piece's
}

// height returns what the trapezoid shares with zs at x; below 0 if nothing.
func (t *trapezoid) height(x measure.Length, zs measure.Span) measure.Length {
	return min(t.hi.at(x), zs.Hi) - max(t.lo.at(x), zs.Lo)
}

func box(r Rect, k kind, course int) trapezoid {
	return trapezoid{xs: r.X, lo: level(r.X, r.Z.Lo), hi: level(r.X, r.Z.Hi),
		kind: k, course: course, piece: -1}
}

// slicer cuts polygons into trapezoids at the x of their corners. It keeps
// its working space from one polygon to the next.
type slicer struct {
	xs    []measure.Length
	edges []line
	over  []line // those over the slice at hand
}

// slice appends p's trapezoids to out, each as like. It reports whether p is
// simple as far as a sweep can tell: edges pair up and do not cross.
func (s *slicer) slice(out []trapezoid, p measure.Polygon, like trapezoid) ([]trapezoid, bool) {
	s.xs, s.edges = s.xs[:0], s.edges[:0]
	for i, a := range p {
		s.xs = append(s.xs, a.X)
		if b := p[(i+1)%len(p)]; a.X != b.X {
			s.edges = append(s.edges, newLine(a, b))
		}
	}
	slices.Sort(s.xs)
	s.xs = slices.Compact(s.xs)
	simple := len(s.xs) > 1
	for i := 1; i < len(s.xs); i++ {
		like.xs = measure.Span{Lo: s.xs[i-1], Hi: s.xs[i]}
		s.pick(like.xs)
		simple = simple && s.ordered(like.xs)
		for j := 1; j < len(s.over); j += 2 {
			like.lo, like.hi = s.over[j-1], s.over[j]
			out = append(out, like)
		}
	}
	return out, simple
}

// pick sorts the edges over xs upwards into s.over.
func (s *slicer) pick(xs measure.Span) {
	s.over = s.over[:0]
	for i := range s.edges {
		e := &s.edges[i]
		if e.a.X > xs.Lo || e.b.X < xs.Hi {
			continue
		}
		at := len(s.over)
		for at > 0 && s.over[at-1].at(xs.Lo)+s.over[at-1].at(xs.Hi) > e.at(xs.Lo)+e.at(xs.Hi) {
			at--
		}
		s.over = slices.Insert(s.over, at, *e)
	}
}

func (s *slicer) ordered(xs measure.Span) bool {
	for j := 1; j < len(s.over); j++ {
		a, b := &s.over[j-1], &s.over[j]
		slack := a.play + b.play
		if a.at(xs.Lo) > b.at(xs.Lo)+slack || a.at(xs.Hi) > b.at(xs.Hi)+slack {
			return false
		}
	}
	return len(s.over)%2 == 0 && len(s.over) > 0
}

// pierce takes the rectangle r out of the trapezoids from index first on.
func pierce(parts []trapezoid, first int, r Rect) []trapezoid {
	for i, n := first, len(parts); i < n; i++ {
		t := parts[i]
		xs := t.xs.And(r.X)
		if xs.Empty() || max(t.height(xs.Lo, r.Z), t.height(xs.Hi, r.Z)) <= t.lo.play+t.hi.play {
			continue
		}
		rest := split(t, xs, r.Z)
		if len(rest) == 0 {
			t.xs.Hi = t.xs.Lo // nothing is left; an empty trapezoid counts nowhere
			rest = append(rest, t)
		}
		parts[i] = rest[0]
		parts = append(parts, rest[1:]...)
	}
	return parts
}

// split returns what is left of t less the rectangle over xs and zs, xs
// within t's own.
func split(t trapezoid, xs, zs measure.Span) []trapezoid {
	var out []trapezoid
	keep := func(xs measure.Span, lo, hi line) {
		u := t
		u.xs, u.lo, u.hi = xs, lo, hi
		if !xs.Empty() && lo.at(xs.Lo)+lo.at(xs.Hi) < hi.at(xs.Lo)+hi.at(xs.Hi) {
			out = append(out, u)
		}
	}
	keep(measure.Span{Lo: t.xs.Lo, Hi: xs.Lo}, t.lo, t.hi)
	keep(xs, t.lo, level(xs, zs.Lo))
	keep(xs, level(xs, zs.Hi), t.hi)
	keep(measure.Span{Lo: xs.Hi, Hi: t.xs.Hi}, t.lo, t.hi)
	return out
}
