package measure

import (
	"math"
	"slices"
)

// Polygon is a simple polygon, anticlockwise, its last point joined to its
// first. It does not promise convexity.
type Polygon []Point

// Rect returns the rectangle over xs and zs.
func Rect(xs, zs Span) Polygon {
	return Polygon{{xs.Lo, zs.Lo}, {xs.Hi, zs.Lo}, {xs.Hi, zs.Hi}, {xs.Lo, zs.Hi}}
}

// Between returns the polygon over base and under top, two profiles over the
// same span with base nowhere above top.
func Between(base, top Profile) Polygon {
	out := slices.Clone(Polygon(base))
	for _, v := range slices.Backward(top) {
		out = append(out, v)
	}
	return out.Tidy()
}

// Tidy returns the polygon without repeated points and without points on a
// straight line between their neighbours.
func (p Polygon) Tidy() Polygon {
	out := make(Polygon, 0, len(p))
	for _, v := range p {
		for len(out) >= 2 && straight(out[len(out)-2], out[len(out)-1], v) {
			out = out[:len(out)-1]
		}
		out = append(out, v)
	}
	for len(out) > 2 {
		n := len(out)
		switch {
		case straight(out[n-2], out[n-1], out[0]):
			out = out[:n-1]
		case straight(out[n-1], out[0], out[1]):
			out = out[1:]
		default:
			return out
		}
	}
	return out
}

// straight reports whether b lies on the straight line through a and c, or is
// one of them.
func straight(a, b, c Point) bool {
	return (b.X-a.X)*(c.Z-a.Z) == (c.X-a.X)*(b.Z-a.Z)
}

// Area2 returns twice the area in square micrometres, positive for an
// anticlockwise polygon: exact, for polygons below 1 km across.
func (p Polygon) Area2() int64 {
	if len(p) == 0 {
		return 0
	}
	var sum int64
	o := p[0] // sums stay small when taken from a corner
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += int64((a.X-o.X)*(b.Z-o.Z) - (b.X-o.X)*(a.Z-o.Z))
	}
	return sum
}

// SquareMetres returns the area in square metres.
func (p Polygon) SquareMetres() float64 { return float64(p.Area2()) / 2e12 }

// Bounds returns the polygon's spans along x and z.
func (p Polygon) Bounds() (xs, zs Span) {
	xs, zs = Span{p[0].X, p[0].X}, Span{p[0].Z, p[0].Z}
	for _, v := range p[1:] {
		xs = Span{min(xs.Lo, v.X), max(xs.Hi, v.X)}
		zs = Span{min(zs.Lo, v.Z), max(zs.Hi, v.Z)}
	}
	return xs, zs
}

// IsRect reports whether the polygon is an upright rectangle.
func (p Polygon) IsRect() bool {
	q := p.Tidy()
	if len(q) != 4 {
		return false
	}
	xs, zs := q.Bounds()
	return q.Area2() == 2*int64(xs.Length())*int64(zs.Length())
}

// Move returns the polygon shifted by d.
func (p Polygon) Move(d Point) Polygon {
	out := make(Polygon, len(p))
	for i, v := range p {
		out[i] = Point{v.X + d.X, v.Z + d.Z}
	}
	return out
}

// Distance returns the length of the straight line from a to b, rounded up to
// the micrometre.
func Distance(a, b Point) Length {
	dx, dz := int64(b.X-a.X), int64(b.Z-a.Z)
	square := dx*dx + dz*dz
	d := int64(math.Sqrt(float64(square)))
	for d*d < square {
		d++
	}
	for d > 0 && (d-1)*(d-1) >= square {
		d--
	}
	return Length(d)
}

// Holds reports whether the point lies inside the polygon and on none of its
// edges: exact, for polygons below 1 km across.
func (p Polygon) Holds(q Point) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		side := (q.X-a.X)*(b.Z-a.Z) - (b.X-a.X)*(q.Z-a.Z) // 0 on the edge's line
		if side == 0 && min(a.X, b.X) <= q.X && q.X <= max(a.X, b.X) && min(a.Z, b.Z) <= q.Z && q.Z <= max(a.Z, b.Z) {
			return false
		}
		if (a.Z > q.Z) != (b.Z > q.Z) && (side < 0) == (b.Z > a.Z) {
			in = !in
		}
	}
	return in
}
