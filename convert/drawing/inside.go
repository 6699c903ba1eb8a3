package drawing

import (
	"slices"

	"lapwright/engine/measure"
)

// within returns the spans of x in which a polygon covers the whole height
// from lo to hi, as far as its edges at both and its corners between tell.
func within(p measure.Polygon, lo, hi measure.Length) []measure.Span {
	spans := and(across(p, lo), across(p, hi))
	spans = and(spans, across(p, (lo+hi)/2))
	for _, c := range p {
		if c.Z <= lo || c.Z >= hi {
			continue
		}
		spans = measure.Less(spans, []measure.Span{{Lo: c.X, Hi: c.X + 1}})
	}
	return spans
}

// across returns the spans of x inside a polygon at a height, its own edges
// along that height counting as outside.
func across(p measure.Polygon, z measure.Length) []measure.Span {
	var xs []measure.Length
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.Z <= z) == (b.Z <= z) {
			continue
		}
		xs = append(xs, a.X+measure.Length(float64(b.X-a.X)*float64(z-a.Z)/float64(b.Z-a.Z)))
	}
	slices.Sort(xs)
	var out []measure.Span
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, measure.Span{Lo: xs[i], Hi: xs[i+1]})
	}
	return out
}

func and(a, b []measure.Span) []measure.Span {
	var out []measure.Span
	for _, s := range a {
		for _, t := range b {
			if both := s.And(t); !both.Empty() {
				out = append(out, both)
			}
		}
	}
	return out
}

func widest(spans []measure.Span) measure.Span {
	var out measure.Span
	for _, s := range spans {
		if s.Length() > out.Length() {
			out = s
		}
	}
	return out
}
