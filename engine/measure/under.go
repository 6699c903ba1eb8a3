package measure

import "slices"

// Under returns the lower of two profiles at every place of p's extent: the
// points of whichever is lower, and one at each crossing. There it follows q's
// line, rounded down, so that the result is nowhere above q.
func (p Profile) Under(q Profile) Profile {
	var u lower
	xs := breaks(p, q)
	for i := 1; i < len(xs); i++ {
		a, b := p.over(xs[i-1], xs[i]), q.over(xs[i-1], xs[i])
		left, right := a.A.Z-b.A.Z, a.B.Z-b.B.Z
		switch {
		case left <= 0 && right <= 0:
			u.follow(p, a)
		case left >= 0 && right >= 0:
			u.follow(q, b)
		default:
			x := a.A.X + floorDiv((a.B.X-a.A.X)*max(left, -left), max(left-right, right-left))
			at := Point{x, min(b.At(x), max(b.A.Z, b.B.Z))}
			first, second := p, q
			if left > 0 {
				first, second = q, p
				a, b = b, a
			}
			u.follow(first, Segment{a.A, at})
			u.follow(second, Segment{at, b.B})
		}
	}
	return append(u.out, u.end)
}

// lower gathers the lower of two profiles.
type lower struct {
	out Profile
	end Point   // of what is followed now
	on  Profile // the profile followed now
}

// follow goes on along a stretch of a profile. Where that profile is followed
// already, only its own points are kept.
func (u *lower) follow(p Profile, s Segment) {
	if s.A.X == s.B.X {
		return
	}
	own := slices.ContainsFunc(p, func(v Point) bool { return v.X == s.A.X })
	switch {
	case len(u.out) == 0:
		u.out = append(u.out, s.A)
	case own || &u.on[0] != &p[0] || u.end != s.A:
		u.out = append(u.out, u.end)
		if s.A != u.end {
			u.out = append(u.out, s.A)
		}
	}
	u.end, u.on = s.B, p
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
