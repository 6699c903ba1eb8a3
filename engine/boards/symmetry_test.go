package boards

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// said is everything a run and its whole piece say, with all of x passed through
// a turn of the wall.
func said(r Run, turn func(measure.Length) measure.Length) string {
	span := func(s measure.Span) measure.Span {
		a, b := turn(s.Lo), turn(s.Hi)
		return measure.Span{Lo: min(a, b), Hi: max(a, b)}
	}
	rects := func(list []Rect) (out []string) {
		for _, c := range list {
			out = append(out, fmt.Sprint(span(c.X), c.Z))
		}
		slices.Sort(out)
		return out
	}
	var strips, joints, corners []string
	for _, s := range r.Fragile {
		strips = append(strips, fmt.Sprint(s.Void, s.Side, span(s.X), s.Left))
	}
	for _, s := range r.NoJoint {
		joints = append(joints, fmt.Sprint(span(s)))
	}
	p := r.Piece(r.Span)
	for _, c := range p.Outline {
		corners = append(corners, fmt.Sprint(turn(c.X), c.Z))
	}
	for _, list := range [][]string{strips, joints, corners} {
		slices.Sort(list)
	}
	return fmt.Sprint(r.Course, span(r.Span), r.Band, r.Rip, r.Short, strips, joints, rects(r.Cutouts), corners, rects(p.Holes), rects(p.Cutouts), p.Length, p.Width, p.Ripped)
}

func all(w Wall, turn func(measure.Length) measure.Length) []string {
	var out []string
	for _, r := range Runs(w) {
		out = append(out, said(r, turn))
	}
	slices.Sort(out)
	return out
}

func first(t *testing.T, what string, w Wall, got, want []string) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		switch {
		case i >= len(got) || i >= len(want):
			t.Fatalf("%s: %d runs, want %d\n%s", what, len(got), len(want), describe(w))
		case got[i] != want[i]:
			t.Fatalf("%s:\ngot  %s\nwant %s\n%s", what, got[i], want[i], describe(w))
		}
	}
}

// TestMirroredToTheCorner: seen from behind, a level or stepped wall has each run
// and each corner of its board where the first one has it, to the micrometre.
func TestMirroredToTheCorner(t *testing.T) {
	for seed := range 1500 {
		r := rand.New(rand.NewPCG(uint64(seed), 98))
		w := randomWall(r, []int{0, 4}[seed%2])
		if seed%3 == 0 {
			w.HoleMost = mm(300)
		}
		got := all(mirrored(w), func(x measure.Length) measure.Length { return -x })
		first(t, fmt.Sprintf("seed %d", seed), w, got, all(w, func(x measure.Length) measure.Length { return x }))
	}
}

// TestMovedAsOne: a wall of any shape measured from another place, to the left or
// right and from another datum, has the same boards there, to the micrometre.
func TestMovedAsOne(t *testing.T) {
	each(t, 250, func(t *testing.T, r *rand.Rand, w Wall) {
		dx, dz := between(r, -5000, 5000)+measure.Length(r.Int64N(1000)), between(r, -500, 5000)
		moved := w
		move := func(p measure.Profile) measure.Profile {
			out := p.Shift(dz)
			for i := range out {
				out[i].X += dx
			}
			return out
		}
		moved.Base, moved.Top = move(w.Base), move(w.Top)
		moved.Marks, moved.Voids = slices.Clone(w.Marks), slices.Clone(w.Voids)
		for i := range moved.Marks {
			moved.Marks[i] += dz
		}
		for i, v := range moved.Voids {
			moved.Voids[i].X = measure.Span{Lo: v.X.Lo + dx, Hi: v.X.Hi + dx}
			moved.Voids[i].Z = measure.Span{Lo: v.Z.Lo + dz, Hi: v.Z.Hi + dz}
		}
		var got, want []string
		for _, run := range Runs(moved) {
			p := run.Piece(run.Span)
			for i := range p.Outline {
				p.Outline[i].X, p.Outline[i].Z = p.Outline[i].X-dx, p.Outline[i].Z-dz
			}
			got = append(got, fmt.Sprint(run.Course, p.Outline, p.Length, p.Width, p.Left, p.Right, p.Ripped, len(p.Holes)))
		}
		for _, run := range Runs(w) {
			p := run.Piece(run.Span)
			want = append(want, fmt.Sprint(run.Course, p.Outline, p.Length, p.Width, p.Left, p.Right, p.Ripped, len(p.Holes)))
		}
		first(t, "moved", w, got, want)
	})
}

// TestNotchesByHand: a board of 180 from 0, 1,200 long, under no other. Each way
// an opening bites it, with the corners of what is left, and what must be said:
// what is cut out, whether it is ripped over its whole length, and the fragile
// strip, where 50 is the least.
func TestNotchesByHand(t *testing.T) {
	x := span(0, 1200)
	for _, test := range []struct {
		name    string
		void    Void
		outline string
		cut     Rect
		ripped  bool
		strip   []Strip
	}{
		{"over a head", Void{7, span(400, 900), span(-300, 110)},
			"0,0;400,0;400,110;900,110;900,0;1200,0;1200,180;0,180", Rect{span(400, 900), span(0, 110)}, false, nil},
		{"over a head, 40 left", Void{7, span(400, 900), span(-300, 140)},
			"0,0;400,0;400,140;900,140;900,0;1200,0;1200,180;0,180", Rect{span(400, 900), span(0, 140)}, false, []Strip{{7, Above, span(400, 900), mm(40)}}},
		{"under a sill", Void{7, span(400, 900), span(90, 800)},
			"0,0;1200,0;1200,180;900,180;900,90;400,90;400,180;0,180", Rect{span(400, 900), span(90, 180)}, false, nil},
		{"under a sill, 30 left", Void{7, span(400, 900), span(30, 800)},
			"0,0;1200,0;1200,180;900,180;900,30;400,30;400,180;0,180", Rect{span(400, 900), span(30, 180)}, false, []Strip{{7, Below, span(400, 900), mm(30)}}},
		{"under a sill, the least left", Void{7, span(400, 900), span(50, 800)},
			"0,0;1200,0;1200,180;900,180;900,50;400,50;400,180;0,180", Rect{span(400, 900), span(50, 180)}, false, nil},
		{"the corner by a sill", Void{7, span(800, 1500), span(90, 800)},
			"0,0;1200,0;1200,90;800,90;800,180;0,180", Rect{span(800, 1200), span(90, 180)}, false, nil},
		{"the corner by a head", Void{7, span(-300, 500), span(-300, 70)},
			"0,70;500,70;500,0;1200,0;1200,180;0,180", Rect{span(0, 500), span(0, 70)}, false, nil},
		{"a hole", Void{7, span(400, 520), span(60, 120)},
			"0,0;1200,0;1200,180;0,180", Rect{span(400, 520), span(60, 120)}, false, nil},
		{"all along under a sill", Void{7, span(-10, 1210), span(90, 800)},
			"0,0;1200,0;1200,90;0,90", Rect{}, true, nil},
	} {
		w := Wall{Base: measure.Level(x, 0), Top: measure.Level(x, mm(180)), Marks: []measure.Length{0}, Width: mm(180), StripLeast: mm(50), HoleMost: mm(120), Voids: []Void{test.void}}
		runs := Runs(w)
		if len(runs) != 1 {
			t.Errorf("%s: %d runs, want 1", test.name, len(runs))
			continue
		}
		p := runs[0].Piece(runs[0].Span)
		var cuts []Rect
		if test.cut != (Rect{}) {
			cuts = []Rect{test.cut}
		}
		if got := measure.Points(p.Outline); got != test.outline || !slices.Equal(p.Cutouts, cuts) {
			t.Errorf("%s: got %s, cut %v, want %s, %v", test.name, got, p.Cutouts, test.outline, cuts)
		}
		if p.Ripped != test.ripped || !slices.Equal(runs[0].Fragile, test.strip) {
			t.Errorf("%s: got ripped %v, strips %v, want %v, %v", test.name, p.Ripped, runs[0].Fragile, test.ripped, test.strip)
		}
		if hole := test.name == "a hole"; len(p.Holes) > 0 != hole || len(runs[0].NoJoint) > 0 != hole {
			t.Errorf("%s: got holes %v, no joint in %v", test.name, p.Holes, runs[0].NoJoint)
		}
	}
}

// TestStairOnBays: ground that rises 1 in 10 from 0 over 6,000, treads that meet at
// bays of 600 or 1,500, marks 150 + 135 k and 150 clear. A tread up to x has x/10
// of ground under its right end and takes the first mark from 150 + x/10 on: up to
// 600 60, so 285 (150 is too low); 1,200: 270, the mark 285; 1,800: 330, 420;
// 2,400: 390, 420; 3,000: 450, 555; 3,600: 510, 555; 4,200: 570, 690; 4,800: 630,
// 690; 5,400: 690, 690; 6,000: 750, 825. Treads of one mark are one.
func TestStairOnBays(t *testing.T) {
	ground := measure.Profile{{X: 0}, {X: mm(6000), Z: mm(600)}}
	bays := func(step int64) (out []measure.Length) {
		for x := step; x < 6000; x += step {
			out = append(out, mm(x))
		}
		return out
	}
	for _, test := range []struct {
		at   []measure.Length
		want string
	}{
		{bays(600), "0,285;1200,285;1200,420;2400,420;2400,555;3600,555;3600,690;5400,690;5400,825;6000,825"},
		{bays(1500), "0,420;1500,420;1500,555;3000,555;3000,690;4500,690;4500,825;6000,825"},
		{[]measure.Length{mm(6000)}, "0,825;6000,825"},
		{[]measure.Length{mm(-600), mm(0), mm(3000), mm(7000)}, "0,555;3000,555;3000,825;6000,825"},
		{nil, "0,285;1350,285;1350,420;2700,420;2700,555;4050,555;4050,690;5400,690;5400,825;6000,825"},
	} {
		if got := measure.Points(Stair(ground, marks(150, 135, 8), mm(150), span(0, 6000), test.at)); got != test.want {
			t.Errorf("treads at %v: got %s, want %s", test.at, got, test.want)
		}
	}
	// Where the last mark is too low the tread stands at the ground and its clearance.
	if got := measure.Points(Stair(ground, marks(150, 135, 2), mm(150), span(0, 6000), bays(3000))); got != "0,450;3000,450;3000,750;6000,750" {
		t.Errorf("above the last mark: got %s", got)
	}
}
