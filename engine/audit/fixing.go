package audit

import (
	"math"
	"slices"

	"lapwright/engine/measure"
)

// fixings checks every screw, that every piece is fixed to every batten line
// it crosses, and the stated counts.
func (s *site) fixings() {
	s.battenLines()
	n := len(s.lines)
	s.held = slices.Grow(s.held[:0], n*len(s.w.Pieces))[:n*len(s.w.Pieces)]
	clear(s.held)
	for i := range s.w.Screws {
		c := &s.w.Screws[i]
		if c.Piece < 0 || c.Piece >= len(s.w.Pieces) || c.Batten < 0 || c.Batten >= len(s.w.Battens) {
			s.r.add("", "screw-place", "screw %d at x %v, z %v is of no piece or on no batten", i+1, c.X, c.Z)
			continue
		}
		s.screw(c)
		s.held[c.Piece*n+s.lineOf[c.Batten]] = true
	}
	for i := range s.w.Pieces {
		s.crossings(i)
		s.twoScrews(i)
	}
	s.counts()
}

// battenLines finds the distinct centres: a batten that an opening interrupts,
// or that is spliced, is one line.
func (s *site) battenLines() {
	s.lines, s.lineOf = s.lines[:0], s.lineOf[:0]
	for i := range s.w.Battens {
		s.lines = append(s.lines, s.w.Battens[i].Centre)
	}
	slices.Sort(s.lines)
	s.lines = slices.Compact(s.lines)
	for i := range s.w.Battens {
		at, _ := slices.BinarySearch(s.lines, s.w.Battens[i].Centre)
		s.lineOf = append(s.lineOf, at)
	}
}

func (s *site) screw(c *Screw) {
	p, b, lim := &s.w.Pieces[c.Piece], &s.w.Battens[c.Batten], &s.w.Limits
	off := max(c.X-b.Centre, b.Centre-c.X)
	above, inside := s.above(c.Piece, c.X, c.Z)
	if !inside || 2*off > b.Width || !b.Z.Holds(c.Z) {
		s.r.add(p.Mark, "screw-place", "its screw at x %v, z %v is not in the piece and on batten %s", c.X, c.Z, b.Mark)
		return
	}
	along, square := s.endDistance(c)
	if square < lim.EndLeast {
		s.r.add(p.Mark, "screw-end", "its screw at x %v, z %v is %v from an end, not %v", c.X, c.Z, square, lim.EndLeast)
	}
	if above < lim.EdgeLeast && !p.Fragile {
		s.r.add(p.Mark, "screw-edge", "its screw at x %v, z %v is %v below the upper edge, not %v", c.X, c.Z, above, lim.EdgeLeast)
	}
	if c.PreDrilled != (along < lim.PreDrillWithin) && c.PreDrilled != (square < lim.PreDrillWithin) {
		s.r.add(p.Mark, "pre-drill", "its screw at x %v, z %v, %v from an end: pre-drilled %v", c.X, c.Z, square, c.PreDrilled)
	}
	if !p.Fragile && s.inCourse(p.Course-1, c, true) {
		s.r.add(p.Mark, "screw-through", "its screw at x %v, z %v goes through the board below", c.X, c.Z)
	}
	if (c.Visible && s.inCourse(p.Course+1, c, true)) || (!c.Visible && !s.inCourse(p.Course+1, c, false)) {
		s.r.add(p.Mark, "visible", "its screw at x %v, z %v: stated visible %v", c.X, c.Z, c.Visible)
	}
}

// above returns how far the piece's upper edge is over the point, if the
// point is in the piece or on its edge.
func (s *site) above(piece int, x, z measure.Length) (measure.Length, bool) {
	parts := s.of(piece)
	for i := range parts {
		t := &parts[i]
		if t.xs.Holds(x) && t.lo.at(x) <= z && z <= t.hi.at(x) {
			return t.hi.at(x) - z, true
		}
	}
	return 0, false
}

// inCourse reports whether the screw's place is inside a piece of a course;
// unless strictly, an edge and a joint's gap count as inside.
func (s *site) inCourse(course int, c *Screw, strictly bool) bool {
	if course < 1 || course >= len(s.byCourse) {
		return false
	}
	for _, i := range s.byCourse[course] {
		if !s.faces[i].xs.Holds(c.X) || !s.faces[i].zs.Holds(c.Z) {
			continue
		}
		for _, t := range s.of(i) {
			if !t.xs.Holds(c.X) {
				continue
			}
			lo, hi := t.lo.at(c.X), t.hi.at(c.X)
			if lo < c.Z && c.Z < hi || !strictly && lo <= c.Z && c.Z <= hi {
				return true
			}
		}
	}
	return !strictly && slices.ContainsFunc(s.gaps, func(g Rect) bool {
		return g.Z.Lo == s.w.Courses[course-1].Bottom && g.X.Holds(c.X) && g.Z.Holds(c.Z)
	})
}

// endDistance returns how far a screw is from the nearest end of its piece at
// its height, along the board and square to the end; a notch's or a hole's
// side is an end there too.
func (s *site) endDistance(c *Screw) (along, square measure.Length) {
	along, square = math.MaxInt64, math.MaxInt64
	p := &s.w.Pieces[c.Piece]
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		dx, dz := b.X-a.X, b.Z-a.Z
		if dz == 0 || c.Z < min(a.Z, b.Z) || c.Z > max(a.Z, b.Z) {
			continue
		}
		d := a.X + dx*(c.Z-a.Z)/dz - c.X
		d = max(d, -d)
		along = min(along, d)
		if dx != 0 {
			d = measure.Length(math.Round(float64(d) * math.Abs(float64(dz)) / math.Hypot(float64(dx), float64(dz))))
		}
		square = min(square, d)
	}
	for _, r := range p.Cutouts {
		if r.Z.Holds(c.Z) {
			d := min(max(r.X.Lo-c.X, c.X-r.X.Lo), max(r.X.Hi-c.X, c.X-r.X.Hi))
			along, square = min(along, d), min(square, d)
		}
	}
	return along, square
}

// crossings checks that piece i has a screw on every batten line it crosses,
// and how far apart those lines are.
func (s *site) crossings(i int) {
	lim, p := &s.w.Limits, &s.w.Pieces[i]
	if s.faces[i].from == s.faces[i].to {
		return
	}
	s.rows = s.rows[:0]
	for j := range s.w.Battens {
		b := &s.w.Battens[j]
		if 2*s.bearing(i, b) >= b.Width-lim.JointGap-2*lim.JointOff && !slices.Contains(s.rows, s.lineOf[j]) {
			s.rows = append(s.rows, s.lineOf[j])
		}
	}
	slices.Sort(s.rows)
	for k, at := range s.rows {
		if !s.held[i*len(s.lines)+at] {
			s.r.add(p.Mark, "screw-missing", "it is not fixed to the batten at x %v", s.lines[at])
		}
		if k == 0 {
			continue
		}
		if d := s.lines[at] - s.lines[s.rows[k-1]]; lim.CentresMost > 0 && d > lim.CentresMost {
			s.r.add(p.Mark, "centres", "its battens at x %v and %v are more than %v apart",
				s.lines[s.rows[k-1]], s.lines[at], lim.CentresMost)
		}
	}
}

// bearing returns how much of a batten's width has piece i on it, higher than
// FixHeight.
func (s *site) bearing(i int, b *Batten) measure.Length {
	xs := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}
	if f := &s.faces[i]; f.xs.And(xs).Empty() || f.zs.And(b.Z).Empty() {
		return 0
	}
	var sum measure.Length
	parts := s.of(i)
	for k := range parts {
		t := &parts[k]
		over := t.xs.And(xs)
		if over.Empty() {
			continue
		}
		h0 := t.height(over.Lo, b.Z) - s.w.Limits.FixHeight
		h1 := t.height(over.Hi, b.Z) - s.w.Limits.FixHeight
		switch {
		case h0 > 0 && h1 > 0:
			sum += over.Length()
		case h0 > 0 || h1 > 0:
			sum += over.Length() * max(h0, h1) / (max(h0, h1) - min(h0, h1))
		}
	}
	return sum
}

// twoScrews checks that a raked piece, which could turn on one, has two.
func (s *site) twoScrews(i int) {
	p := &s.w.Pieces[i]
	if (p.LeftRake == 0 && p.RightRake == 0) || p.Fragile {
		return
	}
	n := 0
	for j := range s.w.Screws {
		if s.w.Screws[j].Piece == i {
			n++
		}
	}
	if n < 2 {
		s.r.add(p.Mark, "two-screws", "a raked piece is held by %d", n)
	}
}

// counts recounts the stated numbers of board fixings.
func (s *site) counts() {
	var got FixingCount
	for i := range s.w.Screws {
		got.Count++
		got.PreDrilled += one(s.w.Screws[i].PreDrilled)
		got.Visible += one(s.w.Screws[i].Visible)
	}
	var said FixingCount
	for _, f := range s.w.Fixings {
		if f.Board {
			said.Count += f.Count
			said.PreDrilled += f.PreDrilled
			said.Visible += f.Visible
		}
	}
	if got != said {
		s.r.add("", "fixing-count", "stated %d board fixings, %d pre-drilled, %d visible; there are %d, %d, %d",
			said.Count, said.PreDrilled, said.Visible, got.Count, got.PreDrilled, got.Visible)
	}
	s.zoneCounts()
}

// zoneCounts recounts by zone; a screw where two zones meet may count in
// either.
func (s *site) zoneCounts() {
	for i, z := range s.w.Zones {
		if slices.ContainsFunc(s.w.Zones[:i], func(y Zone) bool { return y.Name == z.Name }) {
			continue
		}
		said, least, most := 0, 0, 0
		for _, f := range s.w.Fixings {
			if f.Board && f.Zone == z.Name {
				said += f.Count
			}
		}
		for k := range s.w.Screws {
			in, on := inZone(s.w.Zones, z.Name, s.w.Screws[k].X)
			least += one(in)
			most += one(on)
		}
		if said < least || said > most {
			s.r.add(z.Name, "fixing-count", "stated %d board fixings in the zone; there are %d to %d", said, least, most)
		}
	}
}

// inZone reports whether x is inside the zones of a name, and in or on them.
func inZone(zones []Zone, name string, x measure.Length) (in, on bool) {
	for _, z := range zones {
		if z.Name == name && z.X.Holds(x) {
			on = true
			in = in || (z.X.Lo < x && x < z.X.Hi)
		}
	}
	return in, on
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}
