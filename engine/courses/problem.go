// Package courses sets out the courses of lap boards on one level line: which
// heights the bottoms of the boards take so that sills, heads and tops of all
// walls on the line fall on a course line as far as the lap allows.
//
// c_k is the bottom of course k, c_0 the bottom of the first board. A board of
// width W laps the one below by lap = W - gauge. Everything one would like to
// meet is a height that some c_k should take; between two such heights a whole
// number of equal gauges must fit the limits of the lap. [SetOut] finds the
// choice of least [Cost], exact over that model.
//
// Marks stand whole millimetres above the start: in a stretch of m gauges from
// t to u, mark q is t + round(q(u-t)/m), so that gauges of one stretch differ
// by a millimetre at most and nothing adds up. Every rounded gauge keeps the
// limits.
package courses

import (
	"errors"
	"fmt"

	"lapwright/engine/measure"
)

// Kind says what a target is and so what meets it.
type Kind int

// The kinds of target. At is always the height the boards see: the caller has
// taken the gap to the sill, head or soffit off already.
const (
	// Base is a wall on the line whose first board should have its bottom at
	// At. Missed, the wall starts at the next mark above.
	Base Kind = iota
	// Sill is met by a course line at At (the board below is notched one lap
	// deep) or by a board top at At (no notch, the next course starts one lap
	// lower beside the opening).
	Sill
	// Head is met by a course line at At.
	Head
	// Top is met by a board top at At: a full last board.
	Top
	// Eaves is met by a course line at At.
	Eaves
	// Apex is the top of a gable: the last board wants at least Least of
	// height above its mark, or it is too small to be fixed twice.
	Apex
	// Pin is a mark the user has fixed: it goes before everything else.
	Pin
)

// String returns the word for the kind.
func (k Kind) String() string {
	return [...]string{"base", "sill", "head", "top", "eaves", "apex", "pin"}[k]
}

// Target is one height to meet.
type Target struct {
	Kind   Kind
	At     measure.Length // above the datum of Start
	Limit  measure.Length // of a Sill or Head: where its own wall's boards end above; 0: far above
	Floor  measure.Length // of a Sill or Head: no board of its own wall starts lower; at or below Start: all do
	Count  int            // openings or walls it stands for; 0: 1
	Sawing measure.Length // to saw if one of them is notched or ripped: its width
	Least  measure.Length // of an Apex: least height of the last board
	ID     int            // the caller's; copied

	Surveyed measure.Length // the height that At keeps clear of, as an advice names it to the millimetre; 0: At itself
	Side     string         // left or right: of an Eaves of a wall that has two; an advice names it
}

// Problem is one level line: the board, the limits and what to meet. Heights
// that are not whole millimetres above Start cannot be met.
type Problem struct {
	Width             measure.Length // of the board
	LapLeast, LapMost measure.Length // LapMost below half of Width
	GaugeStepMost     measure.Length // between neighbouring stretches; 0: no limit
	StripLeast        measure.Length // a strip or rip narrower than this is fragile
	Start             measure.Length // bottom of the first board
	End               measure.Length // boards go on up to here, or to the highest Top or Apex
	PinGauge          measure.Length // one gauge for the whole line; 0: free
	Targets           []Target
}

// Way is how a target is met.
type Way uint8

// The ways. Clear means that no board is cut for it: the opening starts at or
// below the first board, or ends at or above the last; of an apex, that its
// last board is large enough.
const (
	Missed Way = iota
	CourseLine
	BoardTop
	Partly
	FullBoard
	Clear
)

// String returns the words for the way, none for Missed.
func (w Way) String() string {
	return [...]string{"", "course line", "board top", "partly", "full board", "clear"}[w]
}

// Outcome says how one target came out.
type Outcome struct {
	Target
	Met Way
	// Off is the nearest mark (of a Sill: mark or board top, of a Top or Apex:
	// board top) less At. Of a Base it is the next mark above less At.
	Off measure.Length
	// Notch is the depth cut out of a board, 0 if none. Strip is what is left:
	// of the notched board, of a ripped top, or the last board at an apex.
	Notch, Strip measure.Length
	Fragile      bool // Strip is less than the least
	Course       int  // index in Marks of the board that is cut, or is met; -1: none
}

// Plan is a line set out. Marks run from c_0 to the bottom of the last course
// that is needed below the end. Outcomes stand in the order of the targets.
type Plan struct {
	Marks    []measure.Length
	Outcomes []Outcome
	Cost     Cost
}

// ErrLimits is the cause of every error of this package: lap limits or a
// pinned gauge that no board can follow.
var ErrLimits = errors.New("the lap limits leave no gauge")

// gauges returns the limits of the gauge in whole millimetres.
func (p Problem) gauges() (lo, hi int64, err error) {
	lo = int64((p.Width - p.LapMost).UpTo(measure.Millimetre) / measure.Millimetre)
	hi = int64((p.Width - p.LapLeast).DownTo(measure.Millimetre) / measure.Millimetre)
	switch {
	case p.Width <= 0:
		err = fmt.Errorf("%w: board width is %v mm", ErrLimits, p.Width)
	case p.LapLeast < 0:
		err = fmt.Errorf("%w: least lap is %v mm", ErrLimits, p.LapLeast)
	case 2*p.LapMost >= p.Width:
		err = fmt.Errorf("%w: most lap %v mm is half of the board's %v mm or more", ErrLimits, p.LapMost, p.Width)
	case lo > hi:
		err = fmt.Errorf("%w: least lap %v mm, most lap %v mm", ErrLimits, p.LapLeast, p.LapMost)
	case p.PinGauge != 0 && (p.PinGauge < p.Width-p.LapMost || p.PinGauge > p.Width-p.LapLeast):
		err = fmt.Errorf("%w: the pinned gauge of %v mm gives a lap of %v mm", ErrLimits, p.PinGauge, p.Width-p.PinGauge)
	}
	return lo, hi, err
}
