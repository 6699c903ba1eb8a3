package engine

import (
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// Two walls of one level line from 150, boards of 180 lapping 30 to 50, so gauges
// of 130 to 150. The front's sill wants 960 and its top 2,445: 810 are 6 gauges of
// 135, 1,485 are 11, all met, as are the back's, which is like it. The porch has
// its soffit at 560 and so its last board from 370: 220 above 150 is more than one
// gauge of 150 and less than two of 130, so it is ripped wherever it stands: it
// misses one height alone or not, and takes nothing from the others: no advice.
func TestNoAdviceWhereNothingIsGained(t *testing.T) {
	front := threeWindows()
	front.LevelLine = "house"
	porch := Wall{Name: "porch", Width: mm(2000), Height: mm(560), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground, LevelLine: "house"}
	for _, w := range mustTakeoff(t, testJob(front, porch)).Walls {
		for _, a := range w.Advice {
			if strings.Contains(a, "level line of its own") {
				t.Errorf("%s: %s", w.Name, a)
			}
		}
	}
}

// A wall that starts 70 lower, at 80, with a pinned mark at 210, draws the line's
// marks off the heights of the front: from 210 its sill at 960 is 750, five gauges
// of 150, and 1,365 three of 135 more, a step beyond the 10 allowed. By itself the
// front meets all seven of its heights (as worked out for the three windows), and
// the low wall its own pin and top. What the advice says, four heights, is what
// setting both out apart gives.
func TestAdviceToStandApart(t *testing.T) {
	front := threeWindows()
	low := Wall{Name: "low", Width: mm(3000), Height: mm(2650), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Base: measure.Some(mm(80)), PinMark: measure.Some(mm(210))}
	misses := func(res *Result, name string) int {
		n := 0
		for _, w := range res.Walls {
			for _, g := range w.Targets {
				if w.Name == name && g.Met == "" {
					n++
				}
			}
		}
		return n
	}
	apart := mustTakeoff(t, testJob(front, low))
	front.LevelLine, low.LevelLine = "house", "house"
	both := mustTakeoff(t, testJob(front, low))
	if misses(apart, "windows") != 0 || misses(both, "windows") != 4 {
		t.Fatalf("the front misses %d apart, %d on the line: no test", misses(apart, "windows"), misses(both, "windows"))
	}
	said := 0
	for _, w := range both.Walls {
		for _, a := range w.Advice {
			if strings.HasPrefix(a, "With a level line of its own for low the others would meet 4 heights more and miss 0") {
				said++
			}
		}
	}
	if said != 2 {
		t.Errorf("said on %d walls, want both", said)
	}
}
