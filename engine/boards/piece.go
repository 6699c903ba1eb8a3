package boards

import (
	"math"

	"lapwright/engine/measure"
)

// EndKind is how a piece ends.
type EndKind int

// The ends: square at the run's own end, at a joint with the next piece, or
// cut to a slope.
const (
	Square EndKind = iota
	Joint
	Rake
)

// End is one end of a piece. Of a rake, Degrees is the angle between the cut
// and a square cut, 0 < Degrees < 90, and Under says that the cut takes the
// lower corner off, as above a sloping roof, so that the long edge is the
// upper one; at a gable the long edge is the lower one.
type End struct {
	Kind    EndKind
	Degrees float64
	Under   bool
}

// Piece is one board or part of it as fixed.
type Piece struct {
	Course  int
	Outline measure.Polygon // anticlockwise, cut-outs that touch an edge taken out
	Cutouts []Rect          // all of them, clipped to the piece
	Holes   []Rect          // those wholly inside, which Outline does not show
	Length  measure.Length  // along x, rounded up to a tenth of a millimetre
	Width   measure.Length  // along z: the least board it can be cut from
	Left    End
	Right   End
	Ripped  bool // an edge along its length is sawn: Width is less than the board's
	Fragile bool // holds a strip thinner than the least
}

// Area2 returns twice the piece's area in square micrometres.
func (p Piece) Area2() int64 {
	sum := p.Outline.Area2()
	for _, h := range p.Holes {
		sum -= 2 * int64(h.X.Length()*h.Z.Length())
	}
	return sum
}

// Piece returns the piece of the run over s: from the run's end or half a gap
// off a joint to the same at its other end. An end inside the run is upright,
// on a slope too. s must hold some of the run; if both its ends lie over one
// hole of the run, see NoJoint, only the larger part is returned.
func (r *Run) Piece(s measure.Span) Piece {
	var buffer [12]cell
	cells := buffer[:0]
	for i := range r.cells {
		if !r.cells[i].x.And(s).Empty() {
			cells = append(cells, r.cells[i].clip(s))
		}
	}
	var space [16]edge
	outer, holes := outline(space[:0], cells)
	p := Piece{Course: r.Course, Outline: polygon(outer), Holes: holes}
	x, z := p.Outline.Bounds()
	p.Length, p.Width = x.Length().UpTo(measure.Tenth), z.Length()
	for _, c := range r.Cutouts {
		p.Cutouts = cut(p.Cutouts, Rect{c.X.And(x), c.Z.And(z)})
	}
	for _, f := range r.Fragile {
		p.Fragile = p.Fragile || !f.X.And(x).Empty()
	}
	p.edges(outer, r.Band, z)
	p.Left, p.Right = r.ends(outer, s)
	return p
}

// edges finds the sawn edges along the piece.
func (p *Piece) edges(outer []edge, band, z measure.Span) {
	for _, e := range outer {
		if e.a.Z != e.b.Z {
			continue
		}
		upper := e.a.X > e.b.X
		p.Ripped = p.Ripped || (upper && e.a.Z == z.Hi && z.Hi < band.Hi) ||
			(!upper && e.a.Z == z.Lo && z.Lo > band.Lo)
	}
}

// ends tells the two ends from the outline. The slope nearest to an end that
// takes its corner off is its rake.
func (r *Run) ends(outer []edge, s measure.Span) (left, right End) {
	var at [2]measure.Length
	end := [2]*End{&left, &right}
	for _, e := range outer {
		if e.slope == 0 || e.slope == upright {
			continue
		}
		// An upper edge runs leftwards. It takes the left corner off where it
		// falls leftwards; a lower edge, running rightwards, where it falls too.
		side, x := 1, -max(e.a.X, e.b.X)
		if e.b.Z < e.a.Z {
			side, x = 0, min(e.a.X, e.b.X)
		}
		if end[side].Kind == Rake && at[side] <= x {
			continue
		}
		at[side] = x
		*end[side] = End{Rake, r.degrees(e.slope), e.a.X < e.b.X}
	}
	if s.Lo > r.Span.Lo {
		left = End{Kind: Joint}
	}
	if s.Hi < r.Span.Hi {
		right = End{Kind: Joint}
	}
	return left, right
}

// degrees returns how far a slope of the wall's outline is from upright.
func (r *Run) degrees(n int) float64 {
	s := r.frame.slope(n)
	dx, dz := float64(s.B.X-s.A.X), math.Abs(float64(s.B.Z-s.A.Z))
	return math.Atan2(dx, dz) * 180 / math.Pi
}
