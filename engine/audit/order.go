package audit

import (
	"cmp"
	"math"
	"slices"
)

// product is what an order line is of.
type product struct{ code, colour string }

func byName(a, b product) int {
	return cmp.Or(cmp.Compare(a.code, b.code), cmp.Compare(a.colour, b.colour))
}

// checkOrder recounts every line: boards bought, metres off a roll, fixings.
// want is what the walls take and the boards bought.
func checkOrder(job *Job, want map[product]float64, r *report) {
	said := map[product]float64{}
	var all []product
	for _, l := range job.Order {
		said[product{l.Code, l.Colour}] += l.Net
		all = append(all, product{l.Code, l.Colour})
	}
	for p := range want {
		all = append(all, p)
	}
	slices.SortFunc(all, byName) // and so the map's order is lost again
	for _, p := range slices.Compact(all) {
		// half a millimetre, for metres summed and rounded to the millimetre
		if math.Abs(said[p]-want[p]) > 0.0005 {
			r.add(p.code, "order", "%s: stated net %v, it recounts to %v", p.colour, said[p], want[p])
		}
	}
}

// recount adds what one wall takes.
func recount(want map[product]float64, w *Wall) {
	for i := range w.Trims {
		if t := &w.Trims[i]; t.Roll {
			want[product{t.Code, t.Colour}] += t.Length.Metres() * float64(t.Quantity)
		}
	}
	for _, t := range w.Strips {
		want[product{t.Code, t.Colour}] += t.Length.Metres() * float64(w.Quantity)
	}
	for i := range w.Battens {
		if b := &w.Battens[i]; b.Roll {
			want[product{b.Code, b.Colour}] += (b.Z.Hi - b.Z.Lo).Metres() * float64(w.Quantity)
		}
	}
	for i := range w.Packings {
		for _, p := range w.Packings[i].Packers {
			want[product{p.Code, ""}] += float64(w.Quantity)
		}
	}
	for _, f := range w.Fixings {
		want[product{f.Code, f.Colour}] += float64(f.Count * w.Quantity)
	}
}

// lot is one product in one pool.
type lot struct{ pool, code, colour string }

// checkPools holds the boards used in each pool to what is stated of it.
func checkPools(job *Job, used map[lot]int, r *report) {
	for _, p := range job.Pools {
		n := used[lot{p.Name, p.Code, p.Colour}]
		for _, code := range p.Others {
			n += used[lot{p.Name, code, p.Colour}]
		}
		if n != p.Boards {
			r.add(p.Name, "pool", "%s %s: stated %d boards, the plan has %d", p.Code, p.Colour, p.Boards, n)
		}
		for _, bound := range p.Bounds {
			if bound > n {
				r.add(p.Name, "pool", "%s %s: %d boards are fewer than the lower bound %d", p.Code, p.Colour, n, bound)
			}
		}
	}
}

// checkTotals sums the rows of each total again. Sums of the same numbers in
// another order differ in their last bits only.
func checkTotals(totals []Total, r *report) {
	for _, t := range totals {
		var sum, size float64
		for _, v := range t.Rows {
			sum += v
			size += math.Abs(v)
		}
		if !(math.Abs(sum-t.Total) <= 1e-9*(1+size)) { // so written, NaN is a fault
			r.add(t.Name, "total", "stated %v, its rows make %v", t.Total, sum)
		}
	}
}
