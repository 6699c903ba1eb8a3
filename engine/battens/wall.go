// Package battens stands the upright battens of a wall: at its edges and
// corners, beside every opening, and on a grid between them that joints and
// fixings go by.
//
// All places are in the wall's x and z: x from the wall's left edge as seen
// from outside, z up from the level datum.
package battens

import "lapwright/engine/measure"

// Wall is a wall to be battened.
type Wall struct {
	// Span is where battens may stand, edge to edge.
	Span measure.Span
	// Base and Top bound the battens' ends; gaps are already taken off. A
	// batten is cut square: it reaches from the highest Base across its width
	// to the lowest Top.
	Base, Top measure.Profile

	// Zones give the greatest centres by place, from the left, without gaps;
	// at least one, each with Centres > 0. The first counts to the left of
	// itself, the last to the right.
	Zones []Zone

	// First is a place the grid must pass through; without one it starts at
	// the middle of the left edge batten, or of where that would stand.
	First measure.Optional[measure.Length]
	// Studs, if any, are the only places the grid may use, rising. Of studs
	// closer than the centres ask, some stay without a batten.
	Studs []measure.Length

	Width, Wide measure.Length // of a normal batten, and at corners, jambs and joints
	// Clear is the least clear distance between a grid batten, as wide as at a
	// joint, and an edge or jamb batten; 0: they may touch.
	Clear measure.Length
	// End is what a board's fixing keeps below a batten's head.
	End measure.Length

	Voids       []Void
	Steps       []Step
	Left, Right Edge
}

// Step is an upright end of boards against a step of the base: over the heights
// of Z boards stop at X, with their left end if Left, else with their right. A
// batten stands behind them there.
type Step struct {
	X    measure.Length
	Z    measure.Span
	Left bool
	Hold measure.Span // heights over which a batten is wanted there; the zero value: as high and low as it can stand
}

// Zone is a stretch of the wall with its greatest batten centres.
type Zone struct {
	X       measure.Span
	Centres measure.Length
}

// Void is a rectangle battens keep out of: an opening with the gap kept to it.
type Void struct {
	X, Z measure.Span
	Hold measure.Span // heights over which battens are wanted at its jambs; the zero value: as high and low as they can stand
}

// Edge says what stands at an end of the wall.
type Edge int

// The edges: a normal batten, a wide one for a corner, or none where the
// grid alone runs on.
const (
	PlainEdge Edge = iota
	CornerEdge
	NoEdge
)

// Why says what a batten is for.
type Why string

// The reasons.
const (
	AtEdge   Why = "edge"
	AtCorner Why = "corner"
	AtJamb   Why = "jamb"
	AtGrid   Why = "grid"
	AtStud   Why = "stud"
	AtJoint  Why = "joint"
	AtStep   Why = "step"
	AtShort  Why = "short"
)

// Line is an upright line of battens: one batten for each of its spans.
type Line struct {
	Centre measure.Length
	Width  measure.Length
	Why    Why
	Bay    int            // number on the grid from 0 at the left; -1 off the grid
	Spans  []measure.Span // along z, rising, cut where an opening interrupts

	wide []measure.Span // the same if it is as wide as at a joint, where boards may butt; empty: it cannot be
	hold measure.Span   // heights over which it stands for an edge, a jamb or a step; empty: none
}

// X returns what the line covers along x.
func (l Line) X() measure.Span {
	left := l.Centre - l.Width/2
	return measure.Span{Lo: left, Hi: left + l.Width}
}
