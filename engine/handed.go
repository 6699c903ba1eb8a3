package engine

import (
	"slices"
	"strings"

	"lapwright/engine/measure"
)

// Handed returns a wall of which some are built handed as those are built: seen
// from outside, left and right changed over, with the marks of the wall as
// surveyed. Quantity counts those alone. A trim keeps its wall, also that of a
// shared corner. Wall stays the survey's row.
func (w *WallResult) Handed() *WallResult {
	xs, _ := w.Outline.Bounds()
	m := mirror(xs.Lo + xs.Hi)
	out := *w
	out.Quantity = w.Mirrored
	out.LeftMeets, out.RightMeets = w.RightMeets, w.LeftMeets
	out.Outline = m.polygon(w.Outline)
	out.Clad = Region{m.profile(w.Clad.Base), m.profile(w.Clad.Top)}
	out.Voids = each(w.Voids, m.void)
	out.Battens = each(w.Battens, func(b Batten) Batten { b.Centre = m.x(b.Centre); return b })
	out.Pieces = each(w.Pieces, func(p Piece) Piece { return p.handed(m) })
	out.Trims = each(w.Trims, m.trim)
	out.Strips = each(w.Strips, func(s Strip) Strip { s.Where = otherSide(s.Where); return s })
	out.Screws = each(w.Screws, func(s Screw) Screw { s.X = m.x(s.X); return s })
	out.Zones = each(w.Zones, func(z Zone) Zone { z.X = m.span(z.X); return z })
	slices.Reverse(out.Zones) // from left to right
	return &out
}

// Handed returns the piece with left and right changed over, between the same
// two ends: a board has one face, so a notched or sloped piece sawn the one way
// is of no use the other.
func (p *Piece) Handed() Piece {
	if len(p.Outline) == 0 {
		return p.handed(0)
	}
	xs, _ := p.Outline.Bounds()
	return p.handed(mirror(xs.Lo + xs.Hi))
}

func (p Piece) handed(m mirror) Piece {
	p.Left, p.Right = p.Right, p.Left
	p.Reveal = otherSide(p.Reveal)
	p.Outline = m.polygon(p.Outline)
	p.Cutouts, p.Holes = m.rects(p.Cutouts), m.rects(p.Holes)
	return p
}

// mirror changes left and right over: what stands at x stands at the mirror
// less x.
type mirror measure.Length

func (m mirror) x(at measure.Length) measure.Length { return measure.Length(m) - at }

func (m mirror) span(s measure.Span) measure.Span { return measure.Span{Lo: m.x(s.Hi), Hi: m.x(s.Lo)} }

func (m mirror) point(p measure.Point) measure.Point { return measure.Point{X: m.x(p.X), Z: p.Z} }

// profile keeps x rising, and polygon the points anticlockwise.
func (m mirror) profile(p measure.Profile) measure.Profile {
	out := each(p, m.point)
	slices.Reverse(out)
	return out
}

func (m mirror) polygon(p measure.Polygon) measure.Polygon {
	return measure.Polygon(m.profile(measure.Profile(p)))
}

func (m mirror) rects(in []VoidRect) []VoidRect {
	out := each(in, func(r VoidRect) VoidRect { return VoidRect{m.span(r.X), r.Z} })
	slices.Reverse(out)
	return out
}

func (m mirror) void(v Void) Void {
	o := *v.Opening
	o.Left = m.x(o.Left + o.Width)
	return Void{&o, each(v.Frame, m.polygon), m.rects(v.Keep)}
}

// trim keeps a level or sloping trim running from left to right.
func (m mirror) trim(t Trim) Trim {
	t.Where = otherSide(t.Where)
	t.From, t.To = m.point(t.From), m.point(t.To)
	if t.From.X != t.To.X {
		t.From, t.To = t.To, t.From
	}
	t.Screws = each(t.Screws, m.x)
	slices.Reverse(t.Screws)
	return t
}

// otherSide changes the side over in words that end in one.
func otherSide(where string) string {
	for _, of := range []string{"edge", "jamb", "horn"} {
		left, right := "left "+of, "right "+of
		if before, ok := strings.CutSuffix(where, left); ok {
			return before + right
		}
		if before, ok := strings.CutSuffix(where, right); ok {
			return before + left
		}
	}
	return where
}

func each[S ~[]T, T any](in S, of func(T) T) S {
	if in == nil {
		return nil
	}
	out := make(S, len(in))
	for i, v := range in {
		out[i] = of(v)
	}
	return out
}
