// Package trims says which trims, starters and vent strips a wall takes, where
// each runs and how a run longer than stock is joined.
//
// It knows the wall by its edges, its openings and its course marks only, and
// nothing of boards, products or prices.
package trims

import (
	"lapwright/engine/measure"
)

// Role is what a trim does on the wall; the catalogue lists products by it.
type Role string

// The roles of trims.
const (
	Starter        Role = "starter"
	VentStrip      Role = "vent strip"
	EdgeTrim       Role = "edge trim"
	InternalCorner Role = "internal corner"
	ExternalCorner Role = "external corner"
	UnequalCorner  Role = "unequal corner"
	FrameTrim      Role = "frame trim"
)

// Side is one upright edge of a wall. Trim is blank where nothing stands there
// or where the wall next door carries the corner.
type Side struct {
	Trim Role
	Z    measure.Span // what it covers, a shared corner's two walls together
}

// Opening is an opening as trims meet it. Z is from the underside of the sill
// to the head, X from jamb to jamb.
type Opening struct {
	Name   string
	X, Z   measure.Span
	Lined  bool
	AtBase bool           // a door: no sill strip
	AtTop  bool           // reaches the top: no head
	Down   measure.Length // by how much the trims beside it run below the sill
	Sill   Rect           // a sill that reaches beyond the jambs, with its horns; the zero value: none does
	Gap    measure.Length // that boards, and so trims, keep above those horns
}

// Rect is an upright rectangle of the wall.
type Rect struct{ X, Z measure.Span }

// Wall is what trims need to know of a wall.
type Wall struct {
	Left, Right Side
	Base        measure.Profile // where first boards start; a slope is a lower roof's, to which they are cut
	Top         measure.Profile // the clad region's top
	Verge       bool            // a raked top carries an edge trim
	Vented      bool            // the top lets the cavity breathe
	Openings    []Opening
}

// Line is one straight run of trim, before it is cut to stock. From is its
// left or lower end.
type Line struct {
	Role     Role
	Where    string
	From, To measure.Point
	Length   measure.Length // a multiple of a tenth of a millimetre
}

// Upright reports whether the line runs straight up the wall.
func (l Line) Upright() bool { return l.From.X == l.To.X }

// Lines returns every trim line of the wall in a fixed order: base, sides,
// top, openings.
func Lines(w Wall) []Line {
	out := w.base()
	out = append(out, w.Left.line("left edge", w.Top.Extent().Lo)...)
	out = append(out, w.Right.line("right edge", w.Top.Extent().Hi)...)
	out = append(out, w.top()...)
	for _, o := range w.Openings {
		out = append(out, o.lines()...)
	}
	return w.outside(out)
}

// outside takes out of level and upright lines what runs through an opening or
// the horns of a sill, and the upright ones beside the clad region.
func (w Wall) outside(lines []Line) []Line {
	out := make([]Line, 0, len(lines))
	for _, l := range lines {
		switch {
		case l.Upright() && !w.Top.Extent().Holds(l.From.X):
		case l.Upright():
			for _, z := range measure.Less([]measure.Span{{Lo: l.From.Z, Hi: l.To.Z}}, w.cuts(func(r Rect) (across, along measure.Span) { return r.X, r.Z }, l.From.X)) {
				out = append(out, upright(l.Role, l.Where, l.From.X, z))
			}
		case l.From.Z == l.To.Z:
			for _, x := range measure.Less([]measure.Span{{Lo: l.From.X, Hi: l.To.X}}, w.cuts(func(r Rect) (across, along measure.Span) { return r.Z, r.X }, l.From.Z)) {
				out = append(out, level(l.Role, l.Where, x, l.From.Z))
			}
		default:
			out = append(out, l)
		}
	}
	return out
}

// cuts returns what the openings and their sills take of a line that stands at a
// place across them; one along their edge loses nothing.
func (w Wall) cuts(turn func(Rect) (across, along measure.Span), at measure.Length) []measure.Span {
	var out []measure.Span
	for _, o := range w.Openings {
		for _, r := range [...]Rect{{o.X, o.Z}, o.Sill} {
			if across, along := turn(r); across.Lo < at && at < across.Hi {
				out = insert(out, along)
			}
		}
	}
	return out
}

// base returns the starter and the vent strip along every level stretch of the
// base, doorways left out, and an edge trim where boards end against a step.
// Along a slope there is a vent strip only: boards cut to it lie on no starter but
// on the tips of those below, and are packed.
// Where base and top meet there are no boards.
func (w Wall) base() []Line {
	var out []Line
	for i := 1; i < len(w.Base); i++ {
		a, b := w.Base[i-1], w.Base[i]
		switch {
		case a.X == b.X:
			out = append(out, w.step(a.X, measure.Span{Lo: min(a.Z, b.Z), Hi: min(max(a.Z, b.Z), w.Top.At(a.X))})...)
		case a.Z == b.Z && a.Z >= w.Top.Most(measure.Span{Lo: a.X, Hi: b.X}):
		case a.Z != b.Z:
			out = append(out, along(VentStrip, "base", a, b))
		default:
			for _, s := range measure.Less([]measure.Span{{Lo: a.X, Hi: b.X}}, doorways(w.Openings, a.Z)) {
				out = append(out, level(Starter, "base", s, a.Z), level(VentStrip, "base", s, a.Z))
			}
		}
	}
	return out
}

// step returns the edge trim where boards end against a step of the base, but
// not behind a door that stands across it.
func (w Wall) step(x measure.Length, z measure.Span) []Line {
	parts := []measure.Span{z}
	for _, o := range w.Openings {
		if o.X.Holds(x) {
			parts = measure.Less(parts, []measure.Span{o.Z})
		}
	}
	var out []Line
	for _, part := range parts {
		out = append(out, Side{EdgeTrim, part}.line("base step", x)...)
	}
	return out
}

// doorways returns the spans of the openings that stand on a base at z.
func doorways(openings []Opening, z measure.Length) []measure.Span {
	var out []measure.Span
	for _, o := range openings {
		if o.Z.Lo <= z && z < o.Z.Hi {
			out = insert(out, o.X)
		}
	}
	return out
}

func insert(spans []measure.Span, s measure.Span) []measure.Span {
	i := len(spans)
	for i > 0 && spans[i-1].Lo > s.Lo {
		i--
	}
	return append(spans[:i:i], append([]measure.Span{s}, spans[i:]...)...)
}

func (s Side) line(where string, x measure.Length) []Line {
	if s.Trim == "" || s.Z.Empty() {
		return nil
	}
	return []Line{upright(s.Trim, where, x, s.Z)}
}

// top returns the vent strip along the top, and along each slope the edge trim
// of a verge.
func (w Wall) top() []Line {
	var out []Line
	for i := 1; i < len(w.Top); i++ {
		a, b := w.Top[i-1], w.Top[i]
		if a.X == b.X {
			continue
		}
		switch {
		case !w.Vented:
		case a.Z == b.Z:
			for _, s := range measure.Less([]measure.Span{{Lo: a.X, Hi: b.X}}, w.shut(a.Z)) {
				out = append(out, level(VentStrip, "top", s, a.Z))
			}
		default:
			out = append(out, along(VentStrip, "top", a, b))
		}
		if w.Verge && a.Z != b.Z {
			out = append(out, along(EdgeTrim, "verge", a, b))
		}
	}
	return out
}

// shut returns the spans of a level top at z under which no boards stand: of
// openings that reach it, and where the base rises to it.
func (w Wall) shut(z measure.Length) []measure.Span {
	out := w.Base.Above(z - measure.Micrometre)
	for _, o := range w.Openings {
		if o.AtTop {
			out = insert(out, o.X)
		}
	}
	return out
}

// lines returns the trims of an opening. Over the horns of a sill, where boards
// end farther out, the jambs' trims give way to short ones beside the horns.
func (o Opening) lines() []Line {
	var out []Line
	at := func(where string) string { return o.Name + " " + where }
	jamb, frame, sill := measure.Span{Lo: o.Z.Lo - o.Down, Hi: o.Z.Hi}, o.Z, o.X
	if !o.Sill.Z.Empty() {
		horn := measure.Span{Lo: jamb.Lo, Hi: o.Sill.Z.Hi + o.Gap}
		if !horn.Empty() {
			out = append(out, upright(EdgeTrim, at("left horn"), o.Sill.X.Lo, horn), upright(EdgeTrim, at("right horn"), o.Sill.X.Hi, horn))
		}
		jamb.Lo, frame.Lo, sill = max(jamb.Lo, horn.Hi), max(frame.Lo, horn.Hi), o.Sill.X
	}
	role := EdgeTrim
	if o.Lined {
		role = UnequalCorner
	}
	out = append(out, upright(role, at("left jamb"), o.X.Lo, jamb), upright(role, at("right jamb"), o.X.Hi, jamb))
	if !o.AtTop {
		over := o.Z.Hi + o.Gap // where the boards begin that they carry and close
		out = append(out, level(Starter, at("head"), o.X, over), level(VentStrip, at("head"), o.X, over))
	}
	if !o.AtBase {
		out = append(out, level(VentStrip, at("sill"), sill, o.Z.Lo-o.Gap))
	}
	if o.Lined {
		out = append(out, upright(FrameTrim, at("left jamb"), o.X.Lo, frame), upright(FrameTrim, at("right jamb"), o.X.Hi, frame))
		if !o.AtTop {
			out = append(out, level(UnequalCorner, at("head"), o.X, o.Z.Hi), level(FrameTrim, at("head"), o.X, o.Z.Hi))
		}
	}
	return out
}

func level(role Role, where string, x measure.Span, z measure.Length) Line {
	return along(role, where, measure.Point{X: x.Lo, Z: z}, measure.Point{X: x.Hi, Z: z})
}

func upright(role Role, where string, x measure.Length, z measure.Span) Line {
	return along(role, where, measure.Point{X: x, Z: z.Lo}, measure.Point{X: x, Z: z.Hi})
}

func along(role Role, where string, a, b measure.Point) Line {
	return Line{role, where, a, b, measure.Distance(a, b).UpTo(measure.Tenth)}
}
