package audit

import (
	"math"
	"math/rand/v2"
	"testing"

	"lapwright/engine/measure"
)

// seen is a site with a wall's pieces sliced, its joints paired and its
// batten lines found.
func seen(t *testing.T, w Wall) *site {
	t.Helper()
	var s site
	var r report
	if s.check(&w, &r); len(r.faults) > 0 {
		t.Fatal(r.faults)
	}
	return &s
}

func TestExtremes(t *testing.T) {
	ls, ok := profileLines(nil, pts(0, 100, 1000, 600, 1000, 300, 3000, 300, 4000, 0))
	if !ok || extent(ls) != span(0, 4000) {
		t.Fatalf("lines %v", ls)
	}
	for _, c := range []struct{ from, to, lo, hi float64 }{
		{0, 4000, 0, 600}, {0, 500, 100, 350}, {200, 600, 200, 400}, {1500, 2500, 300, 300},
		{900, 1100, 300, 600}, // across the step both its heights count
		{1000, 1000, 300, 600}, {3500, 4000, 0, 150}, {3000, 3100, 270, 300},
	} {
		if lo, hi := extremes(ls, span(c.from, c.to)); lo != mm(c.lo) || hi != mm(c.hi) {
			t.Errorf("%v to %v: got %v, %v, want %v, %v", c.from, c.to, lo, hi, c.lo, c.hi)
		}
	}
}

func TestUpright(t *testing.T) {
	s := seen(t, *whole(gable()).wall())
	for _, c := range []struct{ centre, width, hi float64 }{
		{2000, 75, 2000 - 0.7*37.5}, {600, 75, 600 + 0.7*562.5}, {3400, 50, 600 + 0.7*575}, {0, 75, 600},
	} {
		got := s.upright(&Batten{Centre: mm(c.centre), Width: mm(c.width)})
		if want := (measure.Span{Lo: mm(150), Hi: mm(c.hi)}); got != want {
			t.Errorf("batten %v wide at %v: got %v, want %v", c.width, c.centre, got, want)
		}
	}
}

func TestEnd(t *testing.T) {
	for _, c := range []struct {
		wall  func() Wall
		mark  string
		right bool
		want  measure.Span
	}{
		{plain, "P-1a", true, span(150, 325)},
		{plain, "P-4a", true, span(555, 690)}, // under the sill
		{plain, "P-4b", false, span(555, 690)},
		{plain, "P-4a", false, span(555, 730)},
		{gable, "G-4a", false, span(555, 600)}, // below the eaves
		{gable, "G-4a", true, span(555, 730)},
		{gable, "G-6a", false, measure.Span{}}, // a point is no upright end
		{cheek, "C-4a", true, span(555, 730)},
		{vent, "V-1a", false, span(150, 325)},
		{vent, "V-1a", true, span(250, 325)},
	} {
		w := c.wall()
		s := seen(t, *whole(w).wall())
		for i := range s.w.Pieces {
			if s.w.Pieces[i].Mark != c.mark {
				continue
			}
			x := s.faces[i].xs.Lo
			if c.right {
				x = s.faces[i].xs.Hi
			}
			if got := s.end(i, x); got.Length() != c.want.Length() || (!got.Empty() && got != c.want) {
				t.Errorf("%s at %v: got %v, want %v", c.mark, x, got, c.want)
			}
		}
	}
}

func (j *Job) wall() *Wall { return &j.Walls[0] }

// TestEndDistance compares the distance to an end with a walk along the edges
// that a level line through the screw meets, in 3,000 steps of each.
func TestEndDistance(t *testing.T) {
	s := seen(t, *whole(gable()).wall())
	r := rand.New(rand.NewPCG(8, 1))
	checked := 0
	for range 400 {
		i := r.IntN(len(s.w.Pieces))
		f := s.faces[i]
		c := Screw{Piece: i, X: f.xs.Lo + measure.Length(r.Int64N(int64(f.xs.Length()))),
			Z: f.zs.Lo + 1 + measure.Length(r.Int64N(int64(f.zs.Length()-2)))}
		if _, in := s.above(i, c.X, c.Z); !in {
			continue
		}
		want := math.Inf(1)
		o := s.w.Pieces[i].Outline
		for k, a := range o {
			b := o[(k+1)%len(o)]
			for step := 0; step <= 3000 && (a.Z < c.Z) != (b.Z < c.Z); step++ {
				along := float64(step) / 3000
				want = min(want, math.Hypot(float64(a.X-c.X)+along*float64(b.X-a.X), float64(a.Z-c.Z)+along*float64(b.Z-a.Z)))
			}
		}
		checked++
		if got := float64(s.endDistance(&c)); math.Abs(got-want) > 60 {
			t.Fatalf("%s, %v %v: got %v, want %v", s.w.Pieces[i].Mark, c.X, c.Z, got, want)
		}
	}
	if checked < 100 {
		t.Errorf("only %d places were in a piece", checked)
	}
}

// TestEndBesideShallowSlope has an upper edge so flat that its line, drawn on,
// passes 14 mm below the screw: the edge itself ends 500 mm away, as do the
// two ends.
func TestEndBesideShallowSlope(t *testing.T) {
	w := Wall{Pieces: []Piece{{Outline: pts(0, 0, 3000, 0, 3000, 165.5, 1000, 150, 1000, 180, 0, 180)}}}
	s := site{w: &w}
	if got := s.endDistance(&Screw{X: mm(500), Z: mm(160)}); got != mm(500) {
		t.Errorf("got %v, want 500", got)
	}
}

// TestBearing works how much of a batten 50 mm wide a piece rests on.
func TestBearing(t *testing.T) {
	w := *whole(gable()).wall()
	s := seen(t, w)
	piece := func(mark string) int {
		for i := range w.Pieces {
			if w.Pieces[i].Mark == mark {
				return i
			}
		}
		return -1
	}
	for _, c := range []struct {
		mark         string
		centre, from float64
		high, want   float64
	}{
		{"G-1a", 600, 0, 0, 50},       // all of it
		{"G-1a", 0, 0, 0, 25},         // half of it at the wall's end
		{"G-1a", 2400, 0, 0, 24},      // half of it less half a gap of 2
		{"G-1a", 2600, 0, 0, 0},       // beyond the joint
		{"G-1a", 600, 300, 90, 0},     // 25 of the board's height: too little
		{"G-1a", 600, 300, 20, 50},    // enough
		{"G-6a", 321.4286, 0, 0, 25},  // from the slope's foot, (825 - 600) / 0.7, on
		{"G-6a", 321.4286, 0, 7, 15},  // where it is 7 high: 10 further
		{"G-6a", 450, 0, 0, 50},       // on the slope: from 77 to 107 high
		{"G-6a", 450, 0, 200, 0},      // nowhere so high
		{"G-14a", 2000, 1950, 0, 50},  // the tip, 95 high at its middle
		{"G-14a", 2000, 0, 200, 0},    // nowhere so high
		{"G-14a", 2000, 0, 86.25, 25}, // higher than 95 - 8.75 within 12.5 of the middle
	} {
		s.w.Limits.FixHeight = mm(c.high)
		got := s.bearing(piece(c.mark), &Batten{Centre: mm(c.centre), Width: mm(50), Z: span(c.from, 3000)})
		if d := got - mm(c.want); d < -15 || d > 15 {
			t.Errorf("%s, batten at %v from %v, higher than %v: got %v, want %v", c.mark, c.centre, c.from, c.high, got, c.want)
		}
	}
}

func TestInZone(t *testing.T) {
	zones := []Zone{{"A", span(0, 1000)}, {"B", span(1000, 3000)}, {"A", span(3000, 4000)}}
	for _, c := range []struct {
		name   string
		x      float64
		in, on bool
	}{
		{"A", 500, true, true}, {"A", 3500, true, true}, {"A", 2000, false, false}, {"A", 1000, false, true},
		{"B", 1000, false, true}, {"B", 3000, false, true}, {"B", 1000.001, true, true}, {"A", 4001, false, false}, {"C", 10, false, false},
	} {
		if in, on := inZone(zones, c.name, mm(c.x)); in != c.in || on != c.on {
			t.Errorf("%s at %v: got %v %v, want %v %v", c.name, c.x, in, on, c.in, c.on)
		}
	}
}

// TestRounds checks the tenth that lengths are rounded up to.
func TestRounds(t *testing.T) {
	for _, c := range []struct {
		stated, exact measure.Length
		want          bool
	}{
		{1000, 1000, true}, {1100, 1000, false}, {1000, 901, true}, {1000, 999, true}, {1000, 900, false},
		{999, 1000, false}, {1001, 1000, false}, {1050, 1050, true}, {1100, 1050, true}, {1149, 1050, true}, {1150, 1050, false},
	} {
		if got := rounds(c.stated, c.exact); got != c.want {
			t.Errorf("%d for %d: got %v", c.stated, c.exact, got)
		}
	}
}
