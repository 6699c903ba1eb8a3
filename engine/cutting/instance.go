package cutting

import (
	"cmp"
	"slices"
)

// bar is a stock kind in reduced units.
type bar struct {
	cap    int64 // capacity
	price  int64
	limit  int64 // bars on hand, -1 without limit
	origin int   // index into Problem.Stocks
}

// instance is a Problem with the kerf folded in (added to every bar and every
// piece), equal lengths merged, lengths divided by their common divisor and
// sorted falling, prices divided by theirs.
type instance struct {
	bars  []bar // by falling capacity
	w     []int64
	d     []int64
	ref   [][]int // items of the problem behind each length, rising
	money int64   // what one unit of reduced price costs
}

// cut is a count of one merged length.
type cut struct{ item, n int }

// pattern is a way to cut a bar in terms of merged lengths.
type pattern struct {
	bar   int // index into instance.bars
	count int64
	cuts  []cut // by rising item
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func newInstance(p Problem) *instance {
	in := &instance{}
	order := make([]int, 0, len(p.Items))
	for i, it := range p.Items {
		if it.Demand > 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Items[b].Length, p.Items[a].Length), cmp.Compare(a, b))
	})
	in.w = make([]int64, 0, len(order))
	in.d = make([]int64, 0, len(order))
	in.ref = make([][]int, 0, len(order))
	g := int64(0)
	for k, i := range order {
		w := p.Items[i].Length + p.Kerf
		if last := len(in.w) - 1; last >= 0 && in.w[last] == w {
			in.d[last] += int64(p.Items[i].Demand)
			n := len(in.ref[last])
			in.ref[last] = order[k-n : k+1 : k+1]
			continue
		}
		in.w = append(in.w, w)
		in.d = append(in.d, int64(p.Items[i].Demand))
		in.ref = append(in.ref, order[k:k+1:k+1])
		g = gcd(g, w)
	}
	for i := range in.w {
		in.w[i] /= g
	}
	in.addBars(p, max(g, 1))
	return in
}

func (in *instance) addBars(p Problem, g int64) {
	money := int64(0)
	in.bars = make([]bar, 0, len(p.Stocks))
	for i, s := range p.Stocks {
		b := bar{cap: (s.Length + p.Kerf) / g, price: s.price(), limit: int64(s.Limit), origin: i}
		if s.Limit == 0 {
			b.limit = -1
		}
		if n := len(in.w); n > 0 && b.cap < in.w[n-1] {
			continue // too short for every piece
		}
		in.bars = append(in.bars, b)
		money = gcd(money, b.price)
	}
	in.money = max(money, 1)
	for i := range in.bars {
		in.bars[i].price /= in.money
	}
	slices.SortFunc(in.bars, func(a, b bar) int {
		return cmp.Or(cmp.Compare(b.cap, a.cap), cmp.Compare(a.price, b.price), cmp.Compare(a.origin, b.origin))
	})
	in.dropDominated()
}

// dropDominated removes bars for which another, unlimited, is no shorter and
// no dearer.
func (in *instance) dropDominated() {
	kept := in.bars[:0]
	best := int64(-1) // cheapest unlimited price so far; capacities fall
	for _, b := range in.bars {
		if best >= 0 && b.price >= best {
			continue
		}
		if b.limit < 0 {
			best = b.price
		}
		kept = append(kept, b)
	}
	in.bars = kept
}

// uniform reports whether there is one kind of bar; plans then count bars.
func (in *instance) uniform() bool { return len(in.bars) == 1 }

func (in *instance) cost(ps []pattern) int64 {
	c := int64(0)
	for _, p := range ps {
		c += p.count * in.bars[p.bar].price
	}
	return c
}
