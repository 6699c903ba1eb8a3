package cutting

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

func relax(p Problem) *master {
	in := newInstance(p)
	g := newMaster(in.w, in.d, in.bars, &meter{ctx: context.Background(), limit: math.MaxInt64})
	g.trueLP = true
	g.generate(math.MaxInt64, 10000)
	return g
}

// The relaxation of V. Chvatal's example (Linear Programming, Freeman 1983,
// chapter 13, from memory) is 452.25.
func TestRelaxationOfTextbook(t *testing.T) {
	g := relax(Problem{Stocks: []Stock{{Length: 100, Price: 1}}, Items: []Item{{45, 97}, {36, 610}, {31, 395}, {14, 211}}})
	if z := g.t.value(); math.Abs(z-452.25) > 1e-6 {
		t.Errorf("relaxation %v, want 452.25", z)
	}
	if g.bound != 453 {
		t.Errorf("bound %d, want 453", g.bound)
	}
}

// At the end of column generation primal and dual solutions must be feasible
// and of equal value: that is optimality, whatever the path.
func TestRelaxationIsOptimal(t *testing.T) {
	for _, f := range small() {
		g := relax(f.make(3))
		cover := make([]float64, len(g.w))
		primal := 0.0
		for r, x := range g.t.values() {
			if j := g.t.basis[r]; j >= 0 {
				primal += x * g.t.cols[j].cost
				for _, c := range g.t.cols[j].cuts {
					cover[c.item] += x * float64(c.n)
				}
			}
		}
		for i, d := range g.d {
			if cover[i] < float64(d)-1e-6 {
				t.Errorf("%s: length %d covered %v of %d", f.name, i, cover[i], d)
			}
		}
		if z := g.t.value(); math.Abs(primal-z) > 1e-5 {
			t.Errorf("%s: primal %v, dual %v", f.name, primal, z)
		}
		for j := range g.t.cols {
			if d := g.t.reduced(j); d < -1e-6 {
				t.Errorf("%s: column %d has reduced cost %v", f.name, j, d)
			}
		}
	}
}

// Dual simplex after a change of the right side against the programme solved
// anew.
func TestDualSimplexAgainstPrimal(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for i := range 20 {
		g := relax(uniformFamily("", 30, 100, 10, 60).make(i))
		d := make([]int64, len(g.d))
		for k, n := range g.d {
			d[k] = r.Int64N(n + 1)
		}
		for k, n := range d {
			g.t.truth[k] = float64(n)
		}
		g.t.perturb()
		g.t.refresh()
		if !g.t.dual() {
			t.Fatalf("%d: dual simplex failed", i)
		}
		got := g.t.value()
		g.t.restart()
		if want := g.t.value(); math.Abs(got-want) > 1e-5 {
			t.Errorf("%d: dual simplex %v, from scratch %v", i, got, want)
		}
	}
}

// factor from the basis alone must give back the same duals.
func TestFactor(t *testing.T) {
	g := relax(uniformFamily("", 60, 1000, 50, 600).make(1))
	before := append([]float64(nil), g.t.pi...)
	g.t.factor()
	for i, v := range before {
		if math.Abs(v-g.t.pi[i]) > 1e-7 {
			t.Fatalf("dual %d: %v before, %v after", i, v, g.t.pi[i])
		}
	}
}
