package engine

import (
	"testing"

	"lapwright/engine/measure"
)

// Boards that end against an upright step of the ground or of a lower roof end
// on a batten there, and so does the trim that covers their ends, however the
// survey gives the step: in a column of its own, or as a point of a profile.
//
// 6,000 wide, the ground steps up at 1,500 and again at 3,700, and a lower roof
// of 6.7 degrees starts at 2,600, between battens of the grid at 600 centres.
// The batten of 75 mm stands on the side where the boards are, its face to the
// step: its middle 37.5 mm off, or the half millimetre nearer to a whole one.
func TestStepsOfAProfileHaveABatten(t *testing.T) {
	at := func(x, z int64) measure.Point { return measure.Point{X: mm(x), Z: mm(z)} }
	wall := Wall{Name: "w", Width: mm(6000), Height: mm(4900), Left: Abutment, Right: Abutment, Top: Soffit}
	ground, roof := wall, wall
	ground.Bottom, ground.BaseProfile = Ground, measure.Profile{at(0, 0), at(1500, 0), at(1500, 420), at(3700, 420), at(3700, 900), at(6000, 900)}
	roof.Bottom, roof.BaseProfile = Roof, measure.Profile{at(0, 450), at(2600, 450), at(2600, 3000), at(6000, 2600)}
	for _, tt := range []struct {
		name string
		wall Wall
		step int64
	}{
		{"ground, first step", ground, 1500},
		{"ground, second step", ground, 3700},
		{"lower roof", roof, 2600},
	} {
		w := &mustTakeoff(t, testJob(tt.wall)).Walls[0]
		ends := 0
		for i := range w.Pieces {
			xs, zs := w.Pieces[i].Outline.Bounds()
			if xs.Hi != mm(tt.step) {
				continue
			}
			ends++
			behind := false
			for _, b := range w.Battens {
				x := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}
				behind = behind || x.Hi >= mm(tt.step-1) && x.Hi <= mm(tt.step) && b.Z.Holds(zs.Hi-mm(20))
			}
			if !behind {
				t.Errorf("%s: %s ends at %v with no batten behind", tt.name, w.Pieces[i].Mark, xs.Hi)
			}
		}
		if ends == 0 {
			t.Errorf("%s: no board ends at the step", tt.name)
		}
		trim := 0
		for _, tr := range w.Trims {
			if tr.Role == RoleEdge && tr.From.X == mm(tt.step) && tr.To.X == mm(tt.step) {
				trim++
			}
		}
		if trim == 0 {
			t.Errorf("%s: no trim covers the ends there", tt.name)
		}
	}
}
