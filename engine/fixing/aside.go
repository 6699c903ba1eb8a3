package fixing

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// gapes reports whether the next course leaves a screw at x bare, or ends too
// near it.
func (b *board) gapes(x measure.Length) bool {
	for _, s := range b.Bare {
		if s.Lo-x < b.rules.Aside && x-s.Hi < b.rules.Aside {
			return true
		}
	}
	return false
}

// aside returns the screw at the first place at which the board above covers it,
// of those within a span that the next course's ends leave it: the nearest to x
// first, of two as near the one towards the middle of the board's stretch there.
func (b *board) aside(x, middle measure.Length, within measure.Span, place func(x measure.Length) (Screw, string)) (Screw, bool) {
	b.places = b.places[:0]
	for _, s := range b.Bare {
		for _, p := range [2]measure.Length{s.Lo - b.rules.Aside, s.Hi + b.rules.Aside} {
			if within.Holds(p) && !b.gapes(p) {
				b.places = append(b.places, p)
			}
		}
	}
	off := func(p, from measure.Length) measure.Length { return max(p-from, from-p) }
	slices.SortStableFunc(b.places, func(p, q measure.Length) int {
		return cmp.Or(cmp.Compare(off(p, x), off(q, x)), cmp.Compare(off(p, middle), off(q, middle)))
	})
	for _, p := range b.places {
		if s, code := place(p); code == "" && !s.Visible {
			return s, true
		}
	}
	return Screw{}, false
}
