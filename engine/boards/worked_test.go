package boards

import (
	"math"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// wantRun is a run as worked out by hand, millimetres.
type wantRun struct {
	course  int
	x       [2]int64
	cutouts [][4]int64 // x from, to, z from, to
}

func checkRuns(t *testing.T, got []Run, want []wantRun) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) {
			t.Fatalf("got %d runs, want %d", len(got), len(want))
		}
		w := want[i]
		var cuts []Rect
		for _, c := range w.cutouts {
			cuts = append(cuts, Rect{span(c[0], c[1]), span(c[2], c[3])})
		}
		if got[i].Course != w.course || got[i].Span != span(w.x[0], w.x[1]) || !slices.Equal(got[i].Cutouts, cuts) {
			t.Errorf("run %d: got course %d %v %v, want %v", i, got[i].Course, got[i].Span, got[i].Cutouts, w)
		}
	}
}

// area checks the clad area, mm2, of whole runs less their laps.
func area(t *testing.T, w Wall, want float64) {
	t.Helper()
	var pieces []Piece
	for _, r := range Runs(w) {
		pieces = append(pieces, r.Piece(r.Span))
	}
	c := measured(w, pieces)
	if got := (c.boards - c.lap) / 1e6; math.Abs(got-want) > tolerance(w)/1e6 {
		t.Errorf("clad area: got %v mm2, want %v", got, want)
	}
}

// TestThreeWindows: 9,000 by 150..2,755, boards of 175 at a gauge of 135 (lap
// 40), marks 150 + 135 k. 2,755 is 150 + 18 x 135 + 175: nineteen courses, the
// last full. Gaps of 10 round two windows with sills at 900 and 1,300 and a
// door, all with heads at 2,100.
//
// Sill 890: course 4 ends at 690 + 175 = 865, below it; course 5, 825..1,000,
// is notched from 890 up and keeps 65. Sill 1,290: course 7 ends at 1,270;
// course 8, 1,230..1,405, is notched from 1,290 up and keeps 60. Head 2,110:
// course 13, 1,905..2,080, lies below it; course 14, 2,040..2,215, is notched
// up to it and keeps 105; course 15 starts at 2,175. So the first window breaks
// courses 6..13, the second 9..13, the door 0..13.
//
// Area: 9,000 x 2,605 = 23,445,000, less 1,220 x 1,220 = 1,488,400, 620 x 820 =
// 508,400 and 1,020 x 1,960 = 1,999,200: 19,449,000 mm2.
func TestThreeWindows(t *testing.T) {
	var want []wantRun
	for k := range 19 {
		switch {
		case k < 5:
			want = append(want, wantRun{k, [2]int64{0, 6390}, nil})
		case k == 5:
			want = append(want, wantRun{k, [2]int64{0, 6390}, [][4]int64{{990, 2210, 890, 1000}}})
		case k < 8:
			want = append(want, wantRun{k, [2]int64{0, 990}, nil}, wantRun{k, [2]int64{2210, 6390}, nil})
		case k == 8:
			want = append(want, wantRun{k, [2]int64{0, 990}, nil}, wantRun{k, [2]int64{2210, 6390}, [][4]int64{{3590, 4210, 1290, 1405}}})
		case k < 14:
			want = append(want, wantRun{k, [2]int64{0, 990}, nil}, wantRun{k, [2]int64{2210, 3590}, nil}, wantRun{k, [2]int64{4210, 6390}, nil})
		case k == 14:
			want = append(want, wantRun{k, [2]int64{0, 9000}, [][4]int64{{990, 2210, 2040, 2110}, {3590, 4210, 2040, 2110}, {6390, 7410, 2040, 2110}}})
		default:
			want = append(want, wantRun{k, [2]int64{0, 9000}, nil})
		}
		if k < 14 {
			want = append(want, wantRun{k, [2]int64{7410, 9000}, nil})
		}
	}
	w := threeWindows()
	got := Runs(w)
	checkRuns(t, got, want)
	area(t, w, 19_449_000)
	for _, r := range got {
		if len(r.Fragile) > 0 || r.Rip != 0 || r.Short {
			t.Errorf("course %d: got fragile %v, rip %v, short %v, want none", r.Course, r.Fragile, r.Rip, r.Short)
		}
	}
	// With a least strip of 61 the second sill's 60 is too thin, its first
	// sill's 65 is not.
	w.StripLeast = mm(61)
	var frail []Strip
	for _, r := range Runs(w) {
		frail = append(frail, r.Fragile...)
	}
	if want := []Strip{{2, Below, span(3590, 4210), mm(60)}}; !slices.Equal(frail, want) {
		t.Errorf("fragile: got %v, want %v", frail, want)
	}
}

// TestNotchedPiece: of course 5 of the wall above, the piece from 600 to 1,800
// ends over the window: its outline steps down at 990. The one from 1,200 to
// 1,800 has no full height left: a board ripped to 65. The one from 600 to
// 2,400 holds the whole notch.
func TestNotchedPiece(t *testing.T) {
	var run Run
	for _, r := range Runs(threeWindows()) {
		if r.Course == 5 && r.Span.Lo == 0 {
			run = r
		}
	}
	for _, test := range []struct {
		x       [2]int64
		outline string
		cutouts []Rect
		width   int64
		ripped  bool
	}{
		{[2]int64{600, 1800}, "600,825;1800,825;1800,890;990,890;990,1000;600,1000", []Rect{{span(990, 1800), span(890, 1000)}}, 175, false},
		{[2]int64{1200, 1800}, "1200,825;1800,825;1800,890;1200,890", nil, 65, true},
		{[2]int64{600, 2400}, "600,825;2400,825;2400,1000;2210,1000;2210,890;990,890;990,1000;600,1000", []Rect{{span(990, 2210), span(890, 1000)}}, 175, false},
	} {
		p := run.Piece(span(test.x[0], test.x[1]))
		if got := measure.Points(p.Outline); got != test.outline {
			t.Errorf("piece %v: got %s, want %s", test.x, got, test.outline)
		}
		if !slices.Equal(p.Cutouts, test.cutouts) || p.Width != mm(test.width) || p.Ripped != test.ripped {
			t.Errorf("piece %v: got cut-outs %v, width %v, ripped %v", test.x, p.Cutouts, p.Width, p.Ripped)
		}
		if p.Length != mm(test.x[1]-test.x[0]) || p.Left.Kind != Joint || p.Right.Kind != Joint {
			t.Errorf("piece %v: got length %v, ends %v %v", test.x, p.Length, p.Left, p.Right)
		}
	}
}

// TestGable: 6,000 wide, eaves 1,500, apex 3,000 in the middle: 1 up in 2
// along, so a cut is atan 2 = 63.435 degrees from square and at a height z the
// board starts at x = 2 (z - 1,500). Boards of 175 at 135, marks 150 + 135 k.
//
// Course 9, 1,365..1,540, has 135 of square end and loses a corner up to x =
// 80. Course 10, 1,500..1,675, starts in a point at 0 and is full from 350.
// Course 19, 2,715..2,890, runs from 2,430 to 3,570, full from 2,780 to 3,220.
// Course 20 at 2,850 is the triangle from 2,700 to 3,300, 150 high. Course 21
// at 2,985 would be 15 high; course 20 reaches 3,025 and covers it: left out.
//
// Area: 6,000 x 1,350 + 6,000 x 1,500 / 2 = 12,600,000 mm2.
func TestGable(t *testing.T) {
	x := span(0, 6000)
	w := Wall{
		Base: measure.Level(x, mm(150)), Top: measure.Profile{{X: 0, Z: mm(1500)}, {X: mm(3000), Z: mm(3000)}, {X: mm(6000), Z: mm(1500)}},
		Marks: marks(150, 135, 21), Width: mm(175),
	}
	runs := Runs(w)
	if len(runs) != 21 {
		t.Fatalf("got %d runs, want 21", len(runs))
	}
	for k, want := range map[int]string{
		0:  "0,150;6000,150;6000,325;0,325",
		9:  "0,1365;6000,1365;6000,1500;5920,1540;80,1540;0,1500",
		10: "0,1500;6000,1500;5650,1675;350,1675",
		19: "2430,2715;3570,2715;3220,2890;2780,2890",
		20: "2700,2850;3300,2850;3000,3000",
	} {
		p := runs[k].Piece(runs[k].Span)
		if got := measure.Points(p.Outline); got != want {
			t.Errorf("course %d: got %s, want %s", k, got, want)
		}
		if rake := p.Left.Kind == Rake && p.Right.Kind == Rake; rake != (k > 0) {
			t.Errorf("course %d: got ends %v and %v", k, p.Left, p.Right)
		}
		if k > 0 && (math.Abs(p.Left.Degrees-63.435) > 0.0005 || p.Left.Degrees != p.Right.Degrees || p.Left.Under) {
			t.Errorf("course %d: got rakes %v and %v, want 63.435 with the long edge below", k, p.Left, p.Right)
		}
	}
	area(t, w, 12_600_000)

	// A joint at 3,000 in the last course: an upright end 150 high on both.
	p := runs[20].Piece(span(2700, 3000))
	if got, want := measure.Points(p.Outline), "2700,2850;3000,2850;3000,3000"; got != want || p.Length != mm(300) || p.Right.Kind != Joint || p.Left.Kind != Rake {
		t.Errorf("half the triangle: got %s, %v long, ends %v %v, want %s", got, p.Length, p.Left, p.Right, want)
	}
}

// TestLeastOnARake: course 10 of the gable above, battens every 600 from 25. A
// fixing wants 100 of board: course 10 is that high from x = 200 on, so the
// batten at 25 does not count; 625 and 1,225 do: the first joint stands on
// 1,225 at the earliest. From the right, battens at 5,975 (25 from the end, no),
// 5,425 and 4,825: 6,000 - 4,825 = 1,175.
func TestLeastOnARake(t *testing.T) {
	x := span(0, 6000)
	w := Wall{
		Base: measure.Level(x, mm(150)), Top: measure.Profile{{X: 0, Z: mm(1500)}, {X: mm(3000), Z: mm(3000)}, {X: mm(6000), Z: mm(1500)}},
		Marks: marks(150, 135, 21), Width: mm(175),
	}
	battens := []measure.Length{mm(25), mm(625), mm(1225), mm(1825), mm(2425), mm(3025), mm(3625), mm(4225), mm(4825), mm(5425), mm(5975)}
	runs := Runs(w)
	if first, last := runs[10].Least(Ends{Battens: battens, Tall: mm(100)}); first != mm(1225) || last != mm(1175) {
		t.Errorf("course 10: got %v and %v, want 1225 and 1175", first, last)
	}
	if first, last := runs[0].Least(Ends{Battens: battens, Tall: mm(100)}); first != mm(625) || last != mm(575) {
		t.Errorf("course 0: got %v and %v, want 625 and 575", first, last)
	}
	// Course 20 is 600 long, from 2,700, with one batten at 3,025: no joint.
	if first, last := runs[20].Least(Ends{Battens: battens, Tall: mm(100)}); first != mm(600) || last != mm(600) {
		t.Errorf("course 20: got %v and %v, want 600 and 600", first, last)
	}
}

// TestSteppedBase: 4,000 wide, ground at 0 up to 2,500 and at 300 beyond, 150
// clear; boards of 175 at 135 up to 1,540 = 150 + 9 x 135 + 175. Left the first
// board is at 150; right it must be at 450 at least, the next mark is 150 + 3 x
// 135 = 555. So courses 0..2 stop at 2,500.
//
// A window 500..1,500 from 825 to 1,230, both on marks (5 and 8): course 4,
// 690..865, loses its lap under the sill, 825..865, and keeps 135, a full
// gauge; courses 5, 6 and 7 break: of course 7 only 1,230..1,270 is left over
// the head and course 8 hides that.
//
// Area: 2,500 x 1,390 + 1,500 x 985 - 1,000 x 405 = 4,547,500 mm2.
func TestSteppedBase(t *testing.T) {
	x := span(0, 4000)
	ground := measure.Profile{{X: 0}, {X: mm(2500)}, {X: mm(2500), Z: mm(300)}, {X: mm(4000), Z: mm(300)}}
	w := Wall{
		Marks: marks(150, 135, 9), Width: mm(175), Top: measure.Level(x, mm(1540)),
		Voids: []Void{{1, span(500, 1500), span(825, 1230)}},
	}
	w.Base = Stair(ground, w.Marks, mm(150), x, nil)
	if got, want := measure.Points(w.Base), "0,150;2500,150;2500,555;4000,555"; got != want {
		t.Fatalf("base: got %s, want %s", got, want)
	}
	left, all := [2]int64{0, 2500}, [2]int64{0, 4000}
	want := []wantRun{{0, left, nil}, {1, left, nil}, {2, left, nil}, {3, all, nil}, {4, all, [][4]int64{{500, 1500, 825, 865}}}}
	for k := 5; k < 8; k++ {
		want = append(want, wantRun{k, [2]int64{0, 500}, nil}, wantRun{k, [2]int64{1500, 4000}, nil})
	}
	want = append(want, wantRun{8, all, nil}, wantRun{9, all, nil})
	checkRuns(t, Runs(w), want)
	area(t, w, 4_547_500)
}

// TestOddOpenings: one course of 175 from 0 and the openings that are not a
// plain window, each with the outlines it must leave.
func TestOddOpenings(t *testing.T) {
	x := span(0, 2000)
	one := []measure.Length{0}
	for _, test := range []struct {
		name  string
		wall  Wall
		want  []string
		holes []Rect
	}{
		{"a hole", Wall{Voids: []Void{{1, span(900, 1000), span(60, 110)}}},
			[]string{"0,0;2000,0;2000,175;0,175"}, []Rect{{span(900, 1000), span(60, 110)}}},
		{"a slot too long for a hole", Wall{HoleMost: mm(300), Voids: []Void{{1, span(500, 1500), span(60, 110)}}},
			[]string{"0,0;500,0;500,175;0,175", "500,0;1500,0;1500,60;500,60", "500,110;1500,110;1500,175;500,175", "1500,0;2000,0;2000,175;1500,175"}, nil},
		{"a slot at the wall's end", Wall{Voids: []Void{{1, span(-50, 300), span(60, 110)}}},
			[]string{"0,0;2000,0;2000,175;0,175;0,110;300,110;300,60;0,60"}, nil},
		{"the whole width", Wall{Voids: []Void{{1, span(-50, 2050), span(60, 110)}}},
			[]string{"0,0;2000,0;2000,60;0,60", "0,110;2000,110;2000,175;0,175"}, nil},
		{"through the top", Wall{Voids: []Void{{1, span(500, 900), span(100, 400)}}},
			[]string{"0,0;2000,0;2000,175;900,175;900,100;500,100;500,175;0,175"}, nil},
		{"just touching the top", Wall{Voids: []Void{{1, span(500, 900), span(175, 400)}}},
			[]string{"0,0;2000,0;2000,175;0,175"}, nil},
		{"a sill wider than its window", Wall{Voids: []Void{{1, span(450, 950), span(60, 100)}, {1, span(500, 900), span(100, 400)}}},
			[]string{"0,0;2000,0;2000,175;900,175;900,100;950,100;950,60;450,60;450,100;500,100;500,175;0,175"}, nil},
		{"sill beside head", Wall{Voids: []Void{{1, span(500, 900), span(-50, 70)}, {2, span(900, 1300), span(90, 300)}}},
			[]string{"0,0;500,0;500,70;900,70;900,0;2000,0;2000,175;1300,175;1300,90;900,90;900,175;0,175"}, nil},
		{"corner to corner", Wall{Voids: []Void{{1, span(500, 900), span(-50, 80)}, {2, span(900, 1300), span(80, 300)}}},
			[]string{"0,0;500,0;500,80;900,80;900,175;0,175", "900,0;2000,0;2000,175;1300,175;1300,80;900,80"}, nil},
	} {
		w := test.wall
		w.Marks, w.Width = one, mm(175)
		w.Base, w.Top = measure.Level(x, 0), measure.Level(x, mm(175))
		var got []string
		var holes []Rect
		for _, r := range Runs(w) {
			p := r.Piece(r.Span)
			got, holes = append(got, measure.Points(p.Outline)), append(holes, p.Holes...)
		}
		if !slices.Equal(got, test.want) || !slices.Equal(holes, test.holes) {
			t.Errorf("%s: got %q holes %v, want %q holes %v", test.name, got, holes, test.want, test.holes)
		}
	}
}

// TestTipBesideStep: the top rises from 220 at 0 to 320 at 2,000, 1 in 20; the
// base steps from 150 up to 285 at 1,700. Boards of 175 at 135, marks 150 and
// 285, so the first course reaches 325. Left of the step it covers all there is:
// the tip of course 1, which starts where the top passes 285, at x = 20 x 65 =
// 1,300, lies wholly in its lap. Right of the step there is no first course: what
// lies between 285 and the top is bare without course 1, whose one board keeps
// its tip left of the step. The other hand alike.
//
// Area: 1,700 x 70 + 1,700 x 85 / 2 = 191,250 and 300 x (20 + 35) / 2 = 8,250:
// 199,500 mm2.
func TestTipBesideStep(t *testing.T) {
	x := span(0, 2000)
	w := Wall{
		Base: measure.Profile{{Z: mm(150)}, {X: mm(1700), Z: mm(150)}, {X: mm(1700), Z: mm(285)}, {X: mm(2000), Z: mm(285)}},
		Top:  measure.Profile{{Z: mm(220)}, {X: mm(2000), Z: mm(320)}}, Marks: marks(150, 135, 1), Width: mm(175),
	}
	checkRuns(t, Runs(w), []wantRun{{0, [2]int64{0, 1700}, nil}, {1, [2]int64{1300, 2000}, nil}})
	area(t, w, 199_500)
	w.Base = measure.Profile{{Z: mm(285)}, {X: mm(300), Z: mm(285)}, {X: mm(300), Z: mm(150)}, {X: mm(2000), Z: mm(150)}}
	w.Top = measure.Profile{{Z: mm(320)}, {X: mm(2000), Z: mm(220)}}
	checkRuns(t, Runs(w), []wantRun{{0, [2]int64{300, 2000}, nil}, {1, [2]int64{0, 700}, nil}})
	area(t, w, 199_500)
	// Without the step the tip is left out.
	w.Base = measure.Level(x, mm(150))
	checkRuns(t, Runs(w), []wantRun{{0, [2]int64{0, 2000}, nil}})
}
