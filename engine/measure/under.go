package measure

import "slices"

// Under returns the lower of two profiles at every place of p's extent, with a
// point at each crossing. There it follows q's line, rounded down, so that the
// result is nowhere above q.
func (p Profile) Under(q Profile) Profile {
	var out Profile
	add := func(v Point) {
		if n := len(out); n == 0 || out[n-1] != v {
			out = append(out, v)
		}
	}
	xs := breaks(p, q)
	for i := 1; i < len(xs); i++ {
		a, b := p.over(xs[i-1], xs[i]), q.over(xs[i-1], xs[i])
		left, right := a.A.Z-b.A.Z, a.B.Z-b.B.Z
		add(Point{a.A.X, min(a.A.Z, b.A.Z)})
		if (left < 0 && right > 0) || (left > 0 && right < 0) {
			x := a.A.X + floorDiv((a.B.X-a.A.X)*max(left, -left), max(left-right, right-left))
			add(Point{x, min(b.At(x), max(b.A.Z, b.B.Z))})
		}
		add(Point{a.B.X, min(a.B.Z, b.B.Z)})
	}
	return out
}

// breaks returns the places, rising, between which both profiles are straight,
// over the extent of the first.
func breaks(p, q Profile) []Length {
	var xs []Length
	extent := p.Extent()
	for _, v := range slices.Concat(p, q) {
		if extent.Holds(v.X) {
			xs = append(xs, v.X)
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// over returns the profile's straight line between two places that no point
// of it lies between.
func (p Profile) over(lo, hi Length) Segment {
	cut := p.Cut(Span{lo, hi})
	var s Segment
	for _, v := range cut { // of a step at the left the last value, at the right the first
		if v.X == lo {
			s.A = v
		}
	}
	for _, v := range slices.Backward(cut) {
		if v.X == hi {
			s.B = v
		}
	}
	return s
}
