package layout

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"lapwright/engine/measure"
)

func TestRandomJobs(t *testing.T) {
	for seed := range uint64(150) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			rng := rand.New(rand.NewPCG(seed, 1))
			p := smallJob(rng)
			vary(rng, &p)
			out := solve(t, p, Options{Effort: Quick, Seed: seed})
			checkPlan(t, p, out)
			if again := solve(t, p, Options{Effort: Quick, Seed: seed}); !reflect.DeepEqual(out, again) {
				t.Error("a second run gives another plan")
			}
		})
	}
}

// The same at normal effort, on fewer jobs.
func TestRandomJobsNormal(t *testing.T) {
	for seed := range uint64(25) {
		rng := rand.New(rand.NewPCG(seed, 2))
		p := smallJob(rng)
		vary(rng, &p)
		out := solve(t, p, Options{Seed: seed})
		checkPlan(t, p, out)
		if again := solve(t, p, Options{Seed: seed}); !reflect.DeepEqual(out, again) {
			t.Errorf("job %d: a second run gives another plan", seed)
		}
	}
}

// More effort never gives a dearer plan, nor more boards at one cost.
func TestThoroughIsNeverWorse(t *testing.T) {
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 3))
		p := smallJob(rng)
		vary(rng, &p)
		normal, thorough := solve(t, p, Options{Seed: seed}), solve(t, p, Options{Effort: Thorough, Seed: seed})
		checkPlan(t, p, thorough)
		if thorough.Cost > normal.Cost || thorough.Cost == normal.Cost && thorough.Boards > normal.Boards {
			t.Errorf("job %d: thorough effort costs %d for %d boards, normal %d for %d", seed, thorough.Cost, thorough.Boards, normal.Cost, normal.Boards)
		}
	}
}

// Pools too large for one master: the rules, the proof and the stock on hand
// hold across the groups.
func TestGroups(t *testing.T) {
	for seed := range uint64(3) {
		rng := rand.New(rand.NewPCG(seed, 6))
		p := randomJob(rng, jobSpec{walls: 14, stock: 3600, centres: 600, repeat: 2 + int(seed%2), stagger: 1, kerf: 4, gap: 2,
			minWide: 4000, maxWide: 9000, minRows: 18, maxRows: 30, openings: 3})
		p.Walls[3] = p.Walls[11]
		p.Walls[5].Quantity = 2
		if seed > 0 {
			p.Stocks = append(p.Stocks, Stock{Length: measure.MM(2700), OnHand: 25})
		}
		out := solve(t, p, Options{Effort: Quick, Seed: seed})
		checkPlan(t, p, out)
		if out.Boards >= out.Hand.Boards {
			t.Errorf("job %d: %d boards, by hand %d", seed, out.Boards, out.Hand.Boards)
		}
		s := &solver{m: newModel(p), e: budgetOf(Quick)}
		if s.begin(); !s.large() {
			t.Errorf("job %d is not large enough to be laid in groups", seed)
		}
	}
}

// vary adds quantities, more stocks and stock on hand to a job.
func vary(rng *rand.Rand, p *Problem) {
	for i := range p.Walls {
		p.Walls[i].Quantity = rng.IntN(5)
	}
	if rng.IntN(2) == 0 {
		p.Stocks = append(p.Stocks, Stock{Length: measure.MM(2400 + 100*rng.Int64N(20)), OnHand: 1 + rng.IntN(6)})
	}
	if rng.IntN(2) == 0 {
		p.Stocks = append(p.Stocks, Stock{Length: measure.MM(2400 + 100*rng.Int64N(20)), Price: 2500 + rng.Int64N(1500)})
	}
}

func solve(t testing.TB, p Problem, o Options) Plan {
	t.Helper()
	out, err := Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
