package audit

import (
	"math"
	"slices"

	"lapwright/engine/measure"
)

// fixings checks every screw, that every piece is fixed to every batten line
// it crosses, and the stated counts.
func (s *site) fixings() {
	n := len(s.lines)
	s.held = slices.Grow(s.held[:0], n*len(s.w.Pieces))[:n*len(s.w.Pieces)]
	clear(s.held)
	s.screws = slices.Grow(s.screws[:0], len(s.w.Pieces))[:len(s.w.Pieces)]
	clear(s.screws)
	for i := range s.w.Screws {
		c := &s.w.Screws[i]
		if c.Piece < 0 || c.Piece >= len(s.w.Pieces) || c.Batten < 0 || c.Batten >= len(s.w.Battens) {
			s.r.add("", "screw-place", "screw %d at x %v, z %v is of no piece or on no batten", i+1, c.X, c.Z)
			continue
		}
		s.screw(c)
		s.held[c.Piece*n+s.lineOf[c.Batten]] = true
		s.screws[c.Piece]++
	}
	s.reaches()
	for i := range s.w.Pieces {
		if len(s.of(i)) == 0 {
			continue
		}
		s.crossings(i)
		s.loose(i)
		if p := &s.w.Pieces[i]; s.screws[i] < 2 && !p.Unfixed { // it could turn on one
			s.r.add(p.Mark, "two-screws", "%d screws hold it", s.screws[i])
		}
	}
	s.counts()
}

func (s *site) screw(c *Screw) {
	p, b, lim := &s.w.Pieces[c.Piece], &s.w.Battens[c.Batten], &s.w.Limits
	if p.Course != 0 && len(s.of(c.Piece)) == 0 {
		return // its piece has no shape, which is a fault already
	}
	off := max(c.X-b.Centre, b.Centre-c.X)
	above, inside := s.above(c.Piece, c.X, c.Z)
	if !inside || 2*off > b.Width || !b.Z.Holds(c.Z) {
		s.r.add(p.Mark, "screw-place", "its screw at x %v, z %v is not in the piece and on batten %s", c.X, c.Z, b.Mark)
		return
	}
	end := s.endDistance(c)
	if end < lim.EndLeast {
		s.r.add(p.Mark, "screw-end", "its screw at x %v, z %v is %v from an end, not %v", c.X, c.Z, end, lim.EndLeast)
	}
	if room := min(c.Z-b.Z.Lo, b.Z.Hi-c.Z); room <= lim.BattenEnd-measure.Millimetre && !b.Tight {
		s.r.add(p.Mark, "batten-end", "its screw at x %v, z %v is %v from the end of batten %s, not %v", c.X, c.Z, room, b.Mark, lim.BattenEnd)
	}
	if above < lim.EdgeLeast && !p.Fragile {
		s.r.add(p.Mark, "screw-edge", "its screw at x %v, z %v is %v below the upper edge, not %v", c.X, c.Z, above, lim.EdgeLeast)
	}
	if (!c.PreDrilled && end < lim.PreDrillWithin) || (c.PreDrilled && s.clearOf(c, lim.PreDrillWithin)) {
		s.r.add(p.Mark, "pre-drill", "its screw at x %v, z %v, %v from an end: pre-drilled %v", c.X, c.Z, end, c.PreDrilled)
	}
	if !p.Fragile && s.behind(p.Course-1, c) {
		s.r.add(p.Mark, "screw-through", "its screw at x %v, z %v goes through the board below or bites into it", c.X, c.Z)
	}
	if c.Visible == s.hidden(p.Course+1, c) {
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

// behind reports whether the screw, with what it keeps clear round it, goes through
// a piece of a course or comes too near its edge.
func (s *site) behind(course int, c *Screw) bool {
	if course < 1 || course >= len(s.byCourse) {
		return false
	}
	for _, i := range s.byCourse[course] {
		keep := s.w.Limits.BelowLeast
		if !s.faces[i].xs.Grow(keep).Holds(c.X) || !s.faces[i].zs.Grow(keep).Holds(c.Z) {
			continue
		}
		p := s.w.Pieces[i].Outline
		if winds(p, c.X, c.Z) {
			return true
		}
		at, a := measure.Point{X: c.X, Z: c.Z}, p[len(p)-1]
		for _, b := range p {
			if distance(at, a, b) <= float64(max(0, keep-slackBelow)) {
				return true
			}
			a = b
		}
	}
	return false
}

// slackBelow is what a sloped edge, whose ends are kept to the micrometre, can be off.
const slackBelow = 2 * measure.Micrometre

// hidden reports whether a piece of a course covers the screw's place: one that
// stands on an edge, behind a joint's gap or in a hole is in sight.
func (s *site) hidden(course int, c *Screw) bool {
	if course < 1 || course >= len(s.byCourse) {
		return false
	}
	return slices.ContainsFunc(s.byCourse[course], func(i int) bool {
		p := &s.w.Pieces[i]
		return s.faces[i].xs.Holds(c.X) && winds(p.Outline, c.X, c.Z) &&
			!slices.ContainsFunc(p.Cutouts, func(r Rect) bool { return r.X.Holds(c.X) && r.Z.Holds(c.Z) })
	})
}

// winds reports whether a polygon winds round a point that is on no edge of it:
// edges that pass left of the point's right-hand level line upwards less those
// that pass it downwards. Exact.
func winds(p measure.Polygon, x, z measure.Length) bool {
	turns := 0
	a := p[len(p)-1]
	for _, b := range p {
		turn := (b.X-a.X)*(z-a.Z) - (x-a.X)*(b.Z-a.Z) // above 0: the point lies to the left
		switch {
		case turn == 0 && (x-a.X)*(x-b.X) <= 0 && (z-a.Z)*(z-b.Z) <= 0:
			return false
		case a.Z <= z && z < b.Z && turn > 0:
			turns++
		case b.Z <= z && z < a.Z && turn < 0:
			turns--
		}
		a = b
	}
	return turns != 0
}

// endDistance returns how far a screw is from the nearest end of its piece:
// from the nearest place of those edges that a level line through it meets. A
// notch's or a hole's side is an end there too. From a sloped edge, whose ends
// are kept to the micrometre, it is rounded up by what they can be off.
func (s *site) endDistance(c *Screw) measure.Length {
	least := measure.Length(math.MaxInt64)
	p := &s.w.Pieces[c.Piece]
	at := measure.Point{X: c.X, Z: c.Z}
	a := p.Outline[len(p.Outline)-1]
	for _, b := range p.Outline {
		switch {
		case a.Z == b.Z || c.Z < min(a.Z, b.Z) || c.Z > max(a.Z, b.Z):
		case a.X == b.X:
			least = min(least, max(a.X-c.X, c.X-a.X))
		default:
			least = min(least, measure.Length(math.Ceil(distance(at, a, b)))+2)
		}
		a = b
	}
	for _, r := range p.Cutouts {
		if r.Z.Holds(c.Z) {
			least = min(least, max(r.X.Lo-c.X, c.X-r.X.Lo), max(r.X.Hi-c.X, c.X-r.X.Hi))
		}
	}
	return least
}

// clearOf reports whether a screw is further than d from every edge of its
// piece but the level one above it, so that nothing asks for a hole drilled
// first.
func (s *site) clearOf(c *Screw, d measure.Length) bool {
	p := &s.w.Pieces[c.Piece]
	at := measure.Point{X: c.X, Z: c.Z}
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		above := a.Z == b.Z && a.Z >= c.Z && b.X <= c.X && c.X <= a.X
		if !above && distance(at, a, b) < float64(d) {
			return false
		}
	}
	for _, r := range p.Cutouts {
		dx, dz := max(r.X.Lo-c.X, c.X-r.X.Hi, 0), max(r.Z.Lo-c.Z, c.Z-r.Z.Hi, 0)
		if math.Hypot(float64(dx), float64(dz)) < float64(d) {
			return false
		}
	}
	return true
}

// distance returns how far p is from the stretch a-b, in micrometres.
func distance(p, a, b measure.Point) float64 {
	dx, dz := float64(b.X-a.X), float64(b.Z-a.Z)
	px, pz := float64(p.X-a.X), float64(p.Z-a.Z)
	t := min(max((px*dx+pz*dz)/(dx*dx+dz*dz), 0), 1)
	return math.Hypot(px-t*dx, pz-t*dz)
}

// crossings checks that piece i has a screw on every batten line it crosses,
// and how far apart those lines are.
func (s *site) crossings(i int) {
	lim, p := &s.w.Limits, &s.w.Pieces[i]
	s.rows = s.rows[:0] // rising, as the battens are from the left
	for _, j := range s.near(s.faces[i].xs) {
		if n := len(s.rows); n > 0 && s.rows[n-1] == s.lineOf[j] {
			continue
		}
		if s.rests(i, &s.w.Battens[j]) {
			s.rows = append(s.rows, s.lineOf[j])
		}
	}
	for k, at := range s.rows {
		if !s.held[i*len(s.lines)+at] && !s.bare(p, at) && !s.stepped(i, at) {
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

// bare reports whether it is flagged that the battens of a line do not hold
// the piece.
func (s *site) bare(p *Piece, line int) bool {
	return slices.ContainsFunc(p.Bare, func(b int) bool { return b >= 0 && b < len(s.lineOf) && s.lineOf[b] == line })
}

// stepped reports whether piece i has a screw within the width of each batten
// of a line that it rests on, but on a length above or below it that stands a
// little aside: where the jambs of an opening and of the horns of its sill are
// not in line, one length ends and the other begins behind the piece.
func (s *site) stepped(i, line int) bool {
	for j := range s.w.Battens {
		b := &s.w.Battens[j]
		if s.lineOf[j] != line || !s.rests(i, b) {
			continue
		}
		if !slices.ContainsFunc(s.w.Screws, func(c Screw) bool {
			return c.Piece == i && c.Batten >= 0 && c.Batten < len(s.w.Battens) &&
				2*max(c.X-b.Centre, b.Centre-c.X) <= b.Width
		}) {
			return false
		}
	}
	return true
}

// rests reports whether a piece lies on more than half of a batten's width;
// at a joint that is half of it less half the gap.
func (s *site) rests(i int, b *Batten) bool {
	p, lim := &s.w.Pieces[i], &s.w.Limits
	twice := 2 * s.bearing(i, b)
	if p.JointLeft || p.JointRight {
		return twice > 0 && twice >= b.Width-lim.JointGap-2*lim.JointOff
	}
	return twice > b.Width
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
