package fixing

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/measure"
)

// segment is one edge of a piece, run so that the board lies to its left.
type segment struct{ a, b measure.Point }

// upper reports whether the board lies below the edge.
func (s *segment) upper() bool { return s.b.X < s.a.X }

func (s *segment) level() bool { return s.a.Z == s.b.Z }

// span returns the edge's extent along x.
func (s *segment) span() measure.Span {
	return measure.Span{Lo: min(s.a.X, s.b.X), Hi: max(s.a.X, s.b.X)}
}

// steep returns the edge's length over its extent along one axis: what turns a
// distance at right angles to the edge into one along that axis. It is exactly
// 1 for an edge at right angles to the axis.
func (s *segment) steep(extent measure.Length) float64 {
	dx, dz := float64(s.b.X-s.a.X), float64(s.b.Z-s.a.Z)
	return math.Sqrt(dx*dx+dz*dz) / math.Abs(float64(extent))
}

// at returns the height of an edge that is not upright at x, rounded down.
func (s *segment) at(x measure.Length) measure.Length {
	if s.level() {
		return s.a.Z
	}
	return s.a.Z + floorDiv((x-s.a.X)*(s.b.Z-s.a.Z), s.b.X-s.a.X)
}

// distance returns how far p lies from the edge in micrometres; exact from an
// edge that is upright or level.
func (s *segment) distance(p measure.Point) float64 {
	dx, dz := float64(s.b.X-s.a.X), float64(s.b.Z-s.a.Z)
	px, pz := float64(p.X-s.a.X), float64(p.Z-s.a.Z)
	t := min(max((px*dx+pz*dz)/(dx*dx+dz*dz), 0), 1)
	switch {
	case dx == 0:
		t, px = 0, math.Abs(px) // upright: px is exact
		pz = outside(p.Z, s.a.Z, s.b.Z)
	case dz == 0:
		t, pz = 0, math.Abs(pz)
		px = outside(p.X, s.a.X, s.b.X)
	}
	return math.Sqrt((px-t*dx)*(px-t*dx) + (pz-t*dz)*(pz-t*dz))
}

// outside returns how far v lies outside the stretch from a to b.
func outside(v, a, b measure.Length) float64 {
	return float64(max(0, min(a, b)-v, v-max(a, b)))
}

func floorDiv(n, d measure.Length) measure.Length {
	if d < 0 {
		n, d = -n, -d
	}
	q := n / d
	if n%d < 0 {
		q--
	}
	return q
}

// ring adds the edges of an outline or of a hole, the board to the left of each
// whichever way the ring is given.
func ring(out []segment, r measure.Polygon, hole bool) []segment {
	out = slices.Grow(out, len(r))
	if (r.Area2() < 0) != hole {
		r = slices.Clone(r)
		slices.Reverse(r)
	}
	for i, a := range r {
		if b := r[(i+1)%len(r)]; a != b {
			out = append(out, segment{a, b})
		}
	}
	return out
}

// limit is where a level line leaves or enters the board, with the edge there.
type limit struct {
	x    measure.Length
	edge segment
}

// stretch returns the part of the level line at z inside the board that lies
// nearest to x, from its left limit to its right; ok is false if the line
// misses the board. Both are good until another line is asked for.
func (b *board) stretch(z, x measure.Length) (left, right *limit, ok bool) {
	if len(b.limits) == 0 || b.height != z { // most screws of a board stand on one line
		b.cut(z)
	}
	best := math.Inf(1)
	for i := 0; i+1 < len(b.limits); i += 2 {
		if d := outside(x, b.limits[i].x, b.limits[i+1].x); d < best {
			best, left, right, ok = d, &b.limits[i], &b.limits[i+1], true
		}
	}
	return left, right, ok
}

// cut finds where the level line at z leaves and enters the board.
func (b *board) cut(z measure.Length) {
	b.height, b.limits = z, b.limits[:0]
	for i := range b.edges {
		s := &b.edges[i]
		if lo, hi := min(s.a.Z, s.b.Z), max(s.a.Z, s.b.Z); lo <= z && z < hi {
			b.limits = append(b.limits, limit{s.a.X + floorDiv((z-s.a.Z)*(s.b.X-s.a.X), s.b.Z-s.a.Z), *s})
		}
	}
	slices.SortFunc(b.limits, func(a, b limit) int { return cmp.Compare(a.x, b.x) })
}

// away returns the distance along x that keeps need, at right angles, from the
// limit's edge, rounded up.
func (l *limit) away(need measure.Length) measure.Length {
	if l.edge.a.X == l.edge.b.X {
		return need
	}
	return measure.Length(math.Ceil(float64(need)*l.edge.steep(l.edge.b.Z-l.edge.a.Z))) + 1
}
