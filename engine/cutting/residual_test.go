package cutting

import (
	"context"
	"math/rand/v2"
	"testing"
)

// Bars of 1,500,000 and 500 lengths: no plan has fewer bars than the material
// needs, and residual problems reach that number, which column generation on
// the whole does not in so much work.
func TestResidualsReachMaterialBound(t *testing.T) {
	for i := range 4 {
		p := sized("", 500, 1500000, 100000, 700000, 3).make(i)
		total := int64(0)
		for _, it := range p.Items {
			total += it.Length * int64(it.Demand)
		}
		pl, err := Solve(context.Background(), p, Options{Effort: 400_000_000})
		if err != nil {
			t.Fatal(err)
		}
		if err := check(p, pl); err != nil {
			t.Errorf("%d: %v", i, err)
		}
		if want := (total + 1_499_999) / 1_500_000; pl.Cost != want {
			t.Errorf("%d: %d bars, the material needs %d", i, pl.Cost, want)
		}
	}
}

// A bar filled without a limit on nodes must waste as little as the subset sums
// of the pieces allow that hold the longest.
func TestFilledBarAgainstSubsetSums(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	for n := range 300 {
		p := sized("", 2+n%9, 50+r.Int64N(300), 8, 50, 3).make(n)
		in := newInstance(p)
		f := newFiller(in, &meter{ctx: context.Background(), limit: 1 << 60})
		first := f.run(in.d, 1<<40, 1<<40)[0]
		if got, want := in.size(first.cuts), fullest(in); got != want {
			t.Fatalf("%+v: first bar holds %d, could hold %d", p, got, want)
		}
	}
}

// fullest is the most that a bar with a longest piece can hold.
func fullest(in *instance) int64 {
	c := in.bars[0].cap
	can := make([]bool, c+1)
	can[in.w[0]] = true
	for i, w := range in.w {
		n := in.d[i]
		if i == 0 {
			n--
		}
		for range n {
			for s := c; s >= w; s-- {
				can[s] = can[s] || can[s-w]
			}
		}
	}
	for !can[c] {
		c--
	}
	return c
}
