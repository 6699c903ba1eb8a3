package layout

import "math/rand/v2"

// fill lays every run that is not laid yet, course by course, with the least
// breaches given what stands, and then repairs.
func (s *state) fill(prices []int64, rng *rand.Rand) {
	for w := range s.m.walls {
		s.fillWall(w, prices)
		s.repair(w, prices, rng)
	}
}

func (s *state) fillWall(w int, prices []int64) {
	for _, r := range s.m.walls[w] {
		if !s.laid[r] && !s.m.runs[r].shape.dead {
			_, cuts := s.shortest(r, prices, nil, breach, nil)
			s.put(r, cuts)
		}
	}
}

// repair re-lays runs that break a rule until none does, or no more can be
// gained: each joint that keeps being in the way grows dearer, which leads the
// search out of dead ends (the breakout method: P. Morris, AAAI 1993).
func (s *state) repair(w int, prices []int64, rng *rand.Rand) {
	weight := map[int32]int64{}
	best := s.snapshot(w)
	least := s.wallBreaches(w)
	for round := 0; round < 60 && least > s.m.spared(w); round++ {
		for _, r := range s.m.walls[w] {
			if s.m.runs[r].shape.dead || s.breaches(r) == 0 {
				continue
			}
			s.relay(r, prices, weight, rng)
		}
		if n := s.wallBreaches(w); n < least {
			least, best = n, s.snapshot(w)
		}
	}
	s.restore(w, best)
}

// relay lays one run anew, at the cost of breaches, and raises the price of
// the joints it still shares with others.
func (s *state) relay(r int32, prices []int64, weight map[int32]int64, rng *rand.Rand) {
	base := s.m.runs[r].base
	s.lift(r)
	toll := func(k int32) int64 { return weight[base+k]*(breach/4) + rng.Int64N(breach/64) }
	_, cuts := s.shortest(r, prices, toll, breach, nil)
	s.put(r, cuts)
	for _, k := range cuts {
		if s.block[base+k] == 0 {
			continue
		}
		weight[base+k]++
		// Those in the way try elsewhere.
		for _, c := range s.m.conf[base+k] {
			if o := s.m.owner[c]; s.laid[o] && s.stands(o, c-s.m.runs[o].base) {
				weight[c]++
			}
		}
	}
}

// spared counts the runs of a wall that cannot do without a short piece.
func (m *model) spared(w int) int {
	n := 0
	for _, r := range m.walls[w] {
		if m.runs[r].shape.bound {
			n++
		}
	}
	return n
}

func (s *state) stands(r, k int32) bool {
	for _, c := range s.cuts[r] {
		if c == k {
			return true
		}
	}
	return false
}

func (s *state) wallBreaches(w int) int {
	n := 0
	for _, r := range s.m.walls[w] {
		if !s.m.runs[r].shape.dead {
			n += s.breaches(r)
		}
	}
	return n
}

func (s *state) snapshot(w int) [][]int32 {
	out := make([][]int32, len(s.m.walls[w]))
	for i, r := range s.m.walls[w] {
		out[i] = s.cuts[r]
	}
	return out
}

func (s *state) restore(w int, cuts [][]int32) {
	for i, r := range s.m.walls[w] {
		if !s.m.runs[r].shape.dead {
			s.lift(r)
			s.put(r, cuts[i])
		}
	}
}

// relaxed lists the runs that break a rule.
func (s *state) relaxed() []int32 {
	var out []int32
	for r := range s.m.runs {
		if !s.m.runs[r].shape.dead && s.breaches(int32(r)) > 0 {
			out = append(out, int32(r))
		}
	}
	return out
}
