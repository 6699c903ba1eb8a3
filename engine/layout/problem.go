// Package layout decides where boards are jointed and which stock board each
// piece comes from. The two are one problem: joints may fall on any batten the
// stagger rules leave free, so the pieces can be chosen to pack.
package layout

import (
	"errors"
	"fmt"

	"lapwright/engine/measure"
)

// Stock is one length of board that can be cut. No piece is longer than the
// longest stock that can be bought.
type Stock struct {
	Length measure.Length // > 0
	Price  int64          // of one board, in any unit, >= 0; 0: its length in millimetres
	OnHand int            // > 0: so many lie on hand, free of cost; 0: bought, as many as needed
}

// Site is a place on a wall where boards may butt.
type Site struct {
	X   measure.Length
	Bay int  // number in the batten grid; two sites of one bay count as one for the stagger rules
	Off bool // off the grid: by Wall.Apart, not by bays; Bay is far from every other site's
}

// Run is an unbroken stretch of one course.
type Run struct {
	Course int
	Span   measure.Span // from end to end; of a raked run the long edge
	Sites  []int        // indices into Wall.Sites where this run may be jointed, rising in X
	// Least lengths of the first and the last piece of a jointed run, where an
	// end wants more than Wall.PieceLeast.
	FirstLeast, LastLeast measure.Length
}

// Wall is a wall as drawn, built Quantity times alike.
type Wall struct {
	Quantity   int // 0 counts as 1
	Sites      []Site
	Runs       []Run
	PieceLeast measure.Length // of a jointed run; a run without a joint may be shorter
	Near       measure.Length // joints of neighbouring courses that are nearer than this count as in one bay
	Apart      measure.Length // least distance of a joint off the grid from those of neighbouring courses; > 0 where there are any
}

// Problem is a pool of walls whose boards are cut together.
type Problem struct {
	Stocks []Stock
	Kerf   measure.Length // what one cut takes, >= 0; counted in whole tenths of a millimetre, upwards
	Gap    measure.Length // left open at a joint, >= 0
	// Joints of neighbouring courses are at least StaggerBays apart by their
	// bay numbers, and no nearer than Wall.Near; 0: no such rule.
	StaggerBays int
	// The same bay is jointed again only every Repeat-th course; below 2 adds
	// nothing to StaggerBays.
	Repeat int
	Walls  []Wall
}

// Effort is how much work to spend. It counts steps of the search, not time,
// so that the result does not depend on the machine.
type Effort int

// The efforts. Quick suits thousands of walls, Thorough takes seconds a wall.
const (
	Normal Effort = iota
	Quick
	Thorough
)

// Options of a solution. The zero value is useful.
type Options struct {
	Effort Effort
	Seed   uint64 // selects among equal choices; the same seed gives the same plan
}

// Ref names a run: Problem.Walls[Wall].Runs[Run].
type Ref struct{ Wall, Run int }

// PieceRef names a piece: the Piece-th from the left of a run.
type PieceRef struct{ Wall, Run, Piece int }

// Pattern says what Count boards are cut into, all alike.
type Pattern struct {
	Stock  int // index into Problem.Stocks
	Pieces []PieceRef
	Count  int
	Offcut measure.Length // left after the last cut
}

// HandPlan is what a careful person gets by a method that needs no search,
// with the stagger rules kept.
type HandPlan struct {
	Name   string
	Boards int
	Cost   int64
}

// Plan is a layout and the way its pieces are cut. Over all patterns, Count
// times the appearances of a piece is its wall's quantity. Boards and bounds
// count bought boards; those on hand are free.
type Plan struct {
	Joints   [][][]int // wall, run: indices into Wall.Sites, rising in X
	Patterns []Pattern
	Boards   int   // bought
	Cost     int64 // of the boards bought

	// Proven in whole numbers: no cutting of these pieces buys fewer boards
	// than PlanBound or costs less than PlanCostBound; no layout within the
	// rules buys fewer than LayoutBound or costs less than LayoutCostBound.
	PlanBound, LayoutBound         int
	PlanCostBound, LayoutCostBound int64
	Proven                         bool // Cost == LayoutCostBound: nothing is better

	Hand  HandPlan   // the best of Hands
	Hands []HandPlan // every hand method

	Relaxed []Ref // runs in which a rule is broken because no layout was found that keeps it
	Unlaid  []Ref // runs that no layout can cover: a stretch without sites is longer than every board; not in Patterns
}

// ErrInvalid is wrapped by the error of a problem that contradicts itself.
var ErrInvalid = errors.New("layout: invalid problem")

func (p Problem) validate() error {
	if len(p.Stocks) == 0 {
		return fmt.Errorf("%w: no stock", ErrInvalid)
	}
	if p.Kerf < 0 || p.Gap < 0 {
		return fmt.Errorf("%w: kerf %v, gap %v", ErrInvalid, p.Kerf, p.Gap)
	}
	bought := false
	for i, s := range p.Stocks {
		if s.Length <= 0 || s.Price < 0 || s.OnHand < 0 || s.Length > measure.Length(1e9) || s.Price > 1e12 {
			return fmt.Errorf("%w: stock %d: length %v, price %d, on hand %d", ErrInvalid, i, s.Length, s.Price, s.OnHand)
		}
		bought = bought || s.OnHand == 0
	}
	if !bought {
		return fmt.Errorf("%w: every stock is on hand only", ErrInvalid)
	}
	for i, w := range p.Walls {
		if err := w.validate(); err != nil {
			return fmt.Errorf("%w: wall %d: %w", ErrInvalid, i, err)
		}
	}
	return nil
}

func (w Wall) validate() error {
	if w.Quantity < 0 || w.PieceLeast < 0 {
		return fmt.Errorf("quantity %d, least piece %v", w.Quantity, w.PieceLeast)
	}
	for i, r := range w.Runs {
		if r.Span.Empty() {
			return fmt.Errorf("run %d is empty", i)
		}
		last := r.Span.Lo
		for _, s := range r.Sites {
			if s < 0 || s >= len(w.Sites) || w.Sites[s].X <= last || w.Sites[s].X >= r.Span.Hi {
				return fmt.Errorf("run %d: site %d is missing, outside the run or out of order", i, s)
			}
			last = w.Sites[s].X
		}
	}
	return nil
}

// Pieces returns the extents of a run's pieces, from left to right, for joints
// at the sites with the given indices. At a joint the piece on the left ends
// half the gap before the site, rounded so that it stays on a whole
// millimetre, and the next starts a gap later.
func Pieces(r Run, joints []int, sites []Site, gap measure.Length) []measure.Span {
	out := make([]measure.Span, 0, len(joints)+1)
	lo := r.Span.Lo
	for _, j := range joints {
		hi := leftEnd(sites[j].X, gap)
		out = append(out, measure.Span{Lo: lo, Hi: hi})
		lo = hi + gap
	}
	return append(out, measure.Span{Lo: lo, Hi: r.Span.Hi})
}

// leftEnd is where the piece left of a joint at x ends.
func leftEnd(x, gap measure.Length) measure.Length { return x - (gap / 2).UpTo(measure.Millimetre) }
