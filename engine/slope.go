package engine

import (
	"fmt"

	"lapwright/engine/measure"
)

// packSlope finds the boards cut to the slope of a roof below that stand off a
// batten at their lower edge. A starter could not lie there: along a slope each
// board rests on the tip of the one below for a lap's height only, and from there
// its distance from the wall falls from a board's thickness to nothing. So it is
// packed on the battens it crosses, with cuts of board (common practice).
func (t *takeoff) packSlope(s *stand, w *WallResult) {
	if !s.face.cutBase() {
		return
	}
	var marks []string
	var most measure.Length
	for i := range w.Pieces {
		p := &w.Pieces[i]
		if p.Course == 0 {
			continue // a reveal's
		}
		if off := t.offSlope(w, i); off >= packerLeast {
			p.FootPacked = true
			marks, most = append(marks, p.Mark), max(most, off)
		}
	}
	if len(marks) > 0 {
		s.flag(Flag{Note, "slope-packed", w.Plot, w.Name, s.face.wall.Origin.At("Base profile"),
			fmt.Sprintf("no starter lies along the slope below: above the board under them, boards cut to it stand up to %v mm off the battens they cross", most.Nearest(measure.Millimetre)),
			"pack their lower edge out on those battens with cuts of board, which are not ordered; see that the roof's flashing stands behind them first"}, marks...)
	}
}

// offSlope returns by how much a piece stands off the battens at most where they
// cross its sloping lower edge with no board of the course below behind it.
func (t *takeoff) offSlope(w *WallResult, piece int) measure.Length {
	p := &w.Pieces[piece]
	x, z := p.Outline.Bounds()
	under := w.course(p.Course - 1).Top
	var most measure.Length
	for _, b := range w.Battens {
		if b.Centre <= x.Lo || b.Centre >= x.Hi {
			continue
		}
		foot, sloped := slopeAt(w.Clad.Base, b.Centre)
		behind := !b.Z.And(measure.Span{Lo: foot, Hi: z.Hi}).Empty()
		if sloped && behind && foot >= under && p.Outline.Holds(measure.Point{X: b.Centre, Z: foot + measure.Millimetre}) {
			most = max(most, t.standOff(w, Screw{Piece: piece, Z: foot}))
		}
	}
	return most
}

// slopeAt returns the height of a profile at x and whether it slopes there.
func slopeAt(p measure.Profile, x measure.Length) (measure.Length, bool) {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; a.X < x && x < b.X {
			return measure.Segment{A: a, B: b}.At(x), a.Z != b.Z
		}
	}
	return 0, false
}
