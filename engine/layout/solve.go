package layout

import (
	"context"
	"math"
	"math/rand/v2"
)

// Solve lays and cuts the pool. The plan is never worse than the best hand
// method. If ctx is done the best plan so far is returned without an error.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	if err := p.validate(); err != nil {
		return Plan{}, err
	}
	m := newModel(p)
	if len(m.lens) == 0 {
		return m.plan(&solution{cuts: make([][]int32, len(m.runs))}), nil
	}
	s := &solver{ctx: ctx, m: m, o: o, rng: rand.New(rand.NewPCG(o.Seed, 0x9e3779b97f4a7c15))}
	s.begin()
	s.search()
	return s.finish(), nil
}

// solver holds what the stages of one solution hand on.
type solver struct {
	ctx   context.Context
	m     *model
	o     Options
	rng   *rand.Rand
	hands []*solution
	hand  *solution // the best of hands
	best  *solution
	g     *master

	boards, cost int64 // bounds for any layout
	planCost     int64 // bound for the layout of best
}

// begin makes the hand plans and the simple bounds.
func (s *solver) begin() {
	s.hands = s.m.hand(s.rng)
	s.best = s.hands[0]
	for _, h := range s.hands {
		if h.better(s.best) {
			s.best = h
		}
	}
	s.hand = s.best
	b, c := s.m.quickBounds()
	s.boards, s.cost = int64(b), c
}

func (s *solver) done() bool { return s.best.cost <= s.cost || s.ctx.Err() != nil }

// search improves the best plan and the bound as far as effort goes.
func (s *solver) search() {
	if s.done() {
		return
	}
	size := 0
	for _, n := range s.m.demand(s.hand.cuts) {
		size += int(n)
	}
	e := s.budget()
	s.g = newMaster(s.m, s.hands, s.rng)
	s.g.addCovers(s.best)
	s.g.generate(e.master * int64(size))
	b, c := s.g.prove(s.g.proof())
	s.boards, s.cost = max(s.boards, int64(b)), max(s.cost, c)
	for k := 0; k < e.tries && !s.done(); k++ {
		s.attempt(e, size, s.o.Seed+uint64(k))
	}
	if !s.done() {
		an := newAnnealer(s.ctx, s.m, s.best, s.o.Seed)
		an.target = s.cost
		an.anneal(e.polish*size, 0.01, 0.002)
		if an.best.better(s.best) {
			s.best, s.planCost = an.best, 0
		}
	}
}

// attempt makes a layout from the master's shares, refines it, and cuts what
// may be better than the best.
func (s *solver) attempt(e budget, size int, seed uint64) {
	w := newWalker(s.m, s.hand.cuts, seed)
	c := newConstructor(w, s.g)
	c.anneal(e.moves*size, tuneHot, tuneCold)
	r := newRefiner(w, s.g)
	for k := 0; ; k++ {
		value := r.relax(e.cutting * int64(size))
		if s.promising(value) {
			s.try(w.layout(), e.cutting*int64(size))
		}
		if k == e.rounds || s.done() {
			return
		}
		r.anneal(e.steps*size, tuneRHot, tuneRCold)
	}
}

// promising reports whether a layout of that value, in boards of the best
// kind, can cost less than the best plan.
func (s *solver) promising(value float64) bool {
	return math.Ceil(value/s.g.grain-1e-3)*s.g.grain*s.g.unit < float64(s.best.cost)-0.5
}

// budget is the work to spend on each stage, for each piece of the pool.
type budget struct {
	master  int64 // steps of the linear master
	cutting int64 // steps of the bare solver
	tries   int   // layouts made from the master's shares
	moves   int   // of the constructor
	rounds  int   // of the refiner
	steps   int   // of the refiner in a round
	polish  int   // of the annealer
}

func (s *solver) budget() budget {
	switch s.o.Effort {
	case Quick:
		return budget{tuneQM, 5_000, 1, 40, 2, 30, 40}
	case Thorough:
		return budget{20_000_000, 1_000_000, 12, 500, 24, 300, 5000}
	}
	return budget{400_000, 50_000, tuneTries, tuneMoves, tuneRounds, tuneSteps, tunePolish}
}

// try cuts a layout and keeps it if it is the best.
func (s *solver) try(cuts [][]int32, effort int64) {
	sol, bound, err := s.m.cut(s.ctx, cuts, effort)
	if err != nil {
		return
	}
	sol.broken = s.hand.broken
	if sol.better(s.best) {
		s.best, s.planCost = sol, bound
	}
}

// finish writes the plan.
func (s *solver) finish() Plan {
	m := s.m
	out := m.plan(s.best)
	for _, h := range s.hands {
		out.Hands = append(out.Hands, HandPlan{h.name, h.bought, h.cost})
	}
	out.Hand = HandPlan{s.hand.name, s.hand.bought, s.hand.cost}
	out.Relaxed = m.relaxed(s.best)
	out.LayoutBound, out.LayoutCostBound = int(s.boards), s.cost
	out.PlanCostBound = max(s.cost, s.planCost)
	out.PlanBound = out.LayoutBound
	if n, c := m.onlyKind(); n == 1 {
		out.PlanBound = max(out.PlanBound, int(ceilDiv(out.PlanCostBound, c)))
	}
	out.Proven = out.Cost == out.LayoutCostBound
	return out
}

var tuneMoves, tuneTries, tuneHot, tuneCold, tunePolish = 150, 2, 0.3, 0.01, 200
var tuneRounds, tuneSteps, tuneRHot, tuneRCold = 10, 60, 0.2, 0.03
var tuneQM int64 = 20_000

// relaxed lists the runs of a solution that break a rule.
func (m *model) relaxed(s *solution) []Ref {
	st := newState(m)
	for r := range m.runs {
		if !m.runs[r].shape.dead {
			st.put(int32(r), s.cuts[r])
		}
	}
	var out []Ref
	for _, r := range st.relaxed() {
		out = append(out, Ref{m.runs[r].wall, m.runs[r].index})
	}
	return out
}
