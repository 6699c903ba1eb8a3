package fixing

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// A 10 mm board of 175 at a gauge of 135, fixed 25 below its top edge: the
// board leaves the batten by 10 mm in 135, so 25/135 x 10 = 1.852 mm at the
// fixing (arithmetic). A 5 mm screw wants 6 d = 30 mm in the batten, so
// 10 + 1.852 + 30 = 41.852 at least; with the board drawn flat on a 38 mm
// batten and 5 mm kept behind the point, 10 + 38 - 5 = 43 at most.
func TestScrewLength(t *testing.T) {
	s := Seat{Board: mm(10), Edge: mm(25), Gauge: mm(135), Batten: mm(38)}
	got, err := s.Range(mm(5))
	if want := (measure.Span{Lo: um(41852), Hi: mm(43)}); err != nil || got != want {
		t.Fatalf("Range = %v, %v, want %v", got, err, want)
	}
	for _, test := range []struct {
		length measure.Length
		says   string
	}{
		{um(41851), "too short"}, {mm(50), "too long"}, {um(43001), "too long"},
	} {
		if why := strings.Join(s.Fits(mm(5), test.length), "; "); !strings.Contains(why, test.says) {
			t.Errorf("5 x %v: %q does not say %q", test.length, why, test.says)
		}
	}
	for _, length := range []measure.Length{um(41852), mm(42), mm(43)} {
		why := strings.Join(s.Fits(mm(5), length), "; ")
		if strings.Contains(why, "too") || !strings.Contains(why, "declared") {
			t.Errorf("5 x %v: %q: it fits, and its withdrawal must be declared", length, why)
		}
	}
	deep := s
	deep.Batten = mm(50)
	if why := deep.Fits(mm(6), mm(50)); len(why) != 0 {
		t.Errorf("6 x 50 in a 50 mm batten: %q, want nothing: 10 + 1.852 + 36 <= 50 <= 55", why)
	}
}

func TestScrewLengthVaries(t *testing.T) {
	base := Seat{Board: mm(10), Edge: mm(25), Gauge: mm(135), Batten: mm(50)}
	of := func(change func(*Seat)) measure.Span {
		s := base
		change(&s)
		r, err := s.Range(mm(5))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, test := range []struct {
		name   string
		change func(*Seat)
		want   measure.Span
	}{
		{"flat board", func(s *Seat) { s.Gauge = 0 }, measure.Span{Lo: mm(40), Hi: mm(55)}},
		{"tape behind", func(s *Seat) { s.Behind = mm(1) }, measure.Span{Lo: um(42852), Hi: mm(56)}},
		{"declared penetration", func(s *Seat) { s.Penetration = mm(35) }, measure.Span{Lo: um(46852), Hi: mm(55)}},
		{"declared below 6 d", func(s *Seat) { s.Penetration = mm(25) }, measure.Span{Lo: um(41852), Hi: mm(55)}},
		{"more spare", func(s *Seat) { s.Spare = mm(8) }, measure.Span{Lo: um(41852), Hi: mm(52)}},
	} {
		if got := of(test.change); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

func TestScrewLengthRefuses(t *testing.T) {
	for _, test := range []struct {
		name     string
		s        Seat
		diameter measure.Length
		says     string
	}{
		{"batten too thin", Seat{Board: mm(10), Batten: mm(25)}, mm(5), "deeper batten"},
		{"no board", Seat{Batten: mm(38)}, mm(5), "above 0"},
		{"no batten", Seat{Board: mm(10)}, mm(5), "above 0"},
		{"no diameter", Seat{Board: mm(10), Batten: mm(38)}, 0, "above 0"},
		{"negative tape", Seat{Board: mm(10), Batten: mm(38), Behind: -1}, mm(5), "below 0"},
	} {
		if r, err := test.s.Range(test.diameter); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, %v, want an error that says %q", test.name, r, err, test.says)
		}
		if why := test.s.Fits(test.diameter, mm(40)); len(why) == 0 {
			t.Errorf("%s: Fits says nothing", test.name)
		}
	}
}

// A board of 10, 20 from its top edge at a gauge of 135: it stands off 10 x
// 20/135 = 1.4815 there (similar triangles), rounded up to the micrometre. A
// tape of 1 behind it. Of a 45 mm screw 45 - 10 - 1 - 1.482 = 32.518 is left.
func TestSeatReach(t *testing.T) {
	s := Seat{Board: mm(10), Edge: mm(20), Gauge: mm(135), Behind: mm(1), Batten: mm(38)}
	for length, want := range map[measure.Length]measure.Length{
		mm(45): um(32518), mm(12): 0, mm(0): 0, mm(80): mm(38),
	} {
		if got := s.Reach(length); got != want {
			t.Errorf("%v: %v, want %v", length, got, want)
		}
	}
	// The least length that Range allows reaches exactly what is asked for.
	r, err := s.Range(um(4500))
	if err != nil || s.Reach(r.Lo) != mm(27) {
		t.Errorf("%v reaches %v, want 27: %v", r.Lo, s.Reach(r.Lo), err)
	}
}

func TestAlong(t *testing.T) {
	for _, test := range []struct {
		length, centres measure.Length
		want            int
	}{
		{mm(2400), mm(600), 5}, // four spaces of 600
		{mm(2401), mm(600), 6}, // one more for the last millimetre
		{mm(2400) + 1, mm(600), 6},
		{mm(2399), mm(600), 5},
		{mm(50), mm(300), 2}, // a short batten: both its ends
		{mm(300), mm(300), 2},
		{0, mm(300), 0},
	} {
		got, err := Along(test.length, test.centres)
		if err != nil || got != test.want {
			t.Errorf("Along(%v, %v) = %d, %v, want %d", test.length, test.centres, got, err, test.want)
		}
	}
	for _, bad := range [][2]measure.Length{{mm(1000), 0}, {mm(1000), -1}, {-1, mm(300)}} {
		if n, err := Along(bad[0], bad[1]); err == nil {
			t.Errorf("Along(%v, %v) = %d, want an error", bad[0], bad[1], n)
		}
	}
	// The fewest that keep the centres: by trial from two upwards.
	for length := int64(1); length < 3000; length += 37 {
		for centres := int64(100); centres < 700; centres += 50 {
			want := 2
			for mm(length) > mm(centres)*measure.Length(want-1) {
				want++
			}
			if got, _ := Along(mm(length), mm(centres)); got != want {
				t.Errorf("Along(%d, %d) = %d, want %d", length, centres, got, want)
			}
		}
	}
}

// By hand: where a strip is fixed to the battens it crosses.
func TestAcross(t *testing.T) {
	at := func(places ...int64) (out []measure.Length) {
		for _, x := range places {
			out = append(out, mm(x))
		}
		return out
	}
	for _, test := range []struct {
		name    string
		battens []measure.Length
		centres int64
		want    []measure.Length
	}{
		{"a batten each 600 though 300 are asked", at(25, 600, 1200, 1800, 2400, 2975), 300, at(25, 600, 1200, 1800, 2400, 2975)},
		{"every batten", at(25, 100, 600), 0, at(25, 100, 600)},
		{"every other batten", at(25, 600, 1200, 1800, 2400, 2975), 1200, at(25, 1200, 2400, 2975)},
		{"in any order, a joint and a grid batten in one place", at(1200, 600, 25, 600), 300, at(25, 600, 1200)},
		{"on one batten: two", at(600), 300, at(600, 600)},
		{"on none: none", nil, 300, nil},
	} {
		if got := Across(test.battens, mm(test.centres)); !slices.Equal(got, test.want) {
			t.Errorf("%s: got %v, want %v", test.name, got, test.want)
		}
	}
}

// The fewest places that keep the centres wherever the battens let them: of all
// choices of random battens that leave out none where the next one kept would
// then be too far.
func TestAcrossIsFewest(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for range 4000 {
		battens := []measure.Length{0}
		for range 1 + r.IntN(8) {
			battens = append(battens, mm(1+r.Int64N(1500)))
		}
		centres := mm(100 + r.Int64N(700))
		places := slices.Compact(slices.Sorted(slices.Values(battens)))
		want := len(places)
		for chosen := range 1 << len(places) {
			last, n, ok := 0, 1, chosen&1 == 1 && chosen>>(len(places)-1) == 1
			for i := 1; ok && i < len(places); i++ {
				if chosen>>i&1 == 1 {
					ok = places[i]-places[last] <= centres || i == last+1
					last, n = i, n+1
				}
			}
			if ok {
				want = min(want, n)
			}
		}
		if got := Across(battens, centres); len(got) != want {
			t.Fatalf("battens %v at %v: got %v, want %d", places, centres, got, want)
		}
	}
}

// A screw of every length in the range, and no other, both reaches deep enough
// with the board as far off the batten as its tilt leaves it, and stays inside
// the batten with the board drawn flat.
func TestScrewLengthRangeIsExact(t *testing.T) {
	for board := int64(8); board <= 12; board++ {
		for gauge := int64(110); gauge <= 150; gauge += 20 {
			for depth := int64(38); depth <= 50; depth += 6 {
				s := Seat{Board: mm(board), Edge: mm(25), Gauge: mm(gauge), Batten: mm(depth), Penetration: mm(25), Spare: mm(4)}
				diameter := um(4200) // 6 d = 25.2 mm
				r, err := s.Range(diameter)
				for length := mm(30); length <= mm(70); length += um(500) {
					off := float64(board) * 25 / float64(gauge)
					deep := length.Millimetres()-float64(board)-off >= 25.2
					within := length.Millimetres()-float64(board) <= float64(depth)-4
					if got := err == nil && r.Holds(length); got != (deep && within) {
						t.Errorf("board %d, gauge %d, batten %d, screw %v: in range %v, want %v (%v, %v)", board, gauge, depth, length, got, deep && within, r, err)
					}
				}
			}
		}
	}
}

// 10 x 20/146 = 1.3699 of tilt, 10 of board and 27 in the batten: 38.37, said to a
// tenth and never rounded into what does not hold.
func TestShortScrewIsSaidToATenth(t *testing.T) {
	seat := Seat{Board: mm(10), Edge: mm(20), Gauge: mm(146), Batten: mm(38)}
	if got := seat.Fits(mm(9)/2, mm(35))[0]; got != "35 mm is too short: at least 38.4 mm" {
		t.Error(got)
	}
}
