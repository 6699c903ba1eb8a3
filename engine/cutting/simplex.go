package cutting

import (
	"math"
	"slices"
)

// column is a pattern as a variable of the linear programme.
type column struct {
	cost   float64
	bar    int
	cuts   []cut     // what it cuts
	rows   []int32   // coefficients, sparse
	vals   []float64 // one a row
	at     int       // row in which it is basic, -1 if not
	weight float64   // reference weight
	off    bool      // may not enter, and costs much if basic
}

// tableau is a revised simplex on a factorised basis:
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
	lu     factors
	x      []float64 // basic values
	pi     []float64 // duals
	alpha  []float64
	rho    []float64 // row of the inverse of the last pivot
	weight []float64 // reference weights of the surpluses
	moves  int       // pivots made
	heavy  float64   // of the variable that entered last, for its row rho
	seed   uint32    // of the perturbation
	meter  *meter
}

const (
	costTol   = 1e-9
	pivotTol  = 1e-9
	badCost   = 1e4 // cost of a column that is off
	refactors = 100
)

func newTableau(rhs []float64, m *meter) *tableau {
	n := len(rhs)
	t := &tableau{m: n, meter: m, truth: rhs, rhs: make([]float64, n), basis: make([]int, n),
		x: make([]float64, n), pi: make([]float64, n), alpha: make([]float64, n), rho: make([]float64, n), weight: make([]float64, n)}
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

// refresh recomputes values and duals from the factors.
func (t *tableau) refresh() {
	copy(t.x, t.rhs)
	t.lu.solve(t.x)
	for r := range t.m {
		t.pi[r] = t.basicCost(r)
	}
	t.lu.solveLeft(t.pi)
	t.meter.spend(2 * t.lu.size())
}

// direction sets alpha to the solution of B alpha = column j; j < 0 is a surplus.
func (t *tableau) direction(j int) {
	clear(t.alpha)
	if j < 0 {
		t.alpha[-1-j] = -1
	} else {
		c := &t.cols[j]
		for k, r := range c.rows {
			t.alpha[r] = c.vals[k]
		}
	}
	t.lu.solve(t.alpha)
	t.meter.spend(t.lu.size())
}

// across sets rho to row r of the inverse.
func (t *tableau) across(r int) {
	clear(t.rho)
	t.rho[r] = 1
	t.lu.solveLeft(t.rho)
	t.meter.spend(t.lu.size())
}

// pivot brings j (reduced cost d, direction alpha) into row r, of which rho is
// the row of the inverse.
func (t *tableau) pivot(r, j int, d float64) {
	step := t.x[r] / t.alpha[r]
	for i, a := range t.alpha {
		t.x[i] -= float64(step * a)
	}
	t.x[r] = step
	d /= t.alpha[r]
	for i, a := range t.rho {
		t.pi[i] += float64(d * a)
	}
	t.lu.push(r, t.alpha)
	t.moves++
	if old := t.basis[r]; old >= 0 {
		t.cols[old].at = -1
	}
	t.basis[r] = j
	if j >= 0 {
		t.cols[j].at = r
	}
	t.meter.spend(8 * t.m)
	if len(t.lu.etas) >= refactors || len(t.lu.extra) > 2*len(t.lu.ents)+4*t.m {
		t.factor()
	}
}

// primal pivots from a feasible basis to an optimal one. Which variable enters
// goes by reduced cost squared over a reference weight: P. M. J. Harris, Pivot
// selection methods of the Devex LP code, Mathematical Programming 5 (1973) 1-28.
func (t *tableau) primal() {
	t.forget()
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
		t.across(r)
		t.reweigh(r, j)
		t.pivot(r, j, d)
	}
}

// forget sets all reference weights to one.
func (t *tableau) forget() {
	t.heavy = 0
	for i := range t.weight {
		t.weight[i] = 1
	}
	for j := range t.cols {
		t.cols[j].weight = 1
	}
}

// reweigh notes what the coming pivot does to the weights: entering applies it
// to all columns as it passes.
func (t *tableau) reweigh(r, j int) {
	w := 0.0
	if j < 0 {
		w = t.weight[-1-j]
	} else {
		w = t.cols[j].weight
	}
	t.heavy = w / float64(t.alpha[r]*t.alpha[r])
	if old := t.basis[r]; old < 0 {
		t.weight[-1-old] = max(t.heavy, 1)
	} else {
		t.cols[old].weight = max(t.heavy, 1)
	}
}

// entering finds the variable to enter and its reduced cost, which is zero if
// there is none.
func (t *tableau) entering() (int, float64) {
	best, bd, score := 0, 0.0, 0.0
	for i, v := range t.pi { // the surplus of row i has reduced cost pi[i]
		w := max(t.weight[i], float64(t.heavy*float64(t.rho[i]*t.rho[i])))
		t.weight[i] = w
		if v < -costTol && float64(v*v) > float64(score*w) {
			best, bd, score = -1-i, v, float64(v*v)/w
		}
	}
	n := t.m
	for j := range t.cols {
		c := &t.cols[j]
		if c.off || c.at >= 0 {
			continue
		}
		d, a := c.cost, 0.0
		for k, r := range c.rows {
			d -= float64(t.pi[r] * c.vals[k])
			a += float64(t.rho[r] * c.vals[k])
		}
		n += 2*len(c.rows) + 4
		w := max(c.weight, float64(t.heavy*float64(a*a)))
		c.weight = w
		if d < -costTol && float64(d*d) > float64(score*w) {
			best, bd, score = j, d, float64(d*d)/w
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
	t.across(r)
	row := t.rho
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
	v := slices.Clone(t.truth)
	t.lu.solve(v)
	for r := range v {
		v[r] = max(v[r], 0)
		if t.basis[r] < 0 {
			v[r] = 0
		}
	}
	t.meter.spend(t.lu.size())
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
