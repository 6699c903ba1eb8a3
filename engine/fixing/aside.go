package fixing

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// room is where a screw may stand when it gives way to a joint of the next
// course.
type room struct {
	middle measure.Length // of the board's own stretch there
	spans  []measure.Span // the better first
}

// gapes reports whether a joint of the next course would show a screw at x.
func (b board) gapes(x measure.Length) bool {
	return slices.ContainsFunc(b.Avoid, func(a measure.Length) bool { return max(x-a, a-x) < b.rules.Aside })
}

// aside returns the places nearest to x within a span that no joint of the next
// course shows, the nearest first, of two as near the one towards the middle.
func (b board) aside(x, middle measure.Length, within measure.Span) []measure.Length {
	var out []measure.Length
	for _, a := range b.Avoid {
		for _, place := range []measure.Length{a - b.rules.Aside, a + b.rules.Aside} {
			if within.Holds(place) && !b.gapes(place) {
				out = append(out, place)
			}
		}
	}
	off := func(p, from measure.Length) measure.Length { return max(p-from, from-p) }
	slices.SortStableFunc(out, func(p, q measure.Length) int {
		return cmp.Or(cmp.Compare(off(p, x), off(q, x)), cmp.Compare(off(p, middle), off(q, middle)))
	})
	return out
}

// hide places a screw at x, but out of a joint of the next course where the
// board above then covers it.
func (b board) hide(x measure.Length, r room, place func(x measure.Length) (Screw, string)) (Screw, string) {
	if b.gapes(x) {
		for _, span := range r.spans {
			for _, x := range b.aside(x, r.middle, span) {
				if s, code := place(x); code == "" && !s.Visible {
					return s, ""
				}
			}
		}
	}
	return place(x)
}
