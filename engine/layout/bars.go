package layout

import (
	"context"

	"lapwright/engine/cutting"
)

// cut cuts a layout's pieces by the bare solver and returns the solution with
// the cost no cutting of these pieces undercuts.
func (m *model) cut(ctx context.Context, cuts [][]int32, effort int64) (*solution, int64, error) {
	p, factor, ids := m.bars(cuts)
	plan, err := cutting.Solve(ctx, p, cutting.Options{Effort: effort})
	if err != nil {
		return nil, 0, err
	}
	out := &solution{name: "search", cuts: cuts}
	for _, pt := range plan.Patterns {
		b := cutBoard{kind: pt.Stock, count: pt.Count}
		for _, c := range pt.Cuts {
			for range c.Count {
				b.parts = append(b.parts, ids[c.Item])
			}
		}
		out.boards = append(out.boards, b)
	}
	m.tally(out)
	return out, m.payable(plan.Bound / factor), nil
}

// bars states the cutting of a layout for the bare solver. Boards on hand cost
// one unit, so little beside the factor on bought ones that they never
// outweigh a unit of price.
func (m *model) bars(cuts [][]int32) (p cutting.Problem, factor int64, ids []int32) {
	factor = 1
	for _, k := range m.kinds {
		factor += int64(max(0, k.hand))
	}
	for _, k := range m.kinds {
		s := cutting.Stock{Length: k.cap, Price: k.cost * factor}
		if k.hand >= 0 {
			s.Price, s.Limit = 1, k.hand
		}
		p.Stocks = append(p.Stocks, s)
	}
	for id, n := range m.demand(cuts) {
		if n > 0 {
			p.Items = append(p.Items, cutting.Item{Length: m.lens[id], Demand: int(n)})
			ids = append(ids, int32(id))
		}
	}
	return p, factor, ids
}
