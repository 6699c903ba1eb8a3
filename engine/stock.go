package engine

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"lapwright/engine/cutting"
	"lapwright/engine/measure"
)

// wanted is one mark to be cut from stock lengths of one product, count times
// in each of a number of equal pools.
type wanted struct {
	mark   string
	length measure.Length
	count  int     // still wanted
	taken  int     // of them, on the board at hand
	stock  *string // where the boards it comes from are named
}

// batch is all that is cut from one product in one pool.
type batch struct {
	pool    string
	pools   int // equal pools, each cut for itself
	drop    string
	product Product
	items   []wanted
	queues  [][]wanted // the items, one queue a length, falling
}

// linearEffort bounds the search for trims and battens, whose price is small
// beside the boards': a batch that the bounds do not settle is nearly optimal.
const linearEffort = 3_000_000

// problem puts the items in order and states them for cutting; the problem's
// items are the queues.
func (b *batch) problem(kerf measure.Length) cutting.Problem {
	slices.SortStableFunc(b.items, func(x, y wanted) int { return cmp.Compare(y.length, x.length) })
	p := cutting.Problem{Kerf: int64(kerf), Stocks: []cutting.Stock{{Length: int64(b.product.Length)}}}
	for from, to := 0, 0; from < len(b.items); from = to {
		item := cutting.Item{Length: int64(b.items[from].length)}
		for ; to < len(b.items) && b.items[to].length == b.items[from].length; to++ {
			item.Demand += b.items[to].count
		}
		p.Items = append(p.Items, item)
		b.queues = append(b.queues, b.items[from:to])
	}
	return p
}

// dealer hands the pieces of cutting plans to the marks that want them.
type dealer struct {
	cuts  chunk[Cut]
	marks chunk[string]
	on    []*wanted // scratch: the pieces of the board at hand
}

// deal adds the rows of a batch's plan to the list, their boards named, and says
// how near the limit it is.
func (d *dealer) deal(rows []CutRow, b *batch, plan *cutting.Plan, names *namer, kerf measure.Length) ([]CutRow, PoolResult) {
	bound := int(math.Ceil(float64(plan.Bound)/float64(b.product.Length))) * b.pools
	res := PoolResult{Pool: b.pool, Role: b.product.Role, Code: b.product.Code, Colour: b.product.Colour,
		Proven: plan.Proven, Price: b.product.Price, PlanBound: bound, LayoutBound: bound}
	lot := &Lot{Pool: b.pool, Drop: b.drop, Role: b.product.Role, Code: b.product.Code, Colour: b.product.Colour, Stock: b.product.Length}
	for _, pattern := range plan.Patterns {
		for left := pattern.Count; left > 0; {
			row := CutRow{Board: names.next(), Lot: lot}
			row.Count = min(left, d.lay(pattern.Cuts, b.queues))
			left -= row.Count
			row.Cuts = d.cut(row.Board, row.Count)
			row.Offcut = offcut(row, kerf)
			row.Count *= b.pools
			res.Boards += row.Count
			res.tally(row)
			rows = append(rows, row)
		}
	}
	res.Hand = res.Boards // there is no hand method to compare with
	res.Cost, res.CostBound = float64(res.Boards)*res.Price, float64(bound)*res.Price
	res.HandCost = res.Cost
	return rows, res
}

// lay puts on one board the pieces of a pattern, from the front of their queues,
// and returns on how many boards their marks are wanted alike.
func (d *dealer) lay(cuts []cutting.Cut, queues [][]wanted) int {
	d.on = d.on[:0]
	for _, c := range cuts {
		q, i := queues[c.Item], 0
		for len(q) > 0 && q[0].count == 0 {
			q = q[1:]
		}
		queues[c.Item] = q
		for range c.Count {
			for q[i].taken >= q[i].count {
				i++
			}
			q[i].taken++
			d.on = append(d.on, &q[i])
		}
	}
	n := math.MaxInt
	for _, w := range d.on {
		n = min(n, w.count/w.taken)
	}
	return n
}

// cut takes the pieces laid from so many boards of that name.
func (d *dealer) cut(board string, n int) []Cut {
	cuts, marks := d.cuts.take(len(d.on)), d.marks.take(len(d.on))
	for i, w := range d.on {
		marks[i] = w.mark
		cuts[i] = Cut{Marks: marks[i : i+1 : i+1], Length: w.length}
		*w.stock = joinName(*w.stock, board)
		w.count -= w.taken * n
		w.taken = 0 // another piece of this mark takes no more
	}
	return cuts
}

// tally adds what one row of the plan uses and buys.
func (r *PoolResult) tally(row CutRow) {
	for _, c := range row.Cuts {
		r.Used += c.Length * measure.Length(row.Count)
	}
	r.Bought += row.Stock * measure.Length(row.Count)
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
	var buffer [16]byte
	return string(strconv.AppendInt(append(buffer[:0], n.prefix...), int64(n.n), 10))
}

// chunk hands out parts of larger slices, for many small ones that live as long
// as each other.
type chunk[T any] struct{ free []T }

func (c *chunk[T]) take(n int) []T {
	if n > len(c.free) {
		c.free = make([]T, max(n, 256))
	}
	out := c.free[:n:n]
	c.free = c.free[n:]
	return out
}
