package engine

import (
	"context"
	"fmt"
	"reflect"
	"testing"

	"lapwright/engine/audit"
)

// A job whose walls are not held says of everything what the same job says that
// holds them: walls worked out again, cutting plan, order, flags.
func TestWholeAsHeld(t *testing.T) {
	var walls []Wall
	for seed := range uint64(4) {
		for i, w := range newGenerator(700 + seed).house() {
			w.Plot, w.Colour = fmt.Sprint("type ", seed), []string{"grey", "red", ""}[(int(seed)+i)%3]
			for k := range w.Openings {
				w.Openings[k].Lined, w.Openings[k].Reveal = k%2 == 0, mm(100)
			}
			walls = append(walls, w)
		}
	}
	for i := range walls { // the rows of a dwelling need not stand together
		k := i * 7 % len(walls)
		walls[i], walls[k] = walls[k], walls[i]
	}
	seen := map[string]bool{}
	for _, pool := range []Pool{PoolPlot, PoolWall, PoolDrop, PoolJob} {
		job := testJob(walls...)
		job.Pool, job.Rules.PaintCoverage = pool, 100
		for i := range 6 {
			job.Plots = append(job.Plots, Plot{Name: fmt.Sprint(i), HouseType: fmt.Sprint("type ", i%4), Handed: i%2 == 0, Drop: fmt.Sprint(i % 3)})
		}
		held, few := planned(t, job, 1<<20), planned(t, job, 3)
		if held.again != nil || few.again == nil {
			t.Fatal("not one of each kind")
		}
		for i := range few.Walls {
			want := &held.Walls[i]
			if got := few.Whole(i); !reflect.DeepEqual(got, want) {
				t.Errorf("pool %s: wall %s %s is not what it was", pool, want.Plot, want.Name)
			}
			n, built := few.PieceCount(i)
			if is, all := held.PieceCount(i); n != len(few.Pieces(i, nil)) || n != is || n == 0 || built != all {
				t.Errorf("pool %s: wall %s %s has %d pieces, %d built; counted %d and %d", pool, want.Plot, want.Name, is, all, n, built)
			}
			for _, p := range want.Pieces {
				seen["reveal"] = seen["reveal"] || p.Course == 0
				seen["bare"] = seen["bare"] || len(p.Bare) > 0
				seen["raked"] = seen["raked"] || p.Left.Kind == Rake
				seen["notched"] = seen["notched"] || len(p.Cutouts) > 0
				seen["unfixed"] = seen["unfixed"] || len(p.Unfixed) > 0
			}
		}
		few.Walls, held.Walls, few.again = nil, nil, nil
		if !reflect.DeepEqual(few, held) {
			t.Errorf("pool %s: the rest of the result differs", pool)
		}
	}
	for _, what := range []string{"reveal", "bare", "raked", "notched", "unfixed"} {
		if !seen[what] {
			t.Errorf("no piece is %s: the walls are no test", what)
		}
	}
}

// planned takes a job off as [Takeoff] does, holding so many walls at most.
func planned(t *testing.T, job *Job, held int) *Result {
	t.Helper()
	u := newTakeoff(job)
	u.held = held
	if err := u.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	u.collect()
	u.assumptions()
	if faults := audit.Check(u.auditJob()); len(faults) > 0 {
		t.Fatal(faults[0])
	}
	return u.result
}
