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
				far := wall.Sites[x].X - wall.Sites[y].X
				if courses == 1 && (bays < e.p.StaggerBays || max(far, -far) < wall.Near) || courses > 0 && bays == 0 && courses < e.p.Repeat {
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
			w.Sites = append(w.Sites, Site{X: measure.MM(b * 600), Bay: int(b)})
		}
		for c := range 2 + rng.IntN(2) {
			w.Runs = append(w.Runs, runOver(c, measure.Span{Lo: 0, Hi: measure.MM(width)}, w.Sites))
		}
		p.Walls = append(p.Walls, w)
	}
	return p
}

// The oracle is an exhaustive search: no effort proves more than it finds, and
// normal and thorough effort find as much.
func TestAgainstEveryLayout(t *testing.T) {
	jobs, tight := 0, map[Effort]int{}
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
		for _, e := range []Effort{Quick, Normal, Thorough} {
			out := solve(t, p, Options{Effort: e})
			checkPlan(t, p, out)
			if len(out.Relaxed) > 0 {
				t.Errorf("job %d, effort %d: a rule is relaxed, but %d layouts keep them all", seed, e, layouts)
				continue
			}
			if out.LayoutBound > want || out.Boards < want || e != Quick && out.Boards != want {
				t.Errorf("job %d, effort %d: %d boards, bound %d; the best of %d layouts takes %d", seed, e, out.Boards, out.LayoutBound, layouts, want)
			}
			if out.LayoutBound == want {
				tight[e]++
			}
		}
	}
	for e, share := range map[Effort]int{Quick: 50, Normal: 90, Thorough: 90} {
		if tight[e] < jobs*share/100 {
			t.Errorf("effort %d: the bound is tight in %d of %d jobs", e, tight[e], jobs)
		}
	}
}

// A batten moved to within 200 of the one before is a bay from it by number, but
// joints on both would be 200 apart in neighbouring courses, where 300 are wanted:
// the plan takes as few boards as the exhaustive search, and layouts are barred.
func TestNearBattensAreOneBay(t *testing.T) {
	jobs, barred := 0, 0
	for seed := uint64(0); jobs < 30; seed++ {
		p := tinyJob(rand.New(rand.NewPCG(seed, 42)))
		p.StaggerBays, p.Walls = 1, p.Walls[:1]
		w := &p.Walls[0]
		w.Sites[1+int(seed)%(len(w.Sites)-1)].X -= measure.MM(400)
		_, all := fewest(p)
		w.Near = measure.MM(300)
		want, layouts := fewest(p)
		if layouts == 0 {
			continue
		}
		jobs++
		if layouts < all {
			barred++
		}
		out := solve(t, p, Options{})
		checkPlan(t, p, out)
		if len(out.Relaxed) > 0 || out.Boards != want || out.LayoutBound > want {
			t.Errorf("seed %d: %d boards, bound %d, relaxed %v; the best of %d layouts takes %d", seed, out.Boards, out.LayoutBound, out.Relaxed, layouts, want)
		}
	}
	if barred < 10 {
		t.Errorf("layouts are barred in %d of %d jobs", barred, jobs)
	}
}

// Joints that may repeat every second course instead of every third never
// take more boards, by the exhaustive search as by the plan.
func TestMoreFreedomNoMoreBoards(t *testing.T) {
	for seed := range uint64(12) {
		p := tinyJob(rand.New(rand.NewPCG(seed, 41)))
		p.StaggerBays = 1
		p.Repeat = 3
		strict, layouts := fewest(p)
		if layouts == 0 {
			continue
		}
		p.Repeat = 2
		free, _ := fewest(p)
		out := solve(t, p, Options{})
		if free > strict || out.Boards != free || out.LayoutBound > free {
			t.Errorf("seed %d: %d boards, bound %d; exhausted %d with repeat 2, %d with repeat 3", seed, out.Boards, out.LayoutBound, free, strict)
		}
	}
}
