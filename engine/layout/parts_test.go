package layout

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// V. Chvatal, Linear Programming (1983), chapter 13: bars of 100, lengths 45,
// 36, 31, 14 wanted 97, 610, 395, 211 times; the relaxation is 452.25 (from
// memory, the value also follows from the duals 1/2, 1/2, 1/4... by hand).
func TestMasterTextbook(t *testing.T) {
	m := &model{lens: []int64{45, 36, 31, 14}, kinds: []kind{{cap: 100, cost: 1, hand: -1}}, most: 100}
	a := fixedMaster(m, []int32{97, 610, 395, 211}, &table[float64]{})
	a.generate(context.Background(), 1<<40)
	if got := a.s.value(); math.Abs(got-452.25) > 1e-3 {
		t.Errorf("relaxation %v, want 452.25", got)
	}
	if boards, _ := a.prove(a.proof()); boards != 0 {
		t.Errorf("bound %d for a master without runs, want 0", boards)
	}
}

// The knapsack table against all fillings.
func TestTable(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		lens := []int64{50 + rng.Int64N(50), 30 + rng.Int64N(20), 10 + rng.Int64N(20), 3 + rng.Int64N(7)}
		values := []int64{rng.Int64N(100), rng.Int64N(60), rng.Int64N(40), rng.Int64N(10)}
		var all func(k int, left int64) int64
		all = func(k int, left int64) int64 {
			if k == len(lens) {
				return 0
			}
			best := int64(0)
			for n := int64(0); n*lens[k] <= left; n++ {
				best = max(best, n*values[k]+all(k+1, left-n*lens[k]))
			}
			return best
		}
		var tab table[int64]
		tab.fill(lens, values, 120)
		for c := range int64(121) {
			got := tab.best(c)
			if want := all(0, c); got != want {
				t.Fatalf("lens %v values %v: best(%d) = %d, want %d", lens, values, c, got, want)
			}
			sum, size := int64(0), int64(0)
			for _, id := range tab.filling(c, nil) {
				sum, size = sum+values[id], size+lens[id]
			}
			if sum != got || size > c {
				t.Fatalf("lens %v values %v: filling of %d is worth %d and %d long", lens, values, c, sum, size)
			}
		}
	}
}

// The most joints on spaced courses, against every subset.
func TestSpaced(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 300 {
		var cs []weighted
		for range 1 + rng.IntN(9) {
			cs = append(cs, weighted{rng.IntN(12), 1 + rng.Int64N(3)})
		}
		apart := 1 + rng.IntN(4)
		want := int64(0)
		for set := range 1 << len(cs) {
			sum, ok := int64(0), true
			for i := range cs {
				for j := range i {
					d := cs[i].course - cs[j].course
					if set>>i&1 == 1 && set>>j&1 == 1 && d != 0 && max(d, -d) < apart {
						ok = false
					}
				}
				if set>>i&1 == 1 {
					sum += cs[i].most
				}
			}
			if ok {
				want = max(want, sum)
			}
		}
		if got := spaced(slices.Clone(cs), apart); got != want {
			t.Fatalf("spaced(%v, %d) = %d, want %d", cs, apart, got, want)
		}
	}
}

// The shelf's index against a look at every board, through random moves.
func TestShelf(t *testing.T) {
	m := &model{lens: []int64{70, 55, 40, 33, 20, 7}, kinds: []kind{{cap: 100, cost: 1, hand: -1}}, most: 100}
	s := newShelf(m)
	rng := rand.New(rand.NewPCG(5, 5))
	var live []int32
	for step := range 5000 {
		if len(live) == 0 || rng.IntN(5) < 3 && len(live) < 60 {
			id := int32(rng.IntN(len(m.lens)))
			b := s.tightest(id)
			live = append(live, s.add(b, id))
		} else {
			i := rng.IntN(len(live))
			s.take(live[i])
			live = slices.Delete(live, i, i+1)
		}
		if len(live) > 1 {
			p, q := live[0], live[len(live)-1]
			x, y := s.pieces[p], s.pieces[q]
			d := m.lens[x.id] - m.lens[y.id]
			if x.board != y.board && s.boards[x.board].free+d >= 0 && s.boards[y.board].free-d >= 0 {
				s.swap(p, q)
			}
		}
		checkShelf(t, s, len(live), step)
	}
}

func checkShelf(t *testing.T, s *shelf, pieces, step int) {
	t.Helper()
	n := 0
	for b, x := range s.boards {
		sum := int64(0)
		for i, p := range x.parts {
			n++
			sum += s.m.lens[s.pieces[p].id]
			if s.pieces[p].board != int32(b) || s.pieces[p].slot != int32(i) {
				t.Fatalf("step %d: piece %d is lost", step, p)
			}
		}
		if len(x.parts) > 0 && x.free != 100-sum {
			t.Fatalf("step %d: board %d has %d free, want %d", step, b, x.free, 100-sum)
		}
	}
	if n != pieces {
		t.Fatalf("step %d: %d pieces on boards, want %d", step, n, pieces)
	}
	for f := range int64(101) {
		want := int64(-1)
		for _, x := range s.boards {
			if len(x.parts) > 0 && x.free >= f && (want < 0 || x.free < want) {
				want = x.free
			}
		}
		if got := s.least(f); got != want {
			t.Fatalf("step %d: least(%d) = %d, want %d", step, f, got, want)
		}
	}
}

func TestPieces(t *testing.T) {
	mm := measure.MM
	sites := []Site{{X: mm(600), Bay: 1}, {X: mm(1200), Bay: 2}, {X: mm(1800), Bay: 3}}
	run := Run{Span: measure.Span{Lo: mm(10), Hi: mm(2000)}, Sites: []int{0, 1, 2}}
	tests := []struct {
		name   string
		joints []int
		gap    int64
		want   []measure.Span
	}{
		{"no joint", nil, 2, []measure.Span{{Lo: mm(10), Hi: mm(2000)}}},
		{"even gap", []int{1}, 2, []measure.Span{{Lo: mm(10), Hi: mm(1199)}, {Lo: mm(1201), Hi: mm(2000)}}},
		{"odd gap: the left piece gives way", []int{1}, 3, []measure.Span{{Lo: mm(10), Hi: mm(1198)}, {Lo: mm(1201), Hi: mm(2000)}}},
		{"no gap", []int{0, 2}, 0, []measure.Span{{Lo: mm(10), Hi: mm(600)}, {Lo: mm(600), Hi: mm(1800)}, {Lo: mm(1800), Hi: mm(2000)}}},
	}
	for _, c := range tests {
		if got := Pieces(run, c.joints, sites, mm(c.gap)); !slices.Equal(got, c.want) {
			t.Errorf("%s: Pieces = %v, want %v", c.name, got, c.want)
		}
	}
}
