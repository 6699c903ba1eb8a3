package courses

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// What an advice may change.
const (
	moveStart  = "start"
	lessLap    = "least lap"
	moreLap    = "most lap"
	moreStep   = "gauge step"
	moveTarget = "survey"
)

// Advice is one change near what was asked for, and what it would buy. It is
// found by setting out again, so it is true of the whole line.
type Advice struct {
	Change string         // start, least lap, most lap, gauge step or survey
	Amount measure.Length // added to Start, LapLeast, LapMost, GaugeStepMost or the heights moved; not 0
	Moved  []int          // of a survey: indices in Problem.Targets
	Meets  []int          // indices of targets missed before and met after
	Cost   Cost           // after the change

	value measure.Length // after the change: limit, or height of the moved target
	kind  Kind           // of the moved target
	side  string         // of it; blank: of none, or of several moved that differ
	gain  [Pin + 1]int   // targets more met, by kind
	whole [Pin + 1]bool  // every target of the kind is met after
	walls int            // how many walls the tops stand for
	spare int            // fragile and ripped pieces fewer
}

// How far an advice looks: a change that a survey, a starter or a board's
// declared laps may still bear. Common practice.
const (
	farStart  = 50 * measure.Millimetre
	farLap    = 10 * measure.Millimetre
	farSurvey = 30 * measure.Millimetre
	nearStep  = 2 * measure.Millimetre
	farStep   = 5 * measure.Millimetre
)

// Advise returns the nearest changes that would meet what the plan of problem
// p misses: of the start, of the limits of lap and gauge step, of the survey, in that order and
// the nearest first. The list is short, not complete: it holds changes worth
// asking about. It is empty if nothing is missed or nothing near helps. No limit
// is advised narrower: every plan within a narrower one keeps the given one too.
// Where no strip is left too thin, a limit is taken to help no more than wider
// ones do; SetOut looks at more heights where one is, so that now and then a
// nearer limit that helps is not found.
func Advise(p Problem, plan Plan) []Advice {
	if p.PinGauge != 0 || !slices.ContainsFunc(plan.Outcomes, wanting) {
		return nil
	}
	l, err := newLine(&p)
	if err != nil {
		return nil
	}
	defer l.done()
	a := &adviser{line: l, p: p, plan: plan}
	// Every try sets the line out again: fewer tries on long lines.
	a.tries = min(6, max(1, 12000/(len(l.heights)*len(l.heights))))
	var out []Advice
	out = append(out, a.starts()...)
	out = append(out, a.laps()...)
	if p.GaugeStepMost > 0 {
		out = append(out, a.best(moreStep, []measure.Length{nearStep, farStep})...)
	}
	return append(out, a.moves()...)
}

// wanting reports whether an outcome leaves something to wish for.
func wanting(o Outcome) bool { return o.Met == Missed || o.Met == Partly || o.Fragile }

type adviser struct {
	*line
	p     Problem
	plan  Plan
	tries int
}

// reach returns how far rise is from a height that a whole number of gauges
// from lo to hi reaches: what to add to it, upwards and downwards. Both are 0
// if it is reached.
func (l *line) reach(rise measure.Length) (up, down measure.Length) {
	if rise <= 0 {
		return -rise, 0 // the mark itself is the nearest
	}
	lo, hi := measure.MM(l.lo), measure.MM(l.hi)
	m := rise / hi // the most gauges that end at or below rise
	if m*hi == rise || (m+1)*lo <= rise {
		return 0, 0
	}
	return (m+1)*lo - rise, m*hi - rise
}

// wishes returns the heights a mark should take for a target.
func (l *line) wishes(t *Target) []measure.Length {
	if t.Kind == Sill {
		return []measure.Length{t.At, t.At - l.width}
	}
	return []measure.Length{t.key(l.width)}
}

// starts advises on the bottom of the first board.
func (a *adviser) starts() []Advice {
	var amounts []measure.Length
	for _, o := range a.plan.Outcomes {
		if !wanting(o) {
			continue
		}
		for _, h := range a.wishes(&o.Target) {
			up, down := a.reach(h - a.start) // a longer rise is a lower start
			amounts = append(amounts, -up, -down)
		}
	}
	return a.best(moveStart, nearestFirst(amounts, farStart))
}

// laps advises on the limits of the lap: it looks at the rise to what is
// missed from the start and from what is met below it.
func (a *adviser) laps() []Advice {
	feet := a.feet()
	var less, more []measure.Length
	for _, o := range a.plan.Outcomes {
		for _, h := range a.wishes(&o.Target) {
			for _, foot := range feet {
				if rise := h - foot; wanting(o) && rise > 0 {
					m := rise / measure.MM(a.hi)
					less = append(less, measure.MM(a.hi)-rise/max(m, 1))
					more = append(more, measure.MM(a.lo)-rise/(m+1))
				}
			}
		}
	}
	for i := range less {
		less[i] = less[i].DownTo(measure.Millimetre)
		more[i] = more[i].UpTo(measure.Millimetre)
	}
	out := a.best(lessLap, nearestFirst(less, min(farLap, a.p.LapLeast)))
	return append(out, a.best(moreLap, nearestFirst(more, farLap))...)
}

// feet returns the heights a stretch may come from: the start and what is met.
func (a *adviser) feet() []measure.Length {
	out := []measure.Length{a.start}
	for _, o := range a.plan.Outcomes {
		if !wanting(o) && o.Course >= 0 && o.Off == 0 {
			out = append(out, a.plan.Marks[o.Course])
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// nearestFirst returns the different whole amounts up to far, nearest first
// and of two as near the lower.
func nearestFirst(amounts []measure.Length, far measure.Length) []measure.Length {
	amounts = slices.DeleteFunc(amounts, func(d measure.Length) bool {
		return d == 0 || d > far || -d > far || !d.Whole()
	})
	slices.SortFunc(amounts, func(a, b measure.Length) int {
		return cmp.Or(cmp.Compare(max(a, -a), max(b, -b)), cmp.Compare(a, b))
	})
	return slices.Compact(amounts)
}

// best tries amounts of one change, given the nearest first. It returns the
// nearest that helps and, if another helps more, the nearest that helps most.
func (a *adviser) best(change string, amounts []measure.Length) []Advice {
	amounts = amounts[:min(len(amounts), a.tries)]
	nested := false // a plan within one limit is a plan within the next
	if change != moveStart {
		amounts = a.widening(change, amounts)
		nested = a.plan.Cost.Fragile == 0
	}
	var helps []Advice // the farthest first
	for _, d := range slices.Backward(amounts) {
		got, ok := a.try(change, d)
		if !ok && nested {
			break
		}
		if ok && got.gains() {
			helps = append(helps, got)
		}
	}
	var out []Advice
	for _, got := range slices.Backward(helps) {
		switch {
		case len(out) == 0:
			out = append(out, got)
		case got.Cost.cutsLess(&out[len(out)-1].Cost):
			out = append(out[:1], got)
		}
	}
	return out
}

// widening returns the amounts that widen the limits, to what they may be.
func (a *adviser) widening(change string, amounts []measure.Length) []measure.Length {
	return slices.DeleteFunc(amounts, func(d measure.Length) bool {
		q := a.changed(change, d)
		_, _, err := q.gauges()
		return err != nil || q.LapLeast > a.p.LapLeast || q.LapMost < a.p.LapMost
	})
}
