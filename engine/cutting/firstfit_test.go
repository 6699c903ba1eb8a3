package cutting

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// oneByOne is first-fit or best-fit decreasing piece by piece, as defined,
// without groups of bars.
func oneByOne(p Problem, best bool) int {
	var ws []int64
	for _, it := range p.Items {
		for range it.Demand {
			ws = append(ws, it.Length+p.Kerf)
		}
	}
	slices.Sort(ws)
	slices.Reverse(ws)
	var room []int64
	for _, w := range ws {
		k := -1
		for i, r := range room {
			if r >= w && (k < 0 || (best && r < room[k])) {
				k = i
			}
		}
		if k < 0 {
			k = len(room)
			room = append(room, p.Stocks[0].Length+p.Kerf)
		}
		room[k] -= w
	}
	return len(room)
}

func TestGroupedHeuristicsAgainstPieceByPiece(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for n := range 500 {
		p := Problem{Stocks: []Stock{{Length: 50 + r.Int64N(200)}}, Kerf: r.Int64N(5)}
		for range 1 + n%12 {
			p.Items = append(p.Items, Item{1 + r.Int64N(p.Stocks[0].Length), r.IntN(20)})
		}
		ff, err := FirstFitDecreasing(p)
		if err != nil {
			t.Fatal(err)
		}
		bf, err := BestFitDecreasing(p)
		if err != nil {
			t.Fatal(err)
		}
		if err := check(p, ff); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		if want := oneByOne(p, false); ff.Bars != want {
			t.Errorf("first fit %d bars, piece by piece %d: %+v", ff.Bars, want, p)
		}
		if want := oneByOne(p, true); bf.Bars != want {
			t.Errorf("best fit %d bars, piece by piece %d: %+v", bf.Bars, want, p)
		}
	}
}

// Shrinking replaces a bar by a cheaper one that is on hand.
func TestShrinkUsesStockOnHand(t *testing.T) {
	p := Problem{Stocks: []Stock{{Length: 100, Price: 10}, {Length: 60, Price: 7, Limit: 1}}, Items: []Item{{55, 3}}}
	pl, err := FirstFitDecreasing(p)
	if err != nil {
		t.Fatal(err)
	}
	if err := check(p, pl); err != nil || pl.Cost != 27 {
		t.Errorf("cost %d, want 27 (%v)", pl.Cost, err)
	}
}
