package engine

import (
	"cmp"
	"slices"
	"strings"

	"lapwright/engine/measure"
	"lapwright/engine/natural"
	"lapwright/engine/quantity"
)

// order sums everything to buy: stock lengths from the cutting plan, the rest
// from what stands on the walls.
func (t *takeoff) order() {
	tally := quantity.NewTally()
	for row := range t.result.CutRows(0, t.result.CutCount()) {
		if !row.OnHand {
			tally.Add(quantity.Key{Drop: row.Drop, Role: row.Role, Code: row.Code, Colour: row.Colour}, float64(row.Count))
		}
	}
	for i := range t.result.Walls {
		t.tallyWall(tally, t.stands[i], &t.result.Walls[i])
	}
	for _, s := range tally.Sums(Roles()) {
		t.result.Order = append(t.result.Order, t.orderLine(s))
	}
}

// tallyWall adds what one wall takes that is not cut from stock lengths.
func (t *takeoff) tallyWall(tally *quantity.Tally, s *stand, w *WallResult) {
	n := float64(w.Quantity)
	add := func(p Product, amount float64) {
		if amount > 0 {
			tally.Add(quantity.Key{Drop: w.Drop, Role: p.Role, Code: p.Code, Colour: p.Colour}, amount*n)
		}
	}
	for _, strip := range w.Strips {
		add(t.catalogue.pickWide(strip.Role, "", strip.Width), strip.Length.Metres())
	}
	for _, tr := range w.Trims {
		if p := t.product(tr.Role, tr.Code, tr.Colour); p.Length <= 0 { // no stock length to cut from: by the metre
			add(p, tr.Length.Metres())
		}
	}
	for i := range w.Battens {
		if p := t.battenProduct(w.Battens[i].Width); p.Length <= 0 {
			add(p, w.Battens[i].Z.Length().Metres())
		}
	}
	roll := t.catalogue.pick(RoleMembrane, "")
	add(roll, quantity.Membrane(w.Gross, roll.Width.Metres(), t.rules.MembraneLap.Metres()))
	for _, f := range w.Fixings {
		if f.Count > 0 { // a product that is not wanted is not missing
			add(t.fixingProduct(f, w.Colour), float64(f.Count))
		}
	}
	for code, n := range s.packers {
		add(t.product(RolePacker, code, ""), float64(n))
	}
	if t.rules.PaintCoverage > 0 {
		paint := t.catalogue.pick(RolePaint, w.Colour)
		add(paint, s.sawn.Metres()/t.rules.PaintCoverage*inLitre(paint.Unit))
	}
}

// inLitre returns how many of a unit go in a litre. Order quantities are whole
// units, so paint in small tins is counted in millilitres.
func inLitre(unit string) float64 {
	if strings.EqualFold(strings.TrimSpace(unit), "ml") {
		return 1000
	}
	return 1
}

// fixingProduct returns the product one row of the fixing schedule takes.
func (t *takeoff) fixingProduct(f FixingRow, colour string) Product {
	if f.Role == RoleVisibleScrew {
		return t.product(f.Role, f.Fixing, colour)
	}
	if p, ok := t.catalogue.byCode(f.Fixing); ok {
		return p
	}
	return t.catalogue.pick(f.Role, "")
}

// cutEdge returns the length of sawn edge to seal: ends, slopes along their
// length, cut-outs and rips. Which square ends are a board's own the cutting
// decides; all are counted, which is on the safe side by less than a brushful a
// board.
func cutEdge(w *WallResult) measure.Length {
	var sum measure.Length
	for i := range w.Pieces {
		p := &w.Pieces[i]
		sum += sawnOutline(p)
		for _, h := range p.Holes {
			sum += 2 * (h.X.Length() + h.Z.Length())
		}
		if p.Ripped {
			sum += p.Length
		}
	}
	return sum
}

// sawnOutline returns how much of a piece's outline is no long edge of its board.
func sawnOutline(p *Piece) measure.Length {
	if len(p.Outline) == 0 {
		return 2 * p.Width // a reveal board
	}
	var sum measure.Length
	_, zs := p.Outline.Bounds()
	for k, a := range p.Outline {
		b := p.Outline[(k+1)%len(p.Outline)]
		if own := a.Z == b.Z && (a.Z == zs.Lo || a.Z == zs.Hi); !own {
			sum += measure.Distance(a, b)
		}
	}
	return sum
}

func (t *takeoff) orderLine(s quantity.Sum) OrderLine {
	p := t.product(s.Key.Role, s.Key.Code, s.Key.Colour)
	l := OrderLine{
		Drop: s.Key.Drop, Role: s.Key.Role, Code: s.Key.Code, Description: p.Description,
		Colour: s.Key.Colour, Unit: cmp.Or(p.Unit, "piece"), Net: s.Net, Spare: t.rules.SpareOther,
		Pack: p.Pack, Price: p.Price, Weight: p.Weight,
	}
	switch {
	case cutFromStock(l.Role):
		l.Spare = t.rules.SpareCut
	case l.Role == RoleTape && t.rules.TapeSpare > 0:
		l.Spare = t.rules.TapeSpare
	}
	if l.Pack <= 0 {
		l.Pack = 1
	}
	l.Issued = Inputs{l.Spare, l.Pack, l.Price}
	in := t.job.Edits[EditKey(s.Key)].over(l.Issued)
	l.Spare, l.Pack, l.Price = in.Spare, in.Pack, in.Price
	if l.Pack <= 0 {
		l.Pack = 1
	}
	l.Order = quantity.Order(l.Net, l.Spare)
	l.Packs = quantity.Packs(l.Order, l.Pack)
	l.Amount = quantity.Amount(l.Packs, l.Pack, l.Price)
	return l
}

// Amount returns what lines of an order cost together.
func Amount(lines []OrderLine) float64 {
	sum := 0.0
	for i := range lines {
		sum += lines[i].Amount
	}
	return quantity.Round(sum)
}

// product returns the catalogue line of a role, code and colour; where that
// colour has none, the line without a colour or any line of that code.
func (t *takeoff) product(role, code, colour string) Product {
	best, found := Product{Role: role, Code: code}, false
	for _, list := range [...][]Product{t.catalogue.products, t.catalogue.missing} {
		for i := range list {
			switch p := &list[i]; {
			case p.Role != role || p.Code != code:
			case p.Colour == colour:
				return *p
			case !found || p.Colour == "" && best.Colour != "":
				best, found = *p, true
			}
		}
	}
	return best
}

// measured sums the quantities for a bill, plot by plot: net areas with small
// voids left in, metres of each trim.
func (t *takeoff) measured() {
	type key struct{ plot, item, unit string }
	sums := map[key]float64{}
	var keys []key
	battens := map[measure.Length]string{} // by width
	add := func(k key, v float64) {
		if _, ok := sums[k]; !ok {
			keys = append(keys, k)
		}
		sums[k] += v
	}
	for i := range t.result.Walls {
		w := &t.result.Walls[i]
		n := float64(w.Quantity)
		add(key{w.Plot, "cladding, gross", "m2"}, w.Gross*n)
		add(key{w.Plot, "cladding, net of voids over the threshold", "m2"}, t.billed(w, t.stands[i].face)*n)
		add(key{w.Plot, "cladding, net of every opening", "m2"}, w.Net*n)
		for _, tr := range w.Trims {
			add(key{w.Plot, tr.Role, "m"}, tr.Length.Metres()*float64(tr.Quantity))
		}
		for k := range w.Battens {
			b := &w.Battens[k]
			item := battens[b.Width]
			if item == "" {
				item = "batten " + b.Width.String() + " mm"
				battens[b.Width] = item
			}
			add(key{w.Plot, item, "m"}, b.Z.Length().Metres()*n)
		}
	}
	slices.SortStableFunc(keys, func(a, b key) int { return natural.Compare(a.plot, b.plot) })
	for _, k := range keys {
		t.result.Measured = append(t.result.Measured, Measured{Plot: k.plot, Item: k.item, Unit: k.unit, Quantity: sums[k]})
	}
}

// billed returns the wall's area less the openings larger than the threshold.
func (t *takeoff) billed(w *WallResult, f *face) float64 {
	area := w.Gross
	for _, v := range w.Voids {
		if a := f.openArea(v.Opening); a > t.rules.VoidThreshold {
			area -= a
		}
	}
	return max(0, area)
}
