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

// search finds a plan of least cost. The first found in rising order of nodes
// and gauges wins a tie, so equal problems give equal plans.
type search struct {
	*line
	arrivals [][]*arrival // by node
	best     *arrival     // a whole plan

	level1, opening1 int // where runs from the node at hand begin to count
}

// solve returns the stretches of a plan of least cost.
func (l *line) solve() []run {
	s := &search{line: l, arrivals: make([][]*arrival, len(l.nodes))}
	s.arrivals[0] = []*arrival{{cost: s.first(), run: run{from: l.start, per: 1}}}
	for i := range l.nodes {
		s.leave(i)
	}
	var runs []run
	for a := s.best; a != nil; a = a.back {
		if a.run.count > 0 {
			runs = append(runs, a.run)
		}
	}
	slices.Reverse(runs)
	return runs
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

// leave carries the arrivals at node i on to later nodes and to the end.
func (s *search) leave(i int) {
	in := s.arrivals[i]
	if len(in) == 0 {
		return
	}
	s.level1, s.opening1 = s.above(s.nodes[i])
	slices.SortStableFunc(in, func(a, b *arrival) int { return a.cost.Compare(b.cost) })
	from := s.nodes[i]
	if s.last(from) {
		s.finishWith(in, run{from: from, per: 1})
		return
	}
	s.tails(in, from)
	for j := i + 1; j < len(s.nodes); j++ {
		rise := int64((s.nodes[j] - from) / measure.Millimetre)
		for m := (rise + s.hi - 1) / s.hi; m*s.lo <= rise; m++ {
			r := run{from: from, rise: rise, per: m, count: m}
			if s.last(r.mark(m - 1)) {
				continue // the course at node j is not needed
			}
			if a := s.extend(in, r, false); a != nil {
				s.arrivals[j] = append(s.arrivals[j], a)
			}
		}
	}
}

// tails ends the line from a height without meeting another node: every whole
// gauge, the middle of the limits first.
func (s *search) tails(in []*arrival, from measure.Length) {
	middle := (s.lo + s.hi) / 2
	for d := int64(0); d <= s.hi-s.lo; d++ {
		for _, g := range [2]int64{middle - d, middle + d} {
			if g >= s.lo && g <= s.hi && (d > 0 || g == middle-d) {
				s.finishWith(in, s.tail(from, g, 1))
			}
			if d == 0 {
				break
			}
		}
	}
}

func (s *search) finishWith(in []*arrival, r run) {
	if a := s.extend(in, r, true); a != nil && (s.best == nil || a.cost.less(&s.best.cost)) {
		s.best = a
	}
}

// extend returns the cheapest arrival by run r after one of in, or nil if none
// can be part of a plan better than the best known. The arrivals are sorted,
// so the first that costs too much even without a step ends the look.
func (s *search) extend(in []*arrival, r run, end bool) *arrival {
	own := s.along(r, end)
	var out *arrival
	var least Cost
	gauge := measure.Length(0)
	if r.count > 0 {
		gauge = r.gauge()
	}
	for _, a := range in {
		c := a.cost.plus(own)
		if out != nil && !c.less(&least) {
			break
		}
		c.step(a.gauge, gauge, s.stepMost)
		if out == nil || c.less(&least) {
			out, least = a, c
		}
	}
	if s.best != nil && s.best.cost.less(&least) {
		return nil
	}
	return &arrival{cost: least, gauge: gauge, run: r, back: out}
}

// along returns what the marks of a run after its first decide: levels above
// its start, openings more than a lap above its start and up to a lap above
// its end, or all that are left if the line ends there.
func (s *search) along(r run, end bool) Cost {
	own := Cost{Courses: int(r.count)}
	lv, op := s.level1, s.opening1
	prev, c := none, r.from
	walk := r.walk()
	for q := int64(0); q < r.count; q++ {
		next := walk.next()
		for ; op < len(s.openings) && s.openings[op].At < next; op++ {
			own.charge(&s.openings[op], s.inCourse(&s.openings[op], prev, c))
		}
		for ; lv < len(s.levels) && s.keys[lv] <= next; lv++ {
			own.charge(&s.levels[lv], s.level(&s.levels[lv], next))
		}
		prev, c = c, next
	}
	for ; op < len(s.openings) && (end || s.openings[op].At <= c+s.lapMost); op++ {
		own.charge(&s.openings[op], s.inCourse(&s.openings[op], prev, c))
	}
	for ; end && lv < len(s.levels); lv++ {
		own.charge(&s.levels[lv], s.level(&s.levels[lv], none))
	}
	return own
}

// above returns the first level above c and the first opening more than a lap
// above it: where a run that starts at c begins to count.
func (l *line) above(c measure.Length) (level, opening int) {
	level, _ = slices.BinarySearch(l.keys, c+1)
	opening, _ = slices.BinarySearchFunc(l.openings, c+l.lapMost+1,
		func(t Target, h measure.Length) int { return cmp.Compare(t.At, h) })
	return level, opening
}
