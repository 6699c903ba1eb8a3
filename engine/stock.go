package engine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lapwright/engine/cutting"
	"lapwright/engine/measure"
)

// wanted is one mark to be cut from stock lengths of one product, Count times
// in each of a number of equal pools.
type wanted struct {
	mark   string
	length measure.Length
	count  int
}

// batch is all that is cut from one product in one pool.
type batch struct {
	pool    string
	pools   int // equal pools, each cut for itself
	drop    string
	product Product
	items   []wanted
}

// linearEffort bounds the search for trims and battens, whose price is small
// beside the boards': a batch that the bounds do not settle is nearly optimal.
const linearEffort = 3_000_000

// cutBatch plans the cutting of one batch. Boards of the plan are named with
// prefix and a number that goes on from next.
func cutBatch(ctx context.Context, b batch, kerf measure.Length, names *namer) ([]CutRow, PoolResult, error) {
	items := slices.Clone(b.items)
	slices.SortStableFunc(items, func(x, y wanted) int { return cmp.Compare(y.length, x.length) })
	p := cutting.Problem{Kerf: int64(kerf), Stocks: []cutting.Stock{{Length: int64(b.product.Length)}}}
	var queues [][]wanted // one a length, in the order of p.Items
	for _, it := range items {
		n := len(p.Items)
		if n == 0 || p.Items[n-1].Length != int64(it.length) {
			p.Items = append(p.Items, cutting.Item{Length: int64(it.length)})
			queues = append(queues, nil)
			n++
		}
		p.Items[n-1].Demand += it.count
		queues[n-1] = append(queues[n-1], it)
	}
	plan, err := cutting.Solve(ctx, p, cutting.Options{Effort: linearEffort})
	if err != nil {
		return nil, PoolResult{}, err
	}
	res := PoolResult{Pool: b.pool, Role: b.product.Role, Code: b.product.Code, Colour: b.product.Colour,
		Proven: plan.Proven, Price: b.product.Price}
	bound := int(math.Ceil(float64(plan.Bound) / float64(b.product.Length)))
	var rows []CutRow
	for _, pattern := range plan.Patterns {
		for _, row := range dealMarks(pattern, queues) {
			row.Board, row.Pool, row.Drop = names.next(), b.pool, b.drop
			row.Role, row.Code, row.Colour = b.product.Role, b.product.Code, b.product.Colour
			row.Stock = b.product.Length
			row.Offcut = offcut(row, kerf)
			row.Count *= b.pools
			rows = append(rows, row)
			res.Boards += row.Count
		}
	}
	res.PlanBound, res.LayoutBound = bound*b.pools, bound*b.pools
	for _, row := range rows {
		res.tally(row)
	}
	return rows, res, nil
}

// tally adds what one row of the plan uses and buys.
func (r *PoolResult) tally(row CutRow) {
	for _, c := range row.Cuts {
		r.Used += c.Length * measure.Length(row.Count)
	}
	r.Bought += row.Stock * measure.Length(row.Count)
}

// dealMarks hands the pieces of a pattern to the marks that want them. Queues
// hold what each length still wants; a pattern is split into rows where a mark
// is used up.
func dealMarks(p cutting.Pattern, queues [][]wanted) []CutRow {
	var rows []CutRow
	for left := p.Count; left > 0; {
		var row CutRow
		n := left
		taken := map[string]int{}
		for _, c := range p.Cuts {
			q, i := queues[c.Item], 0
			for range c.Count {
				for taken[q[i].mark] >= q[i].count {
					i++
				}
				taken[q[i].mark]++
				row.Cuts = append(row.Cuts, Cut{Marks: []string{q[i].mark}, Length: q[i].length})
			}
		}
		for _, c := range p.Cuts {
			for _, w := range queues[c.Item] {
				if k := taken[w.mark]; k > 0 {
					n = min(n, w.count/k)
				}
			}
		}
		row.Count = n
		left -= n
		for _, c := range p.Cuts {
			queues[c.Item] = use(queues[c.Item], taken, n)
		}
		rows = append(rows, row)
	}
	return rows
}

// use takes n boards' worth of the marks dealt out of a queue.
func use(q []wanted, taken map[string]int, n int) []wanted {
	out := q[:0:0]
	for _, w := range q {
		w.count -= taken[w.mark] * n
		if w.count > 0 {
			out = append(out, w)
		}
	}
	return out
}

// offcut returns what is left of a board after its cuts: an end of less than a
// kerf is no offcut.
func offcut(row CutRow, kerf measure.Length) measure.Length {
	rest := row.Stock + row.Shared
	for _, c := range row.Cuts {
		rest -= c.Length + kerf
	}
	return max(0, rest)
}

// namer numbers the boards of a cutting plan.
type namer struct {
	prefix string
	n      int
}

func (n *namer) next() string {
	n.n++
	return n.prefix + itoa(n.n)
}
