package courses

import (
	"math/rand/v2"
	"testing"

	"lapwright/engine/measure"
)

// Marks of a run are rounded once from its start: none is more than half a
// millimetre off, neighbouring gauges differ by a millimetre at most, the run
// ends exactly, and the last mark below a height is found.
func TestRunRounding(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 5000 {
		per := int64(1 + r.IntN(40))
		a := run{from: measure.MM(int64(r.IntN(3000) - 500)), rise: per*120 + r.Int64N(per*30+1), per: per, count: per}
		low, high := a.rise/per, (a.rise+per-1)/per
		prev := a.from
		for q := int64(1); q <= per; q++ {
			c := a.mark(q)
			for h, want := range map[measure.Length]int64{c - 1: q - 1, c: q} {
				if got := a.below(h); got != want {
					t.Fatalf("%+v: mark %d at %v is the last below %v, want %d", a, got, a.mark(got), h, want)
				}
			}
			if !(c - a.from).Whole() {
				t.Fatalf("%+v: mark %d at %v is not whole", a, q, c)
			}
			// |c - exact| <= 1/2 mm, times 2 per to stay in whole numbers
			off := 2 * (int64((c-a.from)/measure.Millimetre)*per - q*a.rise)
			if off > per || -off > per {
				t.Fatalf("%+v: mark %d at %v is off by more than half a millimetre", a, q, c)
			}
			if g := int64((c - prev) / measure.Millimetre); g != low && g != high {
				t.Fatalf("%+v: gauge %d is %d, want %d or %d", a, q, g, low, high)
			}
			prev = c
		}
		if end := a.from + measure.MM(a.rise); prev != end {
			t.Fatalf("%+v ends at %v, want %v", a, prev, end)
		}
	}
}

// 2368 mm in 19 gauges are 124.6316 mm each (arithmetic: 2368/19); 1 mm in 3
// is 0.3333 mm.
func TestGauge(t *testing.T) {
	for _, c := range []struct {
		rise, per int64
		want      measure.Length
	}{{2368, 19, 124632}, {1485, 11, 135000}, {1, 3, 333}, {2, 3, 667}, {1, 2, 500}} {
		if got := (run{rise: c.rise, per: c.per}).gauge(); got != c.want {
			t.Errorf("gauge of %d mm in %d = %d um, want %d", c.rise, c.per, got, c.want)
		}
	}
}

// One board of 175 mm stands with its bottom at 1000 on one at 865 (gauge 135,
// lap 40), strips under 50 mm are fragile. Each case is worked by hand from
// those three numbers: the board below ends at 1040, this one at 1175.
func TestJudgeOpening(t *testing.T) {
	l := &line{width: measure.MM(175), strip: measure.MM(50), lapMost: measure.MM(50)}
	for _, c := range []struct {
		name          string
		kind          Kind
		at, limit     int64
		way           Way
		notch, strip  int64
		fragile, bare bool
	}{
		{name: "sill on the course line: one lap out of the board below", kind: Sill, at: 1000, way: CourseLine, notch: 40},
		{name: "sill on the first course line: nothing below", kind: Sill, at: 1000, bare: true, way: CourseLine},
		{name: "sill within the lap: 1040 - 1025", kind: Sill, at: 1025, way: Partly, notch: 15},
		{name: "sill at the top of the board below", kind: Sill, at: 1040, way: BoardTop},
		{name: "sill just above it: 1175 - 1041 out, 41 left", kind: Sill, at: 1041, notch: 134, strip: 41, fragile: true},
		{name: "strip of just 50 holds", kind: Sill, at: 1050, notch: 125, strip: 50},
		{name: "sill in the first board's foot", kind: Sill, at: 1020, bare: true, notch: 155, strip: 20, fragile: true},
		{name: "sill high in the face", kind: Sill, at: 1120, notch: 55, strip: 120},
		{name: "sill at this board's top, the last", kind: Sill, at: 1175, way: BoardTop},
		{name: "sill above all boards", kind: Sill, at: 1200, way: Clear},
		{name: "sill below all boards", kind: Sill, at: 990, bare: true, way: Clear},
		{name: "head on the course line", kind: Head, at: 1000, way: CourseLine},
		{name: "head just above it: 1 out, 174 left", kind: Head, at: 1001, notch: 1, strip: 174},
		{name: "head high in the face: 1175 - 1126", kind: Head, at: 1126, notch: 126, strip: 49, fragile: true},
		{name: "head under a top at 1150: 1150 - 1110", kind: Head, at: 1110, limit: 1150, notch: 110, strip: 40, fragile: true},
		{name: "head at the wall's top", kind: Head, at: 1150, limit: 1150, way: Clear},
		{name: "course not needed: the board below ends at 1030", kind: Head, at: 1010, limit: 1030, notch: 145, strip: 20, fragile: true},
		{name: "met, but course not needed: strip in the lap", kind: Head, at: 1000, limit: 1040, notch: 135, strip: 40, fragile: true},
		{name: "head above all boards", kind: Head, at: 1175, way: Clear},
	} {
		prev := measure.MM(865)
		if c.bare {
			prev = none
		}
		target := Target{Kind: c.kind, At: measure.MM(c.at), Limit: measure.MM(c.limit)}
		got := l.inCourse(&target, prev, measure.MM(1000))
		want := verdict{way: c.way, notch: measure.MM(c.notch), strip: measure.MM(c.strip), fragile: c.fragile}
		if got != want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, want)
		}
	}
}

// The short way of charging an opening deep in a board's face is the long one.
func TestChargeDeep(t *testing.T) {
	l := &line{width: measure.MM(175), strip: measure.MM(50), lapMost: measure.MM(50)}
	for at := int64(1051); at < 1145; at++ {
		for _, target := range []Target{{Kind: Sill}, {Kind: Head}, {Kind: Head, Limit: measure.MM(1110)}, {Kind: Head, Limit: measure.MM(1180)}} {
			target.At, target.Count, target.Sawing = measure.MM(at), 3, measure.MM(900)
			var short, long Cost
			l.chargeDeep(&short, &target, measure.MM(1000))
			long.charge(&target, l.inCourse(&target, measure.MM(865), measure.MM(1000)))
			if short != long {
				t.Errorf("%v at %d under %v: %+v, want %+v", target.Kind, at, target.Limit, short, long)
			}
		}
	}
}

// The last board of a wall, 175 mm wide, with its bottom at 1000.
func TestJudgeLevel(t *testing.T) {
	l := &line{width: measure.MM(175), strip: measure.MM(50)}
	for _, c := range []struct {
		name    string
		target  Target
		c       measure.Length
		way     Way
		strip   int64
		fragile bool
	}{
		{"full top board", Target{Kind: Top, At: measure.MM(1175)}, measure.MM(1000), FullBoard, 175, false},
		{"ripped", Target{Kind: Top, At: measure.MM(1120)}, measure.MM(1000), Missed, 120, false},
		{"ripped to a sliver", Target{Kind: Top, At: measure.MM(1049)}, measure.MM(1000), Missed, 49, true},
		{"wall ends below the boards", Target{Kind: Top, At: measure.MM(1000)}, measure.MM(1000), Clear, 0, false},
		{"apex with room", Target{Kind: Apex, At: measure.MM(1090), Least: measure.MM(90)}, measure.MM(1000), Clear, 90, false},
		{"apex too small", Target{Kind: Apex, At: measure.MM(1089), Least: measure.MM(90)}, measure.MM(1000), Missed, 89, true},
		{"eaves met", Target{Kind: Eaves, At: measure.MM(1000)}, measure.MM(1000), CourseLine, 0, false},
		{"eaves missed", Target{Kind: Eaves, At: measure.MM(999)}, measure.MM(1000), Missed, 0, false},
		{"base met", Target{Kind: Base, At: measure.MM(1000)}, measure.MM(1000), CourseLine, 0, false},
		{"base 30 mm too high", Target{Kind: Base, At: measure.MM(970)}, measure.MM(1000), Missed, 30, false},
		{"base above all marks", Target{Kind: Base, At: measure.MM(1970)}, none, Missed, 0, false},
		{"pin kept", Target{Kind: Pin, At: measure.MM(1000)}, measure.MM(1000), CourseLine, 0, false},
		{"pin above all marks", Target{Kind: Pin, At: measure.MM(1300)}, none, Missed, 0, false},
	} {
		got := l.level(&c.target, c.c)
		want := verdict{way: c.way, strip: measure.MM(c.strip), fragile: c.fragile}
		if got != want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, want)
		}
	}
}

// Costs are compared field by field: each field outweighs all after it.
func TestCostOrder(t *testing.T) {
	rising := []Cost{
		{}, {Courses: 9}, {Step: 1}, {Step: 1, Courses: 1}, {Work: 1}, {Work: 1, Step: 5},
		{Fragile: 1}, {Fragile: 1, Work: 1}, {OverStep: 1}, {OverStep: 1, Fragile: 9}, {Pins: 1}, {Pins: 1, Courses: 1},
	}
	for i, a := range rising {
		for j, b := range rising {
			if got := a.Compare(b) < 0; got != (i < j) {
				t.Errorf("%+v before %+v: %v", a, b, got)
			}
			if got := a.less(&b); got != (i < j) {
				t.Errorf("%+v less than %+v: %v", a, b, got)
			}
			if sum := a.plus(&b); sum.less(&a) {
				t.Errorf("%+v plus %+v is less", a, b)
			}
		}
	}
}

// Heights that a whole number of gauges from 125 to 145 reaches: 125 to 145,
// 250 to 290, 375 to 435, 500 to 580, 625 to 725, 750 to 870 and, as 7 x 125 =
// 875, 8 x 125 = 1000 < 1015 = 7 x 145, every height from 875 on.
func TestReach(t *testing.T) {
	l := &line{lo: 125, hi: 145}
	for _, c := range []struct{ rise, up, down int64 }{
		{125, 0, 0}, {145, 0, 0}, {146, 104, -1}, {240, 10, -95}, {291, 84, -1},
		{374, 1, -84}, {440, 60, -5}, {872, 3, -2}, {875, 0, 0}, {1016, 0, 0}, {4321, 0, 0},
		{100, 25, -100}, {-5, 5, 0},
	} {
		up, down := l.reach(measure.MM(c.rise))
		if up != measure.MM(c.up) || down != measure.MM(c.down) {
			t.Errorf("reach(%d) = %v, %v, want %d, %d", c.rise, up, down, c.up, c.down)
		}
	}
}

// What the search adds up along its stretches is what the plan costs when all
// its marks are judged at once. Heights are multiples of 5 mm, so that marks,
// laps and targets often fall together.
func TestSearchAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 13))
	five := func(lo, n int) measure.Length { return measure.MM(int64(lo + 5*r.IntN(n))) }
	for range 1500 {
		p := Problem{Width: five(150, 10), LapLeast: five(20, 4), GaugeStepMost: five(0, 4), StripLeast: five(30, 8), Start: five(0, 40)}
		p.LapMost = p.LapLeast + five(0, 6)
		top := five(1500, 700)
		p.Targets = append(p.Targets, Target{Kind: Top, At: top, Sawing: five(0, 900)})
		for range r.IntN(12) {
			target := Target{Kind: Kind(r.IntN(int(Pin) + 1)), At: five(-20, 500), Count: r.IntN(4), Sawing: five(0, 400), Least: five(60, 10)}
			if target.opening() && r.IntN(2) == 0 {
				target.Limit = target.At + five(0, 50)
			}
			p.Targets = append(p.Targets, target)
		}
		l, err := newLine(&p)
		if err != nil {
			t.Fatal(err)
		}
		for _, spare := range []bool{false, true} {
			l.wish(spare)
			runs, cost, _ := l.solve()
			if got := l.plan(p, runs).Cost; got != cost {
				t.Fatalf("search %+v, plan %+v: %+v", cost, got, p)
			}
		}
	}
}
