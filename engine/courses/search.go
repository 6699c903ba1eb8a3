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
	back  *arrival
}

// node is a height a mark may take, with the ways of reaching it, the cheapest
// first, and where a run that starts there begins to count.
type node struct {
	at             measure.Length
	in             []*arrival
	level, opening int
}

// search finds a plan of least cost. Nodes are reached in rising order, each by
// the shortest stretches first; the first plan found wins a tie, so equal
// problems give equal plans.
type search struct {
	*line
	nodes []node
	best  *arrival // a whole plan
}

// solve returns the last stretch of a plan of least cost.
func (l *line) solve() *arrival {
	s := &search{line: l, nodes: make([]node, len(l.heights))}
	for j, c := range l.heights {
		n := &s.nodes[j]
		n.at = c
		n.level, n.opening = l.above(c)
		if j == 0 {
			n.in = []*arrival{{cost: s.first(), run: run{from: c, per: 1}}}
		} else {
			s.reach(j)
		}
		s.finish(n)
	}
	return s.best
}

// runs returns the stretches that lead to a and its own, from the start on.
func (a *arrival) runs() []run {
	var out []run
	for ; a != nil; a = a.back {
		if a.run.count > 0 {
			out = append(out, a.run)
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

// reach finds the arrivals at node j.
func (s *search) reach(j int) {
	to := &s.nodes[j]
	var known enough
	for i := j - 1; i >= 0; i-- {
		from := &s.nodes[i]
		if len(from.in) == 0 || s.last(from.at) || known.beat(&from.in[0].cost) {
			continue
		}
		rise := int64((to.at - from.at) / measure.Millimetre)
		for m := (rise + s.hi - 1) / s.hi; m*s.lo <= rise; m++ {
			r := run{from: from.at, rise: rise, per: m, count: m}
			if s.last(r.mark(m - 1)) {
				continue // the course at node j is not needed
			}
			if a := s.extend(from, r, known); a != nil {
				to.in = append(to.in, a)
				known.note(a, s.line)
			}
		}
	}
	slices.SortStableFunc(to.in, func(a, b *arrival) int { return a.cost.Compare(b.cost) })
}

// finish ends the line from a node without meeting another: at once if its
// course is the last, else by every whole gauge, the middle of the limits
// first.
func (s *search) finish(n *node) {
	if len(n.in) == 0 {
		return
	}
	if s.last(n.at) {
		s.finishBy(n, run{from: n.at, per: 1})
		return
	}
	middle := (s.lo + s.hi) / 2
	s.finishBy(n, s.tail(n.at, middle, 1))
	for d := int64(1); d <= s.hi-middle; d++ {
		if middle-d >= s.lo {
			s.finishBy(n, s.tail(n.at, middle-d, 1))
		}
		s.finishBy(n, s.tail(n.at, middle+d, 1))
	}
}

func (s *search) finishBy(n *node, r run) {
	r.end = true
	a := s.extend(n, r, enough{s.best, s.best})
	if a != nil && (s.best == nil || a.cost.less(&s.best.cost)) {
		s.best = a
	}
}

// extend returns the cheapest arrival by run r from a node, or nil if it is
// beaten. Arrivals are sorted, so the first that costs too much even without a
// step ends the look.
func (s *search) extend(from *node, r run, known enough) *arrival {
	own, ok := s.along(from, r, known)
	if !ok {
		return nil
	}
	out := arrival{run: r}
	if r.count > 0 {
		out.gauge = r.gauge()
	}
	for _, a := range from.in {
		c := a.cost.plus(own)
		if out.back != nil && !c.less(&out.cost) {
			break
		}
		c.step(a.gauge, out.gauge, s.stepMost)
		if out.back == nil || c.less(&out.cost) {
			out.back, out.cost = a, c
		}
	}
	if known.beat(&out.cost) || s.best != nil && s.best.cost.less(&out.cost) || s.limit != nil && !out.cost.cutsLess(s.limit) {
		return nil
	}
	return &out
}

// enough holds the cheapest known arrivals at a node by gauges of the lower and
// of the upper half of the limits. From one of the two, every next gauge is
// within the limit of the step, if that is half of the limits' width or more.
// So an arrival that cuts more than both is beaten whatever follows: steps
// within the limit count only after all that is cut.
type enough struct{ low, high *arrival }

func (e *enough) note(a *arrival, l *line) {
	half := measure.MM(l.hi-l.lo) / 2
	if l.stepMost > 0 && l.stepMost < half {
		return
	}
	middle := measure.MM(l.lo) + half
	if (a.gauge <= middle || l.stepMost == 0) && (e.low == nil || a.cost.cutsLess(&e.low.cost)) {
		e.low = a
	}
	if (a.gauge >= middle || l.stepMost == 0) && (e.high == nil || a.cost.cutsLess(&e.high.cost)) {
		e.high = a
	}
}

// beat reports whether c cuts more than both.
func (e *enough) beat(c *Cost) bool {
	return e.low != nil && e.high != nil && e.low.cost.cutsLess(c) && e.high.cost.cutsLess(c)
}

// room returns the most that may be added to cost c before it is beaten.
func (e *enough) room(c *Cost) (Cost, bool) {
	if e.low == nil || e.high == nil {
		return Cost{}, false
	}
	most := e.low.cost
	if most.cutsLess(&e.high.cost) {
		most = e.high.cost
	}
	return most.minus(c), true
}

// along returns what the marks of a run after its first decide: levels above
// its start, openings more than a lap above its start and up to a lap above
// its end, or all that are left if the line ends there. It gives up once even
// the cheapest arrival at its start is beaten.
func (s *search) along(from *node, r run, known enough) (Cost, bool) {
	own := Cost{Courses: int(r.count)}
	lv, op := from.level, from.opening
	prev, c := none, r.from
	room, bounded := known.room(&from.in[0].cost)
	if s.limit != nil {
		if most := s.limit.minus(&from.in[0].cost); !bounded || most.cutsLess(&room) {
			room, bounded = most, true
		}
	}
	walk := r.walk()
	for q := int64(0); q < r.count; q++ {
		next := walk.next()
		for ; op < len(s.openings) && s.openings[op].At < next; op++ {
			if t := &s.openings[op]; t.At > c+s.lapMost {
				s.chargeDeep(&own, t, c)
			} else {
				own.charge(t, s.inCourse(t, prev, c))
			}
		}
		for ; lv < len(s.levels) && s.keys[lv] <= next; lv++ {
			own.charge(&s.levels[lv], s.level(&s.levels[lv], next))
		}
		if bounded && room.cutsLess(&own) {
			return own, false
		}
		prev, c = c, next
	}
	for ; op < len(s.openings) && (r.end || s.openings[op].At <= c+s.lapMost); op++ {
		own.charge(&s.openings[op], s.inCourse(&s.openings[op], prev, c))
	}
	for ; r.end && lv < len(s.levels); lv++ {
		own.charge(&s.levels[lv], s.level(&s.levels[lv], none))
	}
	return own, true
}

// above returns the first level above c and the first opening more than a lap
// above it: where a run that starts at c begins to count.
func (l *line) above(c measure.Length) (level, opening int) {
	level, _ = slices.BinarySearch(l.keys, c+1)
	opening, _ = slices.BinarySearchFunc(l.openings, c+l.lapMost+1,
		func(t Target, h measure.Length) int { return cmp.Compare(t.At, h) })
	return level, opening
}
