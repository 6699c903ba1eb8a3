package cutting

import (
	"context"
	"fmt"
	"testing"
)

// check fails unless the plan meets every demand exactly, overfills no bar,
// respects the stock, and adds up.
func check(p Problem, pl Plan) error {
	got := make([]int, len(p.Items))
	used := make([]int, len(p.Stocks))
	cost, bars := int64(0), 0
	for _, x := range pl.Patterns {
		size, n := int64(0), int64(0)
		for _, c := range x.Cuts {
			if c.Count <= 0 {
				return fmt.Errorf("empty cut in %v", x)
			}
			got[c.Item] += c.Count * x.Count
			size += p.Items[c.Item].Length * int64(c.Count)
			n += int64(c.Count)
		}
		if size+(n-1)*p.Kerf > p.Stocks[x.Stock].Length {
			return fmt.Errorf("overfull bar %v", x)
		}
		if x.Count <= 0 || n == 0 {
			return fmt.Errorf("empty pattern %v", x)
		}
		used[x.Stock] += x.Count
		bars += x.Count
		cost += int64(x.Count) * p.Stocks[x.Stock].price()
	}
	for i, it := range p.Items {
		if got[i] != it.Demand {
			return fmt.Errorf("item %d: got %d, want %d", i, got[i], it.Demand)
		}
	}
	for k, s := range p.Stocks {
		if s.Limit > 0 && used[k] > s.Limit {
			return fmt.Errorf("stock %d: used %d of %d", k, used[k], s.Limit)
		}
	}
	if cost != pl.Cost || bars != pl.Bars || pl.Bound > pl.Cost || pl.Proven != (pl.Bound == pl.Cost) {
		return fmt.Errorf("sums: cost %d bars %d in %+v", cost, bars, pl)
	}
	return nil
}

func TestFamiliesValid(t *testing.T) {
	for _, f := range families {
		p := f.make(0)
		pl, err := Solve(context.Background(), p, Options{Effort: 50_000_000})
		if err != nil {
			t.Fatalf("%s: %v", f.name, err)
		}
		if err := check(p, pl); err != nil {
			t.Errorf("%s: %v", f.name, err)
		}
	}
}

func TestTextbook(t *testing.T) {
	tests := []struct {
		name   string
		length int64
		items  []Item
		want   int64
	}{
		// Optimum from ceil(total/5600) = 73, which a known plan meets (instance
		// from an encyclopaedia page, from memory).
		{"paper rolls", 5600, []Item{{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18}, {1880, 18}, {1930, 20},
			{2000, 10}, {2050, 12}, {2100, 14}, {2140, 16}, {2150, 18}, {2200, 20}}, 73},
		// V. Chvatal, Linear Programming, Freeman 1983, chapter 13: the relaxation
		// is 452.25, the optimum 453 (from memory).
		{"rolls of 100", 100, []Item{{45, 97}, {36, 610}, {31, 395}, {14, 211}}, 453},
	}
	for _, tt := range tests {
		p := Problem{Stocks: []Stock{{Length: tt.length, Price: 1}}, Items: tt.items}
		pl, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := check(p, pl); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		if pl.Cost != tt.want || !pl.Proven {
			t.Errorf("%s: got %d proven %v, want %d", tt.name, pl.Cost, pl.Proven, tt.want)
		}
	}
}
