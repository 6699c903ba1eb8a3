package courses_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// randomLine returns a line of any size up to a few houses.
func randomLine(r *rand.Rand) courses.Problem {
	switch r.IntN(4) {
	case 0:
		return smallProblem(r)
	case 1:
		return surveyedHouse(r)
	}
	p := house(r, 1+r.IntN(3), 1+r.IntN(6), 1+r.IntN(2))
	if r.IntN(3) == 0 {
		p.Targets = append(p.Targets, courses.Target{Kind: courses.Pin, At: p.Start + measure.MM(int64(r.IntN(2500)))})
	}
	return p
}

func mustSetOut(t *testing.T, p courses.Problem) courses.Plan {
	t.Helper()
	plan, err := courses.SetOut(p)
	if err != nil {
		t.Fatalf("%+v: %v", p, err)
	}
	return plan
}

// lastTop returns the height that boards go up to, if anything says so.
func lastTop(p courses.Problem) measure.Length {
	end := p.End
	for _, t := range p.Targets {
		if t.Kind == courses.Top || t.Kind == courses.Apex {
			end = max(end, t.At)
		}
	}
	return end
}

// Marks start at the start, rise by gauges within the lap limits, are whole
// millimetres above the start, and end with the last course that is needed.
// The outcomes agree with the marks.
func TestPlansHold(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 4))
	for range 1500 {
		p := randomLine(r)
		for name, set := range map[string]func(courses.Problem) (courses.Plan, error){"set out": courses.SetOut, "uniform": courses.Uniform} {
			plan, err := set(p)
			if err != nil {
				t.Fatalf("%s %+v: %v", name, p, err)
			}
			if what := holds(p, plan); what != "" {
				t.Fatalf("%s: %s\n%+v\n%+v", name, what, p, plan)
			}
		}
	}
}

func holds(p courses.Problem, plan courses.Plan) string {
	marks := plan.Marks
	if marks[0] != p.Start || plan.Cost.Courses != len(marks) {
		return "does not begin at the start or counts its courses wrongly"
	}
	for k := 1; k < len(marks); k++ {
		if lap := p.Width - (marks[k] - marks[k-1]); lap < p.LapLeast || lap > p.LapMost {
			return "lap out of limits"
		}
		if !(marks[k] - p.Start).Whole() {
			return "mark off the millimetre"
		}
	}
	n, end := len(marks)-1, lastTop(p)
	if marks[n]+p.Width < end {
		return "ends too low"
	}
	if n > 0 && marks[n-1]+p.Width >= end {
		return "has a course too many"
	}
	for i, o := range plan.Outcomes {
		if o.Target != p.Targets[i] {
			return "outcomes are not in the order of targets"
		}
		if what := agrees(p, o, marks); what != "" {
			return what
		}
	}
	return ""
}

// agrees checks one outcome against the marks alone.
func agrees(p courses.Problem, o courses.Outcome, marks []measure.Length) string {
	at := func(h measure.Length) bool { return slices.Contains(marks, h) }
	switch {
	case o.Met == courses.CourseLine && !at(o.At):
		return "no course line at a target said to be met by one"
	case o.Met == courses.BoardTop && !at(o.At-p.Width):
		return "no board top at a target said to be met by one"
	case o.Met == courses.FullBoard && !at(o.At-p.Width):
		return "no full board at a top said to be met"
	case o.Met == courses.Missed && o.Kind != courses.Apex && o.Limit == 0 && at(o.At) && o.Kind != courses.Top:
		return "a target on a course line is said to be missed"
	case o.Met != courses.Missed && o.Met != courses.Clear && o.Met != courses.Partly && o.Off != 0:
		return "a met target is off"
	case o.Met == courses.Missed && o.Kind == courses.Sill && o.Notch+o.Strip != p.Width:
		return "a sill's notch and strip do not make the board"
	case o.Met == courses.Missed && o.Kind == courses.Head && o.Limit == 0 && o.Notch+o.Strip != p.Width:
		return "a head's notch and strip do not make the board"
	case o.Met == courses.Missed && o.Kind == courses.Head && o.Notch+o.Strip > p.Width:
		return "a head's notch and strip exceed the board"
	case o.Met == courses.Partly && o.Notch >= p.LapMost:
		return "a sill partly met is notched by more than a lap"
	case o.Course >= len(marks) || o.Course < -1:
		return "no such course"
	case o.Fragile && o.Kind != courses.Apex && o.Strip >= p.StripLeast:
		return "a strip that holds is called fragile"
	case o.Met != courses.Clear && o.Course >= 0 && o.Kind == courses.Top && o.Strip != o.At-marks[o.Course]:
		return "a top's width is not what its board shows"
	}
	return ""
}

// The order of the targets, one target given as several, and the height of
// the datum do not change the plan.
func TestPlanIsOfTheLine(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	for range 400 {
		p := randomLine(r)
		want := mustSetOut(t, p)
		q := p
		q.Targets = nil
		for _, k := range r.Perm(len(p.Targets)) {
			target := p.Targets[k]
			if target.Count > 1 {
				target.Count--
				one := target
				one.Count = 1
				q.Targets = append(q.Targets, one)
			}
			q.Targets = append(q.Targets, target)
		}
		if got := mustSetOut(t, q); !slices.Equal(got.Marks, want.Marks) || got.Cost != want.Cost {
			t.Fatalf("shuffled: %+v %v, want %+v %v of %+v", got.Cost, got.Marks, want.Cost, want.Marks, p)
		}
		if lastTop(p) == 0 {
			continue
		}
		rise := measure.MM(int64(1 + r.IntN(5000)))
		q = p
		q.Start, q.Targets = p.Start+rise, slices.Clone(p.Targets)
		if p.End > 0 {
			q.End += rise
		}
		for i := range q.Targets {
			q.Targets[i].At += rise
			if q.Targets[i].Floor > 0 {
				q.Targets[i].Floor += rise
			}
			if q.Targets[i].Limit > 0 {
				q.Targets[i].Limit += rise
			}
		}
		got := mustSetOut(t, q)
		for k := range got.Marks {
			got.Marks[k] -= rise
		}
		if !slices.Equal(got.Marks, want.Marks) || got.Cost != want.Cost {
			t.Fatalf("raised: %+v %v, want %+v %v of %+v", got.Cost, got.Marks, want.Cost, want.Marks, p)
		}
	}
}

// A target that the plan meets anyway costs nothing more; any other may cost
// more, never less. Wider lap limits never cost more. (Without fragile strips:
// where one is left, marks that meet nothing join the search, and the two
// problems are no longer searched over the same heights.)
func TestCostMoves(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 8))
	for range 600 {
		p := randomLine(r)
		p.StripLeast = 0
		if lastTop(p) == 0 {
			continue
		}
		p.Targets = slices.DeleteFunc(p.Targets, func(t courses.Target) bool { return t.Kind == courses.Apex })
		if p.End = max(p.End, lastTop(p)); p.End == 0 {
			continue
		}
		plan := mustSetOut(t, p)
		kind := []courses.Kind{courses.Head, courses.Eaves, courses.Base, courses.Pin}[r.IntN(4)]
		q := p
		q.Targets = append(slices.Clone(p.Targets), courses.Target{Kind: kind, At: plan.Marks[r.IntN(len(plan.Marks))], Count: 3})
		if got := mustSetOut(t, q); got.Cost.Compare(plan.Cost) > 0 {
			t.Fatalf("a %v met anyway raises the cost from %+v to %+v: %+v", kind, plan.Cost, got.Cost, q)
		}
		if len(p.Targets) > 0 { // taking one away
			k := r.IntN(len(p.Targets))
			q.Targets = slices.Delete(slices.Clone(p.Targets), k, k+1)
			less := mustSetOut(t, q)
			// the heights of the plan with it must stay on offer: judge its
			// marks, not the search
			if without := free(p, plan, k); less.Cost.Pins > without {
				t.Fatalf("without target %d %d pins are missed, with it %d: %+v", k, less.Cost.Pins, without, p)
			}
		}
		q = p
		q.LapMost += measure.MM(int64(r.IntN(4)))
		q.LapLeast -= measure.MM(int64(r.IntN(4)))
		if got := mustSetOut(t, q); got.Cost.Compare(plan.Cost) > 0 {
			t.Fatalf("laps from %v to %v cost %+v, from %v to %v %+v: %+v",
				q.LapLeast, q.LapMost, got.Cost, p.LapLeast, p.LapMost, plan.Cost, p)
		}
	}
}

// free returns the pins a plan misses without target k.
func free(p courses.Problem, plan courses.Plan, k int) int {
	n := 0
	for i, o := range plan.Outcomes {
		if i != k && o.Kind == courses.Pin && o.Met == courses.Missed {
			n += max(1, o.Count)
		}
	}
	return n
}

// Setting out is never worse than one uniform gauge; one uniform gauge has no
// step and gauges within a millimetre of each other.
func TestNoWorseThanUniform(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 2))
	for range 1500 {
		p := randomLine(r)
		plan := mustSetOut(t, p)
		hand, err := courses.Uniform(p)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Cost.Compare(hand.Cost) > 0 {
			t.Fatalf("set out %+v, uniform %+v: %+v", plan.Cost, hand.Cost, p)
		}
		low, high := p.Width, measure.Length(0)
		for k := 1; k < len(hand.Marks); k++ {
			g := hand.Marks[k] - hand.Marks[k-1]
			low, high = min(low, g), max(high, g)
		}
		if len(hand.Marks) > 1 && high-low > measure.Millimetre || hand.Cost.Step != 0 {
			t.Fatalf("uniform gauges from %v to %v, step %v", low, high, hand.Cost.Step)
		}
	}
}
