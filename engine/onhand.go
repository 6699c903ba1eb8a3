package engine

import (
	"slices"

	"lapwright/engine/measure"
)

// OnHandTotals are the headline figures of the stock on hand.
type OnHandTotals struct {
	Listed, Used int            // lengths
	Length       measure.Length // of those used
	Worth        float64        // of those used, at the price of new ones by length
}

// OnHand sums what the cutting plan takes from the stock on hand.
func (r *Result) OnHand() OnHandTotals {
	var t OnHandTotals
	for _, o := range r.Job.Offcuts {
		t.Listed += o.Count
	}
	if t.Listed == 0 {
		return t
	}
	for row := range r.CutRows(0, r.CutCount()) {
		if !row.OnHand {
			continue
		}
		t.Used += row.Count
		length := row.Stock * measure.Length(row.Count)
		t.Length += length
		if p := r.Job.newOf(row); p.Length > 0 {
			t.Worth += p.Price * length.Metres() / p.Length.Metres()
		}
	}
	return t
}

// newOf returns the product that a row of the cutting plan would be cut from if
// it were not on hand.
func (j *Job) newOf(row *CutRow) Product {
	for _, p := range j.Products {
		if p.Role == row.Role && p.Code == row.Code && (p.Colour == "" || p.Colour == row.Colour) {
			return p
		}
	}
	return Product{}
}

// flagOnHand says which stock on hand is not looked at: boards alone are cut from
// it.
func (t *takeoff) flagOnHand() {
	for _, o := range t.job.Offcuts {
		if !slices.ContainsFunc(t.job.Products, func(p Product) bool { return p.Role == RoleBoard && p.Code == o.Code }) {
			t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "on-hand-unused", Place: o.Origin.At("Code"),
				What: "no board has the code " + o.Code + ": this stock on hand is not cut, as only boards are cut from it",
				Do:   "give the code of a board as in Products; take other lengths off the order by hand"})
		}
	}
}
