package audit

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// battenLines puts the battens in order from the left and finds the distinct
// centres of them, and of those on the grid: a batten that an opening
// interrupts, or that is spliced, is one line.
func (s *site) battenLines() {
	s.fromLeft, s.lineOf, s.widest = s.fromLeft[:0], s.lineOf[:0], 0
	for i := range s.w.Battens {
		s.fromLeft, s.lineOf = append(s.fromLeft, i), append(s.lineOf, 0)
		s.widest = max(s.widest, s.w.Battens[i].Width)
	}
	slices.SortStableFunc(s.fromLeft, func(a, b int) int { return cmp.Compare(s.w.Battens[a].Centre, s.w.Battens[b].Centre) })
	s.centres, s.lines, s.grid = s.centres[:0], s.lines[:0], s.grid[:0]
	for _, i := range s.fromLeft {
		b := &s.w.Battens[i]
		s.centres, s.lines = append(s.centres, b.Centre), rising(s.lines, b.Centre)
		if s.lineOf[i] = len(s.lines) - 1; b.Grid {
			s.grid = rising(s.grid, b.Centre)
		}
	}
}

// standing checks that no batten stands in another.
func (s *site) standing() {
	for k, i := range s.fromLeft {
		a := &s.w.Battens[i]
		for _, j := range s.fromLeft[k+1:] {
			b := &s.w.Battens[j]
			apart := 2 * (b.Centre - a.Centre)
			if apart >= a.Width+s.widest {
				break
			}
			if apart < a.Width+b.Width && a.Z.Lo < b.Z.Hi && b.Z.Lo < a.Z.Hi {
				s.r.add(a.Mark, "batten-overlap", "it stands in %s, whose middle is at x %v", b.Mark, b.Centre)
			}
		}
	}
}

// rising adds x, which is no less than the last, unless it is the last.
func rising(list []measure.Length, x measure.Length) []measure.Length {
	if n := len(list); n > 0 && list[n-1] == x {
		return list
	}
	return append(list, x)
}

// near returns, from the left, the battens that may reach into xs: all whose
// centres are no farther off than half the widest.
func (s *site) near(xs measure.Span) []int {
	half := s.widest/2 + 1
	from, _ := slices.BinarySearch(s.centres, xs.Lo-half)
	to := from
	for to < len(s.centres) && s.centres[to] <= xs.Hi+half {
		to++
	}
	return s.fromLeft[from:to]
}
