package cutting

import "math"

// entry is one number of a sparse vector.
type entry struct {
	at int32
	v  float64
}

// factors holds a basis B as a product: L U with rows picked for stability and
// sparsity, then one elementary matrix a pivot, which is the product form of G.
// B. Dantzig and W. Orchard-Hays (1954). The order of columns and rows follows
// counts of nonzeros, after H. M. Markowitz, Management Science 3 (1957)
// 255-269; bases of patterns hold a few pieces a column and fill in little.
//
// Column k of the factors pivots in row pivot[k]; its place in the basis is that
// row too.
type factors struct {
	m     int
	pivot []int32
	diag  []float64
	lower []span // of ents, by step; rows pivoted later
	upper []span // of ents, by step; rows pivoted before
	steps []int32
	ents  []entry
	etas  []eta
	extra []entry   // of etas
	work  []float64 // column in elimination
	seen  []bool    // rows it hits
	hit   []int32   // the same, as a list
	open  []int32   // those no column has pivoted in
}

// span is a stretch of a list of entries.
type span struct{ from, to int32 }

// eta is a pivot after the factorisation: the basis direction of the column
// that came in, whose value in its own place is v.
type eta struct {
	row  int32
	v    float64
	rest span
}

const (
	dropTol  = 1e-13
	loneTol  = 1e-7 // a smaller pivot means columns that depend on each other
	stableBy = 0.1  // of the largest entry a pivot must have so much
)

// reset empties the factors for m rows.
func (f *factors) reset(m int) {
	if len(f.work) < m {
		f.work, f.seen = make([]float64, m), make([]bool, m)
	}
	f.m = m
	f.pivot, f.diag, f.steps = f.pivot[:0], f.diag[:0], f.steps[:0]
	f.lower, f.upper, f.ents = f.lower[:0], f.upper[:0], f.ents[:0]
	f.etas, f.extra = f.etas[:0], f.extra[:0]
}

// unit adds the column -1 of a row that no column before has pivoted in.
func (f *factors) unit(row int) {
	n := int32(len(f.ents))
	f.pivot = append(f.pivot, int32(row))
	f.diag = append(f.diag, -1)
	f.lower = append(f.lower, span{n, n})
	f.upper = append(f.upper, span{n, n})
}

// add eliminates a column and pivots in the row that choose picks from what is
// left of it, or not at all if that is next to nothing. It returns the row or
// -1. choose gets the column, its open rows and the least size a pivot should
// have.
func (f *factors) add(c *column, done []bool, choose func(work []float64, open []int32, least float64) int) int {
	f.spread(c)
	most := 0.0
	f.open = f.open[:0]
	for _, r := range f.hit {
		if !done[r] {
			f.open = append(f.open, r)
			most = max(most, math.Abs(f.work[r]))
		}
	}
	r := -1
	if most > loneTol {
		r = choose(f.work, f.open, stableBy*most)
		f.store(done, r)
	}
	for _, i := range f.hit {
		f.work[i], f.seen[i] = 0, false
	}
	return r
}

// spread solves L work = column and lists the rows it hits.
func (f *factors) spread(c *column) {
	f.hit = f.hit[:0]
	for k, r := range c.rows {
		f.work[r], f.seen[r] = c.vals[k], true
		f.hit = append(f.hit, r)
	}
	for _, k := range f.steps {
		v := f.work[f.pivot[k]]
		if v == 0 {
			continue
		}
		for _, e := range f.ents[f.lower[k].from:f.lower[k].to] {
			f.work[e.at] -= float64(e.v * v)
			if !f.seen[e.at] {
				f.seen[e.at] = true
				f.hit = append(f.hit, e.at)
			}
		}
	}
}

// store splits the column at work into its parts of L and U.
func (f *factors) store(done []bool, r int) {
	from := int32(len(f.ents))
	for _, i := range f.hit {
		if v := f.work[i]; done[i] && math.Abs(v) > dropTol {
			f.ents = append(f.ents, entry{i, v})
		}
	}
	mid := int32(len(f.ents))
	d := f.work[r]
	for _, i := range f.open {
		if v := f.work[i]; int(i) != r && math.Abs(v) > dropTol {
			f.ents = append(f.ents, entry{i, v / d})
		}
	}
	end := int32(len(f.ents))
	if end > mid {
		f.steps = append(f.steps, int32(len(f.pivot)))
	}
	f.pivot = append(f.pivot, int32(r))
	f.diag = append(f.diag, d)
	f.upper = append(f.upper, span{from, mid})
	f.lower = append(f.lower, span{mid, end})
}

// push adds a pivot in row r along alpha.
func (f *factors) push(r int, alpha []float64) {
	from := int32(len(f.extra))
	for i, v := range alpha {
		if i != r && math.Abs(v) > dropTol {
			f.extra = append(f.extra, entry{int32(i), v})
		}
	}
	f.etas = append(f.etas, eta{int32(r), alpha[r], span{from, int32(len(f.extra))}})
}

// size is about the work of one solution.
func (f *factors) size() int { return 3*f.m + len(f.ents) + len(f.extra) + 2*len(f.etas) }

// solve turns v into the solution x of B x = v.
func (f *factors) solve(v []float64) {
	for _, k := range f.steps {
		x := v[f.pivot[k]]
		if x == 0 {
			continue
		}
		for _, e := range f.ents[f.lower[k].from:f.lower[k].to] {
			v[e.at] -= float64(e.v * x)
		}
	}
	for k := len(f.pivot) - 1; k >= 0; k-- {
		r := f.pivot[k]
		if v[r] == 0 {
			continue
		}
		x := v[r] / f.diag[k]
		v[r] = x
		for _, e := range f.ents[f.upper[k].from:f.upper[k].to] {
			v[e.at] -= float64(e.v * x)
		}
	}
	for _, n := range f.etas {
		if v[n.row] == 0 {
			continue
		}
		x := v[n.row] / n.v
		v[n.row] = x
		for _, e := range f.extra[n.rest.from:n.rest.to] {
			v[e.at] -= float64(e.v * x)
		}
	}
}

// solveLeft turns v into the solution y of y B = v.
func (f *factors) solveLeft(v []float64) {
	for k := len(f.etas) - 1; k >= 0; k-- {
		n := &f.etas[k]
		x := v[n.row]
		for _, e := range f.extra[n.rest.from:n.rest.to] {
			x -= float64(e.v * v[e.at])
		}
		v[n.row] = x / n.v
	}
	for k, r := range f.pivot {
		x := v[r]
		for _, e := range f.ents[f.upper[k].from:f.upper[k].to] {
			x -= float64(e.v * v[e.at])
		}
		v[r] = x / f.diag[k]
	}
	for q := len(f.steps) - 1; q >= 0; q-- {
		k := f.steps[q]
		x := v[f.pivot[k]]
		for _, e := range f.ents[f.lower[k].from:f.lower[k].to] {
			x -= float64(e.v * v[e.at])
		}
		v[f.pivot[k]] = x
	}
}
