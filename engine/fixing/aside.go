package fixing

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// room is where a screw may stand when it gives way to an end of the next
// course's boards.
type room struct {
	middle measure.Length // of the board's own stretch there
	spans  []measure.Span // the better first
}

// gapes reports whether the next course leaves a screw at x bare, or ends too
// near it.
func (b *board) gapes(x measure.Length) bool {
	return slices.ContainsFunc(b.Bare, func(s measure.Span) bool { return s.Lo-x < b.rules.Aside && x-s.Hi < b.rules.Aside })
}

// aside returns the places nearest to x within a span that the next course
// hides, the nearest first, of two as near the one towards the middle.
func (b *board) aside(x, middle measure.Length, within measure.Span) []measure.Length {
	var out []measure.Length
	for _, s := range b.Bare {
		for _, place := range []measure.Length{s.Lo - b.rules.Aside, s.Hi + b.rules.Aside} {
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

// hide places a screw at x, but away from where the next course leaves it bare if
// the board above then covers it.
func (b *board) hide(x measure.Length, r room, place func(x measure.Length) (Screw, string)) (Screw, string) {
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
