package layout

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// fewest finds the fewest boards for a pool of one stock by trying every
// layout the rules allow and, for each, every packing. It knows nothing of the
// solver: only Pieces and the rules as the types state them.
func fewest(p Problem) (boards, layouts int) {
	e := &enumeration{p: p, best: 1 << 30, seen: map[string]bool{}}
	for w, wall := range p.Walls {
		for i := range wall.Runs {
			e.runs = append(e.runs, Ref{w, i})
		}
	}
	e.joints = make([][]int, len(e.runs))
	e.next(0, nil)
	return e.best, e.layouts
}

type enumeration struct {
	p       Problem
	runs    []Ref
	joints  [][]int
	best    int
	layouts int
	seen    map[string]bool
}

// next lays run k in every way, given the pieces of the runs before.
func (e *enumeration) next(k int, lens []measure.Length) {
	if k == len(e.runs) {
		e.layouts++
		sorted := slices.Sorted(slices.Values(lens))
		if key := fmt.Sprint(sorted); !e.seen[key] {
			e.seen[key] = true
			slices.Reverse(sorted)
			e.best = pack(sorted, nil, e.p.Stocks[0].Length, e.p.Kerf, e.best)
		}
		return
	}
	r := e.p.Walls[e.runs[k].Wall].Runs[e.runs[k].Run]
	for set := range 1 << len(r.Sites) {
		var joints []int
		for b, s := range r.Sites {
			if set>>b&1 == 1 {
				joints = append(joints, s)
			}
		}
		if ls, ok := e.legal(k, joints); ok {
			e.joints[k] = joints
			e.next(k+1, append(lens[:len(lens):len(lens)], ls...))
		}
	}
}

func (e *enumeration) legal(k int, joints []int) ([]measure.Length, bool) {
	wall := e.p.Walls[e.runs[k].Wall]
	r := wall.Runs[e.runs[k].Run]
	var lens []measure.Length
	for _, s := range Pieces(r, joints, wall.Sites, e.p.Gap) {
		if s.Length() > e.p.Stocks[0].Length || s.Empty() || len(joints) > 0 && s.Length() < wall.PieceLeast {
			return nil, false
		}
		lens = append(lens, s.Length())
	}
	for o := range k {
		if e.runs[o].Wall != e.runs[k].Wall {
			continue
		}
		courses := r.Course - wall.Runs[e.runs[o].Run].Course
		courses = max(courses, -courses)
		for _, x := range joints {
			for _, y := range e.joints[o] {
				bays := wall.Sites[x].Bay - wall.Sites[y].Bay
				bays = max(bays, -bays)
				if courses == 1 && bays < e.p.StaggerBays || courses > 0 && bays == 0 && courses < e.p.Repeat {
					return nil, false
				}
			}
		}
	}
	return lens, true
}

// pack returns the fewest boards below limit for pieces by falling length.
func pack(lens []measure.Length, free []measure.Length, stock, kerf measure.Length, limit int) int {
	if len(free) >= limit {
		return limit
	}
	if len(lens) == 0 {
		return len(free)
	}
	tried := map[measure.Length]bool{}
	for i, f := range free {
		if f < lens[0] || tried[f] {
			continue
		}
		tried[f] = true
		free[i] = f - lens[0] - kerf // below 0 where the last cut ends flush
		limit = pack(lens[1:], free, stock, kerf, limit)
		free[i] = f
	}
	return pack(lens[1:], append(free, stock-lens[0]-kerf), stock, kerf, limit)
}

// tinyJob has few enough layouts to try them all.
func tinyJob(rng *rand.Rand) Problem {
	p := Problem{Stocks: []Stock{{Length: measure.MM(2400 + 600*rng.Int64N(2))}}, Kerf: measure.MM(rng.Int64N(5)), Gap: measure.MM(2),
		StaggerBays: 1 + rng.IntN(2), Repeat: 2 + rng.IntN(2)}
	for range 1 + rng.IntN(2) {
		width := 2600 + rng.Int64N(1600)
		w := Wall{PieceLeast: measure.MM(450)}
		for b := int64(1); b*600 < width; b++ {
			w.Sites = append(w.Sites, Site{measure.MM(b * 600), int(b)})
		}
		for c := range 2 + rng.IntN(2) {
			w.Runs = append(w.Runs, runOver(c, measure.Span{Lo: 0, Hi: measure.MM(width)}, w.Sites))
		}
		p.Walls = append(p.Walls, w)
	}
	return p
}

// The oracle is an exhaustive search.
func TestAgainstEveryLayout(t *testing.T) {
	tight, jobs := 0, 0
	for seed := uint64(0); jobs < 40; seed++ {
		rng := rand.New(rand.NewPCG(seed, 40))
		p := tinyJob(rng)
		want, layouts := fewest(p)
		if layouts == 0 {
			if out := solve(t, p, Options{}); len(out.Relaxed)+len(out.Unlaid) == 0 {
				t.Errorf("job %d has no layout within the rules, and the plan relaxes none", seed)
			}
			continue
		}
		jobs++
		out := solve(t, p, Options{})
		checkPlan(t, p, out)
		if len(out.Relaxed) > 0 {
			t.Errorf("job %d: a rule is relaxed, but %d layouts keep them all", seed, layouts)
			continue
		}
		if out.Boards != want || out.LayoutBound > want {
			t.Errorf("job %d: %d boards, bound %d; the best of %d layouts takes %d", seed, out.Boards, out.LayoutBound, layouts, want)
		}
		if out.LayoutBound == want {
			tight++
		}
	}
	if tight < jobs*9/10 {
		t.Errorf("the bound is tight in %d of %d jobs", tight, jobs)
	}
}
