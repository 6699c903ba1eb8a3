package audit_test

import (
	"fmt"

	"lapwright/engine/audit"
	"lapwright/engine/measure"
)

// A wall 2 m wide and two courses high, of which the upper board was cut 5 mm
// short: it leaves wall bare, and its stated length is not its outline's.
func Example() {
	mm := measure.MM
	over := func(lo, hi int64) measure.Span { return measure.Span{Lo: mm(lo), Hi: mm(hi)} }
	board := func(mark string, course int, right, lo, hi int64) audit.Piece {
		return audit.Piece{Mark: mark, Course: course, Code: "BD", Quantity: 1, Stock: "B1",
			Outline: measure.Rect(over(0, right), over(lo, hi)), Length: mm(2000), Width: mm(175), Unfixed: true}
	}
	wall := audit.Wall{Name: "north", Quantity: 1,
		Limits: audit.Limits{Width: mm(175), LapLeast: mm(30), LapMost: mm(50)},
		Base:   measure.Level(over(0, 2000), mm(150)),
		Top:    measure.Level(over(0, 2000), mm(460)),
		Courses: []audit.Course{
			{Number: 1, Bottom: mm(150), Top: mm(325), Gauge: mm(135), Lap: mm(40)},
			{Number: 2, Bottom: mm(285), Top: mm(460)},
		},
		Pieces: []audit.Piece{board("N1a", 1, 2000, 150, 325), board("N2a", 2, 1995, 285, 460)},
	}
	plan := audit.Board{Name: "B1", Code: "BD", Stock: mm(4200), Width: mm(175), Count: 1, Offcut: mm(192),
		Cuts: []audit.Cut{{Marks: []string{"N1a"}, Length: mm(2000)}, {Marks: []string{"N2a"}, Length: mm(2000)}}}

	for _, f := range audit.Check(audit.Job{Kerf: mm(4), Walls: []audit.Wall{wall},
		Boards: []audit.Board{plan}, Order: []audit.Line{{Code: "BD", Net: 1}}}) {
		fmt.Println(f)
	}
	// Output:
	// north N2a: size: it is stated as 2000 by 175, its outline is 1995 by 175
	// north : uncovered: nothing covers x 1995 to 2000, z 325 to 460
}
