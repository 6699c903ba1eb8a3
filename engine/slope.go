package engine

import (
	"fmt"

	"lapwright/engine/measure"
)

// feet returns where the boards cut to the slope of a roof below stand off a batten
// at their lower edge. A starter could not lie there: along a slope each board rests
// on the tip of the one below for a lap's height only, and from there its distance
// from the wall falls from a board's thickness to nothing. So it is packed on the
// battens it crosses (common practice).
func (t *takeoff) feet(s *stand, w *WallResult) []Packing {
	if !s.face.cutBase() {
		return nil
	}
	var out []Packing
	var marks []string
	var most measure.Length
	for i := range w.Pieces {
		if w.Pieces[i].Course == 0 {
			continue // a reveal's
		}
		for _, k := range t.offSlope(w, i) {
			out, most = append(out, k), max(most, k.Off)
			marks = appendOnce(marks, w.Pieces[i].Mark)
		}
	}
	if len(out) > 0 {
		s.flag(Flag{Note, "slope-packed", w.Plot, w.Name, s.face.wall.Origin.At("Base profile"),
			fmt.Sprintf("no starter lies along the slope below: above the board under them, boards cut to it stand up to %v mm off the battens they cross", most.Nearest(measure.Millimetre)),
			"pack their lower edge out on those battens, as the wall's sheet says; see that the roof's flashing stands behind them first"}, marks...)
	}
	return out
}

// offSlope returns where a piece stands off the battens that cross its sloping lower
// edge, with no board of the course below behind it, far enough to be packed.
func (t *takeoff) offSlope(w *WallResult, piece int) []Packing {
	p := &w.Pieces[piece]
	x, z := p.Outline.Bounds()
	under := z.Lo
	if w.course(p.Course-1).Number > 0 {
		under = w.course(p.Course - 1).Top
	}
	var out []Packing
	for i := range w.Battens {
		b := &w.Battens[i]
		if b.Centre <= x.Lo || b.Centre >= x.Hi {
			continue
		}
		foot, sloped := slopedFoot(p.Outline, w.Clad.Base, b.Centre)
		behind := !b.Z.And(measure.Span{Lo: foot, Hi: z.Hi}).Empty()
		if off := t.standOff(w, piece, foot); sloped && behind && foot >= under && off >= packerLeast {
			out = append(out, Packing{Piece: piece, Batten: i, Foot: true, Z: foot, Off: off})
		}
	}
	return out
}

// slopedFoot returns how high the lower edge of an outline is at x, and whether it
// slopes there along the base. Beside a corner it is the edge that tells, and not
// the base, which may lie a hair below a level edge there.
func slopedFoot(outline measure.Polygon, base measure.Profile, x measure.Length) (measure.Length, bool) {
	foot, sloped := slopeAt(base, x)
	if !sloped {
		return 0, false
	}
	const rounding = 10 // micrometres, of corners on a slope
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if z := (measure.Segment{A: a, B: b}); a.X < x && x < b.X && a.Z != b.Z && max(z.At(x)-foot, foot-z.At(x)) <= rounding {
			return foot, true
		}
	}
	return 0, false
}

// slopeAt returns the height of a profile at x and whether it slopes there.
func slopeAt(p measure.Profile, x measure.Length) (measure.Length, bool) {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; a.X < b.X && a.X <= x && x <= b.X && a.Z != b.Z {
			return measure.Segment{A: a, B: b}.At(x), true
		}
	}
	return 0, false
}
