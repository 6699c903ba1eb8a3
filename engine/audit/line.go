package audit

import "slices"

// battenLines finds the distinct centres of battens, and those on the grid: a
// batten that an opening interrupts, or that is spliced, is one line.
func (s *site) battenLines() {
	s.lines, s.grid, s.lineOf = s.lines[:0], s.grid[:0], s.lineOf[:0]
	for i := range s.w.Battens {
		b := &s.w.Battens[i]
		s.lines = append(s.lines, b.Centre)
		if b.Grid {
			s.grid = append(s.grid, b.Centre)
		}
	}
	slices.Sort(s.lines)
	slices.Sort(s.grid)
	s.lines, s.grid = slices.Compact(s.lines), slices.Compact(s.grid)
	for i := range s.w.Battens {
		at, _ := slices.BinarySearch(s.lines, s.w.Battens[i].Centre)
		s.lineOf = append(s.lineOf, at)
	}
}
