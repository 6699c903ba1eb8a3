package battens

import (
	"slices"

	"lapwright/engine/measure"
)

// serve adds battens where settling the posts left an upright edge of an opening
// or a step without one: over every stretch of its own heights that is worth a
// batten, some batten reaches within a wide batten's width of the edge, unless
// another opening or the wall's end leaves no room for half a normal one.
func (w *Wall) serve(list, edges []post) []post {
	cuts := w.rising()
	for _, e := range edges {
		if e.edge() {
			continue
		}
		for _, z := range w.bare(list, e, cuts) {
			if x := w.room(list, e, z, cuts); x.Length() >= w.Width/2 {
				if x != e.x {
					x = within(x, x.Length())
				}
				list = append(list, post{x, z, z, z, e.faces, e.why})
			}
		}
	}
	return list
}

// bare returns the stretches of an edge's own heights at which nothing stands
// behind it, those left out that are too low for a batten or too near to
// another opening.
func (w *Wall) bare(list []post, e post, cuts []Void) []measure.Span {
	near := e.near(w.Width / 2)
	z := measure.Span{Lo: most(w.Base, near.And(w.Span)), Hi: w.Top.Least(near.And(w.Span))}.And(e.own)
	if near.And(w.Span) != near || z.Empty() {
		return nil
	}
	var taken []measure.Span
	for _, v := range cuts {
		if !v.X.And(near).Empty() && !v.Z.Empty() {
			taken = append(taken, v.Z)
		}
	}
	for _, p := range list {
		if !p.x.And(e.x).Empty() {
			taken = append(taken, standing(p, cuts)...)
		}
	}
	return slices.DeleteFunc(less(z, taken), func(s measure.Span) bool { return s.Length() < aboveLeast })
}

// near returns the part of an edge's place that lies within d of its face.
func (p post) near(d measure.Length) measure.Span {
	if p.faces < 0 {
		return measure.Span{Lo: p.x.Hi - d, Hi: p.x.Hi}
	}
	return measure.Span{Lo: p.x.Lo, Hi: p.x.Lo + d}
}

// standing returns the heights at which a post stands once openings cut it.
func standing(p post, cuts []Void) []measure.Span {
	var taken []measure.Span
	for _, v := range cuts {
		if !v.X.And(p.x).Empty() && !v.Z.Empty() {
			taken = append(taken, v.Z)
		}
	}
	return less(p.limit, taken)
}

// less returns what of a span the others leave, whatever their order.
func less(s measure.Span, taken []measure.Span) []measure.Span {
	slices.SortFunc(taken, func(a, b measure.Span) int { return int(min(max(a.Lo-b.Lo, -1), 1)) })
	return measure.Less([]measure.Span{s}, taken)
}

// room returns what is free for a batten behind an edge over the heights: of its
// own place the part nearest to the face that holds half a normal batten, empty
// if there is none.
func (w *Wall) room(list []post, e post, z measure.Span, cuts []Void) measure.Span {
	var taken []measure.Span
	for _, v := range cuts {
		if !v.Z.And(z).Empty() {
			taken = append(taken, v.X)
		}
	}
	for _, p := range list {
		if slices.ContainsFunc(standing(p, cuts), func(s measure.Span) bool { return !s.And(z).Empty() }) {
			taken = append(taken, p.x)
		}
	}
	free := slices.DeleteFunc(less(e.x.And(w.Span), taken), func(s measure.Span) bool { return s.Length() < w.Width/2 })
	switch {
	case len(free) == 0:
		return measure.Span{}
	case e.faces < 0:
		return free[len(free)-1]
	default:
		return free[0]
	}
}
