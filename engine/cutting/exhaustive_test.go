package cutting

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"
)

// brute finds the least cost by trying every assignment of pieces to bars and
// every kind for every bar; -1 if there is none. It shares no code with the
// solver.
type brute struct {
	p      Problem
	pieces []int64
	loads  []int64 // length with kerfs of each open bar
	kinds  []int
	used   []int
	best   int64
}

func exhaustive(p Problem) int64 {
	b := &brute{p: p, best: -1, used: make([]int, len(p.Stocks))}
	for _, it := range p.Items {
		for range it.Demand {
			b.pieces = append(b.pieces, it.Length)
		}
	}
	b.place(0, 0)
	return b.best
}

func (b *brute) place(i int, cost int64) {
	if b.best >= 0 && cost >= b.best {
		return
	}
	if i == len(b.pieces) {
		b.best = cost
		return
	}
	for k := range b.loads {
		if add := b.loads[k] + b.p.Kerf + b.pieces[i]; add <= b.p.Stocks[b.kinds[k]].Length {
			old := b.loads[k]
			b.loads[k] = add
			b.place(i+1, cost)
			b.loads[k] = old
		}
	}
	for s, st := range b.p.Stocks {
		if st.Length < b.pieces[i] || (st.Limit > 0 && b.used[s] >= st.Limit) {
			continue
		}
		b.used[s]++
		b.loads, b.kinds = append(b.loads, b.pieces[i]), append(b.kinds, s)
		price := st.Price
		if price == 0 {
			price = st.Length
		}
		b.place(i+1, cost+price)
		b.loads, b.kinds = b.loads[:len(b.loads)-1], b.kinds[:len(b.kinds)-1]
		b.used[s]--
	}
}

func randomSmall(r *rand.Rand, stocks, pieces int) Problem {
	p := Problem{Kerf: r.Int64N(4)}
	for range stocks {
		s := Stock{Length: 20 + r.Int64N(60)}
		if r.IntN(2) == 0 {
			s.Price = 5 + r.Int64N(40)
		}
		if stocks > 1 && r.IntN(3) == 0 {
			s.Limit = 1 + r.IntN(3)
		}
		p.Stocks = append(p.Stocks, s)
	}
	for n := pieces; n > 0; {
		d := min(n, 1+r.IntN(3))
		p.Items = append(p.Items, Item{1 + r.Int64N(p.Stocks[0].Length), d})
		n -= d
	}
	return p
}

func TestOneStockAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 600 {
		p := randomSmall(r, 1, 4+n%5)
		pl, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		if err := check(p, pl); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		if want := exhaustive(p); pl.Cost != want || !pl.Proven {
			t.Fatalf("%+v: got %d (proven %v), exhaustive search %d", p, pl.Cost, pl.Proven, want)
		}
	}
}

func TestSeveralStocksAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	optimal, total := 0, 0
	for n := range 600 {
		p := randomSmall(r, 2+n%2, 3+n%5)
		want := exhaustive(p)
		pl, err := Solve(context.Background(), p, Options{})
		if err != nil {
			if want >= 0 && !errors.Is(err, ErrShortStock) {
				t.Fatalf("%+v: %v", p, err)
			}
			if want >= 0 {
				total++
				t.Logf("no plan found, exhaustive search has %d: %+v", want, p)
			}
			continue
		}
		if err := check(p, pl); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		if pl.Bound > want || pl.Cost < want {
			t.Fatalf("%+v: bound %d cost %d, exhaustive search %d", p, pl.Bound, pl.Cost, want)
		}
		total++
		if pl.Cost == want {
			optimal++
		}
	}
	t.Logf("%d of %d optimal", optimal, total)
	if optimal*100 < total*95 {
		t.Errorf("only %d of %d optimal", optimal, total)
	}
}

// TestBoundsAgainstExhaustiveSearch: each fast bound alone must hold.
func TestBoundsAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 400 {
		p := randomSmall(r, 1, 4+n%5)
		p.Stocks[0].Price = 1
		want := exhaustive(p)
		in := newInstance(p)
		c := in.bars[0].cap
		if got := thresholdBound(in.w, in.d, c); got > want {
			t.Fatalf("threshold bound %d > %d for %+v", got, want, p)
		}
		for k := int64(1); k < 20; k++ {
			if got := stepBound(in.w, in.d, c, k); got > want {
				t.Fatalf("step bound %d: %d > %d for %+v", k, got, want, p)
			}
		}
		for _, f := range []func(Problem) (Plan, error){FirstFitDecreasing, BestFitDecreasing} {
			pl, err := f(p)
			if err != nil {
				t.Fatal(err)
			}
			if err := check(p, pl); err != nil || pl.Bound > want || pl.Cost < want {
				t.Fatalf("%+v: %v: bound %d cost %d, exhaustive search %d", p, err, pl.Bound, pl.Cost, want)
			}
		}
	}
}
