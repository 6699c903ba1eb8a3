package courses_test

import (
	"math/rand/v2"
	"testing"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// loneWall is a wall of one storey with three windows at two sill heights.
func loneWall() courses.Problem {
	p := board175()
	p.End = measure.MM(2590)
	p.Targets = []courses.Target{
		{Kind: courses.Sill, At: measure.MM(1040), Count: 2, Sawing: measure.MM(1200), ID: 1},
		{Kind: courses.Head, At: measure.MM(2260), Count: 2, Sawing: measure.MM(1200), Limit: p.End, ID: 2},
		{Kind: courses.Sill, At: measure.MM(1490), Sawing: measure.MM(600), ID: 3},
		{Kind: courses.Head, At: measure.MM(2260), Sawing: measure.MM(600), Limit: p.End, ID: 4},
		{Kind: courses.Top, At: p.End, Sawing: measure.MM(8000), ID: 5},
	}
	return p
}

func board175() courses.Problem {
	return courses.Problem{
		Width: measure.MM(175), LapLeast: measure.MM(30), LapMost: measure.MM(50),
		GaugeStepMost: measure.MM(10), StripLeast: measure.MM(50), Start: measure.MM(150),
	}
}

// house returns a line of several walls, each with its base, its top and its
// share of the openings, all at random heights over so many storeys.
func house(r *rand.Rand, walls, openings, storeys int) courses.Problem {
	p := board175()
	mm := func(n int) measure.Length { return measure.MM(int64(n)) }
	id := 0
	add := func(t courses.Target) {
		id++
		t.ID = id
		p.Targets = append(p.Targets, t)
	}
	tops := make([]int, walls)
	for w := range walls {
		tops[w] = 2500*storeys + r.IntN(8)*15
		add(courses.Target{Kind: courses.Top, At: mm(tops[w]), Sawing: mm(4000 + r.IntN(6000))})
		if w > 0 && r.IntN(4) == 0 {
			add(courses.Target{Kind: courses.Base, At: p.Start + mm(r.IntN(400))})
		}
	}
	for range openings {
		floor := 2550 * r.IntN(storeys)
		width, limit := mm(600+r.IntN(12)*100), mm(tops[r.IntN(walls)])
		if r.IntN(6) > 0 { // a window; the rest are doors
			add(courses.Target{Kind: courses.Sill, At: mm(floor + 900 + r.IntN(40)*15), Sawing: width, Limit: limit})
		}
		add(courses.Target{Kind: courses.Head, At: mm(floor + 2050 + r.IntN(20)*15), Sawing: width, Limit: limit})
	}
	return p
}

func BenchmarkSetOut(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, shape := range []struct {
		name string
		p    courses.Problem
	}{
		{"lone wall 3 windows", loneWall()},
		{"house 4 walls 10 openings 2 storeys", house(r, 4, 10, 2)},
		{"line 12 walls 40 openings 2 storeys", house(r, 12, 40, 2)},
		{"line 12 walls 40 openings 3 storeys", house(r, 12, 40, 3)},
	} {
		b.Run(shape.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := courses.SetOut(shape.p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// surveyedHouse returns the line round a house as one is found: openings at a
// few sill and head heights, two eaves walls and two gables, one of which may
// start higher over a lower roof.
func surveyedHouse(r *rand.Rand) courses.Problem {
	p := board175()
	mm := func(n int) measure.Length { return measure.MM(int64(n)) }
	storeys := 1 + r.IntN(2)
	storey := 2400 + r.IntN(5)*50
	soffit := storey*storeys + r.IntN(60) - 10
	head := 2050 + r.IntN(13)*10
	sills := [2]int{900 + r.IntN(20)*10, 1200 + r.IntN(30)*10}
	add := func(t courses.Target) {
		t.ID = len(p.Targets)
		p.Targets = append(p.Targets, t)
	}
	for wall := range 4 {
		limit, width := mm(soffit), mm(5000+r.IntN(5000))
		if gable := wall%2 == 1; gable {
			limit = mm(soffit + int(width/measure.Millimetre)/3)
			add(courses.Target{Kind: courses.Eaves, At: mm(soffit)})
			add(courses.Target{Kind: courses.Apex, At: limit, Least: mm(90)})
		} else {
			if wall == 2 && r.IntN(4) == 0 { // under a lower soffit
				limit -= mm(60 + r.IntN(200))
			}
			add(courses.Target{Kind: courses.Top, At: limit, Sawing: width})
		}
		if wall == 3 && r.IntN(3) == 0 {
			add(courses.Target{Kind: courses.Base, At: mm(2300 + r.IntN(300))})
		}
		for floor := range storeys {
			datum := floor * storey
			n, w := 1+r.IntN(3), mm(600+r.IntN(13)*100)
			if floor == 0 && wall%2 == 0 { // a door: a head and no sill
				add(courses.Target{Kind: courses.Head, At: mm(datum + 2110), Sawing: mm(940), Limit: limit})
			}
			add(courses.Target{Kind: courses.Sill, At: mm(datum + sills[r.IntN(2)]), Count: n, Sawing: w, Limit: limit})
			add(courses.Target{Kind: courses.Head, At: mm(datum + head), Count: n, Sawing: w, Limit: limit})
		}
	}
	return p
}

// tally counts what a plan makes one cut.
type tally struct{ met, missed, notched, ripped, fragile int }

func (t *tally) count(plan courses.Plan) {
	for _, o := range plan.Outcomes {
		n := max(1, o.Count)
		switch {
		case o.Met == courses.Missed || o.Met == courses.Partly:
			t.missed += n
		case o.Met != courses.Clear:
			t.met += n
		}
		switch {
		case o.Kind == courses.Top && o.Met == courses.Missed:
			t.ripped += n
		case o.Notch > 0 && o.Met == courses.Missed:
			t.notched += n // into its face; a notch in the lap alone is not counted
		}
		if o.Fragile {
			t.fragile += n
		}
	}
}

// BenchmarkAgainstUniform reports what setting out saves on 200 houses, beside
// one uniform gauge.
func BenchmarkAgainstUniform(b *testing.B) {
	r := rand.New(rand.NewPCG(200, 1))
	houses := make([]courses.Problem, 200)
	for i := range houses {
		houses[i] = surveyedHouse(r)
	}
	for _, how := range []struct {
		name string
		plan func(courses.Problem) (courses.Plan, error)
	}{{"uniform", courses.Uniform}, {"set out", courses.SetOut}} {
		b.Run(how.name, func(b *testing.B) {
			var sum tally
			for b.Loop() {
				sum = tally{}
				for _, p := range houses {
					plan, err := how.plan(p)
					if err != nil {
						b.Fatal(err)
					}
					sum.count(plan)
				}
			}
			b.ReportMetric(float64(sum.met), "met")
			b.ReportMetric(float64(sum.missed), "missed")
			b.ReportMetric(float64(sum.notched), "notched")
			b.ReportMetric(float64(sum.ripped), "ripped")
			b.ReportMetric(float64(sum.fragile), "fragile")
		})
	}
}

func BenchmarkAdvise(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, shape := range []struct {
		name string
		p    courses.Problem
	}{{"lone wall 3 windows", loneWall()}, {"surveyed house", surveyedHouse(r)}, {"line 12 walls 40 openings", house(r, 12, 40, 2)}} {
		b.Run(shape.name, func(b *testing.B) {
			plan, err := courses.SetOut(shape.p)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				courses.Advise(shape.p, plan)
			}
		})
	}
}
