package fixing

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/measure"
)

// board is a piece made ready to be fixed to the battens.
type board struct {
	*Piece
	rules   Rules
	battens []Batten
	across  []measure.Span // of the battens, along x
	edges   []segment
	tops    []segment // upper edges of the outline: level ones from the highest down, then sloped ones
	xs, zs  measure.Span

	height measure.Length // of the level line cut last
	limits []limit        // of that line, from the left
	places []measure.Length
}

// take makes ready for the next piece and keeps the memory.
func (b *board) take(p *Piece) {
	b.Piece, b.edges, b.tops, b.limits = p, ring(b.edges[:0], p.Outline, false), b.tops[:0], b.limits[:0]
	b.xs, b.zs = p.Outline.Bounds()
	for i := range b.edges {
		if s := &b.edges[i]; s.upper() {
			b.tops = append(b.tops, *s)
		}
	}
	for _, h := range p.Holes {
		b.edges = ring(b.edges, h, true)
	}
	if len(b.tops) < 2 {
		return
	}
	slices.SortStableFunc(b.tops, func(s, t segment) int {
		if s.level() != t.level() {
			if s.level() {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(max(t.a.Z, t.b.Z), max(s.a.Z, s.b.Z)), cmp.Compare(s.b.X, t.b.X))
	})
}

// fix adds the screws of the board to the list, and those that are missing to
// the other.
func (b *board) fix(screws []Screw, troubles []Trouble) ([]Screw, []Trouble) {
	before, known := len(screws), len(troubles)
	lo, hi := b.xs.Lo, b.xs.Hi
	for j := range b.across {
		if x := &b.across[j]; x.Hi <= lo || x.Lo >= hi { // most are elsewhere
			continue
		}
		t, x := &b.battens[j], b.across[j]
		if x.And(b.xs).Empty() || t.Z.And(b.zs).Empty() {
			continue
		}
		s, code := b.on(t, x)
		if s.Batten = j; code == "" {
			screws = append(screws, s)
		} else if b.crosses(t) && !(code == "batten" && t.Z.Hi <= b.zs.Lo+b.LapBelow) { // behind the board below only, it does not touch this one
			troubles = append(troubles, Trouble{Batten: j, Code: code})
		}
	}
	// A batten spliced within the board's height carries its screw on one of
	// its two lengths; one that goes on a little aside of it serves as well.
	own := screws[before:]
	missed := slices.DeleteFunc(troubles[known:], func(m Trouble) bool {
		return m.Code == "batten" && slices.ContainsFunc(own, func(s Screw) bool { return b.across[m.Batten].Holds(s.X) })
	})
	if troubles = troubles[:known+len(missed)]; len(own) < 2 {
		troubles = append(troubles, Trouble{Batten: -1, Code: "few"})
	}
	return screws, troubles
}

// crosses reports whether a batten must hold the board: its centre lies behind
// it, or a joint's end lies on it.
func (b *board) crosses(t *Batten) bool {
	s := t.span()
	return b.xs.Lo < t.Centre && t.Centre < b.xs.Hi ||
		b.JointLeft && s.Holds(b.xs.Lo) || b.JointRight && s.Holds(b.xs.Hi)
}

// on places the board's screw on one batten, which lies across x, or says by a
// trouble's code why it cannot: the code of the first top edge tried, which is
// the highest.
func (b *board) on(t *Batten, x measure.Span) (Screw, string) {
	first := ""
	var s Screw
	var code string
	for i := range b.tops {
		top := &b.tops[i]
		if top.span().And(x).Empty() {
			continue
		}
		if top.level() {
			s, code = b.under(top, t, x)
		} else {
			s, code = b.underSlope(top, t, x)
		}
		if code == "" {
			return s, ""
		}
		first = cmp.Or(first, code)
	}
	return Screw{}, cmp.Or(first, "strip")
}

// seat returns where on a batten across x a screw hung from a top edge may sit.
func (b *board) seat(top *segment, x measure.Span) measure.Span {
	return x.Grow(-b.rules.BattenEdge).And(top.span())
}

// under hangs the screw from a level top edge.
func (b *board) under(top *segment, t *Batten, across measure.Span) (Screw, string) {
	z := top.a.Z - b.rules.Edge
	near := across.And(top.span())
	left, right, ok := b.stretch(z, min(max(t.Centre, near.Lo), near.Hi))
	if !ok {
		return Screw{}, "strip"
	}
	seat := b.seat(top, across)
	within := func(need measure.Length) measure.Span {
		return seat.And(measure.Span{Lo: left.x + left.away(need), Hi: right.x - right.away(need)})
	}
	least := within(b.rules.EndLeast)
	if least.Lo > least.Hi {
		return Screw{}, "end"
	}
	allowed, middle := least, (left.x+right.x)/2
	x := middle // as far from both ends as the batten lets it
	if free := within(max(b.rules.PreDrill, b.rules.EndLeast)); free.Lo <= free.Hi {
		x, allowed = t.Centre, free
	}
	x = min(max(x, allowed.Lo), allowed.Hi)
	place := func(x measure.Length) (Screw, string) { return b.screw(measure.Point{X: x, Z: z}, top, t, across) }
	if b.gapes(x) {
		for _, span := range [2]measure.Span{allowed, least} { // the better first
			if s, ok := b.aside(x, middle, span, place); ok {
				return s, ""
			}
		}
	}
	return place(x)
}

// underSlope hangs the screw from a sloped cut, the edge distance from it at
// right angles, or lower, clear of the batten's head or as far from it as the
// board below leaves room for. The 2 micrometres make up for two roundings.
func (b *board) underSlope(top *segment, t *Batten, across measure.Span) (Screw, string) {
	seat := b.seat(top, across)
	if seat.Lo > seat.Hi {
		return Screw{}, "end"
	}
	x := min(max(t.Centre, seat.Lo), seat.Hi)
	need := float64(max(b.rules.Edge, b.rules.EndLeast))
	drop := measure.Length(math.Ceil(need*top.steep(top.b.X-top.a.X))) + 2
	place := func(x measure.Length) (Screw, string) {
		at := measure.Point{X: x, Z: top.at(x) - drop}
		if low := max(t.Z.Hi-b.rules.BattenEnd, b.lowest()); low < at.Z {
			if s, code := b.screw(measure.Point{X: x, Z: low}, top, t, across); code == "" {
				return s, ""
			}
		}
		return b.screw(at, top, t, across)
	}
	if b.gapes(x) {
		if s, ok := b.aside(x, (b.xs.Lo+b.xs.Hi)/2, seat, place); ok {
			return s, ""
		}
	}
	return place(x)
}

// screw checks a place and describes the screw there.
func (b *board) screw(at measure.Point, top *segment, t *Batten, across measure.Span) (Screw, string) {
	left, right, ok := b.stretch(at.Z, at.X)
	clear := b.clearance(at, top)
	switch {
	case !ok || at.X < left.x || at.X > right.x || clear < float64(b.rules.EndLeast) || b.cramped(at):
		return Screw{}, "strip"
	case at.Z < b.lowest():
		return Screw{}, "lap"
	case at.Z < t.Z.Lo || at.Z >= t.Z.Hi:
		return Screw{}, "batten"
	}
	kind := b.kind(left, right, top, across)
	if kind == field && at.Z.DownTo(measure.Millimetre) > t.Z.Hi-min(b.rules.BattenEnd, b.rules.Edge) {
		return Screw{}, "batten" // it would split, and the board has other battens
	}
	return Screw{
		X: at.X, Z: at.Z,
		Kind:       kind,
		PreDrilled: clear < float64(b.rules.PreDrill),
		Visible:    b.Visible || at.Z < b.zs.Hi-b.LapAbove || top.level() && top.a.Z < b.zs.Hi || b.gapes(at.X),
	}, ""
}

// lowest returns the least height of a screw: clear of the board below.
func (b *board) lowest() measure.Length {
	if b.LapBelow == 0 {
		return b.zs.Lo + 1
	}
	return b.zs.Lo + b.LapBelow + b.rules.Below
}

// cramped reports whether a place is nearer than the edge distance to an upper
// edge over it: at the corner of a shallow notch the edge above it is not only
// the one it hangs from.
func (b *board) cramped(at measure.Point) bool {
	for i := range b.tops {
		if s := &b.tops[i]; s.span().Holds(at.X) {
			if over := s.at(at.X) - at.Z; over >= 0 && over < b.rules.Edge {
				return true
			}
		}
	}
	return false
}

// clearance returns the distance in micrometres from a place to the nearest
// end or cut of the board: any edge but the level one it hangs from, whose
// distance is the edge distance. It is infinite where nothing is near enough to
// matter.
func (b *board) clearance(at measure.Point, top *segment) float64 {
	least := math.Inf(1)
	near := max(b.rules.PreDrill, b.rules.EndLeast)
	for i := range b.edges {
		s := &b.edges[i]
		if at.X-near > max(s.a.X, s.b.X) || at.X+near < min(s.a.X, s.b.X) || at.Z-near > max(s.a.Z, s.b.Z) || at.Z+near < min(s.a.Z, s.b.Z) ||
			s.upper() && s.level() && top.level() && s.a.Z == top.a.Z {
			continue
		}
		least = min(least, s.distance(at))
	}
	return least
}

// kind names a screw by the ends of the board that lie on its batten.
func (b *board) kind(left, right *limit, top *segment, across measure.Span) string {
	kind := field
	if !top.level() {
		kind = rake
	}
	for _, l := range [...]*limit{left, right} {
		upright := l.edge.a.X == l.edge.b.X
		switch {
		case !across.Holds(l.x):
		case upright && (b.JointLeft && l.x == b.xs.Lo || b.JointRight && l.x == b.xs.Hi):
			return joint
		case !upright:
			kind = rake
		case kind == field:
			kind = atEnd
		}
	}
	return kind
}
