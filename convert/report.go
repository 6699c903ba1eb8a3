package convert

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/engine"
	"lapwright/engine/quantity"
)

// Report is what one conversion did, for the command line and for machines.
type Report struct {
	In       string               `json:"survey"`
	Out      string               `json:"takeoff,omitempty"`                // blank: nothing written
	Kept     string               `json:"kept,omitempty"`                   // the name Out would have, but for a file there
	Why      string               `json:"kept_why,omitempty"`               // in words, and how to go on
	Beside   []string             `json:"beside,omitempty"`                 // other files that were asked for and written
	Exports  []string             `json:"exports,omitempty"`                // written beside Out
	Earlier  []string             `json:"exports_of_earlier_run,omitempty"` // beside Out, and not what it holds
	Held     report.Held          `json:"-"`                                // which dwellings Out counts
	PlainUBL bool                 `json:"-"`                                // the order names no electronic addresses
	Digest   string               `json:"digest"`                           // SHA-256 of the input
	Effort   engine.Effort        `json:"effort,omitempty"`
	Walls    int                  `json:"walls"`    // taken off, as drawn
	Built    int                  `json:"built"`    // with repeats
	Left     int                  `json:"left_out"` // kept out by stops
	NetArea  float64              `json:"net_m2"`
	Boards   int                  `json:"boards"`
	Bound    int                  `json:"boards_bound,omitempty"` // no layout takes fewer; 0 where lengths are chosen by price, then Least counts
	Cost     float64              `json:"boards_cost,omitempty"`
	Least    float64              `json:"boards_cost_bound,omitempty"` // no layout costs less
	Waste    float64              `json:"waste_percent"`
	Amount   float64              `json:"amount"`
	Unpriced int                  `json:"unpriced"` // lines without a price, which Amount leaves out
	Currency string               `json:"currency"`
	Order    []exchange.OrderLine `json:"order"`
	Flags    []engine.Flag        `json:"flags"`
}

// newReport returns the report of a survey of which nothing is known yet.
func newReport(in string) Report {
	return Report{In: in, Order: []exchange.OrderLine{}, Flags: []engine.Flag{}}
}

// Counts returns how many flags stop, want a check, or only note.
func (r Report) Counts() (stops, checks, notes int) {
	for _, f := range r.Flags {
		switch f.Severity {
		case engine.Stop:
			stops++
		case engine.Check:
			checks++
		default:
			notes++
		}
	}
	return stops, checks, notes
}

// Stops returns how many flags keep something out of the takeoff.
func (r Report) Stops() int {
	n, _, _ := r.Counts()
	return n
}

// Foremost returns the flags that kept something from being taken off: the stops,
// then those of what may be a survey, or a part of one, and was not read as that.
func (r Report) Foremost() []engine.Flag {
	var out []engine.Flag
	for _, f := range r.Flags {
		if f.Severity == engine.Stop || slices.Contains([]string{"file-unread", "sheet-unread", "several-walls"}, f.Code) {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, ByWeight)
	return out
}

// ByWeight puts stops first, then checks, then notes; of the stops those of a whole
// sheet or column first, as others follow from them.
func ByWeight(a, b engine.Flag) int {
	whole := func(f engine.Flag) int {
		if f.Severity == engine.Stop && f.Code == survey.MissingLabel {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(whole(a), whole(b)))
}

// Headline says in a sentence what was taken off.
func (r Report) Headline() string {
	var s string
	if r.Built == 0 {
		s = "nothing was taken off"
	} else {
		s = fmt.Sprintf("%s, %.1f m2 net, %s%s, waste %.1f %%, %s",
			Count(r.Built, "wall"), r.NetArea, Count(r.Boards, "board"), r.BoundWords(), r.Waste, strings.TrimSpace(fmt.Sprintf("%s %.2f", r.Currency, r.Amount)))
		if r.Unpriced > 0 {
			s += " without the price of " + Count(r.Unpriced, "line")
		}
	}
	if r.Left > 0 {
		s += "; " + Count(r.Left, "wall") + " left out"
	}
	return s
}

// BoundWords says how near the boards are to the least possible, in the measure
// they were chosen by.
func (r Report) BoundWords() string {
	switch {
	case r.Bound > 0:
		return fmt.Sprintf(" (no layout takes fewer than %d)", r.Bound)
	case r.Least > 0:
		return fmt.Sprintf(" for %.2f (no layout costs less than %.2f)", r.Cost, r.Least)
	}
	return ""
}

// Count writes a number with its noun: "1 wall", "2 walls".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// fill sets the headline figures from a result.
func (r *Report) fill(res *engine.Result) {
	r.Effort, r.Currency, r.Left = res.Effort, res.Job.Currency, len(res.Left)
	for _, w := range res.Walls {
		r.Walls++
		r.Built += w.Quantity
		r.NetArea += w.Net * float64(w.Quantity)
	}
	t := res.Boards()
	r.Boards, r.Bound, r.Waste = t.Boards, t.Bound, quantity.Round(t.Waste)
	r.Cost, r.Least = quantity.Round(t.Cost), quantity.Round(t.CostBound)
	r.NetArea = quantity.Round(r.NetArea)
	r.Amount = engine.Amount(res.Order)
	r.Order, r.Unpriced = exchange.OrderLines(res.Order), exchange.Unpriced(res.Order)
	r.Flags = append(r.Flags, res.Flags...)
}
