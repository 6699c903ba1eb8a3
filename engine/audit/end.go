package audit

import "lapwright/engine/measure"

// loose checks that no square end of piece i reaches farther beyond the piece's
// last screw than EndMost, unless that is flagged. Joints have a batten of their
// own, a rake's tip is too narrow for a screw as often as not, and of a piece
// that fewer than two screws hold that is said already.
func (s *site) loose(i int) {
	p, lim := &s.w.Pieces[i], &s.w.Limits
	if lim.EndMost == 0 || p.Loose || p.Unfixed {
		return
	}
	xs, at := s.faces[i].xs, s.reach[i]
	if past := at.Lo - xs.Lo; !p.JointLeft && p.LeftRake == 0 && past > lim.EndMost {
		s.r.add(p.Mark, "end-loose", "its left end reaches %v beyond its first screw, not %v", past, lim.EndMost)
	}
	if past := xs.Hi - at.Hi; !p.JointRight && p.RightRake == 0 && past > lim.EndMost {
		s.r.add(p.Mark, "end-loose", "its right end reaches %v beyond its last screw, not %v", past, lim.EndMost)
	}
}

// reaches finds, for every piece, the stretch from its first to its last screw;
// of a piece without any it is empty.
func (s *site) reaches() {
	s.reach = s.reach[:0]
	for range s.w.Pieces {
		s.reach = append(s.reach, measure.Span{Lo: 1, Hi: 0})
	}
	for _, c := range s.w.Screws {
		if c.Piece < 0 || c.Piece >= len(s.reach) {
			continue
		}
		if r := &s.reach[c.Piece]; r.Lo > r.Hi {
			*r = measure.Span{Lo: c.X, Hi: c.X}
		} else {
			*r = measure.Span{Lo: min(r.Lo, c.X), Hi: max(r.Hi, c.X)}
		}
	}
}
