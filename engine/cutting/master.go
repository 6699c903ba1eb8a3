package cutting

import (
	"cmp"
	"math"
	"slices"
)

// master is the linear programme over patterns, grown by column generation:
// P. C. Gilmore and R. E. Gomory, A linear programming approach to the
// cutting-stock problem, Operations Research 9 (1961) 849-859 and 11 (1963)
// 863-888.
//
// Rows are the lengths, then the limited kinds of bar, then the odd-set cuts.
type master struct {
	w, d   []int64
	bars   []bar
	limits []int64 // bars left, by kind, where limited
	row    []int   // row of a length
	parts  [][]cut // original lengths that a merged length stands for, nil for itself
	caprow []int   // row of a limited bar, -1 without
	t      *tableau
	p      *pricer
	odds   []odd
	dear   int64 // highest price
	scale  int64 // integer value of one unit of price
	meter  *meter

	u      []int64
	bound  int64 // best proven bound on the cost of meeting d
	width  int   // columns to add a round
	top    int64 // bound on the value of a pattern of the first kind in the last round
	tops   []int64
	smooth float64 // weight of center in the duals priced
	peak   float64
	center []float64
	trueLP bool // go on until no column is missing
}

func newMaster(w, d []int64, bars []bar, m *meter) *master {
	g := &master{w: w, d: slices.Clone(d), bars: bars, meter: m, width: max(16, len(w)/8), tops: make([]int64, len(bars)), u: make([]int64, len(w))}
	rhs := make([]float64, 0, len(w)+len(bars))
	pieces, dear := int64(1), int64(1)
	for i, n := range d {
		g.row = append(g.row, i)
		rhs = append(rhs, float64(n))
		pieces += n
	}
	for _, b := range bars {
		g.caprow = append(g.caprow, -1)
		g.limits = append(g.limits, b.limit)
		dear = max(dear, b.price)
		if b.limit >= 0 {
			g.caprow[len(g.caprow)-1] = len(rhs)
			rhs = append(rhs, -float64(b.limit))
		}
	}
	g.scale = max(1, min(1<<36, (1<<61)/pieces/(dualCap*dear)))
	g.dear = dear
	g.parts = make([][]cut, len(w))
	g.t = newTableau(rhs, m)
	g.p = newPricer(w, slices.Clone(d), m)
	g.singles()
	return g
}

// singles starts the programme with one pattern a length, which is a feasible
// basis unless bars are limited.
func (g *master) singles() {
	for i := range g.w {
		g.t.basis[i] = g.single(i)
	}
	for r := len(g.w); r < g.t.m; r++ {
		g.t.basis[r] = -1 - r
	}
	g.t.factor()
}

// single adds the pattern of length i alone; when bars are limited, a dear
// column that needs none.
func (g *master) single(i int) int {
	for _, r := range g.caprow {
		if r >= 0 {
			g.t.cols = append(g.t.cols, column{cost: g.penalty(), bar: -1, rows: []int32{int32(g.row[i])}, vals: []float64{1}, at: -1})
			return len(g.t.cols) - 1
		}
	}
	k := g.cheapest(g.w[i])
	return g.add(k, []cut{{i, int(max(1, min(g.d[i], g.bars[k].cap/g.w[i])))}})
}

// penalty exceeds what any dual can reasonably be.
func (g *master) penalty() float64 { return float64(dualCap * g.dear) }

func (g *master) cheapest(w int64) int {
	best := -1
	for k, b := range g.bars {
		if b.cap >= w && (best < 0 || b.price < g.bars[best].price) {
			best = k
		}
	}
	return best
}

// add makes a column of a pattern.
func (g *master) add(kind int, cuts []cut) int {
	c := column{cost: float64(g.bars[kind].price), bar: kind, cuts: cuts, at: -1,
		rows: make([]int32, 0, len(cuts)+1), vals: make([]float64, 0, len(cuts)+1)}
	for _, x := range cuts {
		c.rows = append(c.rows, int32(g.row[x.item]))
		c.vals = append(c.vals, float64(x.n))
	}
	if r := g.caprow[kind]; r >= 0 {
		c.rows = append(c.rows, int32(r))
		c.vals = append(c.vals, -1)
	}
	g.oddRows(&c, 0)
	g.t.cols = append(g.t.cols, c)
	return len(g.t.cols) - 1
}

// round prices with the current duals, adds columns, improves the bound. It
// returns the number of columns added.
//
// While smooth is above zero the duals priced are a mean of the current ones
// and of those with the best bound so far, which start as the lengths
// themselves: P. Wentges, International Transactions in Operational Research 4
// (1997) 151-162. When that finds nothing the mean moves to the current duals.
func (g *master) round() int {
	for mix := g.smooth; ; mix = mix/2 - 0.05 {
		if mix < 0 {
			mix = 0
		}
		if added := g.priceAt(mix); added > 0 || mix == 0 || g.meter.stopped() {
			return added
		}
	}
}

// priceAt is one pricing at a mean of duals.
func (g *master) priceAt(mix float64) int {
	unit := g.unit()
	for i := range g.u {
		v := float64((1 - mix) * g.t.pi[g.row[i]])
		if mix > 0 {
			v += float64(mix * g.center[i])
		}
		g.u[i] = g.integer(v, unit)
	}
	for q := range g.odds {
		g.odds[q].price = g.integer(g.t.pi[g.odds[q].row], unit)
	}
	g.p.prepare(g.u, g.bars[0].cap)
	added := 0
	for k, b := range g.bars {
		floor := int64(float64(b.price)*unit) + g.scale>>26
		if r := g.caprow[k]; r >= 0 {
			floor += g.integer(g.t.pi[r], unit)
		}
		n := 0
		n, g.tops[k] = g.price(k, floor, mix > 0)
		added += n
	}
	g.top = g.tops[0]
	g.bound = max(g.bound, g.farley(g.tops))
	if g.smooth > 0 {
		g.recenter()
	}
	return added
}

// recenter keeps the duals of the best bound so far, in fractions of a bar.
func (g *master) recenter() {
	total := 0.0
	for i, n := range g.d {
		total += float64(float64(g.u[i]) * float64(n))
	}
	if z := total / float64(g.top); z > g.peak {
		g.peak = z
		for i, v := range g.u {
			g.center[i] = float64(v) / float64(g.top)
		}
	}
}

// steady turns smoothing on, for one kind of bar without limit.
func (g *master) steady() {
	if len(g.bars) > 1 || g.bars[0].limit >= 0 {
		return
	}
	g.smooth, g.peak = 0.8, 0
	g.center = make([]float64, len(g.w))
	for i, w := range g.w {
		g.center[i] = float64(w) / float64(g.bars[0].cap)
	}
}

// dualCap times the dearest bar is the most that duals are taken for; any values
// give a valid bound, and these keep products inside 64 bits.
const dualCap = 20

// integer scales a dual price to an integer, rounding down.
func (g *master) integer(x, unit float64) int64 {
	if x <= 0 {
		return 0
	}
	return int64(min(float64(x*unit), float64(dualCap*g.dear)*float64(g.scale)))
}

// unit is what one unit of price is worth in integer values: scale, or less
// when a dual is beyond dualCap. That happens when the columns allowed meet the
// demands only with those that are off: the duals then point to a proof that no
// plan exists, which cutting them off one by one would spoil.
func (g *master) unit() float64 {
	high := 0.0
	for _, r := range g.row {
		high = max(high, g.t.pi[r])
	}
	if most := float64(dualCap * g.dear); high > most && g.uncapped() {
		return float64(g.scale) * float64(most/high)
	}
	return float64(g.scale)
}

// uncapped reports whether no kind of bar is limited. Where one is, values must
// stand in full units of price.
func (g *master) uncapped() bool {
	for _, r := range g.caprow {
		if r >= 0 {
			return false
		}
	}
	return true
}

// Search tree nodes for one pricing, and for a further pattern once there is one.
const (
	searchNodes = 400_000
	leadNodes   = 2000
)

// price finds patterns of kind k worth more than floor and adds a varied few;
// it returns their number and an upper bound on the value of any pattern.
func (g *master) price(k int, floor int64, mixed bool) (int, int64) {
	p := g.p
	p.cap = g.bars[k].cap
	top := min(p.top(), max(floor, p.top()))
	if mixed { // patterns a little worse than the best may still be missing
		floor = min(floor, top-top/32)
	}
	ls := p.leads(floor)
	if len(ls) == 0 {
		return 0, min(top, floor)
	}
	slices.SortStableFunc(ls, func(a, b lead) int { return cmp.Compare(b.value, a.value) })
	seen := make([]bool, len(g.w))
	added, high, left := 0, floor, searchNodes
	for _, l := range ls {
		if added >= g.width || left <= 0 || p.meter.stopped() {
			high = max(high, l.value)
			break
		}
		if p.exact && seen[p.act[l.k]] {
			continue
		}
		nodes := leadNodes
		if added == 0 {
			nodes = left
		}
		f, upper := p.lookup(l, floor, min(nodes, left))
		left -= p.spent
		high = max(high, upper)
		if f.cuts != nil && (!mixed || g.missing(k, f.cuts)) && fresh(f.cuts, seen) {
			g.add(k, f.cuts)
			added++
		}
	}
	if p.exact {
		high = top
	}
	return added, min(high, top)
}

// missing reports whether a pattern has negative reduced cost.
func (g *master) missing(k int, cuts []cut) bool {
	v := float64(g.bars[k].price)
	for _, c := range cuts {
		v -= float64(g.t.pi[g.row[c.item]] * float64(c.n))
	}
	return v < -1e-7
}

// fresh marks the pieces of a pattern as seen and reports whether any was new.
func fresh(cuts []cut, seen []bool) bool {
	n := false
	for _, c := range cuts {
		n = n || !seen[c.item]
		seen[c.item] = true
	}
	return n
}

// generate adds columns until none is missing, the bound reaches goal or can
// rise no more, or rounds are used up. It reports whether it got there.
func (g *master) generate(goal int64, rounds int) bool {
	for last := -1; rounds > 0; rounds-- {
		g.t.primal()
		if g.smooth == 0 && g.t.moves == last {
			return true // what the last round added is missing by rounding only
		}
		last = g.t.moves
		added := g.round()
		if g.bound >= goal || added == 0 || !g.trueLP && g.bound >= int64(math.Ceil(g.t.value()-1e-6)) {
			return true
		}
		if g.meter.stopped() {
			return false
		}
	}
	return false
}
