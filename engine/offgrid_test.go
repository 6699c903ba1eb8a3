package engine

import (
	"testing"

	"lapwright/engine/measure"
)

// Studs at 300 and 4,700 only, and boards of 3,000 for courses from 10 to 4,990:
// no batten of the grid stands where two boards could butt. The window from 2,400
// to 2,600 brings two of 75, 10.5 off it: their middles at 2,400 - 10.5 - 37.5 =
// 2,352 and at 2,648. A joint on either makes boards of 2,341 and 2,637, and as
// they are 296 apart, farther than the edge batten at 35 and the stud, 265, one
// follows the other from course to course. Beside the window nothing is jointed.
func TestJointsOffTheGridAreTheLastResort(t *testing.T) {
	w := Wall{Name: "w", Width: mm(5000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Studs:    []measure.Length{mm(300), mm(4700)},
		Openings: []Opening{{Name: "o", Left: mm(2400), Sill: mm(970), Width: mm(200), Height: mm(1060)}}}
	res := mustTakeoff(t, testJob(w))
	if len(res.Walls) != 1 {
		t.Fatalf("left out: %+v", res.Left)
	}
	if n := len(flagged(res, "joint-off-grid")); n != 1 || len(flagged(res, "joint-rules")) > 0 {
		t.Errorf("%d flags of joints off the grid, want 1; %+v", n, res.Flags)
	}
	last, joints := measure.Length(0), 0
	for _, p := range res.Walls[0].Pieces {
		if p.Right.Kind != Joint {
			continue
		}
		joints++
		x, _ := p.Outline.Bounds()
		if at := x.Hi + mm(1); at != mm(2352) && at != mm(2648) || at == last {
			t.Errorf("%s is jointed at %v, the course below at %v", p.Mark, at, last)
		}
		last = x.Hi + mm(1)
		if !p.OffGrid {
			t.Errorf("%s is not marked", p.Mark)
		}
	}
	if joints < 8 {
		t.Errorf("%d courses are jointed", joints)
	}
}

// Two studs alone where boards of 3,000 may butt in courses of 4,000, one a bay
// from the other by number. At 600 centres half a bay is 300: joints on studs 350
// apart may follow each other from course to course, on studs 250 apart they look
// like one joint, and as there is no other place, that the rule is broken is
// flagged.
func TestStaggerByMeasure(t *testing.T) {
	for apart, flags := range map[int64]int{350: 0, 300: 0, 299: 1, 250: 1} {
		w := Wall{Name: "w", Width: mm(4000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Studs: []measure.Length{mm(300), mm(1850), mm(1850 + apart), mm(3700)}}
		res := mustTakeoff(t, testJob(w))
		if len(res.Walls) != 1 || len(flagged(res, "joint-rules")) != flags {
			t.Errorf("studs %d apart: %d flags of the rules of joints, want %d; left out %+v", apart, len(flagged(res, "joint-rules")), flags, res.Left)
		}
		by := map[int]measure.Length{}
		for _, p := range res.Walls[0].Pieces {
			if x, _ := p.Outline.Bounds(); p.Right.Kind == Joint {
				by[p.Course] = x.Hi
			}
		}
		for c, x := range by {
			if flags == 0 && (by[c+1] == x || len(by) < 15) {
				t.Errorf("studs %d apart: courses %d and %d are both jointed at %v, of %d", apart, c, c+1, x, len(by))
			}
		}
	}
}
