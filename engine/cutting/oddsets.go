package cutting

import (
	"cmp"
	"math/bits"
	"slices"
)

// Odd-set cuts. Take a set of lengths whose demands sum to an odd number most:
// bars can hold at most (most-1)/2 pairs of its pieces. These are the
// subset-row cuts of M. Jepsen, B. Petersen, S. Spoorendonk and D. Pisinger,
// Operations Research 56 (2008) 497-511, with multipliers one half, for sets of
// any size; L. Wei, Z. Luo, R. Baldacci and A. Lim, INFORMS Journal on Computing
// 32 (2020) 428-443, use those of three for bin packing. Sets are found by
// elimination modulo two, as zero-half cuts are: G. Andreello, A. Caprara and M.
// Fischetti, INFORMS Journal on Computing 19 (2007) 229-238.

const (
	maxOdd      = 100
	oddRound    = 24
	oddLeast    = 0.03 // violation worth a row
	oddSetItems = 40   // larger sets slow the pricing too much
)

// parityRow is a sum modulo two of rows of the programme.
type parityRow struct {
	odd   bool      // parity of the right side
	cols  lengthSet // columns with an odd coefficient
	items lengthSet // lengths summed
	done  bool      // used as a pivot
}

// oddSet is a violated cut.
type oddSet struct {
	items []int
	by    float64
}

// fraction is a basic column with its value.
type fraction struct {
	cuts []cut
	x    float64
}

func (g *master) fractions() []fraction {
	var out []fraction
	for r, x := range g.t.values() {
		if j := g.t.basis[r]; j >= 0 && x > 1e-6 {
			out = append(out, fraction{g.t.cols[j].cuts, x})
		}
	}
	slices.SortStableFunc(out, func(a, b fraction) int { return cmp.Compare(b.x, a.x) })
	return out
}

// separate finds violated odd sets, the worst first.
func (g *master) separate() []oddSet {
	use := g.fractions()
	rows := g.parityRows(use)
	var out []oddSet
	out = collect(out, rows, use)
	for p := range use {
		pivot := -1
		for r := range rows {
			if !rows[r].done && rows[r].cols.has(p) && (pivot < 0 || rows[r].items.size() < rows[pivot].items.size()) {
				pivot = r
			}
		}
		if pivot < 0 {
			continue
		}
		rows[pivot].done = true
		for r := range rows {
			if !rows[r].done && rows[r].cols.has(p) {
				rows[r].add(&rows[pivot])
			}
		}
		out = collect(out, rows, use)
	}
	g.meter.spend(len(use) * len(rows) * 8)
	slices.SortFunc(out, func(a, b oddSet) int {
		return cmp.Or(cmp.Compare(b.by, a.by), cmp.Compare(len(a.items), len(b.items)), slices.Compare(a.items, b.items))
	})
	return slices.CompactFunc(out, func(a, b oddSet) bool { return slices.Equal(a.items, b.items) })
}

func (g *master) parityRows(use []fraction) []parityRow {
	n := len(g.w)
	rows := make([]parityRow, n)
	for i := range rows {
		rows[i] = parityRow{odd: g.d[i]%2 == 1, cols: make(lengthSet, len(use)/64+1), items: make(lengthSet, n/64+1)}
		rows[i].items[i>>6] |= 1 << (i & 63)
	}
	for p, q := range use {
		for _, c := range q.cuts {
			if c.n%2 == 1 {
				rows[c.item].cols[p>>6] |= 1 << (p & 63)
			}
		}
	}
	return rows
}

func (r *parityRow) add(o *parityRow) {
	r.odd = r.odd != o.odd
	for i, w := range o.cols {
		r.cols[i] ^= w
	}
	for i, w := range o.items {
		r.items[i] ^= w
	}
}

func (b lengthSet) size() int {
	n := 0
	for _, w := range b {
		n += bits.OnesCount64(w)
	}
	return n
}

func (b lengthSet) list() []int {
	var out []int
	for k, w := range b {
		for ; w != 0; w &= w - 1 {
			out = append(out, k*64+bits.TrailingZeros64(w))
		}
	}
	return out
}

// collect appends the rows that are violated cuts: with an odd right side, the
// cut is broken by half of what the odd columns lack to one.
func collect(out []oddSet, rows []parityRow, use []fraction) []oddSet {
	for r := range rows {
		if !rows[r].odd || rows[r].done {
			continue
		}
		if n := rows[r].items.size(); n < 3 || n > oddSetItems {
			continue
		}
		lack := 1 - 2*oddLeast
		for k, w := range rows[r].cols {
			for ; w != 0 && lack > 0; w &= w - 1 {
				lack -= use[k*64+bits.TrailingZeros64(w)].x
			}
		}
		if lack > 0 {
			out = append(out, oddSet{rows[r].items.list(), oddLeast + lack/2})
		}
	}
	return out
}

// addOddSets adds rows for the worst violated cuts and restores feasibility. It
// reports whether there were any and the numbers held.
func (g *master) addOddSets() bool {
	touched := make([]int, len(g.w))
	first := len(g.odds)
	odds := slices.Clone(g.odds)
	of := make([][]int, len(g.w))
	for i, l := range g.p.of {
		of[i] = slices.Clone(l)
	}
	for _, v := range g.separate() {
		if len(odds) >= maxOdd || len(odds)-first >= oddRound {
			break
		}
		if crowded(touched, v.items) {
			continue
		}
		most := int64(0)
		for _, i := range v.items {
			touched[i]++
			of[i] = append(of[i], len(odds))
			most += g.d[i]
		}
		odds = append(odds, odd{most: most / 2})
	}
	if len(odds) == first {
		return false
	}
	g.odds = odds
	g.p.of, g.p.odds, g.p.count = of, odds, make([]int, len(odds))
	row := g.t.grow(len(odds) - first)
	for q := first; q < len(odds); q++ {
		g.odds[q].row = row + q - first
		g.t.truth[g.odds[q].row] = -float64(odds[q].most)
	}
	for x := range g.t.cols {
		g.oddRows(&g.t.cols[x], first)
	}
	g.t.perturb()
	g.t.factor()
	if !g.t.dual() {
		g.t.restart()
	}
	return true
}

func crowded(touched, items []int) bool {
	n := 0
	for _, i := range items {
		if touched[i] > 1 {
			n++
		}
	}
	return 2*n > len(items)
}

// oddRows gives a column its coefficients in the cuts from first on.
func (g *master) oddRows(c *column, first int) {
	if len(g.odds) == first {
		return
	}
	n := make([]int, len(g.odds))
	for _, x := range c.cuts {
		for _, q := range g.p.of[x.item] {
			n[q] += x.n
		}
	}
	rows, vals := slices.Clip(c.rows), slices.Clip(c.vals)
	for q := first; q < len(n); q++ {
		if n[q] >= 2 {
			rows = append(rows, int32(g.odds[q].row))
			vals = append(vals, -float64(n[q]/2))
		}
	}
	c.rows, c.vals = rows, vals
}

// cutRoot tightens g by rounds of cuts until it proves there is no plan below
// s.cost, progress stops, or about so much work is done. It reports false when
// the effort ran out.
func (s *search) cutRoot(g *master, work int64) bool {
	end := s.meter.work + work
	for range 12 {
		if g.bound >= s.cost || s.meter.work >= end {
			break
		}
		if !g.addOddSets() {
			break
		}
		if !s.bind(g) {
			return false
		}
	}
	return true
}
