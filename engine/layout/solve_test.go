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
