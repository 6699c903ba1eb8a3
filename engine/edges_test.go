package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// corner returns two walls that meet at an external corner: a on the left,
// 4,000 by 2,640, and b, 3,000 by 3,180.
func corner() (a, b Wall) {
	a = Wall{Name: "a", Width: mm(4000), Height: mm(2640), Left: Abutment, Right: ExternalCorner, RightMeets: "b", Top: Soffit, Bottom: Ground}
	b = Wall{Name: "b", Width: mm(3000), Height: mm(3180), Left: ExternalCorner, Right: Abutment, LeftMeets: "a", Top: Soffit, Bottom: Ground}
	return a, b
}

func trimsIn(w *WallResult, role string) []Trim {
	return slices.DeleteFunc(slices.Clone(w.Trims), func(t Trim) bool { return t.Role != role })
}

// Where two walls meet, the corner is the left wall's, in its colour, and as
// high as the two together: 150 up to 3,170, the higher wall less its gap. That
// is 3,020, more than a length of 3,000: two lengths.
func TestCornerBelongsToTheLeftWall(t *testing.T) {
	a, b := corner()
	a.Colour, b.Colour = "chalk", "charcoal"
	job := testJob(a, b)
	for _, colour := range []string{"chalk", "charcoal"} {
		for _, p := range testProducts() {
			if p.Role == RoleExternal || p.Role == RoleBoard {
				p.Colour, p.Code = colour, p.Code+" "+colour
				job.Products = append(job.Products, p)
			}
		}
	}
	r := mustTakeoff(t, job)
	got := trimsIn(&r.Walls[0], RoleExternal)
	if len(got) != 2 || got[0].Code != "EC chalk" || got[0].Length+got[1].Length != mm(3020) {
		t.Errorf("left wall: got %+v, want 3,020 of EC chalk in two lengths", got)
	}
	if more := trimsIn(&r.Walls[1], RoleExternal); len(more) > 0 {
		t.Errorf("right wall: got %+v, want none", more)
	}
}

// A corner whose left wall is left out is ordered with the wall that is built,
// over that wall's own height: 150 to 3,170.
func TestCornerOfALeftOutWall(t *testing.T) {
	a, b := corner()
	a.Openings = []Opening{{Name: "wrong", Left: mm(9000), Width: mm(500), Height: mm(500)}}
	r := mustTakeoff(t, testJob(a, b))
	sum := measure.Length(0)
	for _, tr := range trimsIn(&r.Walls[0], RoleExternal) {
		sum += tr.Length
	}
	if len(r.Walls) != 1 || sum != mm(3020) {
		t.Errorf("%d walls, corner of %v, want 1 and 3020", len(r.Walls), sum)
	}
}

// The four walls of a box have four corners. Where nothing says which walls meet,
// each has its two and is asked about; said by one wall of each corner, there are
// four and no question. Left out of the survey, a wall leaves the two ends that it
// met: one left and one right, which might be one corner. Two right ends may not, nor
// the two ends of one wall, nor ends of two plots, nor an external and an internal
// one.
func TestLooseCornersAreAskedAbout(t *testing.T) {
	box := func() *Job {
		walls := []Wall{{Name: "a"}, {Name: "b"}, {Name: "c"}, {Name: "d"}}
		for i := range walls {
			w := &walls[i]
			w.Width, w.Height, w.Left, w.Right, w.Top, w.Bottom = mm(4000), mm(2640), ExternalCorner, ExternalCorner, Soffit, Ground
		}
		return testJob(walls...)
	}
	for _, c := range []struct {
		name    string
		change  func(*Job)
		corners int
		asked   string // the walls named
	}{
		{"nothing said", func(*Job) {}, 8, "a, b, c, d"},
		{"said by one wall of each corner", func(j *Job) {
			j.Walls[0].RightMeets, j.Walls[0].LeftMeets, j.Walls[2].LeftMeets, j.Walls[2].RightMeets = "b", "d", "b", "d"
		}, 4, ""},
		{"one said", func(j *Job) { j.Walls[0].RightMeets = "b" }, 7, "a, b, c, d"},
		{"three walls of four", func(j *Job) {
			j.Walls = j.Walls[:3]
			j.Walls[1].LeftMeets, j.Walls[1].RightMeets = "a", "c"
		}, 4, "a, c"},
		{"two right ends", func(j *Job) {
			j.Walls = j.Walls[:2]
			j.Walls[0].Left, j.Walls[1].Left = Abutment, Abutment
		}, 2, ""},
		{"one wall", func(j *Job) { j.Walls = j.Walls[:1] }, 2, ""},
		{"two plots", func(j *Job) { j.Walls = j.Walls[:2]; j.Walls[0].Plot, j.Walls[1].Plot = "1", "2" }, 4, ""},
		{"one external, one internal", func(j *Job) {
			j.Walls = j.Walls[:2]
			j.Walls[0].Left, j.Walls[0].Right, j.Walls[1].Right = Abutment, InternalCorner, Abutment
		}, 2, ""},
	} {
		j := box()
		c.change(j)
		r := mustTakeoff(t, j)
		corners := 0
		for i := range r.Walls {
			corners += len(trimsIn(&r.Walls[i], RoleExternal)) + len(trimsIn(&r.Walls[i], RoleInternal))
		}
		if corners != c.corners {
			t.Errorf("%s: %d corners, want %d", c.name, corners, c.corners)
		}
		asked := flagged(r, "corner-unnamed")
		switch {
		case c.asked == "" && len(asked) > 0:
			t.Errorf("%s: asked about %s", c.name, asked[0].What)
		case c.asked != "" && (len(asked) != 1 || !strings.HasSuffix(asked[0].What, ": "+c.asked)):
			t.Errorf("%s: asked %+v, want one flag naming %s", c.name, asked, c.asked)
		}
	}
}

// Walls that meet have their course lines level; a level line of its own sets a
// wall free.
func TestCourseLinesGoRoundCorners(t *testing.T) {
	a, b := corner()
	r := mustTakeoff(t, testJob(a, b))
	if x, y := marksOf(&r.Walls[0]), marksOf(&r.Walls[1]); !slices.Equal(x, y[:len(x)]) {
		t.Errorf("marks differ: %v and %v", x, y)
	}
	b.LevelLine = "porch"
	r = mustTakeoff(t, testJob(a, b))
	// alone, b has 3,170 - 180 - 150 = 2,840 to go: 19 gauges of 149.5, the
	// fewest that the lap allows
	if y := marksOf(&r.Walls[1]); len(y) != 20 || y[19] != 2990 {
		t.Errorf("a wall of its own level line: marks %v", y)
	}
}

// Boards reach 38 beyond the wall at an external corner and stop 60 short at an
// internal one, 10 short at an abutment and flush at an open end.
func TestEndAllowances(t *testing.T) {
	for edge, want := range map[Edge]measure.Length{ExternalCorner: mm(38), InternalCorner: mm(-60), Abutment: mm(-10), OpenEnd: 0} {
		w := Wall{Name: "w", Width: mm(2500), Height: mm(2600), Left: edge, Right: edge, Top: Soffit, Bottom: Ground}
		for _, p := range mustTakeoff(t, testJob(w)).Walls[0].Pieces {
			if x, _ := p.Outline.Bounds(); x != (measure.Span{Lo: -want, Hi: mm(2500) + want}) {
				t.Errorf("%s: %s reaches from %v to %v", edge, p.Mark, x.Lo, x.Hi)
			}
		}
	}
}

// A lined reveal 90 deep, 1,200 by 1,000: boards 90 + 38 of cavity + 10 of board
// less 10 for the trims = 128 wide, one of 1,200 at the head and two of 1,000 less
// the 10 that the head is thick; unequal corners and frame trims up both jambs and
// along the head, 3,200 each. One of 3,600 across is more than a board of 3,000: two
// of 1,800. Over a sill with horns 50 high, 10 clear of them, the jambs are 60 less,
// and so are the four trims up them.
func TestLinedReveal(t *testing.T) {
	lined := func(width int64, sill measure.Optional[measure.Length]) *WallResult {
		w := Wall{Name: "w", Width: mm(6000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Openings: []Opening{{Name: "o", Left: mm(1000), Sill: mm(970), Width: mm(width), Height: mm(1000), Reveal: mm(90), Lined: true, SillWidth: sill}}}
		return &mustTakeoff(t, testJob(w)).Walls[0]
	}
	none := measure.Optional[measure.Length]{}
	reveals := func(w *WallResult) []string {
		var out []string
		for _, p := range w.Pieces {
			if p.Course == 0 {
				out = append(out, fmt.Sprintf("%s %v x %v %s", p.Reveal, p.Length, p.Width, p.Code))
			}
		}
		return out
	}
	w := lined(1200, none)
	same(t, "boards", reveals(w), []string{"o / left jamb 990 x 128 RB", "o / right jamb 990 x 128 RB", "o / head 1200 x 128 RB"})
	sums := sumTrims(*w)
	same(t, "corners and frame trims", []measure.Length{sums[RoleUnequal], sums[RoleFrame]}, []measure.Length{mm(3200), mm(3200)})
	same(t, "a wide head", reveals(lined(3600, none))[2:], []string{"o / head 1800 x 128 RB", "o / head 1800 x 128 RB"})
	w = lined(1200, measure.Some(mm(1300)))
	same(t, "boards over horns", reveals(w), []string{"o / left jamb 930 x 128 RB", "o / right jamb 930 x 128 RB", "o / head 1200 x 128 RB"})
	sums = sumTrims(*w)
	same(t, "corners and frame trims over horns", []measure.Length{sums[RoleUnequal], sums[RoleFrame]}, []measure.Length{mm(3080), mm(3080)})
}

// A reveal board that is listed without a colour lines a coloured wall, and is
// ordered in its colour as the boards are.
func TestLinedRevealOfNoColour(t *testing.T) {
	r := mustTakeoff(t, testJob(Wall{Name: "w", Colour: "red", Width: mm(6000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Openings: []Opening{{Name: "o", Left: mm(1000), Sill: mm(970), Width: mm(1200), Height: mm(1000), Reveal: mm(90), Lined: true}}}))
	var got []string
	for _, l := range r.Order {
		if l.Role == RoleReveal {
			got = append(got, fmt.Sprint(l.Code, " ", l.Colour, " ", l.Net))
		}
	}
	same(t, "ordered", got, []string{"RB red 2"}) // 1,000 + 1,000 and 1,200 from boards of 3,000
}

// Edge trims of 2,400 and 3,900 up the sides, listed in lengths of 3,000 and
// 4,200: one length each, the shorter where it does.
func TestUprightTrimsInOneLength(t *testing.T) {
	for height, want := range map[int64]string{2560: "ET", 4060: "ET42"} { // from 150 to 10 below
		job := testJob(Wall{Name: "w", Width: mm(2500), Height: mm(height), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
		job.Products = append(job.Products, Product{Role: RoleEdge, Code: "ET42", Unit: "piece", Length: mm(4200), Pack: 1, Price: 14})
		for _, tr := range trimsIn(&mustTakeoff(t, job).Walls[0], RoleEdge) {
			if tr.Code != want || tr.Length != mm(height-160) {
				t.Errorf("%d high: got %v of %s, want one length of %s", height, tr.Length, tr.Code, want)
			}
		}
	}
}

// Joints of the long starter keep 100 mm off the first course's joints, those of
// the vent strip at the top off the last course's.
func TestLongTrimsAreJoinedApartFromBoards(t *testing.T) {
	w := mustTakeoff(t, testJob(Wall{Name: "w", Width: mm(11000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})).Walls[0]
	joints := 0
	for _, c := range []struct {
		role, where string
		course      int
	}{{RoleStarter, "base", 1}, {RoleVent, "top", len(w.Courses)}} {
		for _, tr := range trimsIn(&w, c.role) {
			if tr.Where != c.where || tr.To.X == mm(10990) {
				continue
			}
			joints++
			for _, p := range w.Pieces {
				x, _ := p.Outline.Bounds()
				if d := x.Hi - tr.To.X; p.Course == c.course && p.Right.Kind == Joint && d > -mm(100) && d < mm(100) {
					t.Errorf("%s is joined at %v, the boards at %v", c.role, tr.To.X, x.Hi)
				}
			}
		}
	}
	if joints < 6 {
		t.Errorf("only %d joints looked at", joints)
	}
}

// A sill 1,300 wide under a window of 1,200, its horns 50 high: boards beside
// keep 10 off the horns up to 60 above the sill and off the jambs above that.
func TestBoardsKeepOffHorns(t *testing.T) {
	w := Wall{Name: "w", Width: mm(2900), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Openings: []Opening{{Name: "o", Left: mm(800), Sill: mm(970), SillWidth: measure.Some(mm(1300)), SillDepth: measure.Some(mm(50)), Width: mm(1200), Height: mm(1060)}}}
	r := mustTakeoff(t, testJob(w)).Walls[0]
	for _, p := range r.Pieces {
		switch p.Mark {
		case "W1-7a": // from 960: the horn ends at 1,020, with its gap 1,030
			same(t, p.Mark, measure.Points(p.Outline), "10,960;740,960;740,1030;790,1030;790,1140;10,1140")
		case "W1-8a":
			same(t, p.Mark, measure.Points(p.Outline), "10,1095;790,1095;790,1275;10,1275")
		}
	}
	for _, tr := range trimsIn(&r, RoleVent) {
		if tr.Where == "o sill" && tr.Length != mm(1300) {
			t.Errorf("vent strip at the sill: got %v, want 1300", tr.Length)
		}
	}
}

// Two tops 20 mm apart: no whole gauge lies between them, so one is missed, and
// the wall with the missed one is told what would help.
func TestAdviceStandsWhereItHelps(t *testing.T) {
	a, b := corner()
	a.Height, b.Height = mm(2635), mm(2655)
	r := mustTakeoff(t, testJob(a, b))
	var missed []string
	for i := range r.Walls {
		w := &r.Walls[i]
		if other := []string{"b", "a"}[i]; len(w.Advice) == 0 || !strings.HasPrefix(w.Advice[0], "Set out on one line with "+other+": 19 courses") {
			t.Errorf("%s: its choice is not explained: %q", w.Name, w.Advice)
		}
		if n := len(w.Courses); n != 19 && !strings.Contains(w.Advice[0], itoa(n)+" of them on this wall") {
			t.Errorf("%s: %d courses: %q", w.Name, n, w.Advice[0])
		}
		for _, g := range w.Targets {
			if g.Kind == "top" && g.Met == "" {
				missed = append(missed, w.Name)
				if len(w.Advice) < 2 {
					t.Errorf("%s: top missed by %v and no advice: %q", w.Name, g.Off, w.Advice)
				}
			}
		}
	}
	if len(missed) != 1 {
		t.Errorf("tops missed: %v, want one", missed)
	}
}
