package boards

import (
	"math"

	"lapwright/engine/measure"
)

// upright is the slope of an upright edge.
const upright = math.MaxInt

// edge is one side of a cell as it runs round it anticlockwise.
type edge struct {
	a, b  measure.Point
	slope int // of the wall's outline, 0: level, or upright
	done  bool
}

// clip returns the part of the cell over s, which overlaps it.
func (c *cell) clip(s measure.Span) cell {
	out := *c
	out.x = c.x.And(s)
	for i, x := range [2]measure.Length{out.x.Lo, out.x.Hi} {
		out.lo.z[i], out.hi.z[i] = c.lo.at(c.x, x), c.hi.at(c.x, x)
	}
	return out
}

// at returns the heights of the cell at a place in it.
func (c *cell) at(x measure.Length) measure.Span {
	return measure.Span{Lo: c.lo.at(c.x, x), Hi: c.hi.at(c.x, x)}
}

// at returns the line's height at a place in its span.
func (l line) at(span measure.Span, x measure.Length) measure.Length {
	switch {
	case l.slope == 0 || x == span.Lo:
		return l.z[0]
	case x == span.Hi:
		return l.z[1]
	}
	a, b := measure.Point{X: span.Lo, Z: l.z[0]}, measure.Point{X: span.Hi, Z: l.z[1]}
	return measure.Segment{A: a, B: b}.At(x)
}

// outline returns the edges round cells that hang together, anticlockwise, in
// the space of outer, and the rectangular holes they leave. If they do not hang
// together it is the largest part's.
func outline(outer []edge, cells []cell) ([]edge, []Rect) {
	var buffer [48]edge
	var ring [16]edge
	var space [16]measure.Point
	var holes []Rect
	edges := sides(buffer[:0], cells)
	most := int64(0)
	for i := range edges {
		if edges[i].done {
			continue
		}
		loop := follow(ring[:0], edges, i)
		shape := cornersOf(space[:0], loop)
		switch area := shape.Area2(); {
		case area > most:
			outer, most = append(outer[:0], loop...), area
		case area < 0:
			x, z := shape.Bounds()
			holes = append(holes, Rect{x, z})
		}
	}
	return outer, holes
}

// sides lists the edges of the cells; where two cells share an upright side,
// the shared part is none.
func sides(out []edge, cells []cell) []edge {
	add := func(ax, az, bx, bz measure.Length, slope int) {
		if ax != bx || az != bz {
			out = append(out, edge{a: measure.Point{X: ax, Z: az}, b: measure.Point{X: bx, Z: bz}, slope: slope})
		}
	}
	for i := range cells {
		c := &cells[i]
		add(c.x.Lo, c.lo.z[0], c.x.Hi, c.lo.z[1], c.lo.slope)
		add(c.x.Hi, c.hi.z[1], c.x.Lo, c.hi.z[0], c.hi.slope)
		for s := c.side(0); !s.Empty(); {
			bare, next := rest(s, cells, c.x.Lo, 1)
			add(c.x.Lo, bare.Hi, c.x.Lo, bare.Lo, upright)
			s.Lo = next
		}
		for s := c.side(1); !s.Empty(); {
			bare, next := rest(s, cells, c.x.Hi, 0)
			add(c.x.Hi, bare.Lo, c.x.Hi, bare.Hi, upright)
			s.Lo = next
		}
	}
	return out
}

// side returns the cell's upright side: 0 the left, 1 the right.
func (c *cell) side(i int) measure.Span { return measure.Span{Lo: c.lo.z[i], Hi: c.hi.z[i]} }

// rest returns the lowest part of an upright side that no cell covers from its
// other side, which may be empty, and where to look for the next.
func rest(s measure.Span, cells []cell, x measure.Length, other int) (bare measure.Span, next measure.Length) {
	bare, next = s, s.Hi
	for i := range cells {
		at := cells[i].x.Lo
		if other == 1 {
			at = cells[i].x.Hi
		}
		t := cells[i].side(other).And(s)
		if at == x && !t.Empty() && (t.Lo < bare.Hi) {
			bare.Hi, next = t.Lo, t.Hi
		}
	}
	return bare, next
}

// follow walks round from edge i until it is back and adds to the ring, edges
// on one straight line joined. Where two rings touch in a corner it keeps to
// the left, so that they stay apart.
func follow(ring, edges []edge, i int) []edge {
	start := i
	for i >= 0 {
		edges[i].done = i != start
		ring = append(ring, edges[i])
		if n := len(ring); n > 1 && ring[n-2].slope == ring[n-1].slope {
			ring[n-2].b = ring[n-1].b
			ring = ring[:n-1]
		}
		if i = leftmost(edges, &edges[i]); i == start {
			break
		}
	}
	edges[start].done = true
	if n := len(ring); n > 1 && ring[0].slope == ring[n-1].slope {
		ring[0].a = ring[n-1].a
		ring = ring[:n-1]
	}
	return ring
}

// leftmost returns the edge that leads on from e with the sharpest turn to the
// left, or -1.
func leftmost(edges []edge, e *edge) int {
	best := -1
	for i := range edges {
		if f := &edges[i]; f.done || f.a != e.b {
			continue
		} else if best < 0 || e.turn(f) > e.turn(&edges[best]) {
			best = i
		}
	}
	return best
}

// turn returns the angle from e to f, positive to the left.
func (e *edge) turn(f *edge) float64 {
	ex, ez := float64(e.b.X-e.a.X), float64(e.b.Z-e.a.Z)
	fx, fz := float64(f.b.X-f.a.X), float64(f.b.Z-f.a.Z)
	return math.Atan2(ex*fz-ez*fx, ex*fx+ez*fz)
}

// polygon returns the corners of a ring.
func polygon(ring []edge) measure.Polygon {
	return cornersOf(make(measure.Polygon, 0, len(ring)), ring)
}

// cornersOf adds the corners of a ring.
func cornersOf(out measure.Polygon, ring []edge) measure.Polygon {
	for i := range ring {
		out = append(out, ring[i].a)
	}
	return out
}
