package cutting

import (
	"context"
	"math"
	"testing"
)

// hard are instances of 160 to 200 pieces from 1 to 800 for bars of 1000 that
// were open after rounding and diving, picked from 3,000 random ones: of the
// kind of J. Schoenfield's 28 (from memory). The optimum of some is one above
// the rounded-up relaxation.
var hard = family{"hard28", func(i int) Problem {
	pick := [][2]int{{160, 88}, {160, 97}, {160, 100}, {160, 229}, {160, 329}, {160, 390}, {160, 420}, {160, 798},
		{160, 854}, {160, 876}, {180, 15}, {180, 185}, {180, 238}, {180, 245}, {200, 14}, {200, 56}, {200, 82}, {200, 88},
		{200, 126}, {200, 143}, {200, 334}, {200, 502}, {200, 525}, {200, 620}, {200, 643}, {200, 661}, {200, 794}, {200, 743}}
	c := pick[i%len(pick)]
	return uniformFamily("", c[0], 1000, 1, 800).make(c[1])
}}

// settle runs the search on an instance from the start.
func settle(p Problem, effort int64) *search {
	s := newSearch(context.Background(), newInstance(p), Options{Effort: effort})
	s.run(Options{Effort: effort})
	return s
}

// Instances that rounding leaves open end with a valid plan, some of them above
// the rounded-up fast bound.
func TestBranchingOnHardInstances(t *testing.T) {
	above := 0
	for _, i := range []int{1, 2, 6, 10, 16, 20} {
		s := settle(hard.make(i), 300_000_000)
		if !s.done() {
			continue // counted by the benchmark
		}
		if s.bound > fastBound(s.in.w, s.in.d, s.in.bars[0].cap) {
			above++
		}
		var got int64
		for _, p := range s.best {
			if s.in.size(p.cuts) > s.in.bars[0].cap {
				t.Fatalf("instance %d: overfull bar", i)
			}
			got += p.count
		}
		if got != s.cost {
			t.Errorf("instance %d: %d bars, cost %d", i, got, s.cost)
		}
	}
	if above == 0 {
		t.Error("no instance needed more than the fast bound: the proof is not exercised")
	}
}

// A gate for plans of k bars must let every pattern of a known plan of k bars
// pass, whatever duals it was made from.
func TestGatesKeepKnownPlans(t *testing.T) {
	for _, f := range []family{triplets(60), uniformFamily("", 50, 1000, 1, 800), uniformFamily("", 60, 150, 20, 100)} {
		for i := range 10 {
			p := f.make(i)
			s := settle(p, 500_000_000)
			if !s.done() {
				continue
			}
			g := newMaster(s.in.w, s.in.d, s.in.bars, s.meter)
			for range 60 {
				g.t.primal()
				if g.round() == 0 {
					break
				}
				if g.top > 2*g.scale {
					continue
				}
				h := g.fork()
				h.top, h.p.f, h.p.width, h.p.shift = g.top, g.p.f, g.p.width, g.p.shift
				h.addGate(s.cost)
				for _, x := range s.best {
					if !h.p.passes(x.cuts) {
						t.Fatalf("%s %d: pattern %v of a plan of %d bars was shut out", f.name, i, x.cuts, s.cost)
					}
				}
			}
		}
	}
}

// Odd-set cuts must hold for known plans, and be broken by the relaxation they
// were found for.
func TestOddSetsHoldForKnownPlans(t *testing.T) {
	found := 0
	for i := range 20 {
		s := settle(uniformFamily("", 60, 1000, 1, 800).make(i), 500_000_000)
		if s.in.cost(s.best) > s.bound {
			continue
		}
		g := newMaster(s.in.w, s.in.d, s.in.bars, s.meter)
		g.trueLP = true
		g.generate(math.MaxInt64, 1000)
		for _, v := range g.separate() {
			found++
			if lhs, most := pairsHeld(v.items, s.best, g.d); lhs > most {
				t.Fatalf("instance %d: cut on %v: plan has %d, at most %d", i, v.items, lhs, most)
			}
		}
	}
	if found == 0 {
		t.Error("no cut was found")
	}
}

// pairsHeld returns both sides of the cut on a set of lengths.
func pairsHeld(items []int, ps []pattern, d []int64) (int64, int64) {
	in := map[int]bool{}
	most := int64(0)
	for _, i := range items {
		in[i] = true
		most += d[i]
	}
	lhs := int64(0)
	for _, p := range ps {
		n := 0
		for _, c := range p.cuts {
			if in[c.item] {
				n += c.n
			}
		}
		lhs += int64(n/2) * p.count
	}
	return lhs, most / 2
}
