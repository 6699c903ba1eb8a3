package audit

import (
	"math"
	"testing"

	"lapwright/engine/measure"
)

// A piece of 1,000 by 180 whose right end falls back by 432 to the top: the
// slope is 2.4 along for one up, and a kerf of 4 square to it takes
// 4 x sqrt(1 + 2.4^2) = 4 x 2.6 = 10.4 along the board. Against a square end
// the saw takes its 4.
func TestKerfBetweenNeighbours(t *testing.T) {
	raked := shapeOf(pts(0, 0, 1000, 0, 568, 180, 0, 180), 0, mm(180))
	for _, c := range []struct {
		name string
		a, b shape
		want measure.Length
	}{
		{"two slopes", raked, raked.turned(mm(180)), mm(1000 - 432 + 10.4)},
		{"slope and square", raked, boxShape(mm(500)), mm(1000 + 4)},
		{"square and slope", boxShape(mm(500)), raked.turned(mm(180)), mm(500 + 4)},
		{"the square ends of two raked pieces", raked.turned(mm(180)), raked, mm(1000 + 4)},
	} {
		if got := after(c.a, c.b, mm(4)); math.Abs(float64(got-c.want)) > 1 {
			t.Errorf("%s: the second begins at %v, want %v", c.name, got, c.want)
		}
	}
}
