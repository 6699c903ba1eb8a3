package layout

import (
	"context"
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
	rng := rand.New(rand.NewPCG(o.Seed, 0x9e3779b97f4a7c15))
	hands := m.hand(rng)
	best := hands[0]
	for _, h := range hands {
		if h.better(best) {
			best = h
		}
	}
	out := m.plan(best)
	for _, h := range hands {
		out.Hands = append(out.Hands, HandPlan{h.name, h.bought, h.cost})
	}
	out.Hand = HandPlan{best.name, best.bought, best.cost}
	out.Relaxed = m.relaxed(best)
	out.LayoutBound, out.LayoutCostBound = m.quickBounds()
	out.PlanBound, out.PlanCostBound = out.LayoutBound, out.LayoutCostBound
	out.Proven = out.Cost == out.LayoutCostBound
	return out, nil
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
