package cutting

import (
	"math"
	"math/rand/v2"
	"testing"
)

// randomBasis is a programme of m rows whose basis is made of sparse random
// columns, with some surpluses and some columns that depend on others.
func randomBasis(r *rand.Rand, m int) *tableau {
	t := newTableau(make([]float64, m), &meter{limit: math.MaxInt64, next: math.MaxInt64})
	for i := range m {
		c := column{at: -1}
		if i%9 == 4 { // twice the column before
			old := t.cols[len(t.cols)-1]
			c.rows = old.rows
			for _, v := range old.vals {
				c.vals = append(c.vals, 2*v)
			}
		} else {
			for _, k := range r.Perm(m)[:1+r.IntN(min(m, 5))] {
				c.rows = append(c.rows, int32(k))
				c.vals = append(c.vals, float64(1+r.IntN(4)))
			}
		}
		t.cols = append(t.cols, c)
		t.basis[i] = i
		if i%7 == 3 {
			t.basis[i] = -1 - i
		}
	}
	return t
}

// times is the basis times x.
func (t *tableau) times(x []float64) []float64 {
	out := make([]float64, t.m)
	for r, j := range t.basis {
		if j < 0 {
			out[-1-j] -= x[r]
			continue
		}
		for k, i := range t.cols[j].rows {
			out[i] += t.cols[j].vals[k] * x[r]
		}
	}
	return out
}

// dot is what y, on the rows, makes of the basic variable of row r.
func (t *tableau) dot(y []float64, r int) float64 {
	j := t.basis[r]
	if j < 0 {
		return -y[-1-j]
	}
	v := 0.0
	for k, i := range t.cols[j].rows {
		v += t.cols[j].vals[k] * y[i]
	}
	return v
}

// checkSolutions multiplies solutions out.
func checkSolutions(t *testing.T, r *rand.Rand, b *tableau) {
	t.Helper()
	v := make([]float64, b.m)
	for i := range v {
		v[i] = float64(r.IntN(20) - 10)
	}
	x, y := append([]float64(nil), v...), append([]float64(nil), v...)
	b.lu.solve(x)
	for i, got := range b.times(x) {
		if math.Abs(got-v[i]) > 1e-6 {
			t.Fatalf("row %d: B x = %v, want %v", i, got, v[i])
		}
	}
	b.lu.solveLeft(y)
	for i := range v {
		if got := b.dot(y, i); math.Abs(got-v[i]) > 1e-6 {
			t.Fatalf("column %d: y B = %v, want %v", i, got, v[i])
		}
	}
}

// Solutions with the factors, multiplied out, must give back what they were
// asked for, at once and after pivots; dependent columns must give way.
func TestFactorsAgainstMultiplication(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for n := range 60 {
		b := randomBasis(r, 2+n)
		b.factor()
		checkSolutions(t, r, b)
		pivots := 0
		for j := range b.cols {
			if b.cols[j].at >= 0 {
				continue
			}
			b.direction(j)
			k := 0
			for i, a := range b.alpha {
				if math.Abs(a) > math.Abs(b.alpha[k]) {
					k = i
				}
			}
			if math.Abs(b.alpha[k]) < 0.1 {
				continue
			}
			b.across(k)
			b.pivot(k, j, b.reduced(j))
			pivots++
			checkSolutions(t, r, b)
		}
		if n > 20 && pivots == 0 {
			t.Errorf("%d rows: no pivot was made", b.m)
		}
	}
}

// The values and duals kept from pivot to pivot must be those that the factors
// give anew.
func TestPivotsKeepValuesAndDuals(t *testing.T) {
	g := relax(uniformFamily("", 60, 1000, 50, 600).make(2))
	g.t.cols[g.t.basis[3]].off = true
	g.t.refresh()
	g.t.primal()
	x, pi := append([]float64(nil), g.t.x...), append([]float64(nil), g.t.pi...)
	g.t.refresh()
	for i := range x {
		if math.Abs(x[i]-g.t.x[i]) > 1e-7 || math.Abs(pi[i]-g.t.pi[i]) > 1e-7 {
			t.Fatalf("row %d: value %v and dual %v, anew %v and %v", i, x[i], pi[i], g.t.x[i], g.t.pi[i])
		}
	}
}
