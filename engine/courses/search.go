package courses

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// The search runs over stretches. An arrival is one way of reaching a node: by
// a last stretch, from an arrival at an earlier node. Its cost holds all that
// the marks up to the node decide, the openings less than a lap above the node
// included: these are the only ones that the last mark below it decides too.
// From there on a plan's cost depends on the arrival through its gauge alone,
// which sets the step to the next stretch.
type arrival struct {
	cost  Cost
	gauge measure.Length // of the last stretch, 0 at the start
	run   run            // the last stretch
	back  int            // index of the arrival it comes from; -1 at the start
}

// node is a height a mark may take, where a run that starts there begins to
// count, and the ways of reaching it: from..to of the search's arrivals, the
// cheapest first.
type node struct {
	at             measure.Length
	level, opening int
	from, to       int
}

// search finds a plan of least cost. Nodes are reached in rising order, each by
// the shortest stretches first. Then the line is ended from each node, the
// highest first: from there little is left to miss, so that the plans of lower
// ones are soon seen to cost more. Of plans that cost the same the one whose
// last stretch starts lowest is taken, so equal problems give equal plans.
type search struct {
	*line
	best arrival // ends a whole plan; of unbounded cost: none yet
}

// solve returns the stretches of a plan of least cost, from the start on, and
// what it costs; false if none cuts less than the limit.
func (l *line) solve() ([]run, Cost, bool) {
	s := &search{line: l}
	l.nodes, l.arrivals = slices.Grow(l.nodes[:0], len(l.heights)), l.arrivals[:0]
	s.best.cost = unbounded
	for j, c := range l.heights {
		n := node{at: c, from: len(l.arrivals)}
		n.level, n.opening = l.above(c)
		l.nodes = append(l.nodes, n)
		if j == 0 {
			l.arrivals = append(l.arrivals, arrival{cost: s.first(), run: run{from: c, per: 1}, back: -1})
		} else {
			s.reach(j)
		}
		l.nodes[j].to = len(l.arrivals)
	}
	for j := range slices.Backward(l.nodes) {
		s.finish(&l.nodes[j])
	}
	if s.best.cost == unbounded {
		return nil, s.best.cost, false
	}
	return s.runs(), s.best.cost, true
}

// runs returns the stretches of the best plan.
func (s *search) runs() []run {
	var out []run
	for a := &s.best; ; a = &s.arrivals[a.back] {
		if a.run.count > 0 {
			out = append(out, a.run)
		}
		if a.back < 0 {
			break
		}
	}
	slices.Reverse(out)
	return out
}

// first returns the cost of the first course: what lies below it, and the
// openings that start less than a lap above its bottom.
func (s *search) first() Cost {
	c := s.below
	c.Courses++
	for k := range s.openings {
		t := &s.openings[k]
		if t.At > s.start+s.lapMost {
			break
		}
		c.charge(t, s.inCourse(t, none, s.start))
	}
	return c
}

// most returns the most that an arrival may cut to be of use: no more than the
// best plan yet, nor than the limit.
func (s *search) most() Cost {
	if s.limit != nil && s.limit.cutsLess(&s.best.cost) {
		return *s.limit
	}
	return s.best.cost
}

// reach finds the arrivals at node j.
func (s *search) reach(j int) {
	to, last := &s.nodes[j], s.last(s.nodes[j].at)
	most, known := s.most(), enough{unbounded, unbounded}
	var a arrival
	for i := j - 1; i >= 0; i-- {
		from := &s.nodes[i]
		if from.from == from.to || s.last(from.at) || most.cutsLess(&s.arrivals[from.from].cost) {
			continue
		}
		rise := int64((to.at - from.at) / measure.Millimetre)
		for m := (rise + s.hi - 1) / s.hi; m*s.lo <= rise; m++ {
			a.run = run{from: from.at, rise: rise, per: m, count: m}
			if last && s.last(a.run.mark(m-1)) {
				continue // the course at node j is not needed
			}
			if s.extend(from, &a, &most) {
				s.arrivals = append(s.arrivals, a)
				known.note(&a, s.line)
				known.lower(&most)
			}
		}
	}
	slices.SortStableFunc(s.arrivals[to.from:], func(a, b arrival) int { return a.cost.Compare(b.cost) })
}

// finish ends the line from a node without meeting another: at once if its
// course is the last, else by every whole gauge, the middle of the limits
// first.
func (s *search) finish(n *node) {
	most := s.most()
	if n.from == n.to || most.cutsLess(&s.arrivals[n.from].cost) {
		return
	}
	best := arrival{cost: unbounded}
	if s.last(n.at) {
		s.finishBy(n, run{from: n.at, rise: 1, per: 1}, &best)
	} else {
		middle := (s.lo + s.hi) / 2
		s.finishAt(n, middle, &best)
		for d := int64(1); d <= s.hi-middle; d++ {
			if middle-d >= s.lo {
				s.finishAt(n, middle-d, &best)
			}
			s.finishAt(n, middle+d, &best)
		}
	}
	if best.cost != unbounded && !s.best.cost.less(&best.cost) {
		s.best = best
	}
}

// finishAt ends the line from a node by a whole gauge, unless the tops it rips
// are too many already.
func (s *search) finishAt(n *node, gauge int64, best *arrival) {
	ripped, g := 0, measure.MM(gauge)
	for k := n.level; k < len(s.levels); k++ {
		if t := &s.levels[k]; t.Kind == Top && (s.keys[k]-n.at)%g != 0 {
			ripped += t.Count
		}
	}
	if ripped > 0 {
		least, most := s.arrivals[n.from].cost, s.most()
		least.Fragile += ripped
		if most.cutsLess(&least) || best.cost.cutsLess(&least) {
			return
		}
	}
	s.finishBy(n, s.tail(n.at, gauge, 1), best)
}

// finishBy ends the line from a node by a run, if that costs less than what is
// best from there.
func (s *search) finishBy(n *node, r run, best *arrival) {
	r.end = true
	most := s.most()
	if best.cost.cutsLess(&most) {
		most = best.cost
	}
	a := arrival{run: r}
	if s.extend(n, &a, &most) && a.cost.less(&best.cost) {
		*best = a
	}
}

// extend completes an arrival by its run from a node, the cheapest; false if it
// cuts more than most or costs more than the best plan. Arrivals at the node are
// sorted, so the first that costs too much even without a step ends the look.
func (s *search) extend(from *node, out *arrival, most *Cost) bool {
	arrivals := s.arrivals[from.from:from.to]
	own, room := Cost{Courses: int(out.run.count)}, most.minus(&arrivals[0].cost)
	if !s.along(from, &out.run, &own, &room) {
		return false
	}
	out.cost, out.gauge = unbounded, 0
	if out.run.count > 0 {
		out.gauge = out.run.gauge()
	}
	for k := range arrivals {
		a := &arrivals[k]
		c := a.cost.plus(&own)
		if !c.less(&out.cost) {
			break
		}
		c.step(a.gauge, out.gauge, s.stepMost)
		if c.less(&out.cost) {
			out.back, out.cost = from.from+k, c
		}
	}
	return !most.cutsLess(&out.cost) && !s.best.cost.less(&out.cost) && (s.limit == nil || out.cost.cutsLess(s.limit))
}

// enough holds what the cheapest known arrivals at a node cost by gauges of the
// lower and of the upper half of the limits. From one of the two, every next
// gauge is within the limit of the step, if that is half of the limits' width
// or more. So an arrival that cuts more than both is beaten whatever follows:
// steps within the limit count only after all that is cut.
type enough struct{ low, high Cost }

func (e *enough) note(a *arrival, l *line) {
	half := measure.MM(l.hi-l.lo) / 2
	if l.stepMost > 0 && l.stepMost < half {
		return
	}
	middle := measure.MM(l.lo) + half
	if (a.gauge <= middle || l.stepMost == 0) && a.cost.cutsLess(&e.low) {
		e.low = a.cost
	}
	if (a.gauge >= middle || l.stepMost == 0) && a.cost.cutsLess(&e.high) {
		e.high = a.cost
	}
}

// lower brings most down to the dearer of both.
func (e *enough) lower(most *Cost) {
	dearer := &e.low
	if dearer.cutsLess(&e.high) {
		dearer = &e.high
	}
	if dearer.cutsLess(most) {
		*most = *dearer
	}
}

// along adds what the marks of a run after its first decide: levels above its
// start, openings more than a lap above its start and up to a lap above its end,
// or all that are left if the line ends there. It gives up, and is false, once
// that cuts more than there is room for.
func (s *search) along(from *node, r *run, own, room *Cost) bool {
	end := r.mark(r.count)
	for k := from.level; k < len(s.levels) && (r.end || s.keys[k] <= end); k++ {
		c := none
		if s.keys[k] <= end {
			c = r.mark(r.below(s.keys[k]-1) + 1)
		}
		own.charge(&s.levels[k], s.level(&s.levels[k], c))
		if room.cutsLess(own) {
			return false
		}
	}
	for k := from.opening; k < len(s.openings); k++ {
		t := &s.openings[k]
		if !r.end && t.At > end+s.lapMost {
			break
		}
		s.alongOpening(r, t, own)
		if room.cutsLess(own) {
			return false
		}
	}
	return true
}

// alongOpening adds what an opening costs that a run decides.
func (s *search) alongOpening(r *run, t *Target, own *Cost) {
	q := min(r.below(t.At), r.count)
	c, prev := r.mark(q), none
	if q < r.count && t.At > c+s.lapMost {
		s.chargeDeep(own, t, c)
		return
	}
	if q > 0 {
		prev = r.mark(q - 1)
	}
	own.charge(t, s.inCourse(t, prev, c))
}

// above returns the first level above c and the first opening more than a lap
// above it: where a run that starts at c begins to count.
func (l *line) above(c measure.Length) (level, opening int) {
	level, _ = slices.BinarySearch(l.keys, c+1)
	opening, _ = slices.BinarySearchFunc(l.openings, c+l.lapMost+1,
		func(t Target, h measure.Length) int { return cmp.Compare(t.At, h) })
	return level, opening
}
