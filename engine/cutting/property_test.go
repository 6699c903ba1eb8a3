package cutting

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// small are the families that solve in little work each.
func small() []family {
	return []family{
		uniformFamily("uniform", 60, 150, 20, 100), triplets(30), uniformFamily("scholl3", 30, 100000, 20000, 35000),
		sized("waescher", 15, 10000, 1, 5000, 4), sized("demand", 8, 5600, 300, 2500, 5000),
		sized("micrometres", 12, 6_000_000, 200_000, 3_000_000, 6), uniformFamily("wide", 40, 1000, 1, 800),
	}
}

func TestNeverWorseThanBaselines(t *testing.T) {
	for _, f := range small() {
		for i := range 20 {
			p := f.make(i)
			p.Kerf = int64(i % 3)
			pl, err := Solve(context.Background(), p, Options{Effort: 30_000_000})
			if err != nil {
				t.Fatal(err)
			}
			if err := check(p, pl); err != nil {
				t.Fatalf("%s %d: %v", f.name, i, err)
			}
			ff, _ := FirstFitDecreasing(p)
			bf, _ := BestFitDecreasing(p)
			if pl.Cost > min(ff.Cost, bf.Cost) || pl.Bound < ff.Bound {
				t.Errorf("%s %d: cost %d, baselines %d %d; bound %d, quick bound %d", f.name, i, pl.Cost, ff.Cost, bf.Cost, pl.Bound, ff.Bound)
			}
		}
	}
}

func TestOrderOfItemsWithoutEffect(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, f := range small() {
		for i := range 8 {
			p := f.make(i)
			a, _ := Solve(context.Background(), p, Options{Effort: 20_000_000})
			q := p
			q.Items = slices.Clone(p.Items)
			r.Shuffle(len(q.Items), func(i, j int) { q.Items[i], q.Items[j] = q.Items[j], q.Items[i] })
			b, _ := Solve(context.Background(), q, Options{Effort: 20_000_000})
			if a.Cost != b.Cost || a.Bound != b.Bound || a.Work != b.Work {
				t.Errorf("%s %d: %d/%d/%d, shuffled %d/%d/%d", f.name, i, a.Cost, a.Bound, a.Work, b.Cost, b.Bound, b.Work)
			}
		}
	}
}

// TestSplitItems: demands written as many equal items give the same plan cost.
func TestSplitItems(t *testing.T) {
	p := Problem{Stocks: []Stock{{Length: 100}}, Items: []Item{{45, 9}, {36, 61}, {31, 39}, {14, 21}}, Kerf: 1}
	q := p
	q.Items = nil
	for _, it := range p.Items {
		for range it.Demand {
			q.Items = append(q.Items, Item{it.Length, 1})
		}
	}
	a, _ := Solve(context.Background(), p, Options{})
	b, err := Solve(context.Background(), q, Options{})
	if err != nil || check(q, b) != nil || a.Cost != b.Cost || a.Bound != b.Bound {
		t.Errorf("merged %d/%d, split %d/%d, %v %v", a.Cost, a.Bound, b.Cost, b.Bound, err, check(q, b))
	}
}

// TestUnitsWithoutEffect: lengths in another unit give the same bars.
func TestUnitsWithoutEffect(t *testing.T) {
	for i := range 10 {
		p := sized("", 10, 3600, 100, 2000, 5).make(i)
		p.Kerf = 3
		a, _ := Solve(context.Background(), p, Options{})
		q := Problem{Stocks: []Stock{{Length: 3600_000, Price: 1}}, Kerf: 3000}
		for _, it := range p.Items {
			q.Items = append(q.Items, Item{it.Length * 1000, it.Demand})
		}
		b, _ := Solve(context.Background(), q, Options{})
		if a.Cost != b.Cost || a.Bound != b.Bound {
			t.Errorf("%d: %d/%d in one unit, %d/%d in another", i, a.Cost, a.Bound, b.Cost, b.Bound)
		}
	}
}

func TestEffortIsRepeatable(t *testing.T) {
	for _, f := range families {
		if f.name == "large500" {
			continue // slow for a test
		}
		p := f.make(1)
		for _, effort := range []int64{-1, 100_000, 20_000_000} {
			a, errA := Solve(context.Background(), p, Options{Effort: effort, Seed: 5})
			b, errB := Solve(context.Background(), p, Options{Effort: effort, Seed: 5})
			if errA != nil || errB != nil || !reflect.DeepEqual(a, b) {
				t.Errorf("%s: effort %d: two runs differ: %d/%d and %d/%d", f.name, effort, a.Cost, a.Work, b.Cost, b.Work)
			}
		}
	}
}

func TestSeedsAgreeOnProvenCost(t *testing.T) {
	differ := false
	for i := range 5 {
		p := triplets(60).make(i)
		a, _ := Solve(context.Background(), p, Options{Seed: 1})
		b, _ := Solve(context.Background(), p, Options{Seed: 2})
		if a.Proven && b.Proven && a.Cost != b.Cost {
			t.Errorf("%d: proven costs %d and %d", i, a.Cost, b.Cost)
		}
		differ = differ || !reflect.DeepEqual(a, b)
	}
	if !differ {
		t.Error("the seed has no effect")
	}
}

func TestCancelledContextStillPlans(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := triplets(501).make(0)
	pl, err := Solve(ctx, p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := check(p, pl); err != nil {
		t.Error(err)
	}
	if pl.Work > 50_000_000 {
		t.Errorf("spent %d units after the context was done", pl.Work)
	}
}

// TestGapOfTheRelaxation: three bars' worth of halves, thirds and fifths need a
// bar more than the rounded-up relaxation whenever exhaustive search says so;
// instances on which the two differ are J. M. Valerio de Carvalho's kind of
// non-IRUP (from memory: A. Marcotte, Operations Research Letters 4 (1986)).
func TestGapOfTheRelaxation(t *testing.T) {
	// L = 132, one piece each of 44, 33, 12 with demands 2, 3, 6: 259/132 bars of
	// material, three bars needed (O. Marcotte's smallest example, from memory;
	// the optimum is checked by exhaustive search here).
	p := Problem{Stocks: []Stock{{Length: 132, Price: 1}}, Items: []Item{{44, 2}, {33, 3}, {12, 6}}}
	pl, err := Solve(context.Background(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := exhaustive(p); pl.Cost != want || !pl.Proven || want != 3 {
		t.Errorf("cost %d proven %v, exhaustive search %d, want 3", pl.Cost, pl.Proven, want)
	}
}

func TestErrors(t *testing.T) {
	ok := []Stock{{Length: 100}}
	tests := []struct {
		name string
		p    Problem
		want error
	}{
		{"long item", Problem{Stocks: ok, Items: []Item{{101, 1}}}, ErrTooLong},
		{"no stock", Problem{Items: []Item{{1, 1}}}, ErrTooLong},
		{"zero length", Problem{Stocks: ok, Items: []Item{{0, 1}}}, ErrInvalid},
		{"negative demand", Problem{Stocks: ok, Items: []Item{{10, -1}}}, ErrInvalid},
		{"negative kerf", Problem{Stocks: ok, Kerf: -1}, ErrInvalid},
		{"negative price", Problem{Stocks: []Stock{{Length: 10, Price: -1}}}, ErrInvalid},
		{"negative limit", Problem{Stocks: []Stock{{Length: 10, Limit: -1}}}, ErrInvalid},
		{"zero stock", Problem{Stocks: []Stock{{}}}, ErrInvalid},
		{"huge total", Problem{Stocks: []Stock{{Length: math.MaxInt64 >> 10}}, Items: []Item{{math.MaxInt64 >> 11, 10000}}}, ErrOverflow},
		{"huge stock", Problem{Stocks: []Stock{{Length: math.MaxInt64}}, Items: []Item{{1, 1}}}, ErrOverflow},
		{"huge price", Problem{Stocks: []Stock{{Length: 10, Price: math.MaxInt64 >> 9}}, Items: []Item{{10, 1000}}}, ErrOverflow},
		{"too little stock", Problem{Stocks: []Stock{{Length: 100, Limit: 2}}, Items: []Item{{60, 3}}}, ErrShortStock},
		{"kerf makes it short", Problem{Stocks: []Stock{{Length: 100, Limit: 1}}, Items: []Item{{50, 2}}, Kerf: 1}, ErrShortStock},
	}
	for _, tt := range tests {
		if _, err := Solve(context.Background(), tt.p, Options{}); !errors.Is(err, tt.want) {
			t.Errorf("%s: got %v, want %v", tt.name, err, tt.want)
		}
		if _, err := BestFitDecreasing(tt.p); !errors.Is(err, tt.want) {
			t.Errorf("%s: best fit: got %v, want %v", tt.name, err, tt.want)
		}
	}
	if pl, err := Solve(context.Background(), Problem{}, Options{}); err != nil || !pl.Proven || pl.Bars != 0 {
		t.Errorf("empty problem: %+v, %v", pl, err)
	}
}

// TestKerf: the last piece may end flush, and a remainder below the kerf is lost.
func TestKerf(t *testing.T) {
	tests := []struct {
		length, kerf int64
		want         int
	}{{100, 0, 1}, {104, 4, 1}, {103, 4, 2}, {106, 4, 1}}
	for _, tt := range tests {
		p := Problem{Stocks: []Stock{{Length: tt.length}}, Items: []Item{{50, 2}}, Kerf: tt.kerf}
		pl, err := Solve(context.Background(), p, Options{})
		if err != nil || pl.Bars != tt.want {
			t.Errorf("bar %d kerf %d: %d bars, want %d (%v)", tt.length, tt.kerf, pl.Bars, tt.want, err)
		}
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(int64(100), int64(0), int64(0), int64(45), int64(36), int64(31), 3, 2)
	f.Add(int64(132), int64(1), int64(7), int64(44), int64(33), int64(12), 2, 6)
	f.Add(int64(math.MaxInt64>>9), int64(3), int64(0), int64(math.MaxInt64>>10), int64(1), int64(2), 5, 1)
	f.Fuzz(func(t *testing.T, length, kerf, price, a, b, c int64, n, m int) {
		p := Problem{Stocks: []Stock{{Length: length, Price: price}, {Length: length / 2, Limit: n % 4}},
			Items: []Item{{a, n}, {b, m}, {c, n}}, Kerf: kerf}
		if length < 2 {
			p.Stocks = p.Stocks[:1]
		}
		pl, err := Solve(context.Background(), p, Options{Effort: 300_000})
		if err != nil {
			return
		}
		if err := check(p, pl); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
	})
}
