package layout

import (
	"context"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// walled is a walker on a wall where every batten joints but every third course.
func walled(t *testing.T, seed uint64) *walker {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 70))
	p := randomJob(rng, jobSpec{walls: 2, stock: 3000, centres: 600, repeat: 3, stagger: 1, kerf: 4, gap: 2,
		minWide: 5000, maxWide: 9000, minRows: 8, maxRows: 16, openings: 3})
	s := &solver{m: newModel(p)}
	s.begin()
	if s.hand.broken > 0 {
		t.Skip("no layout by hand keeps the rules")
	}
	return newWalker(s.m, s.hand.cuts, seed)
}

// blocked recounts which joints stand in each joint's way.
func blocked(w *walker) []int32 {
	out := make([]int32, len(w.m.conf))
	for r, cuts := range w.st.cuts {
		for _, k := range cuts {
			for _, c := range w.m.conf[w.m.runs[r].base+k] {
				out[c]++
			}
		}
	}
	return out
}

func same(a, b [][]int32) bool {
	return slices.EqualFunc(a, b, slices.Equal[[]int32])
}

// A push leaves a layout within the rules, differs from the one before, is
// recorded whole, and can be taken back.
func TestEject(t *testing.T) {
	pushed, chains := 0, 0
	for seed := range uint64(6) {
		w := walled(t, seed)
		w.heat = 0.2
		for step := range 400 {
			before := w.layout()
			ok := w.eject(func(id int32) float64 { return float64(w.m.lens[id]) / float64(w.m.most) })
			after := w.layout()
			if !reflect.DeepEqual(blocked(w), w.st.block) {
				t.Fatalf("seed %d step %d: the count of joints in the way is wrong", seed, step)
			}
			for r := range w.m.runs {
				if !w.m.runs[r].shape.dead && w.st.breaches(int32(r)) > 0 {
					t.Fatalf("seed %d step %d: run %d breaks a rule", seed, step, r)
				}
			}
			if !ok && !same(before, after) || ok && len(w.moved) == 1 && same(before, after) {
				t.Fatalf("seed %d step %d: eject says %v", seed, step, ok)
			}
			if !ok {
				continue
			}
			pushed++
			if len(w.moved) > 1 {
				chains++
			}
			if step%2 == 0 {
				w.restore()
				if !same(w.layout(), before) || !reflect.DeepEqual(blocked(w), w.st.block) {
					t.Fatalf("seed %d step %d: restore leaves another layout", seed, step)
				}
			}
		}
	}
	if pushed < 100 || chains < 50 {
		t.Errorf("%d pushes, %d of them moved more than one run", pushed, chains)
	}
}

// The annealer's books, after pushes and everything else, are those of its
// boards: every piece of the layout is cut once, cost and joints recount.
func TestAnnealerKeepsBooks(t *testing.T) {
	for seed := range uint64(4) {
		w := walled(t, seed)
		s := &solver{m: w.m}
		s.begin()
		a := newAnnealer(context.Background(), w.m, s.hand, seed)
		a.anneal(6000, 0.1, 0.01)
		now := a.solution()
		if now.cost != a.paid || now.bought != a.bought || now.joints != a.joints {
			t.Errorf("seed %d: booked %d boards at %d, %d joints; recounted %d at %d, %d", seed, a.bought, a.paid, a.joints, now.bought, now.cost, now.joints)
		}
		if got := cutPieces(w.m, now.boards); !reflect.DeepEqual(got, w.m.demand(now.cuts)) {
			t.Errorf("seed %d: the boards yield %v, the layout takes %v", seed, got, w.m.demand(now.cuts))
		}
		if a.best.bought >= s.hand.bought {
			t.Errorf("seed %d: %d boards, by hand %d", seed, a.best.bought, s.hand.bought)
		}
	}
}

// cutPieces counts the pieces cut by length number.
func cutPieces(m *model, boards []cutBoard) []int32 {
	out := make([]int32, len(m.lens))
	for _, b := range boards {
		for _, id := range b.parts {
			out[id] += int32(b.count)
		}
	}
	return out
}

// Rounding a linear program meets the demand exactly, on boards that hold
// their parts, and buys no fewer than the program's value says.
func TestRounded(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 71))
		p := smallJob(rng)
		vary(rng, &p)
		s := &solver{ctx: context.Background(), m: newModel(p)}
		s.begin()
		a := fixedMaster(s.m, s.m.demand(s.hand.cuts), &table[float64]{})
		a.generate(s.ctx, 1<<22)
		out := s.m.rounded(s.hand.cuts, a)
		if got, want := cutPieces(s.m, out.boards), s.m.demand(s.hand.cuts); !reflect.DeepEqual(got, want) {
			t.Errorf("seed %d: the boards yield %v, want %v", seed, got, want)
		}
		hand := make([]int, len(s.m.kinds))
		for _, b := range out.boards {
			free := s.m.kinds[b.kind].cap
			for _, id := range b.parts {
				free -= s.m.lens[id]
			}
			if hand[b.kind] += b.count; free < 0 || s.m.kinds[b.kind].hand >= 0 && hand[b.kind] > s.m.kinds[b.kind].hand {
				t.Errorf("seed %d: board %v: %d too long, or %d of its kind used", seed, b, -free, hand[b.kind])
			}
		}
		if v := a.bound * a.unit; float64(out.cost) < v-1e-6*v-1 {
			t.Errorf("seed %d: cost %d below the bound %v", seed, out.cost, v)
		}
	}
}

// tired is a context that is done after a number of looks at it.
type tired struct {
	context.Context
	left int
}

func (c *tired) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// Wherever it is stopped, the plan is whole and no worse than by hand.
func TestStopAnywhere(t *testing.T) {
	p := randomJob(rand.New(rand.NewPCG(8, 8)), jobSpec{walls: 3, stock: 3000, centres: 600, repeat: 3, stagger: 1, kerf: 4, gap: 2,
		minWide: 4000, maxWide: 8000, minRows: 8, maxRows: 14, openings: 2})
	last := -1
	for _, looks := range []int{0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512} {
		for _, e := range []Effort{Quick, Normal, Thorough} {
			out, err := Solve(&tired{context.Background(), looks}, p, Options{Effort: e})
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, p, out)
			if e == Normal {
				last = out.Boards
			}
		}
	}
	if whole := solve(t, p, Options{}); last < whole.Boards {
		t.Errorf("%d boards when stopped, %d at the end", last, whole.Boards)
	}
}

// The order in which a wall's runs are written changes neither bound nor, here,
// boards by more than one.
func TestOrderOfRuns(t *testing.T) {
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 72))
		p := randomJob(rng, jobSpec{walls: 2, stock: 3600, centres: 600, repeat: 3, stagger: 1, kerf: 4, gap: 2,
			minWide: 3000, maxWide: 8000, minRows: 10, maxRows: 18, openings: 2})
		a := solve(t, p, Options{})
		for w := range p.Walls {
			rng.Shuffle(len(p.Walls[w].Runs), func(i, j int) {
				rs := p.Walls[w].Runs
				rs[i], rs[j] = rs[j], rs[i]
			})
		}
		b := solve(t, p, Options{})
		checkPlan(t, p, b)
		if a.LayoutBound != b.LayoutBound || max(a.Boards-b.Boards, b.Boards-a.Boards) > 1 {
			t.Errorf("seed %d: %d boards, bound %d; runs shuffled %d, bound %d", seed, a.Boards, a.LayoutBound, b.Boards, b.LayoutBound)
		}
	}
}

// No effort is worse than any hand method, and each proves no more than the
// boards of any other.
func TestEffortsAgree(t *testing.T) {
	for seed := range uint64(12) {
		p := randomJob(rand.New(rand.NewPCG(seed, 73)), jobSpec{walls: 2, stock: 3000 + 600*int64(seed%2), centres: 600, repeat: 2 + int(seed/2%2), stagger: 1,
			kerf: 4, gap: 2, minWide: 3000, maxWide: 7000, minRows: 6, maxRows: 14, openings: 3})
		fewest, bound := 1<<30, 0
		for _, e := range []Effort{Quick, Normal} {
			out := solve(t, p, Options{Effort: e})
			checkPlan(t, p, out)
			for _, h := range out.Hands {
				if len(out.Relaxed) == 0 && out.Boards > h.Boards {
					t.Errorf("seed %d: %d boards, %q takes %d", seed, out.Boards, h.Name, h.Boards)
				}
			}
			fewest, bound = min(fewest, out.Boards), max(bound, out.LayoutBound)
		}
		if bound > fewest {
			t.Errorf("seed %d: bound %d above a plan of %d boards", seed, bound, fewest)
		}
	}
}

// Equal houses in thousands cost what a few cost: patterns are cut as often as
// they go, and the bound still holds for all.
func TestManyAlike(t *testing.T) {
	p := randomJob(rand.New(rand.NewPCG(5, 74)), jobSpec{walls: 2, stock: 3600, centres: 600, repeat: 2, stagger: 1,
		kerf: 4, gap: 2, minWide: 4000, maxWide: 7000, minRows: 8, maxRows: 12, openings: 2})
	for i := range p.Walls {
		p.Walls[i].Quantity = 2500
	}
	p.Stocks = append(p.Stocks, Stock{Length: measure.MM(2400), OnHand: 700})
	out := solve(t, p, Options{Effort: Quick})
	checkPlan(t, p, out)
	if len(out.Patterns) > 2000 {
		t.Errorf("%d patterns for two walls", len(out.Patterns))
	}
}
