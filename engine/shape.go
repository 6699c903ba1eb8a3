package engine

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// shape is a wall's face and what of it is clad, before its base is stepped on
// course marks.
type shape struct {
	top     measure.Profile // the underside of what stands above, over the wall's width
	cladTop measure.Profile // less its gap, over the clad span
	span    measure.Span    // clad, from end allowance to end allowance
	ground  measure.Profile // what stands below, over the clad span
	raised  bool            // ground is the surface itself; boards start a clearance above it
	voids   []Void
	flags   []Flag
}

// shapeOf works out the shape of a wall from its row. Its faults come as
// flags; a wall with a stop among them has no usable shape.
func shapeOf(w *Wall, r Rules) shape {
	s := shape{span: measure.Span{
		Lo: -r.endAllowance(w.Left),
		Hi: w.Width + r.endAllowance(w.Right),
	}}
	if w.Width <= 0 || w.Height <= 0 || s.span.Empty() {
		s.flag(w, Stop, "wall-size", "Width mm", "the wall has no width or height left to clad", "check its width, its height and the end allowances")
		return s
	}
	s.top = s.topProfile(w, r)
	s.cladTop = extend(s.top, s.span).Shift(-r.topGap(w.Top))
	s.ground, s.raised = groundProfile(w, r)
	s.ground = extend(s.ground, s.span)
	for i := range w.Openings {
		s.voids = append(s.voids, voidOf(&w.Openings[i], r))
	}
	slices.SortStableFunc(s.voids, func(a, b Void) int {
		return cmp.Or(cmp.Compare(a.Opening.Left, b.Opening.Left), cmp.Compare(a.Opening.Sill, b.Opening.Sill), cmp.Compare(a.Opening.Name, b.Opening.Name))
	})
	s.checkOpenings(w)
	if slack := s.cladTop.Most(s.span) - s.ground.Least(s.span); slack < r.StripLeast {
		s.flag(w, Stop, "wall-too-low", "Height mm",
			"between base and top only "+slack.String()+" mm are left to clad", "check the height and the base of the wall, or leave it out")
	}
	return s
}

func (s *shape) flag(w *Wall, severity Severity, code, header, what, do string) {
	s.flags = append(s.flags, Flag{severity, code, w.Plot, w.Name, w.Origin.At(header), what, do})
}

func (s *shape) stopped() bool {
	return slices.ContainsFunc(s.flags, func(f Flag) bool { return f.Severity == Stop })
}

// endAllowance returns how far boards reach beyond a side edge (negative:
// stop short of it).
func (r Rules) endAllowance(e Edge) measure.Length {
	switch e {
	case ExternalCorner:
		return r.AllowExternal
	case InternalCorner:
		return r.AllowInternal
	case OpenEnd:
		return r.AllowOpenEnd
	default:
		return r.AllowAbutment
	}
}

// topGap returns the gap boards keep below a top edge, measured upright.
func (r Rules) topGap(e Edge) measure.Length {
	switch e {
	case Verge:
		return -r.AllowVerge
	case OpenTop:
		return -r.AllowOpenEnd
	default:
		return r.SoffitGap
	}
}

// topProfile returns the line of the wall's top. Two side heights nearer than
// the level tolerance are an uneven soffit: the boards go by the lower.
func (s *shape) topProfile(w *Wall, r Rules) measure.Profile {
	left, right := w.Height, w.HeightRight.Or(w.Height)
	switch {
	case len(w.TopProfile) >= 2:
		return w.TopProfile
	case w.ApexHeight.Set:
		apex := measure.Point{X: w.ApexLeft.Or((w.Width / 2).DownTo(measure.Millimetre)), Z: w.ApexHeight.Value}
		if apex.X < 0 || apex.X > w.Width || apex.Z < max(left, right) {
			s.flag(w, Stop, "apex-outside", "Apex height mm", "the apex does not stand above both eaves and within the wall", "check the apex height and its distance from the left edge")
		}
		return slices.Compact(measure.Profile{{X: 0, Z: left}, apex, {X: w.Width, Z: right}})
	case left == right:
		return measure.Level(measure.Span{Lo: 0, Hi: w.Width}, left)
	case max(left, right)-min(left, right) <= r.LevelTolerance:
		lower := min(left, right)
		s.flag(w, Check, "soffit-uneven", "Height right mm",
			"the two heights differ by "+(max(left, right)-lower).String()+" mm: read as an uneven soffit and set out to the lower",
			"measure once more in the middle; widen the trim's cover or scribe the top board where the gap shows")
		return measure.Level(measure.Span{Lo: 0, Hi: w.Width}, lower)
	default:
		return measure.Profile{{X: 0, Z: left}, {X: w.Width, Z: right}}
	}
}

// groundProfile returns where first boards may start, and whether that is the
// ground itself (boards start a clearance above it) or a given board level.
func groundProfile(w *Wall, r Rules) (measure.Profile, bool) {
	if len(w.BaseProfile) >= 2 {
		return w.BaseProfile.Shift(r.GroundClearance), true
	}
	base := w.Base.Or(r.GroundClearance)
	if !w.StepLeft.Set {
		return measure.Level(measure.Span{Lo: 0, Hi: w.Width}, base), false
	}
	x, right := w.StepLeft.Value, w.StepBase.Or(base)
	return measure.Profile{{X: 0, Z: base}, {X: x, Z: base}, {X: x, Z: right}, {X: w.Width, Z: right}}, false
}

// extend returns the profile over the span, its first and last slopes carried
// on beyond its ends.
func extend(p measure.Profile, s measure.Span) measure.Profile {
	q := slices.Clone(p)
	n := len(q)
	if s.Lo < q[0].X && q[1].X > q[0].X {
		q[0] = onLine(q[0], q[1], s.Lo)
	}
	if s.Hi > q[n-1].X && q[n-1].X > q[n-2].X {
		q[n-1] = onLine(q[n-2], q[n-1], s.Hi)
	}
	return q.Cut(s)
}

// onLine returns the point at x on the line through a and b.
func onLine(a, b measure.Point, x measure.Length) measure.Point {
	return measure.Point{X: x, Z: a.Z + (b.Z-a.Z)*(x-a.X)/(b.X-a.X)}
}

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
		}
		for _, p := range w.Openings[:i] {
			if xs.And(measure.Span{Lo: p.Left, Hi: p.Left + p.Width}).Empty() ||
				(measure.Span{Lo: o.Sill, Hi: o.Sill + o.Height}).And(measure.Span{Lo: p.Sill, Hi: p.Sill + p.Height}).Empty() {
				continue
			}
			at("opening-overlap", "From left mm", "overlaps opening "+p.Name, "check the positions and sizes of both")
		}
	}
}
