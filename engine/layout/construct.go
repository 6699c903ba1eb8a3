package layout

import (
	"context"
	"math"
)

// constructor lays the pool after the shares of the linear master, leaving
// boards aside: the energy of a layout is what its pieces and joints cost
// above the master's duals, plus a price on every piece more or less of a
// length than the master cuts. Where both are small, the master's patterns fit
// the layout almost as they are.
type constructor struct {
	*annealer
	off   []float64 // by length number: pieces more than the master cuts
	price []float64
	beta  float64
}

func construct(ctx context.Context, g *master, start *solution, seed uint64, beta float64) *constructor {
	c := &constructor{annealer: newAnnealer(ctx, g.m, start, seed), beta: beta}
	c.guide(g, 1)
	c.off = make([]float64, len(g.m.lens))
	x := g.values()
	for _, s := range g.segs {
		for _, id := range g.m.piecesOf(g.types[s.typ].runs[0], s.cuts, nil) {
			c.off[id] -= x[s.col]
		}
	}
	for id, n := range g.m.demand(start.cuts) {
		c.off[id] += float64(n)
	}
	return c
}

// step is the cost of q more pieces of a length.
func (c *constructor) step(id int32, q float64) float64 {
	o := c.off[id]
	return q*c.worth[id] + c.beta*c.worth[id]*(math.Abs(o+q)-math.Abs(o))
}

func (c *constructor) anneal(moves int, hot, cold float64) {
	for i := range moves {
		if i&1023 == 0 {
			c.heat = hot * math.Pow(cold/hot, float64(i)/float64(moves))
		}
		if c.below(2) == 0 {
			c.exchange()
		} else {
			c.relayout()
		}
	}
}

func (c *constructor) relayout() {
	r := c.runs[c.below(len(c.runs))]
	ru := &c.m.runs[r]
	old := c.st.cuts[r]
	q := float64(ru.qty)
	n := len(old) + 1
	wide := n
	if n > 2 && c.below(3) > 0 {
		wide = 2 + c.below(2)
	}
	i := c.below(n - wide + 1)
	lo, hi := int32(0), int32(ru.shape.n-1)
	if i > 0 {
		lo = old[i-1]
	}
	if i+wide < n {
		hi = old[i+wide-1]
	}
	inner := old[i : i+wide-1]
	d := c.count(ru, lo, hi, inner, -q)
	cuts, ok := c.path(r, lo, hi)
	if !ok || equal(cuts, inner) {
		c.count(ru, lo, hi, inner, q)
		return
	}
	d += c.count(ru, lo, hi, cuts, q)
	if !c.accept(d) {
		c.count(ru, lo, hi, cuts, -q)
		c.count(ru, lo, hi, inner, q)
		return
	}
	c.changing = append(c.changing[:0], old[:i]...)
	c.changing = append(c.changing, cuts...)
	c.changing = append(c.changing, old[i+wide-1:]...)
	c.st.lift(r)
	c.st.put(r, append(old[:0], c.changing...))
}

func (c *constructor) count(ru *run, lo, hi int32, inner []int32, q float64) float64 {
	d := 0.0
	for k := 0; k <= len(inner); k++ {
		to := hi
		if k < len(inner) {
			to = inner[k]
			d += q * c.joint[ru.base+to]
		}
		id := ru.shape.seg[int(lo)*ru.shape.n+int(to)]
		d += c.step(id, q)
		c.off[id] += q
		lo = to
	}
	return d
}

func (c *constructor) path(r, lo, hi int32) ([]int32, bool) {
	ru := &c.m.runs[r]
	sh := ru.shape
	n := int32(sh.n)
	cost, from := c.cost2, c.from
	cost[lo] = 0
	block := c.st.block[ru.base : ru.base+n]
	dice := int(c.rng.Uint64() & 1023)
	q := float64(ru.qty)
	for j := lo + 1; j <= hi; j++ {
		cost[j], from[j] = math.Inf(1), none
		if j < hi && block[j] > 0 {
			continue
		}
		for i := j - 1; i >= lo; i-- {
			id := sh.seg[i*n+j]
			if id == none || (i > lo && from[i] == none) {
				continue
			}
			dice++
			if x := cost[i] + c.step(id, q) + c.heat*c.noise[dice&1023]; x < cost[j] {
				cost[j], from[j] = x, i
			}
		}
		if j < hi {
			cost[j] += q * c.joint[ru.base+j]
		}
	}
	if from[hi] == none {
		return nil, false
	}
	c.cuts = c.cuts[:0]
	for k := from[hi]; k > lo; k = from[k] {
		c.cuts = append(c.cuts, k)
	}
	for i, j := 0, len(c.cuts)-1; i < j; i, j = i+1, j-1 {
		c.cuts[i], c.cuts[j] = c.cuts[j], c.cuts[i]
	}
	return c.cuts, true
}

// energy is what the layout costs above the duals, and the deviation.
func (c *constructor) report() (over, dev float64) {
	for r := range c.m.runs {
		if c.m.runs[r].shape.dead {
			continue
		}
		last := int32(0)
		sh := c.m.runs[r].shape
		for _, k := range c.st.cuts[r] {
			over += c.joint[c.m.runs[r].base+k] + c.worth[sh.seg[int(last)*sh.n+int(k)]]
			last = k
		}
		over += c.worth[sh.seg[int(last)*sh.n+sh.n-1]]
	}
	for id, o := range c.off {
		dev += math.Abs(o) * c.worth[id]
	}
	return
}
