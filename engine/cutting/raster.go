package cutting

import "math/bits"

// A few long lengths have few sums, however finely they are measured, and
// between one sum and the next nothing more fits: such a table needs a column
// for each sum only (J. C. Herz, Recursive computational procedure for
// two-dimensional stock cutting, IBM Journal of Research and Development 16
// (1972) 462-469). It holds the very values that one with a column for each
// capacity does, and counts as much work.

// mostCopies is beyond how many pieces sums are taken to be many.
const mostCopies = 32

// rasterShare is how many capacities a sum must stand for to be worth it.
const rasterShare = 8

// raster chooses the table's columns. What sums there are does not depend on the
// values, and no more are possible later: limits only fall.
func (p *pricer) raster() {
	if p.shift == 0 && p.rastered == p.width {
		return
	}
	p.cols, p.sums, p.rastered = nil, nil, 0
	if p.shift > 0 {
		return
	}
	p.rastered = p.width
	reached := make([]uint64, (p.width+63)/64)
	reached[0] = 1
	copies := 0
	for i, w := range p.w {
		n := min(p.limit[i], p.cap/w)
		if n > boundedMost { // the table's row lets it have as many as fit
			n = p.cap / w
		}
		if copies += int(n); copies > mostCopies {
			return
		}
		for range n {
			addShifted(reached, uint(w))
		}
	}
	count := 0
	for _, word := range reached {
		count += bits.OnesCount64(word)
	}
	if count*rasterShare <= p.width {
		p.columnsAt(reached, count)
	}
}

// addShifted adds to a set of numbers each of them plus w.
func addShifted(set []uint64, w uint) {
	whole, part := int(w/64), w%64
	for i := len(set) - 1; i >= whole; i-- { // falling, so that none is added to twice
		word := set[i-whole] << part
		if part > 0 && i > whole {
			word |= set[i-whole-1] >> (64 - part)
		}
		set[i] |= word
	}
}

// columnsAt gives a column to each of so many capacities, and to those between
// the column of the next lower one.
func (p *pricer) columnsAt(reached []uint64, count int) {
	p.cols, p.sums = make([]int32, p.width), make([]int64, 0, count)
	for c := range p.cols {
		if reached[c>>6]>>(c&63)&1 != 0 {
			p.sums = append(p.sums, int64(c))
		}
		p.cols[c] = int32(len(p.sums) - 1)
	}
}

// columns is how many columns the table has.
func (p *pricer) columns() int {
	if p.cols != nil {
		return len(p.sums)
	}
	return p.width
}

// column is the table's column of a capacity.
func (p *pricer) column(c int64) int {
	if p.cols != nil {
		return int(p.cols[c])
	}
	return int(c >> p.shift)
}

// row is the table's row of the lengths from act k on.
func (p *pricer) row(k int) []int64 {
	n := p.columns()
	return p.f[k*n : (k+1)*n]
}

// sparse computes row k of a table with columns for sums only.
func (p *pricer) sparse(k int) {
	w, v, n := p.aw[k], p.u[k], p.ab[k]
	src, dst := p.row(k+1), p.row(k)
	free := int64(n) == p.cap/w // as many copies as fit
	switch {
	case free || n == 1:
	case n <= boundedMost:
		p.meter.spend(n * p.width)
	default:
		free, p.exact = true, false
	}
	for j, x := range p.sums {
		best := src[j]
		if free && x >= w {
			best = max(best, dst[p.cols[x-w]]+v)
		}
		for t := 1; !free && t <= n && x >= int64(t)*w; t++ {
			best = max(best, src[p.cols[x-int64(t)*w]]+int64(t)*v)
		}
		dst[j] = best
	}
}

// rooms returns the most value that fits by step of capacity.
func (p *pricer) rooms() []int64 {
	out := make([]int64, p.width)
	for c := range out {
		out[c] = p.f[p.column(int64(c)<<p.shift)]
	}
	return out
}
