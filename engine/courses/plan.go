package courses

import (
	"slices"

	"lapwright/engine/measure"
)

// SetOut returns a plan of least cost. Wishes that cannot be met are reported
// as missed, a gauge step beyond the limit that nothing avoids as Cost.OverStep
// and a pin that cannot be kept as Cost.Pins. The only error is [ErrLimits].
func SetOut(p Problem) (Plan, error) {
	l, err := newLine(&p)
	if err != nil {
		return Plan{}, err
	}
	defer l.done()
	if p.PinGauge != 0 {
		return l.plan(p, []run{l.tail(l.start, int64(p.PinGauge), int64(measure.Millimetre))}), nil
	}
	runs, _, _ := l.solve()
	out := l.plan(p, runs)
	if out.wanting() {
		out, _ = l.spared(p)
	}
	return out, nil
}

// spared returns the plan of least cost where no choice of heights to meet
// spares every strip and top board, which is rare: marks that meet nothing may. It is false if
// none cuts less than the limit.
func (l *line) spared(p Problem) (Plan, bool) {
	l.wish(true)
	runs, _, ok := l.solve()
	if !ok {
		return Plan{}, false
	}
	return l.plan(p, runs), true
}

// better returns what SetOut finds for problem p, if that cuts less than limit;
// where it does not, that is seen sooner.
func (p Problem) better(limit *Cost) (Plan, bool) {
	l, err := newLine(&p)
	if err != nil {
		return Plan{}, false
	}
	defer l.done()
	if limit.Fragile == 0 {
		l.limit = limit // else a plan that cuts more may have SetOut look at more heights
	}
	runs, _, ok := l.solve()
	if !ok {
		return Plan{}, false
	}
	out := l.plan(p, runs)
	if out.wanting() {
		l.limit = limit
		out, ok = l.spared(p)
	}
	return out, ok && out.Cost.cutsLess(limit)
}

// wanting reports whether a strip is left too thin or a top board is ripped,
// which more heights to choose from may spare.
func (p *Plan) wanting() bool {
	return slices.ContainsFunc(p.Outcomes, func(o Outcome) bool { return o.Fragile || o.Kind == Top && o.Met == Missed })
}

// Uniform returns the set-out by one gauge that is made by hand: the gauge
// nearest the middle of the limits with which the highest Top ends on a full
// board, or the middle gauge itself if there is none. Its error is
// [ErrLimits].
func Uniform(p Problem) (Plan, error) {
	l, err := newLine(&p)
	if err != nil {
		return Plan{}, err
	}
	defer l.done()
	top := none
	for _, t := range p.Targets {
		if t.Kind == Top {
			top = max(top, t.At)
		}
	}
	rise, per := (l.lo+l.hi)/2, int64(1)
	if whole := top - p.Width - p.Start; whole > 0 && whole.Whole() {
		mm, off := int64(whole/measure.Millimetre), int64(-1)
		for m := (mm + l.hi - 1) / l.hi; m*l.lo <= mm; m++ {
			// distance of mm/m from the middle, times 2m to stay whole
			d := max(2*mm-m*(l.lo+l.hi), m*(l.lo+l.hi)-2*mm)
			if off < 0 || d*per < off*m {
				rise, per, off = mm, m, d
			}
		}
	}
	return l.plan(p, []run{l.tail(l.start, rise, per)}), nil
}

// plan makes the plan of a list of runs.
func (l *line) plan(p Problem, runs []run) Plan {
	n := int64(1)
	for _, r := range runs {
		n += r.count
	}
	out := Plan{Marks: append(make([]measure.Length, 0, n), l.start), Outcomes: make([]Outcome, len(p.Targets))}
	last := measure.Length(0)
	for _, r := range runs {
		if r.count == 0 {
			continue // a line of one course
		}
		for q := int64(1); q <= r.count; q++ {
			out.Marks = append(out.Marks, r.mark(q))
		}
		out.Cost.step(last, r.gauge(), l.stepMost)
		last = r.gauge()
	}
	out.Cost.Courses = len(out.Marks)
	for i := range p.Targets {
		t := p.Targets[i].total()
		v := l.judge(&t, out.Marks)
		out.Outcomes[i] = l.outcome(&p.Targets[i], v, out.Marks)
		out.Cost.charge(&t, v)
	}
	return out
}

// judge returns the verdict on a target from all marks of a plan.
func (l *line) judge(t *Target, marks []measure.Length) verdict {
	if !t.opening() {
		k, _ := slices.BinarySearch(marks, t.key(l.width))
		if k == len(marks) {
			return l.level(t, none)
		}
		return l.level(t, marks[k])
	}
	prev, k := none, course(marks, t.At)
	if k > 0 {
		prev = marks[k-1]
	}
	return l.inCourse(t, prev, marks[max(k, 0)])
}

// course returns the index of the last mark at or below h, -1 if there is none.
func course(marks []measure.Length, h measure.Length) int {
	k, found := slices.BinarySearch(marks, h)
	if found {
		return k
	}
	return k - 1
}

func (l *line) outcome(t *Target, v verdict, marks []measure.Length) Outcome {
	out := Outcome{Target: *t, Met: v.way, Notch: v.notch, Strip: v.strip, Fragile: v.fragile,
		Off: l.off(t, marks), Course: l.board(t, v, marks)}
	if t.Kind == Base {
		out.Strip = 0
	}
	return out
}

// board returns the index of the board that is cut for a target or meets it.
func (l *line) board(t *Target, v verdict, marks []measure.Length) int {
	if !t.opening() {
		k, _ := slices.BinarySearch(marks, t.key(l.width))
		if k == len(marks) || (v.way == Clear && t.Kind == Top) {
			return -1
		}
		return k
	}
	k := course(marks, t.At)
	switch {
	case v.way == Clear:
		return -1
	case v.way == BoardTop && marks[k]+l.width == t.At:
		return k
	case v.way == Partly, v.way == BoardTop:
		return k - 1
	case t.Kind == Head && v.way == Missed && t.At-marks[k] != v.notch:
		return k - 1 // the wall has no board k: the one below is its last
	}
	return k
}

// off returns how far the nearest mark or board top is from the target.
func (l *line) off(t *Target, marks []measure.Length) measure.Length {
	switch t.Kind {
	case Base:
		k, _ := slices.BinarySearch(marks, t.At)
		return marks[min(k, len(marks)-1)] - t.At
	case Sill:
		a, b := nearest(marks, t.At), nearest(marks, t.At-l.width)
		if max(b, -b) < max(a, -a) {
			return b
		}
		return a
	}
	return nearest(marks, t.key(l.width))
}

// nearest returns the nearest mark less h, the lower one of two.
func nearest(marks []measure.Length, h measure.Length) measure.Length {
	k := course(marks, h)
	off := marks[max(k, 0)] - h
	if k+1 < len(marks) {
		if up := marks[k+1] - h; up < max(off, -off) {
			off = up
		}
	}
	return off
}
