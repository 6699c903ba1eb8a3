package cutting

import (
	"context"
	"math/big"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

// published is an instance whose optimum is in print.
type published struct {
	name string
	best int64
	p    Problem
}

// readPublished reads testdata/published.txt, which names its sources.
func readPublished(t testing.TB) []published {
	t.Helper()
	text, err := os.ReadFile("testdata/published.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []published
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		head, list, _ := strings.Cut(line, ":")
		f := strings.Fields(head)
		if len(f) != 3 {
			t.Fatalf("line %q", head)
		}
		var lengths []int64
		for _, s := range strings.Fields(list) {
			lengths = append(lengths, number(t, s))
		}
		out = append(out, published{f[0], number(t, f[2]), oneStock(number(t, f[1]), lengths)})
	}
	return out
}

func number(t testing.TB, s string) int64 {
	t.Helper()
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// stubborn are published instances that are not proven in minutes, though their
// best plan is found.
var stubborn = map[string]bool{"hBPP175": true}

// Every published optimum is found, never beaten, and proven but for the
// stubborn one.
func TestPublishedOptima(t *testing.T) {
	for i, x := range readPublished(t) {
		if testing.Short() && i%4 != 0 {
			continue
		}
		effort := int64(1_500_000_000)
		if stubborn[x.name] {
			effort = 200_000_000
		}
		pl, err := Solve(context.Background(), x.p, Options{Effort: effort})
		if err != nil {
			t.Fatal(err)
		}
		if err := check(x.p, pl); err != nil {
			t.Errorf("%s: %v", x.name, err)
		}
		if pl.Cost < x.best || pl.Bound > x.best {
			t.Errorf("%s: %d bars, bound %d, published optimum %d", x.name, pl.Cost, pl.Bound, x.best)
		}
		if !stubborn[x.name] && !pl.Proven {
			t.Errorf("%s: %d bars, bound %d after %d units of work, published optimum %d", x.name, pl.Cost, pl.Bound, pl.Work, x.best)
		}
	}
}

// The bound of the relaxation must follow from its last piece values by a
// calculation of its own: the dearest pattern by dynamic programming over every
// length of bar, and the quotient as a fraction.
func TestBoundFollowsFromDuals(t *testing.T) {
	for i, x := range readPublished(t) {
		if i%5 != 0 {
			continue
		}
		g := relax(x.p)
		sum := new(big.Int)
		for k, u := range g.u {
			sum.Add(sum, new(big.Int).Mul(big.NewInt(u), big.NewInt(g.d[k])))
		}
		top := dearest(g.w, g.d, g.u, g.bars[0].cap)
		low := new(big.Rat).SetFrac(sum, big.NewInt(top))
		if below := new(big.Rat).SetInt64(g.bound - 1); low.Cmp(below) <= 0 {
			t.Errorf("%s: bound %d, but its duals prove only %s", x.name, g.bound, low.FloatString(6))
		}
	}
}

// dearest is the greatest value a bar can hold, piece by piece.
func dearest(w, d, u []int64, c int64) int64 {
	best := make([]int64, c+1)
	for k := range w {
		for range d[k] {
			for r := c; r >= w[k]; r-- {
				best[r] = max(best[r], best[r-w[k]]+u[k])
			}
		}
	}
	return best[c]
}

// What a reduction sets aside must be part of some best plan: the rest, solved
// by exhaustive search, and the bars set aside make the optimum of the whole.
func TestReductionAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	applied := 0
	for n := range 600 {
		p := Problem{Stocks: []Stock{{Length: 12 + r.Int64N(30), Price: 1}}, Kerf: r.Int64N(3)}
		for range 3 + n%6 {
			p.Items = append(p.Items, Item{1 + r.Int64N(p.Stocks[0].Length), 1})
		}
		in := newInstance(p)
		red := in.reduce()
		if red == nil {
			continue
		}
		applied++
		q := Problem{Stocks: []Stock{{Length: in.bars[0].cap, Price: 1}}}
		for i, w := range red.rest.w {
			q.Items = append(q.Items, Item{w, int(red.rest.d[i])})
		}
		if got, want := exhaustive(q)+red.bars, exhaustive(p); got != want {
			t.Fatalf("%+v: %d bars with %d set aside, exhaustive search %d", p, got, red.bars, want)
		}
	}
	if applied < 200 {
		t.Errorf("only %d instances were reduced", applied)
	}
}
