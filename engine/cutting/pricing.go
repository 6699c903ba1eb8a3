package cutting

import (
	"cmp"
	"slices"
)

// pricer finds cutting patterns of greatest value under integer piece values.
//
// A table f over the capacity holds, for every suffix of the lengths, the
// greatest value that fits; it guides a depth-first search over exact lengths.
// When the capacity is large, the table is over lengths and capacity divided by
// a power of two and rounded down: whatever fits still fits then, so f stays
// an upper bound and the search stays exact. The same holds for conflicts and
// cuts, which the table ignores and the search obeys. A table that is exact has
// columns for sums of lengths only, where those are few: see raster.
type pricer struct {
	w     []int64
	order []int       // lengths by falling w
	limit []int64     // copies allowed at most
	clash []lengthSet // lengths that may not share a bar, nil without
	odds  []odd       // odd-set cuts
	of    [][]int     // cuts by length, once for each piece of theirs it stands for
	gates []*gate
	worth []int64 // value of the current choice, by gate

	cap      int64
	shift    uint
	width    int     // steps of capacity
	cols     []int32 // the table's column of each capacity; nil: one for each step
	sums     []int64 // the capacities that have one of their own, where cols is set
	rastered int     // the width that cols was chosen for
	act      []int   // lengths in play, rising index
	u        []int64 // values of act
	aw       []int64
	ab       []int    // copies of act
	f        []int64  // (len(act)+1) * columns
	space    *[]int64 // where f stands; a subproblem's pricer takes over its parent's
	exact    bool     // the table is exact: no search can fail

	block []lengthSet // lengths that clash with what is chosen, by number of choices
	level int         // choices made
	count []int       // per cut: pieces chosen
	take  []int       // current choice by act
	best  int64
	found []cut
	nodes int // left to search
	spent int // by the last search
	meter *meter
}

// lengthSet is a set of length numbers.
type lengthSet []uint64

func (b lengthSet) has(i int) bool { return b[i>>6]>>(i&63)&1 != 0 }

// odd is an odd-set cut: of the pieces of certain lengths, bars may hold most
// pairs. A bar is charged price for each pair it holds.
type odd struct {
	row   int
	most  int64
	price int64
}

// priced is a pattern with its value.
type priced struct {
	cuts  []cut
	value int64
}

const (
	exactCells  = 600_000 // a table this large may be exact
	coarseWidth = 4096    // else it has at most so many columns
)

func newPricer(w, limit []int64, m *meter) *pricer {
	p := &pricer{w: w, limit: limit, meter: m, order: make([]int, len(w)), space: new([]int64)}
	for i := range p.order {
		p.order[i] = i
	}
	slices.SortStableFunc(p.order, func(a, b int) int { return cmp.Compare(w[b], w[a]) })
	return p
}

// prepare fills the table for values u and bars of capacity c.
func (p *pricer) prepare(u []int64, c int64) {
	p.act, p.u, p.aw, p.ab = p.act[:0], p.u[:0], p.aw[:0], p.ab[:0]
	for _, i := range p.order {
		v := u[i]
		if n := min(p.limit[i], c/p.w[i]); n > 0 && (v > 0 || len(p.gates) > 0) {
			p.act = append(p.act, i)
			p.u = append(p.u, v)
			p.aw = append(p.aw, p.w[i])
			p.ab = append(p.ab, int(n))
		}
	}
	p.cap, p.shift = c, 0
	m := len(p.act)
	if (c+1)*int64(m+1) > exactCells {
		for c>>p.shift >= coarseWidth {
			p.shift++
		}
	}
	p.exact = p.shift == 0 && p.clash == nil && len(p.odds) == 0 && len(p.gates) == 0
	p.width = int(c>>p.shift) + 1
	p.raster()
	need := (m + 1) * p.columns()
	if len(*p.space) < need {
		*p.space = make([]int64, need+need/4) // subproblems have a few lengths more
	}
	p.f = (*p.space)[:need]
	clear(p.row(m))
	for k := m - 1; k >= 0; k-- {
		p.layer(k)
	}
	p.take = append(p.take[:0], make([]int, m)...)
	p.meter.spend((m + 1) * p.width)
}

// layer computes row k of the table from row k+1.
func (p *pricer) layer(k int) {
	w, v, n := int(p.aw[k]>>p.shift), p.u[k], p.ab[k]
	src, dst := p.row(k+1), p.row(k)
	if p.cols != nil {
		p.sparse(k)
		return
	}
	if w == 0 { // shorter than a table step: all copies at once
		for c, s := range src {
			dst[c] = s + v*int64(n)
		}
		return
	}
	if w >= p.width {
		copy(dst, src)
		return
	}
	copy(dst[:w], src[:w])
	most := (p.width - 1) / w
	if n == 1 {
		low := src[:p.width-w]
		hi := src[w:p.width]
		out := dst[w:p.width]
		for c, s := range low {
			out[c] = max(hi[c], s+v)
		}
		return
	}
	for c := w; c < p.width; c++ {
		dst[c] = max(src[c], dst[c-w]+v)
	}
	if n < most {
		p.bounded(k, w, n)
	}
}

// boundedMost is the most copies that a row of the table is exact for.
const boundedMost = 12

// bounded corrects row k, computed for unlimited copies, to at most n of them;
// when n is large it leaves the row as an upper bound.
func (p *pricer) bounded(k, w, n int) {
	if n > boundedMost {
		p.exact = false
		return
	}
	v, src, dst := p.u[k], p.row(k+1), p.row(k)
	for c := w * (n + 1); c < p.width; c++ {
		b := src[c]
		for t := 1; t <= n; t++ {
			b = max(b, src[c-t*w]+int64(t)*v)
		}
		dst[c] = b
	}
	p.meter.spend(n * p.width)
}

// top is an upper bound on the value of any pattern.
func (p *pricer) top() int64 { return p.f[p.column(p.cap)] }

// most is how many copies of act k an empty bar takes.
func (p *pricer) most(k int) int { return int(min(int64(p.ab[k]), p.cap/p.aw[k])) }

// lead is a first piece and the most a pattern that starts with it can be worth.
type lead struct {
	k     int
	value int64
}

// leads lists the first pieces whose patterns may exceed floor.
func (p *pricer) leads(floor int64) []lead {
	var out []lead
	for k := range p.act {
		best := int64(0)
		next := p.row(k + 1)
		n := p.most(k)
		if n > 64 { // too many to try: the row's own bound
			best, n = p.row(k)[p.column(p.cap)], 0
		}
		for t := 1; t <= n; t++ {
			best = max(best, int64(t)*p.u[k]+next[p.column(p.cap-int64(t)*p.aw[k])])
		}
		if best > floor {
			out = append(out, lead{k, best})
		}
	}
	return out
}

// lookup searches for the best pattern that starts with lead l and exceeds
// floor, with at most nodes tree nodes. It returns the pattern, if any, and an
// upper bound on all such patterns (floor if there are none).
func (p *pricer) lookup(l lead, floor int64, nodes int) (priced, int64) {
	p.nodes, p.found, p.best = nodes, p.found[:0], floor
	if p.exact {
		p.best = l.value - 1
	}
	start := nodes
	clear(p.count)
	p.level = 0
	if p.clash != nil && len(p.block) == 0 {
		p.block = append(p.block, make(lengthSet, len(p.clash[0])))
	}
	p.worth = append(p.worth[:0], make([]int64, len(p.gates))...)
	for t := p.most(l.k); t >= 1 && p.nodes > 0; t-- {
		p.nodes--
		if int64(t)*p.u[l.k]+p.row(l.k + 1)[p.column(p.cap-int64(t)*p.aw[l.k])] <= p.best {
			continue
		}
		if p.open(p.act[l.k], t, p.cap) {
			p.choose(l.k, t, p.cap, 0)
		}
	}
	p.spent = start - p.nodes
	p.meter.spend(16 * p.spent)
	upper := p.best
	if p.nodes <= 0 {
		upper = max(l.value, p.best)
	}
	if len(p.found) == 0 {
		return priced{}, upper
	}
	return priced{append([]cut(nil), p.found...), p.best}, upper
}

// choose takes t copies of act k, searches on, and puts them back.
func (p *pricer) choose(k, t int, c, value int64) {
	i := p.act[k]
	value += int64(t)*p.u[k] - p.charge(i, t)
	c -= int64(t) * p.aw[k]
	p.take[k] = t
	p.mark(i)
	for g, n := range p.gates {
		p.worth[g] += int64(t) * n.u[i]
	}
	if value > p.best && p.passed() {
		p.best = value
		p.record(k)
	}
	p.walk(k+1, c, value)
	p.level--
	p.take[k] = 0
	for g, n := range p.gates {
		p.worth[g] -= int64(t) * n.u[i]
	}
	p.refund(i, t)
}

// walk tries the pieces from k on in the room c.
func (p *pricer) walk(k int, c, value int64) {
	at, wide := p.column(c), p.columns()
	for ; k < len(p.act); k++ {
		if value+p.f[k*wide+at] <= p.best || p.nodes <= 0 {
			return
		}
		if p.aw[k] > c || p.clash != nil && p.block[p.level].has(p.act[k]) {
			continue
		}
		n := min(p.ab[k], int(c/p.aw[k]))
		for t := n; t >= 1 && p.nodes > 0; t-- {
			p.nodes--
			room := p.column(c - int64(t)*p.aw[k])
			if value+int64(t)*p.u[k]+p.f[(k+1)*wide+room] > p.best && p.open(p.act[k], t, c) {
				p.choose(k, t, c, value)
			}
		}
	}
}

// mark opens a level on which whatever clashes with length i is blocked too.
func (p *pricer) mark(i int) {
	p.level++
	if p.clash == nil {
		return
	}
	if p.level == len(p.block) {
		p.block = append(p.block, make(lengthSet, len(p.clash[i])))
	}
	up, now := p.block[p.level-1], p.block[p.level]
	for k, b := range p.clash[i] {
		now[k] = up[k] | b
	}
}

func (p *pricer) record(last int) {
	p.found = p.found[:0]
	for k := 0; k <= last; k++ {
		if p.take[k] > 0 {
			p.found = append(p.found, cut{p.act[k], p.take[k]})
		}
	}
}

// charge returns the cut prices that t more pieces of length i cause.
func (p *pricer) charge(i, t int) int64 {
	if len(p.odds) == 0 {
		return 0
	}
	s := int64(0)
	for _, q := range p.of[i] {
		s += int64((p.count[q]+t)/2-p.count[q]/2) * p.odds[q].price
		p.count[q] += t
	}
	return s
}

func (p *pricer) refund(i, t int) {
	if len(p.odds) == 0 {
		return
	}
	for _, q := range p.of[i] {
		p.count[q] -= t
	}
}
