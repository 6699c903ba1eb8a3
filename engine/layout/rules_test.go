package layout

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// wallOf is a wall of equal level courses with sites at the given places.
func wallOf(width int64, courses int, least int64, sites ...int64) Wall {
	w := Wall{PieceLeast: measure.MM(least)}
	for i, x := range sites {
		w.Sites = append(w.Sites, Site{X: measure.MM(x), Bay: i + 1})
	}
	for c := range courses {
		w.Runs = append(w.Runs, runOver(c, measure.Span{Lo: 0, Hi: measure.MM(width)}, w.Sites))
	}
	return w
}

func poolOf(stock int64, walls ...Wall) Problem {
	return Problem{Stocks: []Stock{{Length: measure.MM(stock)}}, Kerf: measure.MM(4), Gap: measure.MM(2),
		StaggerBays: 1, Repeat: 2, Walls: walls}
}

// Small pools whose answer can be counted by hand.
func TestByHand(t *testing.T) {
	long := poolOf(3000, wallOf(3000, 4, 600, 600, 1200, 1800, 2400))
	halves := poolOf(3004, wallOf(1500, 6, 600, 600))
	halves.Walls[0].Quantity = 5
	exact := poolOf(3000, wallOf(3000, 2, 600))
	exact.Kerf = 0
	hand := poolOf(3000, wallOf(1400, 6, 600))
	hand.Stocks = append(hand.Stocks, Stock{Length: measure.MM(1500), OnHand: 4})
	tests := []struct {
		name           string
		p              Problem
		boards, proven int
	}{
		{"runs as long as the board", long, 4, 1},
		{"two runs and a kerf fill a board, five times six runs", halves, 15, 1},
		{"a piece equal to the stock", exact, 2, 1},
		{"four runs from stock on hand, two from one board", hand, 1, 1},
		{"nothing to lay", poolOf(3000), 0, 1},
	}
	for _, c := range tests {
		out := solve(t, c.p, Options{})
		checkPlan(t, c.p, out)
		if out.Boards != c.boards || out.Proven != (c.proven == 1) {
			t.Errorf("%s: %d boards, proven %v, want %d, %v", c.name, out.Boards, out.Proven, c.boards, c.proven == 1)
		}
	}
}

// Where the rules cannot be kept the plan says which runs break them.
func TestRelaxed(t *testing.T) {
	tests := []struct {
		name string
		w    Wall
		want []Ref
	}{
		{"two courses, one batten", wallOf(4000, 2, 600, 2000), []Ref{{0, 0}, {0, 1}}},
		{"a batten too near the end", wallOf(3200, 1, 600, 300), []Ref{{0, 0}}},
		{"two battens suffice", wallOf(4000, 4, 600, 1900, 2100), nil},
	}
	for _, c := range tests {
		p := poolOf(3000, c.w)
		out := solve(t, p, Options{})
		checkPlan(t, p, out)
		if !slices.Equal(out.Relaxed, c.want) {
			t.Errorf("%s: relaxed %v, want %v", c.name, out.Relaxed, c.want)
		}
	}
}

// Two courses of 4,000 in boards of 3,000, sites at 1,900 on the grid and at
// 2,100 and 2,600 off it, each of which makes two pieces that fit. Kept 600 apart,
// only joints at 1,900 and 2,600 can stand in the two courses; kept 800 apart none
// can. Without the one at 2,600 the courses would have to share 1,900 and 2,100.
func TestOffTheGridJointsKeepApart(t *testing.T) {
	for _, c := range []struct {
		apart   int64
		sites   []Site
		relaxed int
	}{
		{600, []Site{{X: measure.MM(1900), Bay: 3}, {X: measure.MM(2100), Bay: -1000, Off: true}, {X: measure.MM(2600), Bay: -2000, Off: true}}, 0},
		{800, []Site{{X: measure.MM(1900), Bay: 3}, {X: measure.MM(2100), Bay: -1000, Off: true}, {X: measure.MM(2600), Bay: -2000, Off: true}}, 2},
		{600, []Site{{X: measure.MM(1900), Bay: 3}, {X: measure.MM(2100), Bay: -1000, Off: true}}, 2},
	} {
		w := wallOf(4000, 2, 600, 1900, 2100, 2600)
		w.Sites, w.Apart = c.sites, measure.MM(c.apart)
		for i := range w.Runs {
			w.Runs[i].Sites = w.Runs[i].Sites[:len(c.sites)]
		}
		out := solve(t, poolOf(3000, w), Options{})
		if len(out.Relaxed) != c.relaxed || len(out.Unlaid) > 0 {
			t.Errorf("%d apart, %d sites: relaxed %v, unlaid %v, want %d relaxed", c.apart, len(c.sites), out.Relaxed, out.Unlaid, c.relaxed)
		}
		if c.relaxed == 0 {
			at := []int{out.Joints[0][0][0], out.Joints[0][1][0]}
			if slices.Sort(at); !slices.Equal(at, []int{0, 2}) {
				t.Errorf("joints at sites %v, want 0 and 2", at)
			}
		}
	}
}

func TestUnlaid(t *testing.T) {
	p := poolOf(3000, wallOf(7000, 2, 600, 3000), wallOf(2000, 3, 600))
	out := solve(t, p, Options{})
	checkPlan(t, p, out)
	if want := []Ref{{0, 0}, {0, 1}}; !slices.Equal(out.Unlaid, want) {
		t.Errorf("unlaid %v, want %v", out.Unlaid, want)
	}
	if out.Boards != 3 {
		t.Errorf("%d boards for the runs that can be laid, want 3", out.Boards)
	}
}

func TestInvalid(t *testing.T) {
	good := poolOf(3000, wallOf(4000, 2, 600, 1900, 2100))
	tests := []struct {
		name  string
		spoil func(p *Problem)
	}{
		{"no stock", func(p *Problem) { p.Stocks = nil }},
		{"stock of no length", func(p *Problem) { p.Stocks[0].Length = 0 }},
		{"only stock on hand", func(p *Problem) { p.Stocks[0].OnHand = 3 }},
		{"negative kerf", func(p *Problem) { p.Kerf = -1 }},
		{"negative gap", func(p *Problem) { p.Gap = -1 }},
		{"empty run", func(p *Problem) { p.Walls[0].Runs[0].Span.Hi = 0 }},
		{"site outside the run", func(p *Problem) { p.Walls[0].Sites[1].X = measure.MM(4000) }},
		{"sites out of order", func(p *Problem) { p.Walls[0].Runs[1].Sites = []int{1, 0} }},
		{"no such site", func(p *Problem) { p.Walls[0].Runs[1].Sites = []int{2} }},
		{"negative quantity", func(p *Problem) { p.Walls[0].Quantity = -1 }},
	}
	for _, c := range tests {
		p := good
		p.Stocks = slices.Clone(good.Stocks)
		p.Walls = []Wall{wallOf(4000, 2, 600, 1900, 2100)}
		c.spoil(&p)
		if _, err := Solve(context.Background(), p, Options{}); !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: error %v, want ErrInvalid", c.name, err)
		}
	}
}

// A context that is done still yields a whole plan: the hand plan.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := smallJob(rand.New(rand.NewPCG(1, 1)))
	out, err := Solve(ctx, p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, p, out)
	if out.Boards != out.Hand.Boards {
		t.Errorf("%d boards, hand plan %d", out.Boards, out.Hand.Boards)
	}
}

// The order of walls changes neither the bound nor, here, the boards.
func TestOrderOfWalls(t *testing.T) {
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 9))
		p := randomJob(rng, jobSpec{walls: 3, stock: 3600, centres: 600, repeat: 2, stagger: 1, kerf: 4, gap: 2,
			minWide: 3000, maxWide: 8000, minRows: 10, maxRows: 18, openings: 2})
		a := solve(t, p, Options{})
		slices.Reverse(p.Walls)
		b := solve(t, p, Options{})
		if a.LayoutBound != b.LayoutBound || max(a.Boards-b.Boards, b.Boards-a.Boards) > 1 {
			t.Errorf("seed %d: %d boards, bound %d; walls reversed %d, bound %d", seed, a.Boards, a.LayoutBound, b.Boards, b.LayoutBound)
		}
	}
}
