package measure

import (
	"math/rand/v2"
	"testing"
)

// step is a profile that is level, steps up, rises and steps down.
var step = Profile{{0, 10}, {4, 10}, {4, 20}, {8, 28}, {8, 6}, {12, 6}}

func TestProfileAt(t *testing.T) {
	for _, test := range []struct{ x, want Length }{
		{-5, 10}, {0, 10}, {3, 10}, {4, 10}, // at a step the lower side
		{5, 22}, {6, 24}, {7, 26}, {8, 6}, {12, 6}, {99, 6},
	} {
		if got := step.At(test.x); got != test.want {
			t.Errorf("height at %d: got %d, want %d", test.x, got, test.want)
		}
	}
}

func TestProfileLeastAndMost(t *testing.T) {
	for _, test := range []struct {
		over        Span
		least, most Length
	}{
		{Span{0, 3}, 10, 10},
		{Span{0, 4}, 10, 20},
		{Span{5, 7}, 22, 26},
		{Span{5, 8}, 6, 28},
		{Span{-9, 99}, 6, 28},
		{Span{8, 8}, 6, 28},
	} {
		if got := step.Least(test.over); got != test.least {
			t.Errorf("least over %v: got %d, want %d", test.over, got, test.least)
		}
		if got := step.Most(test.over); got != test.most {
			t.Errorf("most over %v: got %d, want %d", test.over, got, test.most)
		}
	}
}

func TestProfileAboveAndBelow(t *testing.T) {
	for _, test := range []struct {
		z            Length
		above, below []Span
	}{
		{5, []Span{{0, 12}}, nil},
		{10, []Span{{4, 8}}, []Span{{8, 12}}}, // level at the height is neither
		{20, []Span{{4, 8}}, []Span{{0, 4}, {8, 12}}},
		{24, []Span{{6, 8}}, []Span{{0, 6}, {8, 12}}},
		{28, nil, []Span{{0, 12}}},
	} {
		if got := step.Above(test.z); !near(got, test.above) {
			t.Errorf("above %d: got %v, want %v", test.z, got, test.above)
		}
		if got := step.Below(test.z); !near(got, test.below) {
			t.Errorf("below %d: got %v, want %v", test.z, got, test.below)
		}
	}
}

func near(a, b []Span) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// randomProfile steps, slopes and runs level within 0..1000.
func randomProfile(r *rand.Rand) Profile {
	out := Profile{{0, Length(r.IntN(1000))}}
	for x := Length(0); x < 1000; {
		z := Length(r.IntN(1000))
		if r.IntN(3) > 0 {
			x = min(1000, x+1+Length(r.IntN(300)))
		}
		if r.IntN(3) == 0 {
			z = out[len(out)-1].Z
		}
		out = append(out, Point{x, z})
	}
	return out
}

// TestAboveByProbing probes random profiles at whole places.
func TestAboveByProbing(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		p, z := randomProfile(r), Length(r.IntN(1000))
		above, below := p.Above(z), p.Below(z)
		for x := Length(1); x < 1000; x += 7 {
			lo, hi := p.Least(Span{x - 1, x + 1}), p.Most(Span{x - 1, x + 1})
			if in := inside(above, x); (lo > z && !in) || (hi < z && in) {
				t.Fatalf("%v above %d: got %v, wrong at %d", p, z, above, x)
			}
			if in := inside(below, x); (hi < z && !in) || (lo > z && in) {
				t.Fatalf("%v below %d: got %v, wrong at %d", p, z, below, x)
			}
		}
	}
}

func inside(list []Span, x Length) bool {
	for _, s := range list {
		if s.Holds(x) {
			return true
		}
	}
	return false
}

// TestCutKeepsHeights: a part of a profile has the heights of the whole.
func TestCutKeepsHeights(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		p := randomProfile(r)
		lo := Length(r.IntN(1500) - 300)
		s := Span{lo, lo + 1 + Length(r.IntN(600))}
		q := p.Cut(s)
		if q.Extent() != s {
			t.Fatalf("%v cut to %v: got %v", p, s, q)
		}
		for x := s.Lo + 1; x < s.Hi; x += 5 {
			if d := q.At(x) - p.At(x); d < -1 || d > 1 { // one more rounding
				t.Fatalf("%v cut to %v: at %d got %d, want %d", p, s, x, q.At(x), p.At(x))
			}
		}
		if q.Most(s) > p.Most(s) || q.Least(s) < p.Least(s) {
			t.Fatalf("%v cut to %v: leaves the heights of the whole", p, s)
		}
	}
}

// TestClamp: clamping a profile clamps its heights, to the rounding of one
// place at the steepest slope.
func TestClamp(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 2000 {
		p := randomProfile(r)
		lo := Length(r.IntN(500))
		hi := lo + Length(r.IntN(500))
		q := p.Clamp(lo, hi)
		if q.Extent() != p.Extent() {
			t.Fatalf("%v clamped: got %v", p, q)
		}
		for x := Length(1); x < 1000; x += 3 {
			around := Span{x - 1, x + 1}
			least, most := min(max(p.Least(around), lo), hi), min(max(p.Most(around), lo), hi)
			if got := q.At(x); got < least-1 || got > most {
				t.Fatalf("%v clamped to %d..%d: at %d got %d, want %d..%d", p, lo, hi, x, got, least, most)
			}
		}
	}
}

func TestLevelAndShift(t *testing.T) {
	p := Level(Span{0, 9}, 4).Shift(-6)
	if p.At(3) != -2 || p.Extent() != (Span{0, 9}) {
		t.Errorf("level 4 shifted by -6: got %v", p)
	}
}

// TestSegment: rounding is downwards whichever way the line slopes, and a
// crossing read back is within the slope of the height asked for.
func TestSegment(t *testing.T) {
	up, down := Segment{Point{0, 0}, Point{3, 1}}, Segment{Point{0, 1}, Point{3, 0}}
	for x, want := range []Length{0, 0, 0, 1} {
		if got := up.At(Length(x)); got != want {
			t.Errorf("rising, at %d: got %d, want %d", x, got, want)
		}
	}
	for x, want := range []Length{1, 0, 0, 0} {
		if got := down.At(Length(x)); got != want {
			t.Errorf("falling, at %d: got %d, want %d", x, got, want)
		}
	}
	r := rand.New(rand.NewPCG(11, 12))
	for range 5000 {
		s := Segment{Point{0, Length(r.IntN(9000))}, Point{1 + Length(r.IntN(9000)), Length(r.IntN(9000))}}
		if s.A.Z == s.B.Z {
			continue
		}
		z := min(s.A.Z, s.B.Z) + Length(r.Int64N(int64(max(s.A.Z, s.B.Z)-min(s.A.Z, s.B.Z))))
		x := s.Cross(z)
		if a, b := s.At(x), s.At(x+1); min(a, b) > z || max(a, b)+1 < z {
			t.Fatalf("%v crosses %d at %d: heights there %d and %d", s, z, x, a, b)
		}
	}
}
