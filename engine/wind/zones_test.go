package wind

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func stripsOf(t *testing.T, f Face, b Building) ([]Strip, []string) {
	t.Helper()
	s, why, err := f.strips(b)
	if err != nil {
		t.Fatalf("strips of %+v: %v", f, err)
	}
	return s, why
}

// show writes strips as "A 0.00-3.20 B 3.20-16.00".
func show(strips []Strip) string {
	var out []string
	for _, s := range strips {
		out = append(out, fmt.Sprintf("%s %.2f-%.2f", s.Zone, s.From, s.To))
	}
	return strings.Join(out, " ")
}

func TestStrips(t *testing.T) {
	whole := func(length float64) Face { return Face{Length: length, Width: length, Placed: true} }
	for _, test := range []struct {
		name string
		face Face
		b    Building
		want string
	}{
		{
			// Steel Buildings in Europe, Single-Storey Steel Buildings part 3,
			// p 3-53: b 32, d 60, h 8: e 16, e/5 3.2, 4e/5 12.8, d - e 44. The
			// source has one direction of wind, here it comes from both ends.
			"e < d, wind from both ends", whole(60), Building{8, 32},
			"A 0.00-3.20 B 3.20-16.00 C 16.00-44.00 B 44.00-56.80 A 56.80-60.00",
		}, {
			// EN 1991-1-4 figure 7.5, e = min(10, 12) = 10, d = 8: A 2, B 6.
			"d <= e < 5d", whole(8), Building{6, 10}, "A 0.00-2.00 B 2.00-6.00 A 6.00-8.00",
		}, {
			"e = d", whole(10), Building{6, 10}, "A 0.00-2.00 B 2.00-8.00 A 8.00-10.00",
		}, {
			// e = min(30, 24) = 24 >= 5 x 4.8: A only. Here h/d is 2.5.
			"e = 5d", whole(4.8), Building{12, 30}, "A 0.00-4.80",
		}, {
			// e = 10, d = 3: from either end A is 2 wide, so they overlap.
			"two A overlap", whole(3), Building{6, 10}, "A 0.00-3.00",
		}, {
			// d = 15 between e and 2e: no point is more than e from both ends.
			"no C between e and 2e", whole(15), Building{6, 10}, "A 0.00-2.00 B 2.00-13.00 A 13.00-15.00",
		}, {
			// d = 40, e = 10; the wall is 6 m from x = 6: B to 10, then C.
			"wall inside its face", Face{Length: 40, From: 6, Width: 6, Placed: true}, Building{6, 10}, "B 0.00-4.00 C 4.00-6.00",
		}, {
			"wall at the right end", Face{Length: 40, From: 34, Width: 6, Placed: true}, Building{6, 10}, "B 0.00-4.00 A 4.00-6.00",
		}, {
			"mid-terrace, row known", Face{Length: 60, From: 25, Width: 5, Placed: true, PartyLeft: true, PartyRight: true}, Building{6, 10}, "C 0.00-5.00",
		},
	} {
		got, why := stripsOf(t, test.face, test.b)
		if show(got) != test.want {
			t.Errorf("%s: %s, want %s", test.name, show(got), test.want)
		}
		if len(why) > 0 {
			t.Errorf("%s: reasons %q, want none: everything is known", test.name, why)
		}
	}
}

func TestStripsWithoutEnoughData(t *testing.T) {
	b := Building{6, 10} // e = 10
	for _, test := range []struct {
		name string
		face Face
		b    Building
		want string
		says string
	}{
		{"no face length", Face{Width: 8}, b, "A 0.00-8.00", "length of the whole face"},
		{"no face length, though placed", Face{Width: 8, From: 20, Placed: true}, b, "A 0.00-8.00", "length of the whole face"},
		{"no place", Face{Length: 40, Width: 8}, b, "A 0.00-8.00", "place in its face"},
		{"nothing of the building", Face{Length: 40, Width: 8, Placed: true}, Building{}, "A 0.00-8.00", "neither height nor depth"},
		{"no depth: e = 2h = 12", Face{Length: 40, Width: 40}, Building{Height: 6}, "A 0.00-2.40 B 2.40-12.00 C 12.00-28.00 B 28.00-37.60 A 37.60-40.00", "depth is not known"},
		{"no height: e = b = 10", Face{Length: 40, Width: 40}, Building{Depth: 10}, "A 0.00-2.00 B 2.00-10.00 C 10.00-30.00 B 30.00-38.00 A 38.00-40.00", "height is not known"},
		{"mid-terrace, row not known", Face{Width: 5, PartyLeft: true, PartyRight: true}, b, "B 0.00-5.00", "party line"},
		{"end of terrace, row not known", Face{Width: 5, PartyRight: true}, b, "A 0.00-2.00 B 2.00-5.00", "party line"},
		{"face given as the house's own", Face{Length: 5, Width: 5, PartyLeft: true, PartyRight: true}, b, "B 0.00-5.00", "whole row"},
		{"narrower than a fifth of the height", Face{Length: 1, Width: 1}, b, "A 0.00-1.00", "table 7.1"},
	} {
		got, why := stripsOf(t, test.face, test.b)
		if show(got) != test.want {
			t.Errorf("%s: %s, want %s", test.name, show(got), test.want)
		}
		if !strings.Contains(strings.Join(why, "\n"), test.says) {
			t.Errorf("%s: reasons %q do not say %q", test.name, why, test.says)
		}
	}
}

// Over many faces: strips cover the wall without gap or overlap, mirror with
// the wall, agree with each point's distance from the ends, and less knowledge
// or a higher building never makes any point better.
func TestStripsProperties(t *testing.T) {
	for _, b := range []Building{{6, 10}, {3, 30}, {9, 4}, {12, 12}} {
		for _, length := range []float64{2.5, 4, 9, 17, 60} {
			for _, share := range []float64{0.2, 0.5, 1} {
				for _, from := range []float64{0, 0.3, 0.8} {
					f := Face{Length: length, Width: length * share, Placed: true}
					f.From = from * (length - f.Width)
					checkStrips(t, f, b)
				}
			}
		}
	}
}

func checkStrips(t *testing.T, f Face, b Building) {
	t.Helper()
	name := fmt.Sprintf("%+v %+v", f, b)
	strips, _ := stripsOf(t, f, b)
	at := 0.0
	for i, s := range strips {
		if s.From != at || s.To <= s.From || (i > 0 && strips[i-1].Zone == s.Zone) {
			t.Fatalf("%s: strips %s have a gap, an overlap or two alike", name, show(strips))
		}
		at = s.To
	}
	if at != f.Width {
		t.Fatalf("%s: strips end at %g", name, at)
	}
	mirror := f
	mirror.From = f.Length - f.Width - f.From
	mirrored, _ := stripsOf(t, mirror, b)
	blind := f
	blind.Length = 0
	blinded, _ := stripsOf(t, blind, b)
	higher, _ := stripsOf(t, f, Building{b.Height * 1.2, b.Depth})
	deeper, _ := stripsOf(t, f, Building{b.Height, 0})
	e := math.Min(b.Depth, 2*b.Height)
	for k := 0.5; k < 100; k++ {
		x := f.Width * k / 100
		got := zoneAt(strips, x)
		if d := min(f.From+x, f.Length-f.From-x); nearest(d, e) != got && b.Height <= 5*f.Length {
			t.Fatalf("%s: %s at %.3f, %.3f m from the nearer end with e = %g", name, got, x, d, e)
		}
		if m := zoneAt(mirrored, f.Width-x); m != got {
			t.Fatalf("%s: %s at %.3f but %s in the mirror", name, got, x, m)
		}
		for _, worse := range [][]Strip{blinded, higher, deeper} {
			if w := zoneAt(worse, x); w > got {
				t.Fatalf("%s: %s at %.3f, but %s with less known or a higher building", name, got, x, w)
			}
		}
	}
}

// nearest is figure 7.5 for the nearer end of the face.
func nearest(d, e float64) Zone {
	if d < e/5 {
		return ZoneA
	}
	if d < e {
		return ZoneB
	}
	return ZoneC
}

func zoneAt(strips []Strip, x float64) Zone {
	for _, s := range strips {
		if x >= s.From && x < s.To {
			return s.Zone
		}
	}
	return "none"
}

func TestStripsRefuse(t *testing.T) {
	b := Building{6, 10}
	for _, test := range []struct {
		name string
		face Face
		b    Building
	}{
		{"wall past its face", Face{Length: 10, From: 6, Width: 5, Placed: true}, b},
		{"wall longer than its face", Face{Length: 10, Width: 11}, b},
		{"no width", Face{Length: 10, Placed: true}, b},
		{"negative place", Face{Length: 10, From: -1, Width: 5, Placed: true}, b},
		{"width no number", Face{Width: math.NaN()}, b},
		{"height no number", Face{Width: 5}, Building{math.NaN(), 10}},
		{"negative depth", Face{Width: 5}, Building{6, -10}},
	} {
		if s, _, err := test.face.strips(test.b); err == nil {
			t.Errorf("%s: %s, want an error", test.name, show(s))
		}
	}
	// A millimetre too much is a survey's rounding, not a contradiction.
	if _, _, err := (Face{Length: 10, From: 5, Width: 5.001, Placed: true}).strips(b); err != nil {
		t.Errorf("a wall 1 mm past its face: %v", err)
	}
}
