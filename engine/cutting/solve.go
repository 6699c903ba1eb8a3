package cutting

import "context"

// Solve plans the cutting of p at least cost. It stops when the plan is proven
// optimal, the effort is spent or ctx is done, and then returns the best plan
// and bound it has; a context that ends early is no error.
//
// Errors wrap ErrInvalid, ErrTooLong, ErrOverflow or ErrShortStock.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	if err := p.validate(); err != nil {
		return Plan{}, err
	}
	in := newInstance(p)
	if len(in.w) == 0 {
		return Plan{Proven: true}, nil
	}
	s := newSearch(ctx, in, o)
	s.run(o)
	return s.plan(p)
}

func newSearch(ctx context.Context, in *instance, o Options) *search {
	limit := o.Effort
	if limit == 0 {
		limit = DefaultEffort
	}
	m := &meter{ctx: ctx, limit: limit}
	return &search{in: in, meter: m, fit: newFitter(in), cost: -1, seed: uint32(o.Seed ^ o.Seed>>32)}
}

func (s *search) run(o Options) {
	s.bound = s.quickBound()
	s.greedy(nil, s.in.d, 0)
	if s.done() {
		return
	}
	if s.in.uniform() && s.in.bars[0].limit < 0 {
		if r := s.in.reduce(); r != nil {
			s.runRest(r, o)
			return
		}
	}
	s.full(o)
}

// runRest solves what a reduction leaves.
func (s *search) runRest(r *reduction, o Options) {
	rest := &search{in: r.rest, meter: s.meter, fit: newFitter(r.rest), cost: -1, seed: s.seed}
	if len(r.rest.w) == 0 {
		rest.cost = 0
	} else {
		rest.bound = rest.quickBound()
		rest.greedy(nil, rest.in.d, 0)
		if !rest.done() {
			rest.full(o)
		}
	}
	price := r.bars * s.in.bars[0].price
	s.bound = max(s.bound, rest.bound+price)
	if rest.cost >= 0 {
		s.better(nil, r.whole(rest.best))
	}
}

// full goes beyond first and best fit.
func (s *search) full(o Options) {
	s.fill = newFiller(s.in, s.meter)
	s.greedy(nil, s.in.d, 2000)
	if s.done() || o.Effort < 0 {
		return
	}
	if s.residuals(); s.done() {
		return
	}
	s.columns()
}

// quickBound is a bound on cost without search.
func (s *search) quickBound() int64 {
	if s.in.uniform() {
		return fastBound(s.in.w, s.in.d, s.in.bars[0].cap) * s.in.bars[0].price
	}
	total := int64(0)
	for i, w := range s.in.w {
		total += w * s.in.d[i]
	}
	best := int64(-1) // least price by length over kinds
	for _, b := range s.in.bars {
		if c := mulDivCeil(total, b.price, b.cap); best < 0 || c < best {
			best = c
		}
	}
	return best
}

func (s *search) columns() {
	g := newMaster(s.in.w, s.in.d, s.in.bars, s.meter)
	g.t.seed = s.seed
	g.t.perturb()
	g.t.refresh()
	for _, p := range s.best {
		g.add(p.bar, p.cuts)
	}
	g.steady()
	g.bound = s.bound
	g.generate(s.ceiling(), 1<<30)
	s.bound = max(s.bound, g.bound)
	if s.done() {
		return
	}
	g.smooth = 0
	root := g.fork()
	s.dive(g)
	if s.done() || s.meter.stopped() || s.cost < 0 {
		return
	}
	s.branch(root)
}

// plan turns the best patterns into a Plan.
func (s *search) plan(p Problem) (Plan, error) {
	if s.cost < 0 {
		return Plan{Work: s.meter.work}, ErrShortStock
	}
	pl := Plan{Patterns: expand(p, s.in, s.best), Work: s.meter.work}
	for _, x := range pl.Patterns {
		pl.Bars += x.Count
		pl.Cost += int64(x.Count) * p.Stocks[x.Stock].price()
	}
	pl.Bound = min(s.bound, s.cost) * s.in.money
	pl.Bound = min(pl.Bound, pl.Cost)
	pl.Proven = pl.Bound == pl.Cost
	return pl, nil
}
