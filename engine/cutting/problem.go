package cutting

import (
	"errors"
	"fmt"
	"math"
)

// Stock is one kind of bar that can be bought or lies on hand.
type Stock struct {
	Length int64 // usable length of a new bar, > 0, in the caller's unit
	Price  int64 // cost of one bar, >= 0; 0 means Length is the price
	Limit  int   // bars on hand, >= 0; 0 means as many as needed
}

// Item is one piece length that is wanted.
type Item struct {
	Length int64 // > 0, in the caller's unit
	Demand int   // how many, >= 0
}

// Problem is a one-dimensional cutting-stock problem. All lengths share one
// unit, which the package never asks for.
type Problem struct {
	Stocks []Stock
	Items  []Item
	// Kerf is what one cut takes, >= 0. A bar of length L holds pieces
	// l1..lk when l1+...+lk+(k-1)*Kerf <= L: the last piece may end flush,
	// and an end shorter than a kerf is lost with its cut.
	Kerf int64
}

// Cut says how many pieces of Problem.Items[Item] a bar yields.
type Cut struct {
	Item  int // index into Problem.Items
	Count int // > 0
}

// Pattern is a way to cut one bar, and how many bars are cut that way.
type Pattern struct {
	Stock int   // index into Problem.Stocks
	Cuts  []Cut // by rising Item, each Item once
	Count int   // bars, > 0
}

// Plan is a full set of patterns: every demand is met exactly.
//
// Bound <= the cost of any plan that obeys the problem. It was computed in
// integers, so Proven (Bound == Cost) is a fact and not a rounding matter.
// Patterns of equal cost are not promised to be few.
type Plan struct {
	Patterns []Pattern
	Bars     int   // sum of the patterns' counts
	Cost     int64 // sum of prices of the bars used
	Bound    int64 // no plan costs less
	Proven   bool  // Cost == Bound
	Work     int64 // work units spent, the same on every machine
}

// Options bounds the search. The zero value is useful.
type Options struct {
	// Effort is the most work units to spend, one unit being about one
	// inner-loop step (a billion is a matter of seconds). 0 means DefaultEffort;
	// negative means the heuristics and bounds that need no search.
	Effort int64
	// Seed moves the search among equally good fractional plans, and so may lead
	// to other plans; the same seed gives the same plan.
	Seed uint64
}

// DefaultEffort is the Effort used when Options.Effort is zero.
const DefaultEffort = 4_000_000_000

// Errors that Solve and the baselines wrap.
var (
	// ErrInvalid: a negative or zero length, a negative price, demand, limit or kerf.
	ErrInvalid = errors.New("cutting: invalid problem")
	// ErrTooLong: an item that no stock can hold.
	ErrTooLong = errors.New("cutting: item longer than every stock")
	// ErrOverflow: sums of lengths or prices that leave 64-bit integers.
	ErrOverflow = errors.New("cutting: numbers too large")
	// ErrShortStock: the bars on hand do not suffice, or no plan within them was found.
	ErrShortStock = errors.New("cutting: no plan within the stock on hand")
)

// Totals beyond these would let products in the bounds overflow.
const (
	maxTotal  = math.MaxInt64 >> 8
	maxDemand = 1 << 31
)

func (p Problem) validate() error {
	if p.Kerf < 0 {
		return fmt.Errorf("%w: kerf %d", ErrInvalid, p.Kerf)
	}
	for i, s := range p.Stocks {
		if s.Length <= 0 || s.Price < 0 || s.Limit < 0 {
			return fmt.Errorf("%w: stock %d: length %d, price %d, limit %d", ErrInvalid, i, s.Length, s.Price, s.Limit)
		}
		if s.Length > maxTotal-p.Kerf || s.Price > maxTotal {
			return fmt.Errorf("%w: stock %d", ErrOverflow, i)
		}
	}
	return p.validateItems()
}

func (p Problem) validateItems() error {
	longest := int64(0)
	for _, s := range p.Stocks {
		longest = max(longest, s.Length)
	}
	total, pieces := int64(0), int64(0)
	for i, it := range p.Items {
		if it.Length <= 0 || it.Demand < 0 {
			return fmt.Errorf("%w: item %d: length %d, demand %d", ErrInvalid, i, it.Length, it.Demand)
		}
		if it.Demand == 0 {
			continue
		}
		if it.Length > longest {
			return fmt.Errorf("%w: item %d: length %d, longest stock %d", ErrTooLong, i, it.Length, longest)
		}
		if int64(it.Demand) > maxDemand || (it.Length+p.Kerf) > (maxTotal-total)/int64(it.Demand) {
			return fmt.Errorf("%w: item %d", ErrOverflow, i)
		}
		total += (it.Length + p.Kerf) * int64(it.Demand)
		pieces += int64(it.Demand)
	}
	return p.validateCost(pieces)
}

// validateCost keeps pieces times the dearest bar inside 64 bits, which is the
// most any plan can cost.
func (p Problem) validateCost(pieces int64) error {
	if pieces > maxDemand {
		return fmt.Errorf("%w: %d pieces", ErrOverflow, pieces)
	}
	for i, s := range p.Stocks {
		if s.price() > maxTotal/max(pieces, 1) {
			return fmt.Errorf("%w: price of stock %d times %d pieces", ErrOverflow, i, pieces)
		}
	}
	return nil
}

func (s Stock) price() int64 {
	if s.Price == 0 {
		return s.Length
	}
	return s.Price
}
