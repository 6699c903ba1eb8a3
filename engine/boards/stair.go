package boards

import (
	"slices"

	"lapwright/engine/measure"
)

// Stair returns the base of a wall's boards over sloping or stepped ground: a
// stair of level treads, each on a course mark, the lowest that keeps the
// clearance to the highest ground under it. span is the wall's.
//
// The treads meet at the places of at, rising, as the edges of bays; if it is
// empty they meet wherever the ground asks for the next mark. Where even the
// last mark is too low, the tread stands at the ground plus the clearance.
func Stair(ground measure.Profile, marks []measure.Length, clearance measure.Length, span measure.Span, at []measure.Length) measure.Profile {
	if len(at) == 0 {
		at = rises(ground, marks, clearance)
	}
	var out measure.Profile
	from := span.Lo
	tread := func(to measure.Length) {
		need := highest(ground, measure.Span{Lo: from, Hi: to}) + clearance
		z := need
		if k, _ := slices.BinarySearch(marks, need); k < len(marks) {
			z = marks[k]
		}
		if n := len(out); n > 0 && out[n-1].Z == z {
			out = out[:n-1]
		} else {
			out = append(out, measure.Point{X: from, Z: z})
		}
		out = append(out, measure.Point{X: to, Z: z})
		from = to
	}
	for _, x := range at {
		if x > from && x < span.Hi {
			tread(x)
		}
	}
	tread(span.Hi)
	return out
}

// highest returns the most the ground takes within the span. What it does at a
// step at either end belongs to the neighbour as far as it lies there.
func highest(ground measure.Profile, s measure.Span) measure.Length {
	cut := ground.Cut(s)
	for len(cut) > 2 && cut[0].X == s.Lo && cut[1].X == s.Lo {
		cut = cut[1:]
	}
	for n := len(cut); n > 2 && cut[n-1].X == s.Hi && cut[n-2].X == s.Hi; n-- {
		cut = cut[:n-1]
	}
	z := cut[0].Z
	for _, p := range cut {
		z = max(z, p.Z)
	}
	return z
}

// rises returns the places where the ground passes a height at which the next
// mark is needed, and its steps.
func rises(ground measure.Profile, marks []measure.Length, clearance measure.Length) []measure.Length {
	heights := make([]measure.Length, len(marks))
	for i, m := range marks {
		heights[i] = m - clearance
	}
	var out []measure.Length
	for _, k := range refine(ground, heights, 1) {
		out = append(out, k.X)
	}
	return slices.Compact(out)
}
