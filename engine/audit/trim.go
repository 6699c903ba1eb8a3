package audit

import (
	"maps"
	"slices"

	"lapwright/engine/measure"
)

// trims checks that none runs through an opening or the horns of a sill; along
// their edge it may. It checks what holds each strip, and recounts their screws.
func (s *site) trims() {
	over, mixed := map[string]int{}, map[string]bool{} // of a role: screws less those stated; whether some are no strips
	for i := range s.w.Trims {
		t := &s.w.Trims[i]
		if t.Strip {
			s.strip(t)
			over[t.Role] += len(t.Screws)
		} else {
			mixed[t.Role] = true
		}
		if t.Up && !t.Loose && !slices.ContainsFunc(s.w.Battens, func(b Batten) bool { return s.upOn(t, &b) }) {
			s.r.add(t.Mark, "trim-loose", "from %v to %v no batten stands beside it", t.From, t.To)
		}
		for _, o := range s.w.Openings {
			if t.through(o) {
				s.r.add(t.Mark, "trim-opening", "from %v to %v it runs through the opening or sill at x %v, z %v", t.From, t.To, o.X, o.Z)
			}
		}
	}
	for _, f := range s.w.Fixings {
		if f.Trim != "" {
			over[f.Trim] -= f.Count
		}
	}
	for _, role := range slices.Sorted(maps.Keys(over)) {
		if n := over[role]; n != 0 && !mixed[role] {
			s.r.add(role, "fixing-count", "%d fixings more than are stated", n)
		}
	}
}

// strip checks that a strip's screws stand on battens and near enough to its ends,
// also where it is joined to another.
func (s *site) strip(t *Trim) {
	for _, x := range t.Screws {
		if !slices.ContainsFunc(s.w.Battens, func(b Batten) bool { return s.stands(t, x, &b) }) {
			s.r.add(t.Mark, "strip-screw", "its screw at x %v stands on no batten", x)
		}
	}
	n, reach := len(t.Screws), s.w.Limits.StripReach
	if reach == 0 || t.Loose {
		return
	}
	switch {
	case n == 0:
		s.r.add(t.Mark, "strip-loose", "nothing holds it")
	case t.Screws[0] == t.Screws[n-1] && max(t.Screws[0]-t.From.X, t.To.X-t.Screws[0]) > s.w.Limits.EndMost:
		s.r.add(t.Mark, "strip-loose", "from x %v to %v one batten at %v holds it, more than %v from an end", t.From.X, t.To.X, t.Screws[0], s.w.Limits.EndMost)
	case t.Screws[0]-t.From.X > reach,
		t.To.X-t.Screws[n-1] > reach:
		s.r.add(t.Mark, "strip-loose", "from x %v to %v it is held from %v to %v, more than %v from an end", t.From.X, t.To.X, t.Screws[0], t.Screws[n-1], reach)
	}
}

// stands reports whether a strip's screw at x is in the strip and on a batten. A
// batten is cut to the millimetre, and square under a slope.
func (s *site) stands(t *Trim, x measure.Length, b *Batten) bool {
	if x <= t.From.X || x >= t.To.X || 2*max(x-b.Centre, b.Centre-x) >= b.Width {
		return false
	}
	near := measure.Millimetre
	if t.From.Z != t.To.Z {
		near = s.w.Limits.StripSlope
	}
	l := newLine(t.From, t.To)
	z := l.at(x)
	return b.Z.Lo-near <= z && z <= b.Z.Hi+near
}

// upOn reports whether an upright trim runs along a batten.
func (s *site) upOn(t *Trim, b *Batten) bool {
	return 2*(max(t.From.X-b.Centre, b.Centre-t.From.X)-s.w.Limits.TrimBeside) <= b.Width && max(t.From.Z, b.Z.Lo) < min(t.To.Z, b.Z.Hi)
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
