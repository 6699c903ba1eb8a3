package fixing

import (
	"math"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*math.Abs(want)
}

func mm(n int64) measure.Length { return measure.MM(n) }

// um returns micrometres: 3.35 mm is um(3350).
func um(n int64) measure.Length { return measure.Length(n) }

func TestScrewWithdrawal(t *testing.T) {
	// Worked by hand from EN 1995-1-1 (8.38) to (8.40), rho_k 350 kg/m3, so
	// 350^0.8 = 108.469:
	//   d 6, lef 40: 0.52 x 0.408248 x 0.691502 x 108.469 = 15.923 N/mm2,
	//     x 6 x 40 x 6/8 = 2866 N; x 0.9/1.3 = 1984 N
	//   d 8, lef 60: 0.52 x 0.353553 x 0.664034 x 108.469 = 13.242 N/mm2,
	//     x 8 x 60 x 1 = 6356 N; x 0.9/1.3 = 4400 N
	for _, test := range []struct {
		d, lef measure.Length
		rk, rd float64
	}{
		{mm(6), mm(40), 2865.8, 1984.0},
		{mm(8), mm(60), 6355.3, 4399.9},
	} {
		f := Fastener{Diameter: test.d, Penetration: test.lef}
		rk, err := f.screwWithdrawal(350)
		if err != nil || !near(rk, test.rk, 1e-4) {
			t.Errorf("d %v: Rk = %.1f, %v, want %.1f N", test.d, rk, err, test.rk)
		}
		s, err := f.Withdrawal(Timber{Class: "C24", Service: 2})
		if err != nil || !near(s.Design, test.rd, 1e-4) {
			t.Errorf("d %v: Rd = %.1f, %v, want %.1f N", test.d, s.Design, err, test.rd)
		}
		if !strings.Contains(s.Basis, "8.7.2") {
			t.Errorf("basis %q does not name the clause", s.Basis)
		}
	}
}

func TestNailWithdrawal(t *testing.T) {
	// By hand from EN 1995-1-1 (8.25): 20e-6 x 350^2 = 2.45 N/mm2;
	// d 3.35, 12 d = 40.2 mm: 2.45 x 3.35 x 40.2 = 329.9 N.
	// d 3.1, 10 d = 31 mm, rho 310: 1.922 x 3.1 x 31 = 184.7, x (10/4 - 2) = 92.4 N.
	for _, test := range []struct {
		d, pen measure.Length
		rho    float64
		want   float64
	}{
		{um(3350), um(40200), 350, 329.9},
		{um(3100), mm(31), 310, 92.4},
		// 8 d: 8/4 - 2 = 0. The clause lets the value fall to nothing there.
		{mm(3), mm(24), 350, 0},
		// Beyond 12 d the factor stays 1: 2.45 x 3 x 60 = 441.
		{mm(3), mm(60), 350, 441},
	} {
		f := Fastener{Nail: true, Diameter: test.d, Penetration: test.pen}
		got, err := f.nailWithdrawal(test.rho)
		if err != nil || math.Abs(got-test.want) > 0.05 {
			t.Errorf("nail %v x %v: %.2f N, %v, want %.1f", test.d, test.pen, got, err, test.want)
		}
	}
	s, err := Fastener{Nail: true, Diameter: um(3350), Penetration: um(40200)}.Withdrawal(Timber{Class: "C24", Service: 1, Duration: "instantaneous"})
	if err != nil || !near(s.Design, 329.9*1.1/1.3, 1e-3) || !strings.Contains(s.Basis, "8.3.2") {
		t.Errorf("design nail withdrawal %+v, %v, want %.1f N by 8.3.2", s, err, 329.9*1.1/1.3)
	}
}

func TestHeadPull(t *testing.T) {
	// A published program output (third party): d 5, dh 10, C24, permanent, so
	// kmod 0.6, gammaM 1.3, fhead = 70e-6 x 350^2 = 8.575 N/mm2: 395.77 N.
	f := Fastener{Diameter: mm(5), Head: mm(10), Penetration: mm(50)}
	s, err := f.HeadPull(Timber{Class: "C24", Service: 1, Duration: "permanent"})
	if err != nil || math.Abs(s.Design-395.77) > 0.005 {
		t.Errorf("head pull-through %.3f N, %v, want 395.77", s.Design, err)
	}
	for _, bad := range []Fastener{
		{Diameter: mm(5)}, {Head: mm(10)}, {Diameter: mm(5), Head: mm(4)}, {Diameter: mm(5), Head: mm(31)},
	} {
		if s, err := bad.HeadPull(Timber{Class: "C24"}); err == nil {
			t.Errorf("HeadPull of %+v = %+v, want an error", bad, s)
		}
	}
}

func TestTimberTables(t *testing.T) {
	// EN 338 table 1: C18 as read, the others from memory.
	for class, want := range map[string]float64{"C14": 290, "C16": 310, "C18": 320, "C20": 330, "C22": 340, "C24": 350, "C27": 360, "C30": 380} {
		if got, err := (Timber{Class: class}).density(); err != nil || got != want {
			t.Errorf("density of %s = %g, %v, want %g", class, got, err, want)
		}
	}
	if got, _ := (Timber{Class: "C16", Density: 300}).density(); got != 300 {
		t.Errorf("a declared density of 300 does not come before the class: %g", got)
	}
	// EN 1995-1-1 table 3.1 (from memory): short 0.9, instantaneous 1.1 in
	// service classes 1 and 2; permanent 0.6.
	for _, test := range []struct {
		timber Timber
		want   float64
	}{
		{Timber{Service: 1}, 0.9}, {Timber{Service: 2}, 0.9}, {Timber{Service: 3}, 0.7}, {Timber{}, 0.7},
		{Timber{Service: 2, Duration: "instantaneous"}, 1.1}, {Timber{Service: 3, Duration: "instantaneous"}, 0.9},
		{Timber{Service: 1, Duration: "permanent"}, 0.6}, {Timber{Service: 3, Duration: "permanent"}, 0.5},
		{Timber{Service: 1, Duration: "long"}, 0.7}, {Timber{Service: 1, Duration: "medium"}, 0.8},
	} {
		if got, err := test.timber.kmod(); err != nil || got != test.want {
			t.Errorf("kmod of %+v = %g, %v, want %g", test.timber, got, err, test.want)
		}
	}
}

func TestWithdrawalRefuses(t *testing.T) {
	c24 := Timber{Class: "C24", Service: 2}
	for _, test := range []struct {
		name string
		f    Fastener
		t    Timber
		says string
	}{
		{"screw too thin", Fastener{Diameter: um(5999), Penetration: mm(50)}, c24, "declare"},
		{"common cladding screw", Fastener{Diameter: um(4500), Penetration: mm(30)}, c24, "declare"},
		{"screw too thick", Fastener{Diameter: um(12001), Penetration: mm(90)}, c24, "declare"},
		{"no diameter", Fastener{Penetration: mm(90)}, c24, "declare"},
		{"screw not deep enough", Fastener{Diameter: mm(6), Penetration: um(35999)}, c24, "6 d = 36 mm"},
		{"thread too thin", Fastener{Diameter: mm(6), Inner: um(3599), Penetration: mm(40)}, c24, "8.7.2(4)"},
		{"thread too thick", Fastener{Diameter: mm(6), Inner: um(4501), Penetration: mm(40)}, c24, "8.7.2(4)"},
		{"nail not deep enough", Fastener{Nail: true, Diameter: mm(3), Penetration: um(23999)}, c24, "8 d = 24 mm"},
		{"nail without shank", Fastener{Nail: true, Penetration: mm(30)}, c24, "declare"},
		{"nail too thick", Fastener{Nail: true, Diameter: mm(9), Penetration: mm(100)}, c24, "declare"},
		{"nail under a lasting load", Fastener{Nail: true, Diameter: mm(3), Penetration: mm(40)}, Timber{Class: "C24", Duration: "permanent"}, "8.3.2(2)"},
		{"nail at 8 d holds nothing", Fastener{Nail: true, Diameter: mm(3), Penetration: mm(24)}, c24, "0 N"},
		{"no class", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{}, "EN 338"},
		{"no such class", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{Class: "C17"}, "EN 338"},
		{"density in g/cm3", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{Density: 0.35}, "density"},
		{"no such service class", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{Class: "C24", Service: 4}, "service class"},
		{"no such duration", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{Class: "C24", Duration: "windy"}, "duration"},
		{"partial factor below 1", Fastener{Diameter: mm(6), Penetration: mm(40)}, Timber{Class: "C24", Gamma: 0.9}, "partial factor"},
	} {
		s, err := test.f.Withdrawal(test.t)
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %+v, %v, want an error that says %q", test.name, s, err, test.says)
		}
	}
	// The limits themselves are inside the clause.
	for _, f := range []Fastener{
		{Diameter: mm(6), Inner: um(3600), Penetration: mm(36)},
		{Diameter: mm(12), Inner: mm(9), Penetration: mm(72)},
	} {
		if _, err := f.Withdrawal(c24); err != nil {
			t.Errorf("%+v: %v, want none", f, err)
		}
	}
	if _, err := c24.Design(math.NaN(), "x"); err == nil {
		t.Error("Design of no number: want an error")
	}
}

// Deeper, thicker and in denser timber never means weaker.
func TestWithdrawalRises(t *testing.T) {
	for d := int64(6); d < 12; d++ {
		for lef := int64(72); lef < 120; lef += 7 {
			for rho := 290.0; rho < 400; rho += 30 {
				base := Fastener{Diameter: mm(d), Penetration: mm(lef)}
				r, err := base.screwWithdrawal(rho)
				if err != nil {
					t.Fatal(err)
				}
				deeper, _ := Fastener{Diameter: mm(d), Penetration: mm(lef + 1)}.screwWithdrawal(rho)
				thicker, _ := Fastener{Diameter: mm(d + 1), Penetration: mm(lef)}.screwWithdrawal(rho)
				denser, _ := base.screwWithdrawal(rho + 1)
				if min(deeper, thicker, denser) <= r {
					t.Errorf("d %d lef %d rho %g: %.1f N; deeper %.1f, thicker %.1f, denser %.1f", d, lef, rho, r, deeper, thicker, denser)
				}
			}
		}
	}
}
