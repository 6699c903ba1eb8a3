package engine

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// Three walls worked out by hand, every number derived in its comment from the
// rules alone: boards 180 mm wide and 3,000 long, lap 30 to 50 mm, so gauge 130
// to 150; gaps of 10 mm at soffit, verge, sill, head, jamb and abutment;
// battens of 50 mm at 600 centres, 75 at jambs and corners; fixings 20 mm below
// a board's top edge. Trade rules: common practice.
//
// No wall is wider than a board, so that no joint leaves a choice.

// worked is what the arithmetic gives for one wall.
type worked struct {
	wall    Wall
	marks   []int64        // course bottoms
	pieces  []int64        // length of every piece, course by course from the left
	screws  []int          // in each course
	visible int            // of the screws
	battens string         // centre, width, from and to
	trims   map[string]int // millimetres by role, tenths rounded up a line
}

func (c worked) check(t *testing.T) {
	t.Helper()
	r := mustTakeoff(t, testJob(c.wall))
	if len(r.Walls) != 1 {
		t.Fatalf("%s is not taken off: %+v", c.wall.Name, r.Left)
	}
	w := &r.Walls[0]
	same(t, c.wall.Name+": course marks", marksOf(w), c.marks)
	var pieces []int64
	screws, visible := make([]int, len(w.Courses)), 0
	for i := range w.Pieces {
		pieces = append(pieces, int64(w.Pieces[i].Length/measure.Millimetre))
	}
	for _, s := range w.Screws {
		screws[w.Pieces[s.Piece].Course-1]++
		visible += btoi(s.Visible)
	}
	same(t, c.wall.Name+": pieces", pieces, c.pieces)
	same(t, c.wall.Name+": screws by course", screws, c.screws)
	same(t, c.wall.Name+": visible screws", visible, c.visible)
	same(t, c.wall.Name+": battens", battenLines(w), strings.Join(strings.Fields(strings.ReplaceAll(c.battens, "\n", " ; ")), " "))
	trims := map[string]int{}
	for role, length := range sumTrims(*w) {
		trims[role] = int(length / measure.Millimetre)
	}
	same(t, c.wall.Name+": trims", fmt.Sprint(sortedMap(trims)), fmt.Sprint(sortedMap(c.trims)))
}

func same[T any](t *testing.T, what string, got, want T) {
	t.Helper()
	if g, w := fmt.Sprint(got), fmt.Sprint(want); g != w {
		t.Errorf("%s:\ngot  %s\nwant %s", what, g, w)
	}
}

func sortedMap(m map[string]int) []string {
	var out []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out = append(out, fmt.Sprintf("%s %d", k, m[k]))
	}
	return out
}

func marksOf(w *WallResult) []int64 {
	var out []int64
	for _, c := range w.Courses {
		out = append(out, int64(c.Bottom/measure.Millimetre))
	}
	return out
}

func battenLines(w *WallResult) string {
	var out []string
	for _, b := range w.Battens {
		out = append(out, fmt.Sprint(b.Centre, b.Width, b.Z.Lo, b.Z.Hi))
	}
	return strings.Join(out, " ; ")
}

func rising(from, step int64, n int) []int64 {
	var out []int64
	for i := range n {
		out = append(out, from+step*int64(i))
	}
	return out
}

func repeat[T any](v T, n int) []T { return slices.Repeat([]T{v}, n) }

// A gable 2,900 wide between abutments: clad from 10 to 2,890, 2,880 mm. Eaves
// 1,500, apex 2,950 in the middle: 1,450 up in 1,450, 45 degrees. Less the
// verge's gap of 10 upright the clad top is 1,500 at x = 10 (1,510 less 10) and
// 2,940 at 1,450.
//
// Marks. First board at 150. The eaves want a mark at 1,500: 1,350 up, which is
// 10 gauges of 135 or 9 of 150 (8 would be 168.75, 11 122.7). Above, boards go
// on while the last one's top is below 2,940: its mark is the first at or above
// 2,760. The last triangle has to hold two fixings, so it wants to be 300 wide
// at least at its foot: at 45 degrees 150 high, a last mark of 2,790 or lower.
// 1,260 to 1,290 above 1,500: 9 gauges of 140 to 143 (8: 157.5 and more, 10:
// 129 and less). The middle of the limits, 140, has the smaller step from 135:
// 5 mm, against 10 from 150. So 150, 285 ... 1,500, then 1,640 ... 2,760: 20
// courses, and the triangle is 2,940 - 2,760 = 180 high, 360 at its foot.
//
// Pieces, one a course, measured along the lower, longer edge. Up to the mark of
// 1,500 that is 2,880. At 1,640 the slope is 140 in from either side: 2,600;
// every 140 higher 280 less: 2,320, 2,040, 1,760, 1,480, 1,200, 920, 640, 360.
//
// Battens. Edges 50 wide at 35 and 2,865; grid from 35: 635, 1,235, 1,835,
// 2,435 (2,435 to 2,865 is 430). Cut square under the slope, so to the height at
// their outer side: 10: 1,500. 610: 1,500 + 600 = 2,100. 1,210: 2,700. 1,860:
// 1,500 + (2,890 - 1,860) = 2,530. 2,460: 1,930.
// Short ones. A batten 50 wide ends 25 below the slope at its middle, and a fixing
// keeps 20 from its head: 45 below the slope. It has to clear the lap of 40 of the
// board below with 5 to spare: 90 of board, 90 in from the tip (95 where the lap is
// 45). As no board is jointed none is wider. So a tip is held by a batten 90 to 300
// in from it. Where none stands one is added 300 in, or nearer so that 50 stay clear
// of the next, 100 from middle to middle. It starts a lap below its board and ends at
// the slope at its outer side; shorter than 150, it starts a course lower.
// From the left, by course and tip; the tenth, at 10, has the edge batten:
// 11th 10: 310, from 1,500 - 45 = 1,455 to 1,500 + 275 = 1,775. 12th 150: 310.
// 13th 290: 635 is 345 in, so up to 590, clear of 635 at 535: 1,740 to 2,000.
// 14th 430: 535. 15th 570: 635 is 65 in; 870: 2,020 to 2,335. 16th 710: 870.
// 17th 850: up to 1,150, clear of 1,235 at 1,135: 2,300 to 2,600. 18th 990:
// 1,135. 19th 1,130: 1,235, 105 in.
// From the right, where the grid stands 465 and 1,065 in: 11th 10: 310 in, at
// 2,590: 1,455 to 1,775. 12th: the same. 13th 290: 465. 14th 430: 730, at 2,170:
// 1,880 to 2,195. 15th 570: 730. 16th 710: up to 1,010, clear of 1,065 at 965, at
// 1,935: 2,160 to 2,430. 17th 850: 965, 115 in. 18th 990: 1,065 is 75 in; 1,290, at
// 1,610: 2,440 to the slope at 1,635: 2,755. 19th 1,130: 1,290.
// The last board, 1,270 to 1,630: from the left up to 1,570, clear of 1,610 at
// 1,510, 120 from the other tip: to the slope at 1,535, 2,855, from 2,720; that is
// 135, so from 2,580. It needs a second: 90 in at 1,360, to 2,825, from 2,580 too.
//
// Screws. 54 in the nine courses that end at or below 1,410: 6 battens each. Those
// under the slope stand 20 below the head of their batten.
// Tenth (1,365 to 1,545): 310 and 2,590 too, 8; at 35 the batten ends at 1,500; both
// edges stay in sight, as the eleventh starts at 1,500. From here the edge battens
// end below. 11th: 310, four of the grid, 2,590: 6. 12th: 535 too, 7; at 310 and
// 2,590 at 1,755, in sight below the 13th (1,780). 13th: 535, 635, 1,235, 1,835,
// 2,170, 2,435, at 1,910 in sight below the 14th (1,920): 6. 14th: 2,435 has only 35
// of board; 535, at 1,980 in sight below the 15th (2,060), 635, 870, 1,235, 1,835,
// 2,170: 6. 15th: at 635 the fixing would be within the lap (2,100); 870, 1,235,
// 1,835, 1,935, and 2,170 at 2,175, in sight below the 16th (2,200): 5. 16th: 870 at
// 2,315, in sight below the 17th (2,340), 1,135, 1,235, 1,835, 1,935: 5. 17th: 1,135,
// 1,235, 1,610 from 2,440 on, 1,835, 1,935 at 2,410, in sight below the 18th (2,480):
// 5. 18th: 1,135 at 2,580 and 1,835, in sight below the 19th (2,620), 1,235, 1,360,
// 1,510, 1,610: 6; at 1,835 the lap reaches up to 2,520 and the head's 20 down to
// 2,510: it stays 28.3 below the slope, 3 from the head, and is flagged. 19th: 1,235
// at 2,680 and 1,610 at 2,735, in sight below the 20th (2,760), 1,360, 1,510: 4.
// 20th: 2 in sight. In sight: 2 in the 10th, 12th and 18th to 20th, 1 in the 13th to
// 17th: 15.
//
// Trims. Starter along the base 2,880. Vent strip: base 2,880 and two slopes of
// 1,440 x 1.41421 = 2,036.5: 6,953. Edge trim: sides 150 to 1,500 twice 1,350,
// and the two verges: 6,773.
func TestHandGable(t *testing.T) {
	worked{
		wall: Wall{Name: "gable", Width: mm(2900), Height: mm(1500), ApexHeight: measure.Some(mm(2950)), Base: measure.Some(mm(150)),
			Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground},
		marks:   append(rising(150, 135, 10), rising(1500, 140, 10)...),
		pieces:  append(repeat(int64(2880), 11), rising(2600, -280, 9)...),
		screws:  append(repeat(6, 9), 8, 6, 7, 6, 6, 5, 5, 5, 6, 4, 2),
		visible: 15,
		battens: `35 50 150 1500
			310 50 1455 1775
			535 50 1740 2000
			635 50 150 2100
			870 50 2020 2335
			1135 50 2300 2600
			1235 50 150 2700
			1360 50 2580 2825
			1510 50 2580 2855
			1610 50 2440 2755
			1835 50 150 2530
			1935 50 2160 2430
			2170 50 1880 2195
			2435 50 150 1930
			2590 50 1455 1775
			2865 50 150 1500`,
		trims: map[string]int{RoleStarter: 2880, RoleVent: 6953, RoleEdge: 6773},
	}.check(t)
}

// In the same gable one fixing stands 5 from the head of its batten, that of the
// eighteenth course at 1,835, as no lower place is 5 clear of the board below: its
// batten is named. Asked for 3, none is; asked for 60, many under the slope are.
func TestBattenEndsAreFlagged(t *testing.T) {
	job := testJob(Wall{Name: "gable", Width: mm(2900), Height: mm(1500), ApexHeight: measure.Some(mm(2950)), Base: measure.Some(mm(150)),
		Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground})
	said := flagged(mustTakeoff(t, job), "batten-end")
	if want := "nearer than 20 mm to the end of its batten, which may split, down to 5 mm: W1-N11"; len(said) != 1 || !strings.HasSuffix(said[0].What, want) {
		t.Errorf("got %+v, want one flag that ends in %q", said, want)
	} else if want := "cut the heads of these battens to the slope, up to 50 mm longer"; !strings.HasPrefix(said[0].Do, want) {
		t.Errorf("got %q, want %q: 50 wide at 45 degrees", said[0].Do, want) // the fixing, 28.3 below the slope, then has its 20
	}
	job.Rules.BattenEndLeast = mm(3)
	if said := flagged(mustTakeoff(t, job), "batten-end"); len(said) > 0 {
		t.Errorf("asked for 3 mm: %+v", said)
	}
	job.Rules.BattenEndLeast = mm(60)
	if said := flagged(mustTakeoff(t, job), "batten-end"); len(said) != 2 || strings.Count(said[0].What+said[1].What, "W1-N") < 5 {
		t.Errorf("asked for 60 mm: %+v", said)
	}
}

// The fixing 5 from its batten's head holds nothing until the head is cut to the
// slope: where wind is given its row of the schedule is not checked, and the other
// rows of board fixings pass as they do without it.
func TestFixingNearABattensEndDoesNotPass(t *testing.T) {
	wall := Wall{Name: "gable", Width: mm(2900), Height: mm(1500), ApexHeight: measure.Some(mm(2950)), Base: measure.Some(mm(150)),
		Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground}
	job := testJob(wall)
	job.Wind = WindInput{PeakPressure: 100, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(9000)}
	job.declare("System resistance Pa", "3000", "design", "System lap mm", "30", "", "System centres mm", "600", "")
	r := mustTakeoff(t, job)
	near, passed := 0, 0
	for _, f := range r.Walls[0].Fixings {
		switch {
		case !strings.HasPrefix(f.Where, "board"):
		case strings.HasSuffix(f.Where, ", near a batten's end"):
			if near += f.Count; f.Verdict != string(fixing.NotChecked) || f.Resistance != 0 || !strings.Contains(f.Basis, "nearer than 10 mm") {
				t.Errorf("%+v", f)
			}
		case f.Verdict == string(fixing.Passes):
			passed += f.Count
		}
	}
	if near != 1 || near+passed != len(r.Walls[0].Screws) {
		t.Errorf("%d near an end, %d pass, of %d", near, passed, len(r.Walls[0].Screws))
	}
}

// The cuts of the same gable: from the tenth course on both ends are raked at
// 45 degrees from square; the tenth keeps 135 of its upright end below the
// slope, its top is 180 - 135 = 45 shorter at either side.
func TestHandGableCuts(t *testing.T) {
	r := mustTakeoff(t, testJob(Wall{Name: "gable", Width: mm(2900), Height: mm(1500), ApexHeight: measure.Some(mm(2950)), Base: measure.Some(mm(150)),
		Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground}))
	for i, p := range r.Walls[0].Pieces {
		want := End{}
		if i >= 9 {
			want = End{Kind: Rake, Degrees: 45}
		}
		if p.Left != want || p.Right != want {
			t.Errorf("course %d: got ends %v and %v, want %v", i+1, p.Left, p.Right, want)
		}
	}
	same(t, "tenth course", measure.Points(r.Walls[0].Pieces[9].Outline), "10,1365;2890,1365;2890,1500;2845,1545;55,1545;10,1500")
	same(t, "last triangle", measure.Points(r.Walls[0].Pieces[19].Outline), "1270,2760;1630,2760;1450,2940")
}

// threeWindows is 3,000 wide between abutments, soffit at 2,635. Two windows
// have their sill at 970, the middle one at 1,375; all heads are at 2,030.
func threeWindows() Wall {
	window := func(name string, left, sill int64) Opening {
		return Opening{Name: name, Kind: "window", Left: mm(left), Sill: mm(sill), Width: mm(500), Height: mm(2030 - sill)}
	}
	return Wall{Name: "windows", Width: mm(3000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Openings: []Opening{window("a", 300, 970), window("b", 1200, 1375), window("c", 2150, 970)}}
}

// Marks. The ground clearance of 150 starts. With their gaps the sills want 960
// and 1,365, the heads 2,040, the top 2,625 - 180 = 2,445. 960 - 150 = 810: 6
// gauges of 135 (5: 162, 7: 115.7). 1,365 - 960 = 405: 3 of 135 (2: 202.5, 4:
// 101). 2,040 - 1,365 = 675: 5 of 135 (4: 168.8, 6: 112.5). 2,445 - 2,040 = 405:
// 3 of 135. So 135 throughout meets everything: 150, 285 ... 2,445, 18 courses.
//
// Pieces. Clad from 10 to 2,990. The windows with their gaps: 290 to 810, 1,190
// to 1,710, 2,140 to 2,660. Five courses of 2,980; the sixth (825 to 1,005) is
// notched under a and c, one lap of 45 deep. The next three (from 960) stand
// between a and c: 280, 1,330, 330; the last of them (1,230 to 1,410) is notched
// under b. Five (from 1,365) between all three: 280, 380, 430, 330. Four above
// the heads: 2,980. In all 5 + 1 + 9 + 20 + 4 = 39.
//
// Battens. Edges at 35 and 2,965. Jambs, 75 wide beside the gaps: 252, 848,
// 1,152, 1,748, 2,102, 2,698 (half a
// millimetre further off, so that the middle is whole). The grid keeps the
// centres without them, so they run from a lap of 45 below the course below the one
// that the sill cuts to the top of the one over the head: the sixth course is cut
// at 960, so from 45 below the fifth, 645; the ninth (1,230 to 1,410) at 1,365, so
// from 45 below the eighth, 1,050; the fifteenth starts at the heads: 2,040 + 180 = 2,220. Grid from
// 35: 635, 1,235, 1,835, 2,435; a joint there needs 37.5 to each side, and the
// nearest jamb batten (1,114.5 to 1,189.5) leaves 1,197.5. 635 and 2,435 stop at
// 960 and start at 2,040; 1,235 stops at 1,365. The strips of a and c cross
// one of them each, 335 and 285 from their left ends; those of b cross 1,235, 465 from
// the right one at 1,700. A single one does not hold a strip of 500, so each has a
// short one in its other half, 150 from the end: at 450, 1,550 and 2,300, from the head
// to the top of the fifteenth course, 2,220, and up to the sill from 645, 1,050 and 645.
//
// Screws. Edges and grid make 6: so the first three courses. The fourth (555 to
// 735) is fixed at 715, on the four jamb battens and the two short ones from 645 too:
// 12, and the fifth. The sixth has its 12, four of them in the notches, 20 below 960. The seventh
// (960 to 1,140) is fixed at 1,120, on those from 1,050 too: 2 + 7 + 2 = 11 in
// three courses, two of them in the notch under b. 2 + 2 + 3 + 2 = 9 in five. The
// fifteenth, fixed at 2,200, has all 15. 6 in three. In sight: 6 of the top
// course, 4 and 2 under the sills.
//
// Trims. Starter: base 2,980, three heads of 500. Vent strip: base and top
// 2,980 each, three heads and three sills of 500. Edge trim: sides 2,625 - 150 =
// 2,475 twice; jambs 2,030 - 970 = 1,060 four times, 655 twice: 10,500.
func TestHandThreeWindows(t *testing.T) {
	pieces := repeat(int64(2980), 6)
	pieces = append(pieces, slices.Repeat([]int64{280, 1330, 330}, 3)...)
	pieces = append(pieces, slices.Repeat([]int64{280, 380, 430, 330}, 5)...)
	pieces = append(pieces, repeat(int64(2980), 4)...)
	screws := append(append(repeat(6, 3), repeat(12, 3)...), repeat(11, 3)...)
	screws = append(screws, repeat(9, 5)...)
	worked{
		wall:    threeWindows(),
		marks:   rising(150, 135, 18),
		pieces:  pieces,
		screws:  append(screws, 15, 6, 6, 6),
		visible: 12,
		battens: `35 50 150 2625
			252 75 645 2220
			450 50 2040 2220
			450 50 645 960
			635 50 150 960
			635 50 2040 2625
			848 75 645 2220
			1152 75 1050 2220
			1235 50 150 1365
			1235 50 2040 2625
			1550 50 2040 2220
			1550 50 1050 1365
			1748 75 1050 2220
			1835 50 150 2625
			2102 75 645 2220
			2300 50 2040 2220
			2300 50 645 960
			2435 50 150 960
			2435 50 2040 2625
			2698 75 645 2220
			2965 50 150 2625`,
		trims: map[string]int{RoleStarter: 2980 + 3*500, RoleVent: 2*2980 + 6*500, RoleEdge: 2*2475 + 4*1060 + 2*655},
	}.check(t)
}

// Fixings of trims. The strips of the three windows are fixed where they cross
// battens. Base and top, 10 to 2,990: the two edges, 25 from the ends, and four of
// the grid: 6 each. A head or a sill of 500 has one on the grid batten that it
// crosses and one on the short one: 2. The
// jambs' battens end 10 beside them. So 6 along three heads, 6 along three sills:
// starters 6 + 6 = 12. Vent strips come in 2,500: those of base and top are joined on
// the batten at 2,435, where each of the two ends has a fixing: 5 + 2, so 7 + 7 + 6 +
// 6 = 26.
// Edge trims go up battens, at 300: sides of
// 2,475 take 9 spaces, 10 each; jambs of 1,060 4 spaces, 5 each; of 655 3, 4 each:
// 20 + 20 + 8 = 48. With a left external corner, and the walls meeting there not
// surveyed, that trim takes 10 for each of its two legs.
func TestHandTrimFixings(t *testing.T) {
	corner := threeWindows()
	corner.Left = ExternalCorner
	for _, test := range []struct {
		wall Wall
		want map[string]int
	}{
		{threeWindows(), map[string]int{"trim starter": 12, "trim vent strip": 26, "trim edge trim": 48}},
		{corner, map[string]int{"trim edge trim": 38, "trim external corner": 20}},
	} {
		got := map[string]int{}
		for _, row := range mustTakeoff(t, testJob(test.wall)).Walls[0].Fixings {
			if _, ok := test.want[row.Where]; ok && row.Role == RoleTrimFixing {
				got[row.Where] += row.Count
			}
		}
		same(t, "trim fixings", got, test.want)
	}
}

// Every target of the three windows is met, and their notches are 45 deep: from
// 960 to 825 + 180 = 1,005, and from 1,365 to 1,230 + 180 = 1,410.
func TestHandThreeWindowsCuts(t *testing.T) {
	w := mustTakeoff(t, testJob(threeWindows())).Walls[0]
	var got []string
	for _, g := range w.Targets {
		got = append(got, fmt.Sprintf("%s%s %v %s", g.Kind, g.Name, g.At, g.Met))
	}
	same(t, "targets", got, []string{"silla 960 course line", "heada 2040 course line", "sillb 1365 course line", "headb 2040 course line",
		"sillc 960 course line", "headc 2040 course line", "top 2625 full board"})
	rect := func(x0, x1, z0, z1 int64) VoidRect {
		return VoidRect{measure.Span{Lo: mm(x0), Hi: mm(x1)}, measure.Span{Lo: mm(z0), Hi: mm(z1)}}
	}
	notches := map[string][]VoidRect{}
	for _, p := range w.Pieces {
		if len(p.Cutouts) > 0 {
			notches[p.Mark] = p.Cutouts
		}
	}
	same(t, "notches", notches, map[string][]VoidRect{
		"W1-6a": {rect(290, 810, 960, 1005), rect(2140, 2660, 960, 1005)}, "W1-9b": {rect(1190, 1710, 1365, 1410)}})
}

// A stepped base: 3,000 wide between abutments, soffit at 2,635, boards from
// 150 at the left and from 555 right of 1,500.
//
// Marks. 555 - 150 = 405: 3 gauges of 135 (2: 202.5, 4: 101). The top wants
// 2,445: 1,890 above 555, 14 of 135 (13: 145.4, a step of more than 10 from
// 135; 15: 126). So 135 throughout, 18 courses.
//
// Pieces. Three courses end at the step: 10 to 1,500, 1,490 long. Fifteen of
// 2,980.
//
// Battens. Edges at 35 and 2,965, grid 635, 1,235, 1,835, 2,435. At the step the
// lower boards end on a batten of 75 whose right side is at 1,500: its middle at
// 1,462 (its middle on a whole millimetre), from 150. Right of it battens start at 555; all go to 2,625,
// but the one at the step, without which 1,235 to 1,835 is 600, to the top of the
// course that starts over it: 555 + 180 = 735.
//
// Screws. Three courses on 35, 635, 1,235, 1,462: 4. The fourth, fixed at 715, on
// all seven. Fourteen on the other six; the top course's stay in sight.
//
// Trims. Starter 1,490 at either level. Vent strip the same and 2,980 at the
// top. Edge trim: 405 at the step, 2,475 at the left, 2,625 - 555 = 2,070 at the
// right.
func TestHandSteppedBase(t *testing.T) {
	worked{
		wall: Wall{Name: "step", Width: mm(3000), Height: mm(2635), StepLeft: measure.Some(mm(1500)), StepBase: measure.Some(mm(555)),
			Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground},
		marks:   rising(150, 135, 18),
		pieces:  append(repeat(int64(1490), 3), repeat(int64(2980), 15)...),
		screws:  append(append(repeat(4, 3), 7), repeat(6, 14)...),
		visible: 6,
		battens: `35 50 150 2625
			635 50 150 2625
			1235 50 150 2625
			1462 75 150 735
			1835 50 555 2625
			2435 50 555 2625
			2965 50 555 2625`,
		trims: map[string]int{RoleStarter: 2980, RoleVent: 2980 + 2980, RoleEdge: 405 + 2475 + 2070},
	}.check(t)
}
