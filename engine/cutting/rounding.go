package cutting

import (
	"math"
	"slices"
)

// search holds what is known while a problem is solved.
type search struct {
	in    *instance
	meter *meter
	fit   *fitter
	fill  *filler
	best  []pattern
	cost  int64 // of best, in reduced prices; -1 while there is none
	bound int64
	seed  uint32
	nodes int  // branch nodes solved
	part  bool // of a larger search; cost may start as the cost to beat, without a plan
}

func (s *search) done() bool { return s.cost >= 0 && s.cost <= s.bound }

// ceiling is the cost to beat.
func (s *search) ceiling() int64 {
	if s.cost < 0 {
		return math.MaxInt64 / 2
	}
	return s.cost
}

// better keeps a plan if it costs less. The patterns are copied.
func (s *search) better(fixed, rest []pattern) {
	c := s.in.cost(fixed) + s.in.cost(rest)
	if s.cost >= 0 && c >= s.cost {
		return
	}
	s.cost = c
	s.best = append(append(make([]pattern, 0, len(fixed)+len(rest)), fixed...), rest...)
}

// taken counts bars by kind; nil if no kind is limited.
func (in *instance) taken(ps []pattern) []int64 {
	var used []int64
	for _, b := range in.bars {
		if b.limit >= 0 && used == nil {
			used = make([]int64, len(in.bars))
		}
	}
	for _, p := range ps {
		if used != nil {
			used[p.bar] += p.count
		}
	}
	return used
}

// greedy completes fixed patterns by the simple heuristics for the demands d.
func (s *search) greedy(fixed []pattern, d []int64, nodes int) {
	s.fit.base = s.in.taken(fixed)
	s.fit.firstFit(d)
	s.fromFitter(fixed)
	if s.done() {
		return
	}
	s.fit.bestFit(d)
	s.fromFitter(fixed)
	s.meter.spend(4 * len(d) * (1 + len(s.fit.groups)/4))
	if s.done() || nodes == 0 {
		return
	}
	s.fill.base = s.fit.base
	if ps := s.fill.run(d, nodes, 1<<62); ps != nil {
		if !s.in.uniform() {
			ps = s.in.shrink(ps, s.fit.base)
		}
		s.better(fixed, ps)
	}
}

func (s *search) fromFitter(fixed []pattern) {
	if s.fit.short {
		return
	}
	if s.in.uniform() && s.cost >= 0 && s.in.cost(fixed)+s.fit.count()*s.in.bars[0].price >= s.cost {
		return
	}
	s.better(fixed, s.fit.patterns())
}

// partial is a plan in the making: patterns fixed and demands left.
type partial struct {
	fixed []pattern
	d     []int64
	cost  int64
}

// use fixes up to n bars of a column, as many as are wanted in full.
func (q *partial) use(in *instance, c *column, n int64) int64 {
	for _, x := range c.cuts {
		n = min(n, q.d[x.item]/int64(x.n))
	}
	if l := in.bars[c.bar].limit; l >= 0 {
		n = min(n, l-in.taken(q.fixed)[c.bar])
	}
	if n <= 0 {
		return 0
	}
	for _, x := range c.cuts {
		q.d[x.item] -= int64(x.n) * n
	}
	q.cost += n * in.bars[c.bar].price
	q.fixed = append(q.fixed, pattern{bar: c.bar, count: n, cuts: c.cuts})
	return n
}

// dive rounds the fractional plan of g column by column, letting column
// generation repair the rest each time: R. Sadykov, F. Vanderbeck, A. Pessoa,
// I. Tahiri and E. Uchoa, Primal heuristics for branch and price, INFORMS
// Journal on Computing 31 (2019) 251-267. It leaves g changed.
func (s *search) dive(g *master) {
	q := &partial{d: slices.Clone(g.d)}
	s.greedy(nil, q.d, 300)
	for !s.done() && !s.meter.stopped() {
		if !s.fix(g, q) {
			return
		}
		s.greedy(q.fixed, q.d, 300)
		if s.done() {
			return
		}
		g.reduce(q.d, s.in.taken(q.fixed))
		g.bound = 0
		g.generate(s.ceiling()-q.cost, 30)
		if s.cost >= 0 && q.cost+g.bound >= s.cost {
			return
		}
	}
}

// fix rounds down every column that is used at least once, else up the one
// that is used most. It reports whether anything was fixed.
func (s *search) fix(g *master, q *partial) bool {
	v := g.t.values()
	any := false
	best, most := -1, 1e-6
	for r, x := range v {
		j := g.t.basis[r]
		if j < 0 || g.t.cols[j].bar < 0 || len(g.t.cols[j].cuts) == 0 {
			continue
		}
		c := &g.t.cols[j]
		if x > 1-1e-6 && q.use(s.in, c, int64(x+1e-6)) > 0 {
			any = true
			continue
		}
		if x > most && fits(c.cuts, q.d) {
			best, most = j, x
		}
	}
	if any {
		return true
	}
	return best >= 0 && q.use(s.in, &g.t.cols[best], 1) > 0
}

func fits(cuts []cut, d []int64) bool {
	for _, c := range cuts {
		if int64(c.n) > d[c.item] {
			return false
		}
	}
	return true
}

// reduce sets the demands of g to d, which are no larger than before, with used
// bars of each kind gone, and restores feasibility of the linear programme.
func (g *master) reduce(d, used []int64) {
	copy(g.d, d)
	copy(g.p.limit, d)
	for i, n := range d {
		g.t.truth[g.row[i]] = float64(n)
	}
	for k, r := range g.caprow {
		if r >= 0 {
			g.limits[k] = g.bars[k].limit - used[k]
			g.t.truth[r] = -float64(g.limits[k])
		}
	}
	g.t.perturb()
	g.t.refresh()
	if !g.t.dual() {
		g.t.restart()
	}
	for j := range g.t.cols {
		c := &g.t.cols[j]
		c.off = c.off || !fits(c.cuts, d)
	}
	g.t.refresh()
}
