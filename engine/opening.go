package engine

import (
	"slices"
	"strings"

	"lapwright/engine/measure"
)

// voidOf returns an opening with the gaps boards keep to it. Horns of a sill
// wider than the opening are a rectangle of their own.
func voidOf(o *Opening, r Rules) Void {
	xs := measure.Span{Lo: o.Left, Hi: o.Left + o.Width}
	zs := measure.Span{Lo: o.Sill, Hi: o.Sill + o.Height}
	jamb := -r.AllowJamb
	if o.Lined {
		jamb = -r.AllowLinedJamb
	}
	v := Void{Opening: o,
		Frame: []measure.Polygon{measure.Rect(xs, zs)},
		Keep:  []VoidRect{{xs.Grow(jamb), zs.Grow(r.VentilationGap)}},
	}
	if wide := o.SillWidth.Or(o.Width); wide > o.Width {
		horn := measure.Span{Lo: o.Left - (wide-o.Width)/2, Hi: o.Left + o.Width + (wide-o.Width+1)/2}
		hz := measure.Span{Lo: o.Sill, Hi: o.Sill + o.SillDepth.Or(hornDepth)}
		v.Frame = append(v.Frame, measure.Rect(horn, hz))
		v.Keep = append(v.Keep, VoidRect{horn.Grow(r.VentilationGap), hz.Grow(r.VentilationGap)})
	}
	return v
}

// hornDepth is taken for a projecting sill whose depth is not given (common
// practice: 50 mm).
const hornDepth = 50 * measure.Millimetre

// checkOpenings flags openings that leave the wall or meet another one.
func (s *shape) checkOpenings(w *Wall) {
	for i := range w.Openings {
		o := &w.Openings[i]
		at := func(code, header, what, do string) {
			s.flags = append(s.flags, Flag{Stop, code, w.Plot, w.Name, o.Origin.At(header), "opening " + o.Name + " " + what, do})
		}
		xs := measure.Span{Lo: o.Left, Hi: o.Left + o.Width}
		switch {
		case o.Width <= 0 || o.Height <= 0:
			at("opening-size", "Width mm", "has no width or no height", "give both in millimetres")
			continue
		case xs.Lo < 0 || xs.Hi > w.Width:
			at("opening-outside", "From left mm", "reaches beyond the wall's side", "check its distance from the left, its width and the wall's width")
		case o.Sill+o.Height > s.top.Most(xs):
			at("opening-too-high", "Height mm", "reaches above the wall's top", "check its sill, its height and the wall's height")
		case o.Sill+o.Height > s.top.Least(xs):
			s.flags = append(s.flags, Flag{Check, "opening-at-slope", w.Plot, w.Name, o.Origin.At("Height mm"), "a corner of opening " + o.Name + " reaches above the slope of the wall's top",
				"check its height and its distance from the left; an opening cut to the slope wants its own detail there"})
		}
		s.flagLow(w, o)
		for _, p := range w.Openings[:i] {
			if xs.And(measure.Span{Lo: p.Left, Hi: p.Left + p.Width}).Empty() ||
				(measure.Span{Lo: o.Sill, Hi: o.Sill + o.Height}).And(measure.Span{Lo: p.Sill, Hi: p.Sill + p.Height}).Empty() {
				continue
			}
			at("opening-overlap", "From left mm", "overlaps opening "+p.Name, "check the positions and sizes of both")
		}
	}
}

// flagLow asks about an opening, not a door, that begins below the level at which
// boards may start under it: it has no sill strip and no board under it.
func (s *shape) flagLow(w *Wall, o *Opening) {
	xs := measure.Span{Lo: o.Left, Hi: o.Left + o.Width}.And(s.span)
	if strings.EqualFold(o.Kind, "door") || xs.Empty() {
		return
	}
	base := s.ground.Least(xs)
	if o.Sill >= base {
		return
	}
	what := "begins " + (base - o.Sill).String() + " mm below the wall's boards, which start at " + base.String() + " mm there"
	if o.Sill+o.Height <= base {
		what = "stands wholly below the wall's boards, which start at " + base.String() + " mm there"
	}
	s.flags = append(s.flags, Flag{Check, "opening-below-base", w.Plot, w.Name, o.Origin.At("Sill mm"), "opening " + o.Name + " " + what,
		"check its sill and the wall's base, or whether it is a door"})
}

// flagPiers notes openings that stand so close that boards between them are
// shorter than the least piece, and those that leave no board at all.
func (f *face) flagPiers(least measure.Length) {
	for i, v := range f.voids {
		for _, u := range f.voids[:i] {
			a, b := u.Keep[0], v.Keep[0]
			pier := b.X.Lo - a.X.Hi
			if a.Z.And(b.Z).Empty() || b.X.Hi < a.X.Hi || pier >= least || f.between(u, v) {
				continue
			}
			o := v.Opening
			severity, code, do := Note, "pier-narrow", "see that they can be fixed twice; a vertical board or a trim may look better"
			what := "between opening " + u.Opening.Name + " and opening " + o.Name + " boards are only " + pier.String() + " mm long, less than the least piece of " + least.String()
			if pier <= 0 {
				severity, code, do = Check, "pier-closed", "cover the strip between them with a trim, or check both positions"
				what = "between opening " + u.Opening.Name + " and opening " + o.Name + " no room is left for boards"
			}
			f.flags = append(f.flags, Flag{severity, code, f.wall.Plot, f.wall.Name, o.Origin.At("From left mm"), what, do})
		}
	}
}

// between reports whether a third opening stands between two at a height of
// both.
func (f *face) between(u, v Void) bool {
	return slices.ContainsFunc(f.voids, func(t Void) bool {
		x, z := t.Keep[0].X, t.Keep[0].Z
		return t.Opening != u.Opening && t.Opening != v.Opening && x.Lo >= u.Keep[0].X.Hi && x.Hi <= v.Keep[0].X.Lo &&
			!z.And(u.Keep[0].Z).And(v.Keep[0].Z).Empty()
	})
}
