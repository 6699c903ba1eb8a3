package layout

import (
	"context"
	"math"
	"math/rand/v2"
)

// Solve lays and cuts the pool. The plan is never worse than the best hand
// method. If ctx is done the best plan so far is returned without an error; an
// error wraps ErrInvalid.
//
// The stages: hand methods; a linear master over segmentations and patterns,
// whose duals prove the bound; layouts made from its shares, refined by
// cutting planes of the cutting cost, and cut by package cutting or, at quick
// effort, by rounding; annealing of
// layout and packing together; last, joints removed while boards stay.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	if err := p.validate(); err != nil {
		return Plan{}, err
	}
	m := newModel(p)
	if len(m.lens) == 0 {
		out := m.plan(&solution{cuts: make([][]int32, len(m.runs))})
		out.Proven = true
		return out, nil
	}
	s := &solver{ctx: ctx, m: m, seed: o.Seed, e: budgetOf(o.Effort), effort: o.Effort}
	s.begin()
	switch {
	case s.done():
	case s.large():
		s.split()
	default:
		s.search()
	}
	return s.finish(), nil
}

// solver holds what the stages of one solution hand on.
type solver struct {
	ctx  context.Context
	m    *model
	seed uint64
	e    budget
	size int // pieces of the hand plan, each wall once

	effort Effort
	hands  []*solution
	hand   *solution // the best of hands
	best   *solution
	g      *master

	boards, cost int64 // bounds for any layout
	planCost     int64 // bound for the layout of best, 0: unknown
}

// budget is the work to spend on each stage, for each piece of the pool.
type budget struct {
	master  int64   // steps of the linear master
	cutting int64   // steps of the bare solver; 0: the refiner's patterns are rounded
	tries   int     // layouts made from the master's shares
	moves   int     // of the constructor
	rounds  int     // of the refiner
	steps   int     // of the refiner in a round
	hot     float64 // where a round of the refiner begins
	cold    float64 // and ends
	polish  int     // of the annealer
	join    int     // of the annealer, where a pool was laid in groups
	thin    int     // of the annealer, to remove joints
}

func budgetOf(e Effort) budget {
	switch e {
	case Quick:
		return budget{master: 4_000, tries: 1, moves: 16, join: 5, thin: 4}
	case Thorough:
		return budget{master: 20_000_000, cutting: 300_000, tries: 12, moves: 500, rounds: 24, steps: 300, hot: 0.2, cold: 0.03, polish: 1000, thin: 1000}
	}
	return budget{master: 400_000, cutting: 50_000, tries: 3, moves: 150, rounds: 12, steps: 20, hot: 0.02, cold: 0.002, polish: 30, thin: 300}
}

// Heats, in boards: where a layout is made from shares, polished with its
// packing.
const (
	makeHot, makeCold     = 0.3, 0.01
	polishHot, polishCold = 0.01, 0.002
)

// begin makes the hand plans and the simple bounds.
func (s *solver) begin() {
	s.hands = s.m.hand(rand.New(rand.NewPCG(s.seed, 0x9e3779b97f4a7c15)))
	s.best = s.hands[0]
	for _, h := range s.hands {
		if h.better(s.best) {
			s.best = h
		}
	}
	s.hand = s.best
	for _, cuts := range s.hand.cuts {
		s.size += len(cuts) + 1
	}
	b, c := s.m.quickBounds()
	s.boards, s.cost = int64(b), s.m.payable(c)
}

func (s *solver) done() bool { return s.best.cost <= s.cost || s.ctx.Err() != nil }

// search improves the best plan and the bound as far as effort goes. Thorough
// effort begins with what normal effort does, so that it never comes out worse.
func (s *solver) search() {
	if s.effort == Thorough {
		last := s.e
		s.e = budgetOf(Normal)
		s.improve()
		s.e = last
	}
	s.improve()
	s.settle()
}

// improve spends the budget once.
func (s *solver) improve() {
	if s.g == nil || !s.done() {
		s.lay()
	}
	if s.e.thin > 0 {
		s.polish(func(a *annealer) { a.thin(s.e.thin * s.size) })
	}
}

// lay makes layouts after the shares of a master, and polishes the best plan.
func (s *solver) lay() {
	s.g = newMaster(s.m, s.hands)
	s.g.addCovers(s.best)
	s.g.generate(s.ctx, s.e.master*int64(s.size))
	if !s.g.plain { // the simple bounds say as much
		b, c := s.g.prove(s.g.proof())
		s.boards, s.cost = max(s.boards, int64(b)), max(s.cost, c)
	}
	for k := 0; k < s.e.tries && !s.done(); k++ {
		s.attempt(s.seed + uint64(k))
	}
	if s.e.polish > 0 && !s.done() {
		s.polish(func(a *annealer) { a.anneal(s.e.polish*s.size, polishHot, polishCold) })
	}
}

// attempt makes a layout from the master's shares, refines it, and cuts what
// may be better than the best.
func (s *solver) attempt(seed uint64) {
	w := newWalker(s.m, s.hand.cuts, seed)
	newConstructor(w, s.g).anneal(s.e.moves*s.size, makeHot, makeCold)
	r := newRefiner(w, s.g)
	for k := 0; ; k++ {
		a := r.relax(s.ctx, s.work())
		if s.promising(a.s.value()) {
			if s.e.cutting > 0 {
				s.try(w.layout())
			} else {
				s.keep(s.m.rounded(w.layout(), a), 0)
			}
		}
		if k == s.e.rounds || s.done() {
			return
		}
		r.anneal(s.e.steps*s.size, s.e.hot, s.e.cold)
	}
}

// work is the work that the cutting of one layout, and its linear program,
// may take.
func (s *solver) work() int64 { return max(300, s.e.cutting) * int64(s.size) }

// promising reports whether a layout of that value, in boards of the best
// kind, can cost less than the best plan.
func (s *solver) promising(value float64) bool {
	return math.Ceil(value/s.g.grain-1e-3)*s.g.grain*s.g.unit < float64(s.best.cost)-0.5
}

// try cuts a layout and keeps it if it is the best.
func (s *solver) try(cuts [][]int32) {
	sol, bound, err := s.m.cut(s.ctx, cuts, s.work())
	if err != nil {
		return
	}
	s.keep(sol, bound)
}

// keep keeps a solution if it is the best; bound is what cutting its pieces
// costs at least, 0 if that is unknown.
func (s *solver) keep(sol *solution, bound int64) {
	sol.broken = s.hand.broken
	if sol.better(s.best) {
		s.best, s.planCost = sol, bound
	}
}

// mostCopies is how many copies of each piece, on average, are still annealed
// one by one.
const mostCopies = 16

// polish anneals the best plan.
func (s *solver) polish(by func(a *annealer)) {
	pieces := 0
	for _, b := range s.best.boards {
		pieces += b.count * len(b.parts)
	}
	if pieces > mostCopies*s.size {
		return
	}
	a := newAnnealer(s.ctx, s.m, s.best, s.seed)
	a.target = s.cost + 1
	by(a)
	if a.best.better(s.best) {
		s.best, s.planCost = a.best, 0
	}
}

// settle bounds the cutting of the final layout where that is still open.
func (s *solver) settle() {
	if s.planCost > 0 || s.best.cost <= s.cost || s.e.cutting == 0 {
		return
	}
	cuts := s.best.cuts
	sol, bound, err := s.m.cut(s.ctx, cuts, s.work())
	if err != nil {
		return
	}
	sol.broken = s.best.broken
	if sol.better(s.best) {
		s.best = sol
	}
	s.planCost = bound
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
