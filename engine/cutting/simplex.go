package cutting

import "math"

// column is a pattern as a variable of the linear programme.
type column struct {
	cost float64
	bar  int
	cuts []cut     // what it cuts
	rows []int32   // coefficients, sparse
	vals []float64 // one a row
	at   int       // row in which it is basic, -1 if not
	off  bool      // may not enter, and costs much if basic
}

// tableau is a revised simplex with an explicit dense inverse of the basis:
//
//	minimise sum c_j x_j  subject to  A x >= rhs, x >= 0
//
// Basis entries are column numbers, or -1-i for the surplus of row i. The right
// side is perturbed a little, by row, against stalling; values() uses the true
// one. Products are rounded by explicit conversion, so that machines that could
// fuse multiply and add give the same answer as those that cannot.
type tableau struct {
	m      int
	cols   []column
	rhs    []float64 // perturbed
	truth  []float64
	basis  []int
	inv    []float64 // m*m, by row
	x      []float64 // basic values
	pi     []float64 // duals
	alpha  []float64
	nz     []int32 // where the pivot row is not zero
	pivots int
	seed   uint32 // of the perturbation
	meter  *meter
}

const (
	costTol   = 1e-9
	pivotTol  = 1e-9
	badCost   = 1e4 // cost of a column that is off
	refactors = 400
)

func newTableau(rhs []float64, m *meter) *tableau {
	n := len(rhs)
	t := &tableau{m: n, meter: m, truth: rhs, rhs: make([]float64, n), basis: make([]int, n),
		inv: make([]float64, n*n), x: make([]float64, n), pi: make([]float64, n), alpha: make([]float64, n)}
	t.perturb()
	return t
}

// perturb sets the right side used for pivoting: a fixed irregular sequence.
func (t *tableau) perturb() {
	h := 12345 + t.seed
	for i, v := range t.truth {
		h = h*1664525 + 1013904223
		t.rhs[i] = v + float64(1e-6*(0.5+float64(h>>8)/float64(1<<24)))
	}
}

func (c *column) price() float64 {
	if c.off {
		return c.cost + badCost
	}
	return c.cost
}

func (t *tableau) basicCost(r int) float64 {
	if j := t.basis[r]; j >= 0 {
		return t.cols[j].price()
	}
	return 0
}

// reduced is the reduced cost of column j.
func (t *tableau) reduced(j int) float64 {
	c := &t.cols[j]
	d := c.price()
	for k, r := range c.rows {
		d -= float64(t.pi[r] * c.vals[k])
	}
	return d
}

// factor rebuilds the inverse for the columns in basis, in which it puts the
// surplus of a row wherever the columns are dependent.
func (t *tableau) factor() {
	m := t.m
	want := append([]int(nil), t.basis...)
	clear(t.inv)
	for j := range t.cols {
		t.cols[j].at = -1
	}
	free := make([]bool, m)
	for i := range m {
		t.inv[i*m+i] = -1
		t.basis[i] = -1 - i
		free[i] = true
	}
	for _, j := range want {
		if j < 0 {
			if free[-1-j] && t.basis[-1-j] == j {
				free[-1-j] = false
			}
		}
	}
	for _, j := range want {
		if j < 0 {
			continue
		}
		t.direction(j)
		r, best := -1, 1e-7
		for i := range m {
			if a := math.Abs(t.alpha[i]); free[i] && a > best {
				r, best = i, a
			}
		}
		if r >= 0 {
			t.eliminate(r)
			t.basis[r] = j
			t.cols[j].at = r
			free[r] = false
		}
	}
	t.refresh()
}

// refresh recomputes values and duals from the inverse.
func (t *tableau) refresh() {
	t.pivots = 0
	clear(t.pi)
	for r := range t.m {
		row := t.inv[r*t.m : (r+1)*t.m]
		v := 0.0
		for i, a := range row {
			v += float64(a * t.rhs[i])
		}
		t.x[r] = v
		if c := t.basicCost(r); c != 0 {
			for i, a := range row {
				t.pi[i] += float64(c * a)
			}
		}
	}
	t.meter.spend(2 * t.m * t.m)
}

// direction sets alpha = inverse * column j; j < 0 is a surplus.
func (t *tableau) direction(j int) {
	m := t.m
	if j < 0 {
		i := -1 - j
		for r := range m {
			t.alpha[r] = -t.inv[r*m+i]
		}
		return
	}
	c := &t.cols[j]
	for r := range m {
		row := t.inv[r*m : (r+1)*m]
		v := 0.0
		for k, i := range c.rows {
			v += float64(row[i] * c.vals[k])
		}
		t.alpha[r] = v
	}
	t.meter.spend(m * len(c.rows))
}

// eliminate updates the inverse for a pivot in row r along alpha.
func (t *tableau) eliminate(r int) {
	m := t.m
	pivot := t.inv[r*m : (r+1)*m]
	f := 1 / t.alpha[r]
	t.nz = t.nz[:0]
	for i, v := range pivot {
		if math.Abs(v) < 1e-14 {
			pivot[i] = 0
			continue
		}
		pivot[i] = v * f
		t.nz = append(t.nz, int32(i))
	}
	n := 0
	dense := 3*len(t.nz) > m
	for i, a := range t.alpha {
		if i == r || math.Abs(a) < 1e-13 {
			continue
		}
		n++
		row := t.inv[i*m : (i+1)*m]
		if dense {
			for k, v := range pivot {
				row[k] -= float64(a * v)
			}
			continue
		}
		for _, k := range t.nz {
			row[k] -= float64(a * pivot[k])
		}
	}
	t.meter.spend(m + n*min(m, 2*len(t.nz)))
}

// pivot brings j (reduced cost d) into row r.
func (t *tableau) pivot(r, j int, d float64) {
	step := t.x[r] / t.alpha[r]
	for i := range t.m {
		t.x[i] -= float64(step * t.alpha[i])
	}
	t.eliminate(r)
	t.x[r] = step
	row := t.inv[r*t.m : (r+1)*t.m]
	for i, a := range row {
		t.pi[i] += float64(d * a)
	}
	if old := t.basis[r]; old >= 0 {
		t.cols[old].at = -1
	}
	t.basis[r] = j
	if j >= 0 {
		t.cols[j].at = r
	}
	if t.pivots++; t.pivots >= refactors {
		t.factor()
	}
}

// primal pivots from a feasible basis to an optimal one.
func (t *tableau) primal() {
	for range 50 * (t.m + 20) {
		j, d := t.entering()
		if d >= -costTol || t.meter.stopped() {
			return
		}
		t.direction(j)
		r := t.leaving()
		if r < 0 {
			return // unbounded: cannot happen with costs >= 0
		}
		t.pivot(r, j, d)
	}
}

// entering finds the variable of least reduced cost.
func (t *tableau) entering() (int, float64) {
	best, bd := 0, -costTol
	for i, v := range t.pi { // the surplus of row i has reduced cost pi[i]
		if v < bd {
			best, bd = -1-i, v
		}
	}
	n := 0
	for j := range t.cols {
		c := &t.cols[j]
		if c.off || c.at >= 0 {
			continue
		}
		d := c.cost
		for k, r := range c.rows {
			d -= float64(t.pi[r] * c.vals[k])
		}
		n += len(c.rows) + 2
		if d < bd {
			best, bd = j, d
		}
	}
	t.meter.spend(n)
	return best, bd
}

// leaving is the ratio test; among near ties the largest pivot.
func (t *tableau) leaving() int {
	limit := math.Inf(1)
	for r, a := range t.alpha {
		if a > pivotTol {
			limit = min(limit, (max(t.x[r], 0)+1e-9)/a)
		}
	}
	best, r0 := 0.0, -1
	for r, a := range t.alpha {
		if a > pivotTol && max(t.x[r], 0)/a <= limit && a > best {
			best, r0 = a, r
		}
	}
	return r0
}

// dual pivots from a dual-feasible basis to a feasible one; it reports success.
func (t *tableau) dual() bool {
	for range 50 * (t.m + 20) {
		r, worst := -1, -1e-8
		for i, v := range t.x {
			if v < worst {
				r, worst = i, v
			}
		}
		if r < 0 {
			return true
		}
		j, d, ok := t.dualEntering(r)
		if !ok || t.meter.stopped() {
			return false
		}
		t.direction(j)
		if math.Abs(t.alpha[r]) < pivotTol {
			return false
		}
		t.pivot(r, j, d)
	}
	return false
}

// dualEntering is the dual ratio test in row r.
func (t *tableau) dualEntering(r int) (int, float64, bool) {
	row := t.inv[r*t.m : (r+1)*t.m]
	best, ratio, size, bd := 0, math.Inf(1), 0.0, 0.0
	try := func(j int, a, d float64) {
		if a >= -1e-7 {
			return
		}
		q := max(d, 0) / -a
		if q < ratio-1e-11 || (q < ratio+1e-11 && -a > size) {
			best, ratio, size, bd = j, q, -a, d
		}
	}
	for i, a := range row {
		try(-1-i, -a, t.pi[i]) // a basic surplus has a unit row, so a = 0 here
	}
	n := t.m
	for j := range t.cols {
		c := &t.cols[j]
		if c.off || c.at >= 0 {
			continue
		}
		a := 0.0
		for k, i := range c.rows {
			a += float64(row[i] * c.vals[k])
		}
		if n += len(c.rows) + 2; a < -1e-7 {
			try(j, a, t.reduced(j))
		}
	}
	t.meter.spend(n)
	return best, bd, !math.IsInf(ratio, 1)
}

// values returns the unperturbed values of the basic columns, by row.
func (t *tableau) values() []float64 {
	v := make([]float64, t.m)
	for r := range t.m {
		if t.basis[r] < 0 {
			continue
		}
		s := 0.0
		for i, a := range t.inv[r*t.m : (r+1)*t.m] {
			s += float64(a * t.truth[i])
		}
		v[r] = max(s, 0)
	}
	return v
}

// value is the objective at the perturbed basis, by duals.
func (t *tableau) value() float64 {
	z := 0.0
	for i, p := range t.pi {
		z += float64(p * t.truth[i])
	}
	return z
}

// restart solves from a basis of dear artificial columns, one a row that
// demands something; it always succeeds.
func (t *tableau) restart() {
	for r := range t.m {
		t.basis[r] = -1 - r
		if t.truth[r] >= 0 {
			t.basis[r] = len(t.cols)
			t.cols = append(t.cols, column{cost: badCost, bar: -1, rows: []int32{int32(r)}, vals: []float64{1}, at: -1, off: true})
		}
	}
	t.factor()
	t.primal()
}
