// Package boards cuts a wall into the boards that clad it. Given the course
// marks and the openings it finds the runs, the unbroken stretches of each
// course, with the notches the openings bite out of them, and for any stretch
// of a run the exact outline of the board that fills it.
//
// All places are in the wall's x and z: x from the wall's left edge as seen
// from outside, z up from the level datum.
package boards

import "lapwright/engine/measure"

// Wall is a wall ready to be clad: the region boards may fill, the marks of
// its courses and the openings they keep clear of.
type Wall struct {
	// Base and Top bound the clad region; gaps and end allowances are already
	// taken off. Both run over the same span, Base nowhere above Top. Where
	// Base is level boards are not cut to it as long as it stands on a course
	// mark, which [Stair] sees to; a sloped Base, as above a lower roof, is
	// cut to.
	Base, Top measure.Profile

	// Marks are the bottoms of the courses, rising, at least one. The lap left
	// between two neighbours is Width less their distance and is smaller than
	// that distance. What lies more than Width above the last mark, or below
	// the first, stays bare.
	Marks []measure.Length
	Width measure.Length // of a board

	Voids      []Void
	StripLeast measure.Length // a strip thinner than this is fragile; 0: none is
	PieceLeast measure.Length // a run shorter than this is short; 0: none is

	// HoleMost is the widest hole cut wholly inside one board. A wider one, a
	// long slot, breaks the run at its jambs instead and leaves the strips
	// below and above it as runs of their own. 0: no limit.
	HoleMost measure.Length
}

// Rect is an upright rectangle.
type Rect struct{ X, Z measure.Span }

// Void is a rectangle no board may enter: an opening with the gaps kept to it.
// It may reach beyond the clad region and overlap other voids. ID is the
// caller's name for it; a sill wider than its opening is a second void of the
// same ID.
type Void struct {
	ID   int
	X, Z measure.Span
}

// top returns the top of the full board of course k.
func (w *Wall) top(k int) measure.Length { return w.Marks[k] + w.Width }

// span returns the stretch of x that Base and Top share.
func (w *Wall) span() measure.Span { return w.Base.Extent().And(w.Top.Extent()) }
