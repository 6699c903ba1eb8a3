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

// topProfile returns the line of the wall's top. Heights nearer to each other
// than the level tolerance are an uneven soffit: the boards go by the lowest.
func (s *shape) topProfile(w *Wall, r Rules) measure.Profile {
	left, right := w.Height, w.HeightRight.Or(w.Height)
	whole := measure.Span{Lo: 0, Hi: w.Width}
	top, header := measure.Profile{{X: 0, Z: left}, {X: w.Width, Z: right}}, "Height right mm"
	switch {
	case len(w.TopProfile) >= 2:
		top, header = w.TopProfile, "Top profile"
	case w.ApexHeight.Set:
		apex := measure.Point{X: w.ApexLeft.Or((w.Width / 2).DownTo(measure.Millimetre)), Z: w.ApexHeight.Value}
		if apex.X < 0 || apex.X > w.Width || apex.Z < max(left, right) {
			s.flag(w, Stop, "apex-outside", "Apex height mm", "the apex does not stand above both eaves and within the wall", "check the apex height and its distance from the left edge")
		}
		return slices.Compact(measure.Profile{{X: 0, Z: left}, apex, {X: w.Width, Z: right}})
	}
	switch lowest, off := top.Least(whole), top.Most(whole)-top.Least(whole); {
	case off == 0:
		return measure.Level(whole, lowest)
	case off <= r.LevelTolerance:
		do := "measure once more in the middle; see that the trim covers the gap where it is widest, or scribe the top board"
		if len(top) > 2 {
			do = "see that the trim covers the gap where it is widest, or scribe the top board"
		}
		s.flag(w, Check, "soffit-uneven", header,
			"the heights differ by "+off.String()+" mm: read as an uneven soffit and set out to the lowest, where the gap above the top board is widest by that much", do)
		return measure.Level(whole, lowest)
	}
	s.flagScribed(w, top, header)
	return top
}

// slightRun is how far a top runs for each rise of one before it is more likely
// a soffit out of level than a roof slope: 3 degrees (common practice).
const slightRun = 19

// flagScribed asks about a top that is no verge and slopes by less than 3
// degrees: the boards under it are scribed in long wedges.
func (s *shape) flagScribed(w *Wall, top measure.Profile, header string) {
	if w.Top == Verge {
		return
	}
	for i := 1; i < len(top); i++ {
		dx, dz := top[i].X-top[i-1].X, top[i].Z-top[i-1].Z
		if rise := max(dz, -dz); rise > 0 && dx > slightRun*rise {
			s.flag(w, Check, "top-scribed", header,
				"the top falls by "+rise.String()+" mm over "+dx.String()+" mm, less than 3 degrees and more than the level tolerance: the top boards are scribed to it in long wedges",
				"if it is a soffit out of level that a trim can cover, raise the level tolerance; else measure in the middle too")
			return
		}
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
