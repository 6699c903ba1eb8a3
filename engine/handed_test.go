package engine

import (
	"cmp"
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"lapwright/engine/audit"
	"lapwright/engine/measure"
)

// pair is a house of three walls round two corners, and the same house as a
// surveyor would measure it where it is built mirrored: every number of the
// second is worked out by hand, as the width less what it is in the first.
func pair() (house, handed []Wall) {
	studs := func(at ...int64) []measure.Length {
		var out []measure.Length
		for _, x := range at {
			out = append(out, mm(x))
		}
		return out
	}
	some := func(v int64) Opt { return measure.Some(mm(v)) }
	front := Wall{Plot: "A", Name: "Front", Width: mm(5230), Height: mm(2650), Left: ExternalCorner, Right: InternalCorner, Top: Soffit,
		LeftMeets: "Side", RightMeets: "Porch", FaceLength: some(7000), FaceLeft: some(500),
		Studs: studs(40, 600, 1200, 1800, 2400, 3000, 3600, 4200, 4800, 5190),
		Openings: []Opening{
			{Name: "W1", Kind: "window", Left: mm(1310), Sill: mm(900), Width: mm(1210), Height: mm(1050), SillWidth: some(1310), SillDepth: some(60)},
			{Name: "D1", Kind: "door", Left: mm(3400), Width: mm(1010), Height: mm(2100)},
		}}
	side := Wall{Plot: "A", Name: "Side", Width: mm(7400), Height: mm(2650), HeightRight: some(2800), ApexHeight: some(4700), ApexLeft: some(3000),
		Left: Abutment, Right: ExternalCorner, Top: Verge, RightMeets: "Front",
		Studs:    studs(50, 600, 1200, 1800, 2400, 3000, 3600, 4200, 4800, 5400, 6000, 6600, 7350),
		Openings: []Opening{{Name: "W2", Kind: "window", Left: mm(900), Sill: mm(900), Width: mm(600), Height: mm(1050), Reveal: mm(120), Lined: true}}}
	porch := Wall{Plot: "A", Name: "Porch", Width: mm(1900), Height: mm(2300), HeightRight: some(2900), StepLeft: some(700), StepBase: some(300),
		Left: InternalCorner, Right: OpenEnd, Top: Verge, LeftMeets: "Front", Studs: studs(40, 600, 1200, 1860)}

	front2 := Wall{Plot: "A", Name: "Front", Width: mm(5230), Height: mm(2650), Left: InternalCorner, Right: ExternalCorner, Top: Soffit,
		LeftMeets: "Porch", RightMeets: "Side", FaceLength: some(7000), FaceLeft: some(1270),
		Studs: studs(40, 430, 1030, 1630, 2230, 2830, 3430, 4030, 4630, 5190),
		Openings: []Opening{
			{Name: "W1", Kind: "window", Left: mm(2710), Sill: mm(900), Width: mm(1210), Height: mm(1050), SillWidth: some(1310), SillDepth: some(60)},
			{Name: "D1", Kind: "door", Left: mm(820), Width: mm(1010), Height: mm(2100)},
		}}
	side2 := Wall{Plot: "A", Name: "Side", Width: mm(7400), Height: mm(2800), HeightRight: some(2650), ApexHeight: some(4700), ApexLeft: some(4400),
		Left: ExternalCorner, Right: Abutment, Top: Verge, LeftMeets: "Front",
		Studs:    studs(50, 800, 1400, 2000, 2600, 3200, 3800, 4400, 5000, 5600, 6200, 6800, 7350),
		Openings: []Opening{{Name: "W2", Kind: "window", Left: mm(5900), Sill: mm(900), Width: mm(600), Height: mm(1050), Reveal: mm(120), Lined: true}}}
	porch2 := Wall{Plot: "A", Name: "Porch", Width: mm(1900), Height: mm(2900), HeightRight: some(2300), Base: some(300), StepLeft: some(1200), StepBase: some(150),
		Left: OpenEnd, Right: InternalCorner, Top: Verge, RightMeets: "Front", Studs: studs(40, 700, 1300, 1860)}
	return []Wall{front, side, porch}, []Wall{front2, side2, porch2}
}

// A plot that is built handed comes out as the engine takes off the survey of a
// house that is mirrored by hand: courses, openings, battens, runs of boards,
// trims, zones, areas and the order of walls round the house. Where boards are
// jointed is free, a corner's trim hangs on the wall on its left, and places that
// are rounded to the millimetre, as those of short battens, may part by one.
func TestHandedIsTheMirroredSurvey(t *testing.T) {
	walls, mirrored := pair()
	job := testJob(walls...)
	job.Plots = []Plot{{Name: "1", HouseType: "A", Handed: true}}
	byHand := testJob(mirrored...)
	for _, j := range []*Job{job, byHand} {
		j.Wind = WindInput{PeakPressure: 700, BuildingHeight: mm(5000), BuildingDepth: mm(7400)}
	}
	got, want := mustTakeoff(t, job), mustTakeoff(t, byHand)
	if len(got.Walls) != 3 || len(want.Walls) != 3 {
		t.Fatalf("%d and %d walls: %+v %+v", len(got.Walls), len(want.Walls), got.Left, want.Left)
	}
	for i := range got.Walls {
		a, b := got.Walls[i].Handed(), &want.Walls[i]
		if a.Quantity != 1 || a.LeftMeets != b.LeftMeets || a.RightMeets != b.RightMeets {
			t.Errorf("%s: %d built, between %q and %q; want 1 between %q and %q", a.Name, a.Quantity, a.LeftMeets, a.RightMeets, b.LeftMeets, b.RightMeets)
		}
		x, y := geometryOf(a), geometryOf(b)
		for k := range max(len(x), len(y)) {
			if k >= len(x) || k >= len(y) || x[k] != y[k] {
				t.Errorf("%s differs from the survey mirrored by hand:\ngot  %q\nwant %q", a.Name, x[min(k, len(x)):], y[min(k, len(y)):])
				break
			}
		}
		near := func(a, b batten) bool {
			return max(a.at-b.at, b.at-a.at) <= mm(1) && a.z == b.z
		}
		if x, y := columnsOf(a), columnsOf(b); !slices.EqualFunc(x, y, near) {
			t.Errorf("%s: battens at\n%v, want\n%v", a.Name, x, y)
		}
	}
	same(t, "trims of the house", fmt.Sprint(allTrims(got)), fmt.Sprint(allTrims(want)))
	if a, b := got.Boards(), want.Boards(); a.Boards < b.Bound || b.Boards < a.Bound {
		t.Errorf("%d boards (bound %d), mirrored by hand %d (bound %d)", a.Boards, a.Bound, b.Boards, b.Bound)
	}
}

func allTrims(r *Result) map[string]measure.Length {
	out := map[string]measure.Length{}
	for _, w := range r.Walls {
		for role, l := range sumTrims(w) {
			out[role] += l
		}
	}
	return out
}

// geometryOf lists in lines what of a wall does not hang on where its boards are
// jointed.
func geometryOf(w *WallResult) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, v := range w.Voids {
		add("opening %s at %v", v.Opening.Name, v.Opening.Left)
		for _, k := range v.Keep {
			add("keep off %v", k)
		}
		for _, f := range v.Frame {
			xs, zs := f.Bounds()
			add("frame %v %v", xs, zs)
		}
	}
	for _, z := range w.Zones {
		add("zone %s %v, battens at %v", z.Name, z.X, z.Centres)
	}
	for _, c := range w.Courses {
		for _, r := range runsOf(w, c.Number) {
			add("course %d covers %v", c.Number, r)
		}
	}
	sums := map[string]measure.Length{}
	for _, tr := range w.Trims {
		if tr.Role != RoleExternal && tr.Role != RoleInternal {
			sums[tr.Role+", "+tr.Where] += tr.Length
		}
	}
	for what, l := range sums {
		add("%s: %v", what, l)
	}
	for _, p := range w.Pieces {
		if p.Course == 0 {
			add("reveal %s %v x %v", p.Reveal, p.Length, p.Width)
		}
	}
	slices.Sort(out)
	for _, c := range w.Courses {
		add("%+v", c)
	}
	add("%.6f %.6f m2", w.Gross, w.Net)
	return out
}

// batten is a place where battens stand, and the heights they are spliced over.
type batten struct {
	at measure.Length
	z  measure.Span
}

// columnsOf lists the battens from left to right; where one is spliced hangs on
// the joints of the boards.
func columnsOf(w *WallResult) []batten {
	var all []batten
	for _, b := range w.Battens {
		all = append(all, batten{b.Centre, b.Z})
	}
	slices.SortFunc(all, func(a, b batten) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.z.Lo, b.z.Lo)) })
	var out []batten
	for _, b := range all {
		if n := len(out); n > 0 && out[n-1].at == b.at && out[n-1].z.Hi == b.z.Lo {
			out[n-1].z.Hi = b.z.Hi
		} else {
			out = append(out, b)
		}
	}
	return out
}

// runsOf returns the stretches that the boards of a course cover, whatever
// joints part them.
func runsOf(w *WallResult, course int) []measure.Span {
	var spans []measure.Span
	for i := range w.Pieces {
		if p := &w.Pieces[i]; p.Course == course {
			xs, _ := p.Outline.Bounds()
			spans = append(spans, measure.Span{Lo: xs.Lo.Nearest(measure.Tenth), Hi: xs.Hi.Nearest(measure.Tenth)})
		}
	}
	slices.SortFunc(spans, func(a, b measure.Span) int { return int(a.Lo - b.Lo) })
	var out []measure.Span
	for _, s := range spans {
		if n := len(out); n > 0 && s.Lo-out[n-1].Hi <= DefaultRules().JointGap {
			out[n-1].Hi = s.Hi
		} else {
			out = append(out, s)
		}
	}
	return out
}

// Walls of every shape, handed, pass the audit as they do surveyed, and handed
// twice they are as surveyed.
func TestHandedWallsPassTheAudit(t *testing.T) {
	overSeeds(t, 300, func(t *testing.T, seed uint64) {
		w := newGenerator(seed).wall("wall")
		w.Plot = "A"
		job := testJob(w)
		job.Plots = []Plot{{Name: "1", HouseType: "A", Handed: true}}
		r := newTakeoff(job)
		if err := r.plan(context.Background()); err != nil {
			t.Fatal(err)
		}
		for i := range r.result.Walls {
			w := &r.result.Walls[i]
			handed := w.Handed()
			if back := handed.Handed(); !reflect.DeepEqual(back, w) {
				t.Errorf("seed %d: handed twice it is\n%+v\nnot\n%+v", seed, back, w)
			}
			r.result.Walls[i] = *handed
		}
		if faults := audit.Check(r.auditJob()); len(faults) > 0 {
			t.Errorf("seed %d: handed it has %d faults, the first: %v", seed, len(faults), faults[0])
		}
	})
}
