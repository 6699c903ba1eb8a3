package engine

import (
	"context"
	"math/rand/v2"
	"testing"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// battenBars returns how many lengths of battens are bought.
func battenBars(r *Result) int {
	n := 0
	for _, p := range r.Pools {
		if p.Role == RoleBatten || p.Role == RoleWideBatten {
			n += p.Boards
		}
	}
	return n
}

// A wall 3,000 wide between abutments: six battens of 50, none behind a joint, from
// 150 to 5,250: 300 more than the stock of 4,800. Of even parts of 2,550 two come from
// no one length: twelve. With 600 on top 4,500 are left below, and the six short ones,
// with five cuts of 4 between them 3,620, come from a seventh length.
func TestSplicesByHand(t *testing.T) {
	w := Wall{Name: "tall", Width: mm(3000), Height: mm(5260), Base: measure.Some(mm(150)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground}
	r := mustTakeoff(t, testJob(w))
	same(t, "lengths bought", battenBars(r), 7)
	for _, b := range r.Walls[0].Battens {
		if l := b.Z.Length(); l < mm(600) || l > mm(690) && l < mm(4410) {
			t.Errorf("%s is %v long", b.Mark, l)
		}
	}
}

// Two battens of 5,100 beside four of 2,130: of even parts of about 2,550 each leaves
// room for one, and all come from four lengths. With 600 on top two lengths give 4,500,
// two more the four low ones, with 532 left, and the short ones want a fifth.
func TestEvenPartsWhereTheyFitBetter(t *testing.T) {
	wall := func(name string, width, height int64) Wall {
		return Wall{Name: name, Width: mm(width), Height: mm(height), Base: measure.Some(mm(150)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground}
	}
	r := mustTakeoff(t, testJob(wall("tall", 600, 5260), wall("low", 1800, 2290)))
	same(t, "lengths bought", battenBars(r), 4)
}

// fewestBars tries every way to cut lengths from bars of stock, each on a bar begun
// or on a new one.
func fewestBars(lengths []measure.Length, stock, kerf measure.Length) int {
	best := len(lengths)
	var bars []measure.Length // what is left on each
	var try func(i int)
	try = func(i int) {
		if len(bars) >= best {
			return
		}
		if i == len(lengths) {
			best = len(bars)
			return
		}
		seen := map[measure.Length]bool{}
		for k := range bars {
			left := bars[k]
			if left < lengths[i] || seen[left] {
				continue
			}
			seen[left] = true
			bars[k] = max(0, left-lengths[i]-kerf)
			try(i + 1)
			bars[k] = left
		}
		bars = append(bars, max(0, stock-lengths[i]-kerf))
		try(i + 1)
		bars = bars[:len(bars)-1]
	}
	try(0)
	return best
}

// Small walls of random heights, whose battens are cut together: what is bought never
// costs more than with even parts throughout, and seldom more than the best of all
// ways to splice one length of batten so and the other so. The bars of each way are
// found by trying everything.
func TestSplicesAgainstAllWays(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	less, worse, jobs := 0, 0, 0
	for range 150 {
		var walls []Wall
		for i := range 1 + r.IntN(2) {
			walls = append(walls, Wall{Name: itoa(i), Width: mm(700 + r.Int64N(700)), Height: mm(2400 + r.Int64N(4000)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
		}
		job := testJob(walls...)
		for i := range job.Products {
			if p := &job.Products[i]; p.Role == RoleBattenFixing {
				p.Price = 0.3
			}
		}
		u := newTakeoff(job)
		if err := u.plan(context.Background()); err != nil {
			t.Fatal(err)
		}
		if u.result.Left != nil || len(u.stands) == 0 {
			continue
		}
		cost := func(all []Batten, bars int) float64 {
			fixings := 0
			for _, b := range all {
				n, _ := fixing.Along(b.Z.Length(), job.Rules.BattenFixing)
				fixings += n
			}
			return 10*float64(bars) + 0.3*float64(fixings)
		}
		spliced := func(evenly map[measure.Length]bool) float64 {
			lengths := map[string][]measure.Length{}
			var all []Batten
			for _, s := range u.stands {
				own := *s
				own.evenly = evenly
				var w WallResult
				u.battenWall(&own, &w, u.buttsOf(s))
				for _, b := range w.Battens {
					lengths[b.Code] = append(lengths[b.Code], b.Z.Length())
				}
				all = append(all, w.Battens...)
			}
			bars := 0
			for _, of := range lengths {
				bars += fewestBars(of, mm(4800), job.Rules.Kerf)
			}
			return cost(all, bars)
		}
		lengths := u.shared(u.stands, u.allButts(u.stands))
		if len(lengths) == 0 || len(lengths) > 6 {
			continue
		}
		jobs++
		var all []Batten
		for i := range u.result.Walls {
			all = append(all, u.result.Walls[i].Battens...)
		}
		got, even, best := cost(all, battenBars(u.result)), 0.0, 0.0
		for way := range 1 << len(lengths) {
			evenly := map[measure.Length]bool{}
			for i, l := range lengths {
				evenly[l] = way>>i&1 == 1
			}
			even = spliced(evenly) // of all, the last time
			if way == 0 || even < best {
				best = even
			}
		}
		if got > even+1e-9 {
			t.Errorf("%+v: costs %.2f, with even parts %.2f", walls, got, even)
		}
		if got < even-1e-9 {
			less++
		}
		if got > best+1e-9 {
			worse++
		}
	}
	t.Logf("%d jobs, %d cost less than with even parts, %d more than the best way", jobs, less, worse)
	if jobs < 25 || less < jobs/3 || worse > jobs/10 {
		t.Errorf("of %d jobs %d cost less than with even parts, %d more than the best way", jobs, less, worse)
	}
}
