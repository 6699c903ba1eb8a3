package wind

import (
	"math"
	"testing"
)

func cpe(t *testing.T, zone Zone, slender, area float64) float64 {
	t.Helper()
	c, err := coefficient(zone, slender, area)
	if err != nil {
		t.Fatalf("coefficient(%s, %g, %g): %v", zone, slender, area, err)
	}
	return c
}

// EN 1991-1-4 table 7.1, its three rows and two columns.
func TestTable71(t *testing.T) {
	for _, row := range []struct {
		slender  float64
		ten, one [5]float64 // A to E
	}{
		{5, [5]float64{-1.2, -0.8, -0.5, 0.8, -0.7}, [5]float64{-1.4, -1.1, -0.5, 1.0, -0.7}},
		{1, [5]float64{-1.2, -0.8, -0.5, 0.8, -0.5}, [5]float64{-1.4, -1.1, -0.5, 1.0, -0.5}},
		{0.25, [5]float64{-1.2, -0.8, -0.5, 0.7, -0.3}, [5]float64{-1.4, -1.1, -0.5, 1.0, -0.3}},
	} {
		for i, zone := range []Zone{ZoneA, ZoneB, ZoneC, ZoneD, ZoneE} {
			if got := cpe(t, zone, row.slender, 10); !near(got, row.ten[i], 1e-12) {
				t.Errorf("cpe,10 of %s at h/d %g = %g, want %g", zone, row.slender, got, row.ten[i])
			}
			if got := cpe(t, zone, row.slender, 1); !near(got, row.one[i], 1e-12) {
				t.Errorf("cpe,1 of %s at h/d %g = %g, want %g", zone, row.slender, got, row.one[i])
			}
		}
	}
}

func TestSlendernessBetweenRows(t *testing.T) {
	// Wind pressure in buildings by EC1, scribd.com document 156788976:
	// h/d 77.36/28 = 2.763, E -0.588; with qp 1.658 and 1.403 kN/m2 the
	// pressures are +1.326, -0.975 and +1.123, -0.825 kN/m2.
	const slender = 77.36 / 28
	e, d := cpe(t, ZoneE, slender, 10), cpe(t, ZoneD, slender, 10)
	if !rounded(e, -0.588, 3) {
		t.Errorf("E at h/d %.3f = %.4f, want -0.588", slender, e)
	}
	for _, test := range []struct{ z, d, e float64 }{{77.36, 1326, -975}, {28, 1123, -825}} {
		qp := peak(t, Site{Velocity: 25, Terrain: "0"}, test.z).Pressure
		if got := qp * d; math.Abs(got-test.d) > 1 {
			t.Errorf("D at %g m: %.1f Pa, want %g within 1", test.z, got, test.d)
		}
		if got := qp * e; math.Abs(got-test.e) > 1 {
			t.Errorf("E at %g m: %.1f Pa, want %g within 1", test.z, got, test.e)
		}
	}
	// Half way between two rows, by hand: h/d 0.625 is half way from 0.25 to 1.
	if got := cpe(t, ZoneD, 0.625, 10); !near(got, 0.75, 1e-12) {
		t.Errorf("D at h/d 0.625 = %g, want 0.75", got)
	}
	if got := cpe(t, ZoneE, 0.625, 10); !near(got, -0.4, 1e-12) {
		t.Errorf("E at h/d 0.625 = %g, want -0.4", got)
	}
}

// EN 1991-1-4 figure 7.2 (from memory): cpe = cpe,1 - (cpe,1 - cpe,10) log A.
func TestAreaBetweenOneAndTen(t *testing.T) {
	root := math.Sqrt(10) // half way on the logarithmic scale
	for _, test := range []struct {
		zone       Zone
		area, want float64
	}{
		{ZoneA, 0.01, -1.4}, {ZoneA, root, -1.3}, {ZoneA, 500, -1.2},
		{ZoneB, 0.5, -1.1}, {ZoneB, root, -0.95}, {ZoneB, 10, -0.8},
		{ZoneD, root, 0.9}, {ZoneC, root, -0.5},
		{ZoneA, 2, -1.4 + 0.2*0.30103}, // log10 2
	} {
		if got := cpe(t, test.zone, 1, test.area); math.Abs(got-test.want) > 1e-6 {
			t.Errorf("%s at %.3g m2 = %g, want %g", test.zone, test.area, got, test.want)
		}
	}
	for a := 0.5; a < 20; a *= 1.1 {
		for _, z := range []Zone{ZoneA, ZoneB, ZoneC, ZoneD, ZoneE} {
			if small, large := math.Abs(cpe(t, z, 1, a)), math.Abs(cpe(t, z, 1, a*1.1)); large > small {
				t.Errorf("%s: %g at %.2f m2 but %g at %.2f: a larger area may not be worse", z, small, a, large, a*1.1)
			}
		}
	}
}

func TestCoefficientRefuses(t *testing.T) {
	for _, test := range []struct {
		zone          Zone
		slender, area float64
	}{
		{ZoneE, 5.01, 1}, {ZoneE, -0.1, 1}, {ZoneE, math.NaN(), 1},
		{ZoneA, 1, 0}, {ZoneA, 1, -1}, {ZoneA, 1, math.NaN()}, {"F", 1, 1}, {"", 1, 1},
	} {
		if c, err := coefficient(test.zone, test.slender, test.area); err == nil {
			t.Errorf("coefficient(%q, %g, %g) = %g, want an error", test.zone, test.slender, test.area, c)
		}
	}
}

// EN 1991-1-4 7.2.9(6) note 2 and 7.2.10(3) (the latter from memory).
func TestInside(t *testing.T) {
	for _, test := range []struct {
		name          string
		in            Inside
		off, on       float64
		offWant, want float64
	}{
		// A, cpe,1 -1.4: -1.4 - 0.2; D, cpe,1 1.0: 1.0 + 0.3.
		{"onerous", Onerous, -1.4, 1.0, 1.6, 1.3},
		{"external only", ExternalOnly, -1.4, 1.0, 1.4, 1.0},
		{"equalised", Equalised, -1.5, 0.9, 0.5, 0.6},
	} {
		if got := test.in.suction(test.off); !near(got, test.offWant, 1e-12) {
			t.Errorf("%s: net suction of %g = %g, want %g", test.name, test.off, got, test.offWant)
		}
		if got := test.in.pressure(test.on); !near(got, test.want, 1e-12) {
			t.Errorf("%s: net pressure of %g = %g, want %g", test.name, test.on, got, test.want)
		}
	}
	// The default is never better than a named choice.
	for c := 0.0; c < 2; c += 0.1 {
		for _, in := range []Inside{ExternalOnly, Equalised} {
			if in.suction(-c) > Onerous.suction(-c) || in.pressure(c) > Onerous.pressure(c) {
				t.Errorf("inside %d at %g is worse than the default", in, c)
			}
		}
	}
}
