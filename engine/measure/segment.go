package measure

// Segment is the straight line from A to B with A.X < B.X. Points on it are
// stated to the micrometre, rounded down, so that a point read twice is the
// same point both times.
type Segment struct{ A, B Point }

// At returns the height at x, rounded down. Outside the segment it follows
// the same straight line.
func (s Segment) At(x Length) Length {
	return s.A.Z + floorDiv((s.B.Z-s.A.Z)*(x-s.A.X), s.B.X-s.A.X)
}

// Cross returns the x at which the segment has height z, rounded down; z lies
// between the heights of the two ends, which differ.
func (s Segment) Cross(z Length) Length {
	a, b := s.A, s.B
	if a.Z > b.Z {
		a, b = b, a
	}
	return a.X + floorDiv((b.X-a.X)*(z-a.Z), b.Z-a.Z)
}

// floorDiv divides towards minus infinity; d > 0.
func floorDiv(n, d Length) Length {
	q := n / d
	if n%d < 0 {
		q--
	}
	return q
}
