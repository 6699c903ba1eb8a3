package layout

import "math/bits"

// A bound that holds for every layout rests on a dual-feasible function: a
// value v(l) >= 0 for every piece length such that the pieces of any board are
// worth at most what the board costs. Each run then costs at least its
// cheapest segmentation under v, whatever the layout, and so does the sum.

// lowest returns the least cost of each run's pieces under the values, summed
// with quantities; joints are free and stagger is ignored. Sums that leave 63
// bits return -1.
func (m *model) lowest(values []int64) int64 {
	least := make([]int64, 0, len(m.shapes))
	at := make(map[*shape]int, len(m.shapes))
	for i, sh := range m.shapes {
		at[sh] = i
		least = append(least, sh.path(values))
	}
	sum := int64(0)
	for i := range m.runs {
		r := &m.runs[i]
		if r.shape.dead {
			continue
		}
		hi, lo := bits.Mul64(uint64(least[at[r.shape]]), uint64(r.qty))
		if hi != 0 || lo > uint64(far) || sum > far-int64(lo) {
			return -1
		}
		sum += int64(lo)
	}
	return sum
}

// path is the cheapest segmentation of the shape.
func (sh *shape) path(values []int64) int64 {
	cost := make([]int64, sh.n)
	for j := 1; j < sh.n; j++ {
		cost[j] = far
		for i := int(sh.first[j]); i <= int(sh.last[j]); i++ {
			if id := sh.seg[i*sh.n+j]; id != none && cost[i] < far {
				cost[j] = min(cost[j], cost[i]+values[id])
			}
		}
	}
	return cost[sh.n-1]
}

// quickBounds returns the best bounds on boards bought and on their cost that
// simple dual-feasible functions give: length itself, and the step functions
// u^(k) of S. P. Fekete and J. Schepers, New classes of fast lower bounds for
// bin packing problems, Mathematical Programming 91 (2001) 11-31.
func (m *model) quickBounds() (boards int, cost int64) {
	values := make([]int64, len(m.lens))
	long, hand := int64(0), int64(0) // longest bought; total length on hand
	for _, k := range m.kinds {
		if k.hand < 0 {
			long = max(long, k.cap)
		} else {
			hand += k.cap * int64(k.hand)
		}
	}
	copy(values, m.lens)
	if total := m.lowest(values) - hand; total > 0 {
		boards = int(ceilDiv(total, long))
		b := m.kinds[m.best]
		hi, lo := bits.Mul64(uint64(total), uint64(b.cost))
		if hi < uint64(b.cap) {
			q, r := bits.Div64(hi, lo, uint64(b.cap))
			if r > 0 {
				q++
			}
			cost = int64(q)
		}
	}
	if len(m.kinds) > 1 {
		return boards, cost
	}
	for k := int64(1); k <= 12; k++ {
		step(values, m.lens, long, k)
		if total := m.lowest(values); total > 0 {
			boards = max(boards, int(ceilDiv(total, k*(k+1))))
		}
	}
	return boards, max(cost, int64(boards)*m.kinds[0].cost)
}

// step fills values with u^(k), in units of 1/(k(k+1)) board: x -> x if
// (k+1)x/C is whole, else floor((k+1)x/C)/k.
func step(values, lens []int64, c, k int64) {
	for i, x := range lens {
		q, r := (k+1)*x/c, (k+1)*x%c
		if r == 0 {
			values[i] = k * q
		} else {
			values[i] = (k + 1) * q
		}
	}
}

func ceilDiv(a, b int64) int64 {
	if a <= 0 {
		return 0
	}
	return (a-1)/b + 1
}
