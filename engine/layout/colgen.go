package layout

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// generate runs column and row generation until nothing improves, or the
// bound is as good as rounding up can make it, or the work is done.
func (a *master) generate(ctx context.Context, limit int64) {
	for a.spent() < limit && ctx.Err() == nil {
		whole := a.optimise(limit)
		priced := a.priceOut()
		if settled := a.settled(); settled || !priced {
			if !a.separate() && (settled || whole) {
				return
			}
		}
	}
}

func (a *master) spent() int64 { return a.work + a.s.work }

// settled reports whether the bound, rounded up to what a plan can cost, has
// met the value.
func (a *master) settled() bool {
	v := a.s.value()
	return math.Ceil(a.bound/a.grain-1e-6) >= math.Ceil(v/a.grain-1e-6) || v-a.bound < 1e-4*v
}

// mostPivots is how far the simplex method goes before new columns are looked
// for: the columns at hand are not worth an optimum of their own.
const mostPivots = 60

// optimise runs the simplex method over the columns known and reports whether
// it came to an end.
func (a *master) optimise(limit int64) bool {
	for n := 0; n < mostPivots && a.spent() < limit; {
		list := a.candidates()
		if len(list) == 0 {
			return true
		}
		for _, c := range list {
			if d := a.s.reduced(c.col); d > -1e-7 || d*a.s.cols[c.col].norm > 0.8*c.gain {
				continue // the pivots before have changed it
			}
			if !a.s.pivot(c.col) {
				return true
			}
			n++
		}
	}
	return false
}

// candidates are the few best columns that may enter the basis, best first.
func (a *master) candidates() []candidate {
	const few = 4
	list := a.list[:0]
	for c := range a.s.cols {
		if a.s.in[c] {
			continue
		}
		d := a.s.reduced(int32(c))
		if d > -1e-7 {
			continue
		}
		d *= a.s.cols[c].norm
		if len(list) < few {
			list = append(list, candidate{})
		} else if d >= list[few-1].gain {
			continue
		}
		i := len(list) - 1
		for ; i > 0 && list[i-1].gain > d; i-- {
			list[i] = list[i-1]
		}
		list[i] = candidate{int32(c), d}
	}
	a.work += int64(len(a.s.cols)) * 4
	a.list = list
	return list
}

// candidate is a column that may enter the basis.
type candidate struct {
	col  int32
	gain float64 // reduced cost by length, below 0
}

// dual returns the dual of a row, at least 0.
func (a *master) dual(row int32) float64 { return max(0, a.s.y[row]) }

// calmness is the share of the best duals in the first look for columns.
const calmness = 0.8

// tolls sums the prices of the covers for each joint of a type.
func (a *master) tolls() [][]float64 {
	out := make([][]float64, len(a.types))
	for t := range a.types {
		out[t] = make([]float64, a.types[t].shape.n)
	}
	for i := range a.active {
		if z := a.toll[i]; z > 0 {
			for _, tk := range a.active[i].points {
				out[tk[0]][tk[1]] += z
			}
		}
	}
	return out
}

// priceOut adds columns with negative reduced cost and reports whether there
// were any. It looks first from a point between the duals of the best bound
// and the present ones, which swing less (smoothing: P. Wentges, Weighted
// Dantzig-Wolfe decomposition, Int. Trans. Operational Research 4 (1997)
// 151-162), then from the present ones.
func (a *master) priceOut() bool {
	return len(a.calm) > 0 && a.priceAt(calmness) || a.priceAt(0)
}

func (a *master) priceAt(calm float64) bool {
	a.setPrices(calm)
	a.work += a.table.fill(a.m.lens, a.price, a.m.most)
	added := a.pricePatterns()
	a.extend()
	tolls := a.tolls()
	if b := a.lagrange(tolls); b > a.bound {
		a.bound, a.plain = b, false
		a.calm = append(a.calm[:0], a.price...)
		a.calmToll = append(a.calmToll[:0], a.toll...)
	}
	for t := range a.types {
		_, cuts := cheapest(a.types[t].shape, a.price, tolls[t])
		a.work += int64(a.types[t].shape.n * 8)
		if a.segmentationCost(t, cuts) < a.s.y[a.typeRow+int32(t)]-1e-7 && a.addSegmentation(t, cuts) {
			added = true
		}
	}
	return added
}

// segmentationCost is what a segmentation costs under the present duals;
// lengths without a row cost what they are worth under the prices.
func (a *master) segmentationCost(t int, cuts []int32) float64 {
	c := 0.0
	a.ids = a.m.piecesOf(a.types[t].runs[0], cuts, a.ids[:0])
	for _, id := range a.ids {
		if r := a.lenRow[id]; r != none {
			c += a.dual(r)
		} else {
			c += a.price[id]
		}
	}
	for i := range a.active {
		if n := a.active[i].count(t, cuts); n > 0 {
			c += float64(n) * a.dual(a.coverAt[i])
		}
	}
	return c
}

// lagrange is the bound that the present duals give, in floating point: the
// prices of priceOut scaled down until every pattern is worth its cost (A. A.
// Farley, Operations Research 38 (1990) 922-923).
func (a *master) lagrange(tolls [][]float64) float64 {
	scale := math.Inf(1)
	sum := 0.0
	for k, x := range a.m.kinds {
		if a.kindRow[k] != none {
			sum -= float64(x.hand) * a.table.best(x.cap)
		} else if b := a.table.best(x.cap); b > 0 {
			scale = min(scale, float64(x.cost)/a.unit/b)
		}
	}
	closed := make([]float64, len(a.m.lens))
	for i, l := range a.m.lens {
		closed[i] = a.table.best(l)
	}
	for i, n := range a.need {
		sum += n * closed[i]
	}
	for t := range a.types {
		c, _ := cheapest(a.types[t].shape, closed, tolls[t])
		sum += c * float64(a.types[t].qty)
	}
	for i := range a.active {
		sum -= a.toll[i] * float64(a.active[i].rhs)
	}
	return sum * scale
}

// extend prices the lengths that have no row: at what shorter pieces within
// them are worth.
func (a *master) extend() {
	for i := range a.price {
		if a.lenRow[i] == none {
			a.price[i] = a.table.best(a.m.lens[i])
		}
	}
}

// setPrices mixes the duals of the best bound, by the share calm, with the
// present ones.
func (a *master) setPrices(calm float64) {
	for i := range a.price {
		a.price[i] = 0
		if r := a.lenRow[i]; r != none {
			a.price[i] = a.dual(r)
			if calm > 0 {
				a.price[i] += calm * (a.calm[i] - a.price[i])
			}
		}
	}
	a.toll = a.toll[:0]
	for i := range a.active {
		z := a.dual(a.coverAt[i])
		if i < len(a.calmToll) && calm > 0 {
			z += calm * (a.calmToll[i] - z)
		}
		a.toll = append(a.toll, z)
	}
}

// boardCost is what a board of a kind costs under the present duals.
func (a *master) boardCost(k int) float64 {
	c := float64(a.m.kinds[k].cost) / a.unit
	if a.kindRow[k] != none {
		c += a.dual(a.kindRow[k])
	}
	return c
}

// worth is what pieces, all with rows, are worth under the present duals.
func (a *master) worth(parts []int32) float64 {
	w := 0.0
	for _, id := range parts {
		w += a.dual(a.lenRow[id])
	}
	return w
}

// settle sets the prices to those of the best bound.
func (a *master) settle() {
	copy(a.price, a.calm)
	a.toll = append(a.toll[:0], a.calmToll...)
	for len(a.toll) < len(a.active) {
		a.toll = append(a.toll, 0)
	}
}

// pricePatterns adds, for each length, the best pattern that holds it.
func (a *master) pricePatterns() bool {
	type found struct {
		gain float64
		kind int
		id   int32
	}
	var list []found
	for k, x := range a.m.kinds {
		cost := a.boardCost(k)
		for _, id := range a.rowLens {
			if w := a.m.lens[id]; w <= x.cap {
				if g := a.price[id] + a.table.best(x.cap-w) - cost; g > -0.05 {
					list = append(list, found{g, k, id})
				}
			}
		}
	}
	slices.SortFunc(list, func(x, y found) int {
		return cmp.Or(cmp.Compare(y.gain, x.gain), cmp.Compare(x.kind, y.kind), cmp.Compare(x.id, y.id))
	})
	added := 0
	for _, f := range list {
		parts := a.table.filling(a.m.kinds[f.kind].cap-a.m.lens[f.id], []int32{f.id})
		if a.worth(parts) > a.boardCost(f.kind)+1e-7 && a.addPattern(f.kind, parts) {
			if added++; added >= 20 {
				break
			}
		}
	}
	return added > 0
}

// cheapest is the cheapest way to lay a shape under prices and tolls.
func cheapest[T number](sh *shape, price, toll []T) (T, []int32) {
	cost := make([]T, sh.n)
	from := make([]int32, sh.n)
	for j := 1; j < sh.n; j++ {
		from[j] = none
		for i := int(sh.last[j]); i >= int(sh.first[j]); i-- {
			id := sh.seg[i*sh.n+j]
			if id == none || (i > 0 && from[i] == none) {
				continue
			}
			if c := cost[i] + price[id]; from[j] == none || c < cost[j] {
				cost[j], from[j] = c, int32(i)
			}
		}
		if toll != nil {
			cost[j] += toll[j]
		}
	}
	var cuts []int32
	for k := from[sh.n-1]; k > 0; k = from[k] {
		cuts = append(cuts, k)
	}
	slices.Reverse(cuts)
	return cost[sh.n-1], cuts
}

// separate adds rows for the covers that the present values break most, and
// reports whether there were any.
func (a *master) separate() bool {
	type broken struct {
		at int
		by float64
	}
	use := a.joints()
	var list []broken
	for i := range a.covers {
		sum := -float64(a.covers[i].rhs)
		for _, tk := range a.covers[i].points {
			sum += use[tk[0]][tk[1]]
		}
		if sum > 1e-6 {
			list = append(list, broken{i, sum})
		}
	}
	slices.SortFunc(list, func(x, y broken) int { return cmp.Or(cmp.Compare(y.by, x.by), cmp.Compare(x.at, y.at)) })
	list = list[:min(len(list), 12)]
	taken := make(map[int]bool, len(list))
	for _, b := range list {
		a.activate(a.covers[b.at])
		taken[b.at] = true
	}
	kept := a.covers[:0]
	for i, c := range a.covers {
		if !taken[i] {
			kept = append(kept, c)
		}
	}
	a.covers = kept
	return len(list) > 0
}

// joints is how often each joint of a type stands in the present values.
func (a *master) joints() [][]float64 {
	out := make([][]float64, len(a.types))
	for t := range a.types {
		out[t] = make([]float64, a.types[t].shape.n)
	}
	x := a.values()
	for _, s := range a.segs {
		for _, k := range s.cuts {
			out[s.typ][k] += x[s.col]
		}
	}
	return out
}

// values is the value of every column.
func (a *master) values() []float64 {
	x := make([]float64, len(a.s.cols))
	for i, b := range a.s.basis {
		x[b] = max(0, a.s.x[i])
	}
	return x
}

// breachCost, in boards, is what a joint too many costs the master while it
// looks for shares that keep the limit; tolls never exceed it.
const breachCost = 0.3

// activate adds the row of a broken cover; a dear column that pays for the
// breach is basic in it at first.
func (a *master) activate(c cover) {
	row := int32(len(a.s.basis))
	x := a.values()
	over := -float64(c.rhs)
	for _, s := range a.segs {
		if n := c.count(s.typ, s.cuts); n > 0 {
			a.s.cols[s.col].a = append(a.s.cols[s.col].a, entry{row, -float64(n)})
			over += float64(n) * x[s.col]
		}
	}
	col := a.s.addColumn(column{cost: breachCost, a: []entry{{row, 1}}})
	a.s.addRow(col, 1, math.Max(0, over), -float64(c.rhs))
	a.surplus(row)
	a.active = append(a.active, c)
	a.coverAt = append(a.coverAt, row)
}

// addCovers makes the stagger limits ready for separation, except for walls in
// which the solution breaks a rule: such a plan must not be measured by them.
func (a *master) addCovers(s *solution) {
	broken := map[int]bool{}
	for _, r := range a.m.relaxed(s) {
		broken[r.Wall] = true
	}
	for i := range a.classes {
		c := &a.classes[i]
		if !slices.ContainsFunc(c.walls, func(w int) bool { return broken[w] }) {
			a.covers = append(a.covers, a.m.covers(c, a.types)...)
		}
	}
}
