package audit

import "lapwright/engine/measure"

// trims checks that none runs through an opening or the horns of a sill; along
// their edge it may.
func (s *site) trims() {
	for i := range s.w.Trims {
		t := &s.w.Trims[i]
		for _, o := range s.w.Openings {
			if t.through(o) {
				s.r.add(t.Mark, "trim-opening", "from %v to %v it runs through the opening or sill at x %v, z %v", t.From, t.To, o.X, o.Z)
			}
		}
	}
}

// through reports whether an upright or a level trim has some length strictly
// inside a rectangle.
func (t *Trim) through(r Rect) bool {
	inside := func(s measure.Span, at measure.Length) bool { return s.Lo < at && at < s.Hi }
	overlap := func(s measure.Span, a, b measure.Length) bool { return max(s.Lo, a) < min(s.Hi, b) }
	switch {
	case t.From.X == t.To.X:
		return inside(r.X, t.From.X) && overlap(r.Z, t.From.Z, t.To.Z)
	case t.From.Z == t.To.Z:
		return inside(r.Z, t.From.Z) && overlap(r.X, t.From.X, t.To.X)
	}
	return false
}
