package convert

import (
	"fmt"

	"lapwright/engine"
)

// Report is what one conversion did, for the command line and for machines.
type Report struct {
	In       string        `json:"survey"`
	Out      string        `json:"takeoff,omitempty"` // blank: nothing written
	Digest   string        `json:"digest"`            // SHA-256 of the input
	Effort   engine.Effort `json:"effort,omitempty"`
	Walls    int           `json:"walls"`    // taken off, as drawn
	Built    int           `json:"built"`    // with repeats
	Left     int           `json:"left_out"` // kept out by stops
	NetArea  float64       `json:"net_m2"`
	Boards   int           `json:"boards"`
	Bound    int           `json:"boards_bound"` // no layout takes fewer
	Waste    float64       `json:"waste_percent"`
	Amount   float64       `json:"amount"`
	Currency string        `json:"currency"`
	Flags    []engine.Flag `json:"flags"`
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

// Headline says in a sentence what was taken off.
func (r Report) Headline() string {
	s := fmt.Sprintf("%d walls, %.1f m2 net, %d boards (no layout takes fewer than %d), waste %.1f %%, %s %.2f",
		r.Built, r.NetArea, r.Boards, r.Bound, r.Waste, r.Currency, r.Amount)
	if r.Left > 0 {
		s += fmt.Sprintf("; %d walls left out", r.Left)
	}
	return s
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
	r.Boards, r.Bound, r.Waste = t.Boards, t.Bound, t.Waste
	for _, l := range res.Order {
		r.Amount += l.Amount
	}
	r.Flags = res.Flags
}
