package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
)

func (s *summary) headline() {
	s.begin("Headline")
	b := s.b
	var net, gross float64
	for _, w := range b.res.Walls {
		net += w.Net * float64(w.Quantity)
		gross += w.Gross * float64(w.Quantity)
	}
	s.add("Net area", fixed(net, hundreds), "m2", "Wall faces less openings.")
	s.add("Gross area", fixed(gross, hundreds), "m2", "Wall faces, openings not deducted.")
	t := b.res.Boards()
	s.add("Boards to cut", cell{v: t.Boards, l: bigNumber}, "boards", b.boundWords(t))
	s.add("Waste", fixed(t.Waste, tenth), "%", "Of the length bought, without spare; what slopes and notches cut off counts as used.")
	if !t.Mixed { // else there is no floor but that of the cost
		s.add("Least waste possible", fixed(t.Floor, tenth), "%", "The floor: no layout of these courses wastes less.")
	}
	switch {
	case t.Hand == 0:
	case t.Mixed && t.Cost > 0:
		s.add("Saved against a hand layout", money(t.HandCost-t.Cost), b.currency(), fmt.Sprintf("%s takes %d for %.2f %s.", b.handWords(), t.Hand, t.HandCost, b.currency()))
	default:
		words := fmt.Sprintf("%s takes %d", b.handWords(), t.Hand)
		if t.Cost > 0 {
			words += fmt.Sprintf("; worth %.2f %s", t.HandCost-t.Cost, b.currency())
		}
		s.add("Saved against a hand layout", count(t.Hand-t.Boards), "boards", words+".")
	}
	s.onHand()
	s.ordered()
	s.saving()
}

// onHand says how much of the stock on hand is used, and what it is worth.
func (s *summary) onHand() {
	t := s.b.res.OnHand()
	if t.Listed == 0 {
		return
	}
	words := fmt.Sprintf("Of %d listed in Offcuts: %.2f m, not ordered", t.Listed, t.Length.Metres())
	if t.Worth > 0 {
		words += fmt.Sprintf("; worth %.2f %s at the price of new boards, by length", t.Worth, s.b.currency())
	}
	s.add("Stock on hand used", count(t.Used), "lengths", words+".")
}

// saving names the change that would save most, where there is one.
func (s *summary) saving() {
	for _, o := range s.b.res.Options {
		if o.Current && o.Note != "" {
			s.add("What else would save", cell{}, "", said(engine.Flag{What: o.Note})+" All that was tried is on the sheet Alternatives.")
		}
	}
}

// handWords names the best hand method.
func (b *book) handWords() string {
	for _, p := range b.res.Pools {
		if p.Role == engine.RoleBoard && p.HandName != "" {
			return fmt.Sprintf("The best hand method, %q,", p.HandName)
		}
	}
	return "The best hand method"
}

func orWords(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// boundWords says how near the boards are to the least possible, in the measure
// they were chosen by.
func (b *book) boundWords(t engine.BoardTotals) string {
	switch {
	case t.Boards == 0:
		return ""
	case t.Mixed && t.Cost == 0:
		return "These lengths have no price: the least length in all was looked for."
	case t.Mixed && t.Proven:
		return fmt.Sprintf("For %.2f %s: as cheap as any layout of these courses can be, proven. Lengths are chosen by price.", t.Cost, b.currency())
	case t.Mixed && t.CostBound > 0:
		return fmt.Sprintf("For %.2f %s; no layout of these courses costs less than %.2f. Lengths are chosen by price.", t.Cost, b.currency(), t.CostBound)
	case t.Mixed:
		return fmt.Sprintf("For %.2f %s. Lengths are chosen by price.", t.Cost, b.currency())
	case t.Proven:
		return "As few as any layout of these courses can need: proven."
	}
	return fmt.Sprintf("No layout of these courses needs fewer than %d.", t.Bound)
}

// ordered adds the figures that follow the order's inputs.
func (s *summary) ordered() {
	b := s.b
	t := b.orderTable(b.actual["Order summary"])
	n := len(t.rows)
	col := func(header string) string { return b.rangeRef("Order summary", t.letter(header), n) }
	var boards, cost, kg float64
	for _, r := range t.rows {
		if r.Role == engine.RoleBoard {
			boards += packs(r) * packOf(r)
		}
		cost += amount(r)
		kg += weight(r)
	}
	s.add("Boards to order", live(fmt.Sprintf(`SUMPRODUCT((%s="board")*%s*%s)`, col("Role"), col("Packs"), col("Pack")), boards, grouped),
		"boards", spareWords(t.rows)+", in whole packs; follows the Order summary.")
	s.add("Cost", live(b.cellRef("Order summary", b.total), rounded(cost), bigMoney), b.currency(), s.costWords())
	total := strings.Replace(b.total, t.letter("Amount"), t.letter("Weight kg"), 1)
	if kg > 0 {
		s.add("Weight", live(b.cellRef("Order summary", total), rounded(kg), grouped), "kg", "Of what the order weighs, as far as the products give a weight.")
	}
}

func spareWords(rows []orderRow) string {
	if unspared(rows) {
		return "As issued, without spare"
	}
	return "With spare"
}

func (s *summary) costWords() string {
	out := "Materials of the Order summary, without tax; follows its prices, packs and spare."
	if words := unpricedWords(s.b.orderTable(s.b.actual["Order summary"]).rows); words != "" {
		out = "As issued, " + words + ". " + out
	}
	if l := s.b.lacking(); l != "" {
		out = l + ". " + out
	}
	return out
}
