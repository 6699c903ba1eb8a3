package wind

import (
	"math"
	"strings"
	"testing"
)

func assess(t *testing.T, s Site, f Face, b Building, o Options) Assessment {
	t.Helper()
	a, err := Assess(s, f, b, o)
	if err != nil {
		t.Fatalf("Assess: %v", err)
	}
	return a
}

// A house worked by hand from the clauses: vb 26 m/s, terrain III, h 8 m,
// depth 8 m, face 20 m long, the whole face one wall.
//
//	qp: 661.8 Pa (Steel Buildings in Europe part 3, p 3-48: the same site)
//	e = min(8, 16) = 8: A to 1.6 m, B to 8 m, C from 8 m to 12 m
//	suction, cpe,1 and cpi +0.2: A 1.6, B 1.3, C 0.7 times qp
//	  (h/d = 1: E is -0.5, no worse than C)
//	pressure: D cpe,1 1.0 and cpi -0.3: 1.3 times qp
func TestAssessByHand(t *testing.T) {
	a := assess(t, Site{Velocity: 26, Terrain: "III"}, Face{Length: 20, Width: 20}, Building{8, 8}, Options{})
	want := []Load{
		{Strip{ZoneA, 0, 1.6}, 1058.9, 860.3},
		{Strip{ZoneB, 1.6, 8}, 860.3, 860.3},
		{Strip{ZoneC, 8, 12}, 463.3, 860.3},
		{Strip{ZoneB, 12, 18.4}, 860.3, 860.3},
		{Strip{ZoneA, 18.4, 20}, 1058.9, 860.3},
	}
	if len(a.Loads) != len(want) || len(a.Reasons) != 0 {
		t.Fatalf("%+v, want five strips and no reasons", a)
	}
	for i, w := range want {
		got := a.Loads[i]
		if show([]Strip{got.Strip}) != show([]Strip{w.Strip}) {
			t.Errorf("strip %d: %s, want %s", i, show([]Strip{got.Strip}), show([]Strip{w.Strip}))
		}
		if !near(got.Suction, w.Suction, 0.001) || !near(got.Pressure, w.Pressure, 0.001) {
			t.Errorf("strip %d: suction %.1f pressure %.1f, want %.1f and %.1f", i, got.Suction, got.Pressure, w.Suction, w.Pressure)
		}
	}
}

// On a building three times as high as deep, zone E (-0.6) is worse than C
// (-0.5): suction in the middle of the wall is that of the wind from behind.
// With 789 Pa and cpi 0.2: 0.8 x 789 = 631.2.
func TestAssessTakesTheWindFromBehind(t *testing.T) {
	site := Site{Given: 789, Source: "chart"}
	a := assess(t, site, Face{Length: 60, Width: 60}, Building{24, 8}, Options{})
	middle := a.Loads[len(a.Loads)/2]
	if middle.Zone != ZoneC || !near(middle.Suction, 631.2, 1e-9) {
		t.Errorf("middle strip %+v, want C with 631.2 Pa", middle)
	}
	// Its depth not known, E is taken at the table's worst: -0.7.
	a = assess(t, site, Face{Length: 200, Width: 200}, Building{Height: 24}, Options{})
	if middle = a.Loads[len(a.Loads)/2]; !near(middle.Suction, 0.9*789, 1e-9) {
		t.Errorf("middle strip %+v, want 0.9 x 789 Pa", middle)
	}
}

// EN 1991-1-4 figure 7.4.
func TestHeights(t *testing.T) {
	for _, test := range []struct {
		name string
		h, b float64
		want [][2]float64
	}{
		{"h <= b", 8, 20, [][2]float64{{0, 8}}},
		{"h = b", 8, 8, [][2]float64{{0, 8}}},
		{"b < h <= 2b", 14, 8, [][2]float64{{0, 8}, {8, 14}}},
		{"h = 2b", 16, 8, [][2]float64{{0, 8}, {8, 16}}},
		// scribd.com document 156788976 has h 77.36, b 28: between 28 and
		// 49.36 one strip.
		{"h > 2b", 77.36, 28, [][2]float64{{0, 28}, {28, 49.36}, {49.36, 77.36}}},
		{"h > 3b", 34, 10, [][2]float64{{0, 10}, {10, 17}, {17, 24}, {24, 34}}},
		{"b not known", 8, 0, [][2]float64{{0, 8}}},
		{"beyond the table", 80, 1, [][2]float64{{0, 80}}},
	} {
		got := heights(test.h, test.b)
		if len(got) != len(test.want) {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
			continue
		}
		for i, w := range test.want {
			if math.Abs(got[i][0]-w[0]) > 1e-9 || math.Abs(got[i][1]-w[1]) > 1e-9 {
				t.Errorf("%s: %v, want %v", test.name, got, test.want)
			}
		}
	}
}

// Bands take the pressure at their own tops: qp 1.403 kN/m2 at b and 1.658 at
// h (scribd.com document 156788976), times 0.8 + 0.3.
func TestBands(t *testing.T) {
	a := assess(t, Site{Velocity: 25, Terrain: "0"}, Face{Length: 28, Width: 28}, Building{77.36, 28}, Options{Area: 10})
	if len(a.Bands) != 3 {
		t.Fatalf("%d bands, want 3", len(a.Bands))
	}
	for _, test := range []struct {
		band int
		want float64
	}{{0, 1403 * 1.1}, {2, 1658 * 1.1}} {
		if got := a.Bands[test.band].Pressure; !near(got, test.want, 0.001) {
			t.Errorf("band %d: %.1f Pa, want %.1f", test.band, got, test.want)
		}
	}
	if a.Loads[0].Pressure != a.Bands[2].Pressure {
		t.Errorf("strips carry %.1f Pa, want that of the highest band, %.1f", a.Loads[0].Pressure, a.Bands[2].Pressure)
	}
}

// More wind, and less known of the wall, never mean less load on any point.
func TestAssessRises(t *testing.T) {
	f, b := Face{Length: 18, From: 2, Width: 12, Placed: true}, Building{7, 9}
	at := func(f Face, v float64, o Options, x float64) float64 {
		for _, l := range assess(t, Site{Velocity: v, Terrain: "II"}, f, b, o).Loads {
			if x >= l.From && x < l.To {
				return l.Suction
			}
		}
		t.Fatalf("no strip at %g", x)
		return 0
	}
	blind := f
	blind.Placed = false
	for x := 0.05; x < f.Width; x += 0.5 {
		last := 0.0
		for v := 20.0; v < 32; v++ {
			now := at(f, v, Options{}, x)
			if now <= last {
				t.Errorf("at %.2f: %.1f Pa at %g m/s, not above %.1f", x, now, v, last)
			}
			last = now
			if worse := at(blind, v, Options{}, x); worse < now {
				t.Errorf("at %.2f: %.1f Pa with the place known, %.1f without", x, now, worse)
			}
			for _, o := range []Options{{Area: 10}, {Inside: ExternalOnly}, {Inside: Equalised}} {
				if named := at(f, v, o, x); named > now {
					t.Errorf("at %.2f: %+v gives %.1f Pa, more than the default's %.1f", x, o, named, now)
				}
			}
		}
	}
}

func TestAssessRefuses(t *testing.T) {
	site, face, house := Site{Velocity: 24, Terrain: "II"}, Face{Length: 20, Width: 20}, Building{8, 8}
	for _, test := range []struct {
		name string
		s    Site
		f    Face
		b    Building
		o    Options
		says string
	}{
		{"no height", site, face, Building{Depth: 8}, Options{}, "height"},
		{"too high", site, face, Building{201, 60}, Options{}, "4.3.2"},
		{"h/d above 5", site, face, Building{41, 8}, Options{}, "table 7.1"},
		{"no wind", Site{}, face, house, Options{}, "velocity"},
		{"wall past its face", site, Face{Length: 5, Width: 20}, house, Options{}, "face"},
		{"negative area", site, face, house, Options{Area: -1}, "area"},
	} {
		if _, err := Assess(test.s, test.f, test.b, test.o); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, want an error that says %q", test.name, err, test.says)
		}
	}
	if a := assess(t, site, Face{Width: 20}, house, Options{}); len(a.Reasons) != 1 || a.Loads[0].Zone != ZoneA {
		t.Errorf("without a face length: %+v, want zone A and one reason", a)
	}
	// A given pressure stands in for the height.
	a := assess(t, Site{Given: 900}, face, Building{Depth: 8}, Options{})
	if !strings.Contains(strings.Join(a.Reasons, "\n"), "without a source") {
		t.Errorf("reasons %q do not say that the pressure has no source", a.Reasons)
	}
}
