package courses_test

import (
	"errors"
	"slices"
	"testing"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// millimetres gives lengths as whole millimetres.
func millimetres(ls []measure.Length) []int {
	out := make([]int, len(ls))
	for i, l := range ls {
		out[i] = inMM(l)
	}
	return out
}

// row returns n marks from c, a gauge apart.
func row(c, gauge, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = c + i*gauge
	}
	return out
}

// Published and arithmetic set-outs with one height to meet.
func TestCheckValues(t *testing.T) {
	mm := measure.MM
	for _, c := range []struct {
		name, source      string
		width, least, top int64 // board, least and most lap
		target            courses.Target
		boards, gauges    int
		low, high         int // rounded gauges
	}{
		{"175 mm board, 1485 mm from first to last top",
			"arithmetic: 1485/11 = 135; /10 = 148.5 and /12 = 123.75 leave the lap's 30 to 50",
			175, 30, 50, courses.Target{Kind: courses.Top, At: mm(175 + 1485)}, 12, 11, 135, 135},
		{"200 mm board, 1600 mm from first to last top",
			"common practice: ten gauges of 160, lap 40",
			200, 30, 50, courses.Target{Kind: courses.Top, At: mm(200 + 1600)}, 11, 10, 160, 160},
		{"152 mm board, 2520 mm in whole gauges",
			"trainee set-out exercise, tttvandamme.blogspot.com, 2008: 20 courses at 126, lap 26; the last course counts its gauge only",
			152, 25, 30, courses.Target{Kind: courses.Eaves, At: mm(2520)}, 21, 20, 126, 126},
		{"152 mm board, 2520 mm with a full top board",
			"the same wall by arithmetic: (2520 - 152)/19 = 124.6, /18 = 131.6 laps less than 25",
			152, 25, 30, courses.Target{Kind: courses.Top, At: mm(2520)}, 20, 19, 124, 125},
	} {
		end := c.target.At
		if c.target.Kind == courses.Eaves {
			end += mm(c.width) // a board stands on the line
		}
		plan, err := courses.SetOut(courses.Problem{
			Width: mm(c.width), LapLeast: mm(c.least), LapMost: mm(c.top), End: end, Targets: []courses.Target{c.target},
		})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if plan.Outcomes[0].Met == courses.Missed || len(plan.Marks) != c.boards {
			t.Errorf("%s: %d boards, met %q, want %d (%s)", c.name, len(plan.Marks), plan.Outcomes[0].Met, c.boards, c.source)
		}
		for k := range c.gauges {
			if g := inMM(plan.Marks[k+1] - plan.Marks[k]); g < c.low || g > c.high {
				t.Errorf("%s: gauge %d is %d, want %d to %d (%s)", c.name, k, g, c.low, c.high, c.source)
			}
		}
	}
}

// A wall with three windows at two sill heights, worked by hand.
//
// Board 175, lap 30 to 50: gauges 125 to 145. First board at 150, gaps of 10.
// Windows 1 and 2 (1200 wide): underside of sill 970, so the boards see 960;
// head 2030, so 2040. Window 3 (600 wide): sill 1415, so 1405; the same head.
// Soffit 2600, so the boards end at 2590 and c_n should be 2590 - 175 = 2415.
//
//   - Sill 960 by course line: 960 - 150 = 810 = 6 x 135 (5 x 162, 7 x 115.7
//     are out). By board top at 960 - 175 = 785: 635 = 5 x 127.
//   - Sill 1405 by course line from 960: 445 = 3 x 148.3 or 4 x 111.3: out.
//     By board top at 1405 - 175 = 1230 from 960: 270 = 2 x 135. From 785:
//     1230 is 445 above, out; 1405 is 620 above, 4 x 155 or 5 x 124: out. So
//     both sills can be met only as 960 by course line, 1405 by board top.
//   - Head 2040 from 1230: 810 = 6 x 135. Top 2415 from 2040: 375 = 3 x 125.
//
// Marks: 150 + 135k up to 2040 (k = 14), then 2165, 2290, 2415. The one step
// of gauge is 10, just within the limit. Two windows are notched by the lap of
// 40: 2 x (1200 + 2 x 40) = 2560 mm of work; one board top counts 300.
func TestThreeWindows(t *testing.T) {
	p := board175()
	mm := measure.MM
	p.Targets = []courses.Target{
		{Kind: courses.Sill, At: mm(960), Count: 2, Sawing: mm(1200), Limit: mm(2590), ID: 11},
		{Kind: courses.Head, At: mm(2040), Count: 2, Sawing: mm(1200), Limit: mm(2590), ID: 12},
		{Kind: courses.Sill, At: mm(1405), Sawing: mm(600), Limit: mm(2590), ID: 31},
		{Kind: courses.Head, At: mm(2040), Sawing: mm(600), Limit: mm(2590), ID: 32},
		{Kind: courses.Top, At: mm(2590), Sawing: mm(8000), ID: 4},
	}
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	marks := slices.Concat(row(150, 135, 15), []int{2165, 2290, 2415})
	if got := millimetres(plan.Marks); !slices.Equal(got, marks) {
		t.Errorf("marks\n got %v\nwant %v", got, marks)
	}
	if want := (courses.Cost{Work: mm(2860), Step: mm(10), Courses: 18}); plan.Cost != want {
		t.Errorf("cost %+v, want %+v", plan.Cost, want)
	}
	want := []courses.Outcome{
		{Met: courses.CourseLine, Notch: mm(40), Course: 6},
		{Met: courses.CourseLine, Course: 14},
		{Met: courses.BoardTop, Course: 8},
		{Met: courses.CourseLine, Course: 14},
		{Met: courses.FullBoard, Strip: mm(175), Course: 17},
	}
	for i := range want {
		want[i].Target = p.Targets[i]
	}
	if !slices.Equal(plan.Outcomes, want) {
		t.Errorf("outcomes\n got %+v\nwant %+v", plan.Outcomes, want)
	}
	// By one gauge: 2265 in 16 gauges is 141.6, in 17 133.2, in 18 125.8. The
	// middle of 125 to 145 is 135, so 17. The marks about the openings:
	// 150 + round(6 x 133.235) = 949, 1083, 1216, 1349, 1482 and 14 x 133.235
	// = 1865.3, so 2015, then 2149: sill 960 is in the lap 949 + 40 = 989 or
	// so, sill 1405 and head 2040 are missed.
	hand, err := courses.Uniform(p)
	if err != nil {
		t.Fatal(err)
	}
	if got := inMM(hand.Marks[6]); got != 949 || len(hand.Marks) != 18 || inMM(hand.Marks[17]) != 2415 {
		t.Errorf("uniform marks %v", millimetres(hand.Marks))
	}
	for i, met := range []courses.Way{courses.Partly, courses.Missed, courses.Missed, courses.Missed, courses.FullBoard} {
		if hand.Outcomes[i].Met != met {
			t.Errorf("uniform: target %d met %q, want %q", i, hand.Outcomes[i].Met, met)
		}
	}
}

// A gable worked by hand. First board at 150, eaves wanted at 2310, apex 4000,
// whose last board should be 90 high or more.
//
// To the eaves: 2160 = 15 x 144 = 16 x 135 = 17 x 127.06. Above them the last
// mark must lie from 4000 - 175 = 3825 to 4000 - 90 = 3910. Going on at 144:
// 11 x 144 = 1584, so 3894: 106 high, good, and no step of gauge. Going on at
// 135: 3795 is not the last (its top is 3970), 3930 leaves 70: too small, a
// step is needed. 17 x 127.06 takes more courses. So 26 gauges of 144.
func TestGable(t *testing.T) {
	p := board175()
	p.End = measure.MM(4000)
	p.Targets = []courses.Target{
		{Kind: courses.Eaves, At: measure.MM(2310)},
		{Kind: courses.Apex, At: measure.MM(4000), Least: measure.MM(90)},
	}
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := millimetres(plan.Marks), row(150, 144, 27); !slices.Equal(got, want) {
		t.Errorf("marks\n got %v\nwant %v", got, want)
	}
	if o := plan.Outcomes[1]; o.Strip != measure.MM(106) || o.Met != courses.Clear {
		t.Errorf("apex: %+v, want a last board of 106", o)
	}
}

// Two walls on one line, the second on ground 540 higher. Alone, the first
// ends on a full board with the fewest courses at 15 gauges of 144 (2310 - 150
// = 2160). The base at 690 is 540 above: 4 x 135 and nothing else; from there
// 1620 = 12 x 135 and nothing else (11 x 147.3, 13 x 124.6).
func TestSteppedBase(t *testing.T) {
	p := board175()
	p.Targets = []courses.Target{{Kind: courses.Top, At: measure.MM(2485)}}
	alone, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := millimetres(alone.Marks), row(150, 144, 16); !slices.Equal(got, want) {
		t.Errorf("alone\n got %v\nwant %v", got, want)
	}
	p.Targets = append(p.Targets, courses.Target{Kind: courses.Base, At: measure.MM(690)})
	both, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := millimetres(both.Marks), row(150, 135, 17); !slices.Equal(got, want) {
		t.Errorf("with the base\n got %v\nwant %v", got, want)
	}
	// At 144 the base at 690 would start at 150 + 4 x 144 = 726.
	if o := mustOutcome(t, p, measure.MM(144), 1); o.Off != measure.MM(36) || o.Met != courses.Missed || o.Course != 4 {
		t.Errorf("base at a gauge of 144: %+v, want 36 too high at course 4", o)
	}
}

// mustOutcome sets out with a pinned gauge and returns one outcome.
func mustOutcome(t *testing.T, p courses.Problem, gauge measure.Length, i int) courses.Outcome {
	t.Helper()
	p.PinGauge = gauge
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	return plan.Outcomes[i]
}

// A pinned gauge is kept over the whole line, rounded once: 124.6 x 5 = 623.
func TestPinGauge(t *testing.T) {
	p := courses.Problem{Width: measure.MM(152), LapLeast: measure.MM(25), LapMost: measure.MM(30),
		End: measure.MM(775), PinGauge: 124600}
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := millimetres(plan.Marks), []int{0, 125, 249, 374, 498, 623}; !slices.Equal(got, want) {
		t.Errorf("marks %v, want %v", got, want)
	}
}

// A pinned mark goes before everything: the top at 2310 + 175 would be full
// with gauges of 144 or 135, but the pin at 1420 is 1270 up: 9 x 141.1 or 10 x
// 127, and from there 890 = 7 x 127.1 is in reach, so both are kept. A pin at
// 300, 150 up, is out of reach of gauges from 125 to 145 and is reported.
func TestPins(t *testing.T) {
	p := board175()
	p.Targets = []courses.Target{
		{Kind: courses.Top, At: measure.MM(2485)},
		{Kind: courses.Pin, At: measure.MM(1420)},
		{Kind: courses.Pin, At: measure.MM(300)},
	}
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	var met []courses.Way
	for _, o := range plan.Outcomes {
		met = append(met, o.Met)
	}
	if want := []courses.Way{courses.FullBoard, courses.CourseLine, courses.Missed}; !slices.Equal(met, want) || plan.Cost.Pins != 1 {
		t.Errorf("met %q with %d pins missed, want %q and 1", met, plan.Cost.Pins, want)
	}
	if off := plan.Outcomes[2].Off; off != measure.MM(-23) {
		t.Errorf("pin at 300 is off by %v, want -23 (10 gauges of 127: 277)", off)
	}
}

// Where pins force a step beyond the limit the line is set out all the same and
// says by how much: 150 to 650 is 4 x 125 (3 x 166.7), 650 to 940 is 2 x 145:
// a step of 20 against a limit of 10.
func TestStepRelaxed(t *testing.T) {
	p := board175()
	p.End = measure.MM(1115)
	p.Targets = []courses.Target{
		{Kind: courses.Pin, At: measure.MM(650)},
		{Kind: courses.Pin, At: measure.MM(940)},
	}
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	// 4 x 125 could also be read as two stretches, which changes nothing.
	if want := (courses.Cost{OverStep: measure.MM(10), Step: measure.MM(20), Courses: 7}); plan.Cost != want {
		t.Errorf("cost %+v, want %+v", plan.Cost, want)
	}
	// The same heights as wishes are worth less than the limit: one is missed.
	for i := range p.Targets {
		p.Targets[i].Kind = courses.Head
	}
	plan, err = courses.SetOut(p)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Cost.OverStep != 0 {
		t.Errorf("heads alone break the step limit: %+v", plan.Cost)
	}
}

// Limits that leave no gauge are an error; everything else is a plan.
func TestLimits(t *testing.T) {
	mm := measure.MM
	for _, c := range []struct {
		name                    string
		width, least, most, pin measure.Length
		bad                     bool
	}{
		{"usual", mm(175), mm(30), mm(50), 0, false},
		{"one gauge only", mm(175), mm(40), mm(40), 0, false},
		{"pinned at the least lap", mm(175), mm(30), mm(50), mm(145), false},
		{"no board", 0, 0, 0, 0, true},
		{"limits crossed", mm(175), mm(51), mm(50), 0, true},
		{"lap of half a board", mm(100), mm(30), mm(50), 0, true},
		{"lap wider than the board", mm(100), mm(120), mm(150), 0, true},
		{"negative lap", mm(175), mm(-1), mm(50), 0, true},
		{"no whole millimetre between", mm(175), 30200, 30700, 0, true},
		{"gauge pinned too wide", mm(175), mm(30), mm(50), mm(146), true},
		{"gauge pinned too narrow", mm(175), mm(30), mm(50), mm(124), true},
	} {
		p := courses.Problem{Width: c.width, LapLeast: c.least, LapMost: c.most, PinGauge: c.pin, End: mm(2000)}
		_, err := courses.SetOut(p)
		if c.bad != errors.Is(err, courses.ErrLimits) || !c.bad && err != nil {
			t.Errorf("%s: error %v, want one: %v", c.name, err, c.bad)
		}
		if _, uniform := courses.Uniform(p); (uniform != nil) != (err != nil) {
			t.Errorf("%s: Uniform says %v, SetOut %v", c.name, uniform, err)
		}
	}
}

// Walls of one board, of none, and targets beyond the boards.
func TestEdges(t *testing.T) {
	mm := measure.MM
	for _, c := range []struct {
		name    string
		end     int64
		targets []courses.Target
		courses int
		met     []courses.Way
	}{
		{"nothing at all", 0, nil, 1, nil},
		{"one board, full", 0, []courses.Target{{Kind: courses.Top, At: mm(325)}}, 1, []courses.Way{courses.FullBoard}},
		{"one board, ripped", 0, []courses.Target{{Kind: courses.Top, At: mm(250)}}, 1, []courses.Way{courses.Missed}},
		{"wall below the line", 0, []courses.Target{{Kind: courses.Top, At: mm(100)}}, 1, []courses.Way{courses.Clear}},
		{"openings outside the boards", 500, []courses.Target{{Kind: courses.Sill, At: mm(10)}, {Kind: courses.Head, At: mm(140)}, {Kind: courses.Head, At: mm(3000)}},
			3, []courses.Way{courses.Clear, courses.Clear, courses.Clear}},
		{"door from the first board", 500, []courses.Target{{Kind: courses.Sill, At: mm(150)}}, 3, []courses.Way{courses.CourseLine}},
		{"base below the start", 500, []courses.Target{{Kind: courses.Base, At: mm(120)}}, 3, []courses.Way{courses.Missed}},
		{"heights off the millimetre", 600, []courses.Target{{Kind: courses.Eaves, At: 430500}}, 3, []courses.Way{courses.Missed}},
	} {
		p := board175()
		p.End, p.Targets = mm(c.end), c.targets
		plan, err := courses.SetOut(p)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var met []courses.Way
		for _, o := range plan.Outcomes {
			met = append(met, o.Met)
		}
		if len(plan.Marks) != c.courses || !slices.Equal(met, c.met) {
			t.Errorf("%s: %d courses, met %q, want %d, %q", c.name, len(plan.Marks), met, c.courses, c.met)
		}
	}
}
