package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

type orderRow = *engine.OrderLine

func (b *book) orderTable(sheet string) table[orderRow] {
	rows := make([]orderRow, len(b.res.Order))
	for i := range rows {
		rows[i] = &b.res.Order[i]
	}
	t := table[orderRow]{sheet: sheet, name: "Order_summary", rows: rows, columns: orderColumns()}
	t.foot = func(p *page) error { return b.orderFoot(p, t) }
	t.before = func() error { return b.orderInputs(t) }
	return t
}

func (b *book) writeOrder(sheet string) error { return b.orderTable(sheet).write(b) }

// layOrder settles where the order's rows and its total will stand, for the
// sheets written before it that refer to them.
func (b *book) layOrder() {
	t := b.orderTable(b.actual["Order summary"])
	b.order = span{2, max(len(t.rows), 1) + 1}
	b.total = fmt.Sprintf("%s%d", t.letter("Amount"), b.order.last+2)
}

func orderColumns() []column[orderRow] {
	return []column[orderRow]{
		{"Drop", 8, func(r orderRow, _ int) cell { return text(r.Drop) }},
		{"Role", 17, func(r orderRow, _ int) cell { return text(r.Role) }},
		{"Code", 15.5, func(r orderRow, _ int) cell { return text(r.Code) }},
		{"Description", 37, func(r orderRow, _ int) cell { return long(r.Description) }},
		{"Colour", 13, func(r orderRow, _ int) cell { return text(r.Colour) }},
		{"Unit", 7, func(r orderRow, _ int) cell { return text(r.Unit) }},
		{"Net quantity", 10, func(r orderRow, _ int) cell { return needed(r) }},
		{"Spare %", 9, func(r orderRow, _ int) cell { return cell{v: r.Spare, l: input} }},
		{"Order quantity", 10, func(r orderRow, at int) cell {
			return live(fmt.Sprintf("ROUNDUP(ROUND(G%d*(1+H%d/100),6),0)", at, at), orderQuantity(r), grouped)
		}},
		{"Pack", 8, func(r orderRow, _ int) cell { return cell{v: packOf(r), l: input} }},
		{"Packs", 8, func(r orderRow, at int) cell {
			return live(fmt.Sprintf("IF(J%d>0,ROUNDUP(ROUND(I%d/J%d,6),0),0)", at, at, at), packs(r), grouped)
		}},
		{"Unit price", 10, func(r orderRow, _ int) cell { return cell{v: r.Price, l: inputHundreds} }},
		{"Amount", 13, func(r orderRow, at int) cell {
			return live(fmt.Sprintf("K%d*J%d*L%d", at, at, at), amount(r), hundreds)
		}},
		{"Unit weight kg", 12, func(r orderRow, _ int) cell { return given(r.Weight, weighed) }},
		{"Weight kg", 10, func(r orderRow, at int) cell {
			return live(fmt.Sprintf("K%d*J%d*N%d", at, at, at), weight(r), lookOf(weight(r)))
		}},
		// What was issued, hidden: the next run tells by it what a reader edited.
		{"Issued spare %", 0, func(r orderRow, _ int) cell { return cell{v: r.Issued.Spare, l: whole} }},
		{"Issued pack", 0, func(r orderRow, _ int) cell { return cell{v: r.Issued.Pack, l: whole} }},
		{"Issued price", 0, func(r orderRow, _ int) cell { return cell{v: r.Issued.Price, l: whole} }},
		{"Issued net", 0, func(r orderRow, _ int) cell { return quantity(r.Net) }},
		{"Issued order", 0, func(r orderRow, _ int) cell { return cell{v: orderQuantity(r), l: whole} }},
	}
}

// lookOf shows kilograms whole, of less than ten with two decimals.
func lookOf(kg float64) look {
	if kg > 0 && kg < 10 {
		return hundreds
	}
	return grouped
}

// needed shows what is needed: of thousands, and of millilitres, to a whole unit.
func needed(r orderRow) cell {
	c := quantity(r.Net)
	if r.Net >= 1000 || strings.EqualFold(r.Unit, "ml") {
		c.l = grouped
	}
	return c
}

// The four below are what the sheet's formulas give. ROUND to six places
// comes first because 100 x 1.1 is a hair over 110 in binary, and a hair must
// not cost a pack; nor should a sum of money show one.

func roundUp(v float64) float64 { return math.Ceil(rounded(v)) }

func orderQuantity(r orderRow) float64 { return roundUp(r.Net * (1 + r.Spare/100)) }

func packs(r orderRow) float64 { return roundUp(orderQuantity(r) / packOf(r)) }

func amount(r orderRow) float64 { return rounded(packs(r) * packOf(r) * r.Price) }

func weight(r orderRow) float64 { return rounded(packs(r) * packOf(r) * r.Weight) }

func packOf(r orderRow) float64 {
	if r.Pack <= 0 {
		return 1
	}
	return r.Pack
}

// orderFoot writes the totals, what the order lacks, and which cells are for
// the reader to change.
func (b *book) orderFoot(p *page, t table[orderRow]) error {
	p.row++ // a blank row ends the table
	if err := p.put(b.totals(t)...); err != nil {
		return err
	}
	for _, drop := range b.drops() {
		if err := p.put(b.dropTotal(t, drop)...); err != nil {
			return err
		}
	}
	for _, s := range append(b.lackingLines(), b.unpricedLines(t)...) {
		if err := p.put(cell{v: s, l: lack}); err != nil {
			return err
		}
	}
	p.row++
	if err := b.orderHead(p); err != nil {
		return err
	}
	p.row++
	if err := p.put(cell{v: "Inputs: Spare %, Pack and Unit price (boxed, shaded cells) are yours to change; order quantities, packs, amounts, totals and the Summary follow.", l: panel}); err != nil {
		return err
	}
	return p.put(b.spareLine(t))
}

const (
	noSpare   = "Boards are ordered without spare: one that breaks is one too few. Type a Spare % for them."
	withSpare = "Boards are ordered with spare."
)

// spareLine says whether boards are ordered without spare, and follows what is
// typed.
func (b *book) spareLine(t table[orderRow]) cell {
	col := func(header string) string {
		return fmt.Sprintf("%[1]s%[2]d:%[1]s%[3]d", t.letter(header), b.order.first, b.order.last)
	}
	said := withSpare
	if unspared(t.rows) {
		said = noSpare
	}
	return live(fmt.Sprintf(`IF(SUMPRODUCT((%s="%s")*(%s=0))>0,"%s","%s")`, col("Role"), engine.RoleBoard, col("Spare %"), noSpare, withSpare), said, panel)
}

func unspared(rows []orderRow) bool {
	return slices.ContainsFunc(rows, func(r orderRow) bool { return r.Role == engine.RoleBoard && r.Spare == 0 })
}

// totals sums amounts and weights.
func (b *book) totals(t table[orderRow]) []cell {
	out := make([]cell, len(t.columns))
	for i := range out {
		out[i] = cell{l: totalText}
	}
	out[0].v = "Total " + b.currency()
	b.unpricedCount(t, out)
	b.sums(t, out, "", func(string) string { return "ROUND(SUM(%[1]s%[2]d:%[1]s%[3]d),6)" })
	return out
}

// unpricedCount says beside the total how many lines it leaves out for want of
// a price, and follows the prices.
func (b *book) unpricedCount(t table[orderRow], out []cell) {
	n, _ := excelize.ColumnNameToNumber(t.letter("Unit price"))
	count := fmt.Sprintf("SUMPRODUCT((%[1]s%[2]d:%[1]s%[3]d<>\"\")*(%[4]s%[2]d:%[4]s%[3]d=0))", t.letter("Role"), b.order.first, b.order.last, t.letter("Unit price"))
	said := fmt.Sprintf(`IF(%[1]s=0,"every line priced",IF(%[1]s=1,"1 line",%[1]s&" lines")&" without a price")`, count)
	out[n-1-unpricedLeft] = live(said, orWords(unpricedWords(t.rows), "every line priced"), totalText)
}

// unpricedLeft is how many columns left of the prices the count of lines
// without one stands, so that it has room.
const unpricedLeft = 3

func unpriced(rows []orderRow) int {
	n := 0
	for _, r := range rows {
		if r.Price == 0 {
			n++
		}
	}
	return n
}

func unpricedWords(rows []orderRow) string {
	if n := unpriced(rows); n > 0 {
		return plural(n, "line") + " without a price"
	}
	return ""
}

// unpricedLines names what has no price, as it was written.
func (b *book) unpricedLines(t table[orderRow]) []string {
	var roles []string
	for _, r := range t.rows {
		name := strings.TrimSpace(r.Role + " " + r.Code)
		if strings.HasPrefix(r.Code, "?") { // it stands for a product that is not there
			name = r.Role
		}
		if r.Price == 0 && !slices.Contains(roles, name) {
			roles = append(roles, name)
		}
	}
	if len(roles) == 0 {
		return nil
	}
	if n := len(roles); n > 8 {
		roles = append(roles[:8], fmt.Sprintf("and %d more", n-8))
	}
	return []string{"The total leaves out " + unpricedWords(t.rows) + ": " + strings.Join(roles, ", ") + "."}
}

// orderHead are the words that head an order, below its totals, each with what
// the job says; what it does not say is left to be filled in.
func orderHead(j *engine.Job) [][2]string {
	return [][2]string{
		{OrderNumber, j.Order.Number}, {OrderDate, j.Order.IssueDate}, {OrderBuyer, j.Order.Buyer}, {OrderSeller, j.Order.Seller},
		{OrderSite, j.Site}, {"Deliver on", ""}, {"Contact on site", ""}, {"Signed", ""},
	}
}

// The words that head an order, by which a merged order finds them again.
const (
	OrderNumber = "Order number"
	OrderDate   = "Issue date"
	OrderBuyer  = "Buyer"
	OrderSeller = "Seller"
	OrderSite   = "Deliver to"
)

// OrderValueColumn is the column, counted from 1, of what the job says of them.
const OrderValueColumn = 3

func (b *book) orderHead(p *page) error {
	if err := p.put(cell{v: "Order", l: heading}, cell{l: heading}, cell{l: heading}, cell{l: heading}); err != nil {
		return err
	}
	for _, line := range orderHead(b.res.Job) {
		if err := p.put(cell{v: line[0], l: panel}, cell{l: panel}, cell{v: orNil(line[1]), l: fillIn}, cell{l: fillIn}); err != nil {
			return err
		}
	}
	return nil
}

// dropTotal sums one delivery.
func (b *book) dropTotal(t table[orderRow], drop string) []cell {
	out := make([]cell, len(t.columns))
	out[0], out[1] = cell{v: drop, l: plain}, cell{v: "in this drop", l: plain}
	b.sums(t, out, drop, func(string) string {
		return fmt.Sprintf("ROUND(SUMIFS(%%[1]s%%[2]d:%%[1]s%%[3]d,A%%[2]d:A%%[3]d,A%d),6)", b.dropRow(drop))
	})
	return out
}

// dropRow returns the row of a delivery's total, below the whole total.
func (b *book) dropRow(drop string) int {
	for i, d := range b.drops() {
		if d == drop {
			return b.order.last + 3 + i
		}
	}
	return 0
}

func (b *book) sums(t table[orderRow], out []cell, drop string, form func(string) string) {
	for header, of := range map[string]func(orderRow) float64{"Amount": amount, "Weight kg": weight} {
		col := t.letter(header)
		var sum float64
		for _, r := range t.rows {
			if drop == "" || r.Drop == drop {
				sum += of(r)
			}
		}
		l := map[string]look{"Amount": totalMoney, "Weight kg": totalNumber}[header]
		n, _ := excelize.ColumnNameToNumber(col)
		out[n-1] = live(fmt.Sprintf(form(header), col, b.order.first, b.order.last), rounded(sum), l)
	}
}

// drops lists the deliveries, where there is more than one.
func (b *book) drops() []string {
	var out []string
	seen := map[string]bool{}
	for _, o := range b.res.Order {
		if o.Drop != "" && !seen[o.Drop] {
			seen[o.Drop] = true
			out = append(out, o.Drop)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func (b *book) currency() string {
	if c := b.res.Job.Currency; c != "" {
		return c
	}
	return "GBP"
}

// orderInputs checks what is typed into the input cells and says what each is.
func (b *book) orderInputs(t table[orderRow]) error {
	for _, in := range []struct{ header, title, help string }{
		{"Spare %", "Input: spare", "Per cent on top of the net quantity, 0 to 100."},
		{"Pack", "Input: pack", "Units in one pack, more than 0."},
		{"Unit price", "Input: price", "Price of one unit, without tax."},
	} {
		col := t.letter(in.header)
		v := excelize.NewDataValidation(true)
		v.Sqref = fmt.Sprintf("%s%d:%s%d", col, b.order.first, col, b.order.last)
		low, high := 0.0, 1e9
		if in.header == "Spare %" {
			high = 100
		}
		if in.header == "Pack" {
			low = 0.000001
		}
		if err := v.SetRange(low, high, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween); err != nil {
			return err
		}
		v.SetInput(in.title, in.help)
		v.SetError(excelize.DataValidationErrorStyleStop, in.title, in.help)
		if err := b.file.AddDataValidation(t.sheet, v); err != nil {
			return err
		}
	}
	return nil
}

// Lacks says in one line what the order of a result leaves out, blank if
// nothing.
func Lacks(res *engine.Result) string { return (&book{res: res, flags: res.Flags}).lacking() }

// lacking says in one line what the order leaves out, blank if nothing.
func (b *book) lacking() string { return b.lackingIn(math.MaxInt) }

// lackingIn says it in so many letters, with as many of the walls' names as
// have room.
func (b *book) lackingIn(most int) string {
	left, other := len(b.res.Left), b.otherStops()
	out, end := "ORDER INCOMPLETE: ", ""
	switch {
	case left == 0 && other == 0:
		return ""
	case left == 0:
		return out + plural(other, "stop") + " on the sheet Flagged issues"
	case other > 0:
		end = "; " + plural(other, "more stop") + " on the sheet Flagged issues"
	}
	out += "without " + plural(left, "wall")
	for i, l := range b.res.Left {
		name := " " + strings.TrimSpace(l.Plot+" "+l.Wall)
		if i > 0 {
			name = "," + name
		}
		more := fmt.Sprintf(" and %d more", left-i)
		if i > 0 && utf8.RuneCountInString(out+name+more+end) > most {
			return out + more + end
		}
		out += name
	}
	return out + end
}

// otherStops counts the stops that are not of a wall the result lists as left
// out: a row of the survey may be of no known wall.
func (b *book) otherStops() int {
	left := map[[2]string]bool{}
	for _, l := range b.res.Left {
		left[[2]string{l.Plot, l.Wall}] = true
	}
	n := 0
	for _, f := range b.flags {
		if f.Severity == engine.Stop && !left[[2]string{f.Plot, f.Wall}] {
			n++
		}
	}
	return n
}

// lackingLines says what the order leaves out and, as far as it is known, how
// much that is. It is no part of the firm order.
func (b *book) lackingLines() []string {
	said := b.lacking()
	if said == "" {
		return nil
	}
	out := []string{said + "."}
	for _, l := range b.res.Left {
		s := "Not in the order: " + strings.TrimSpace(l.Plot+" "+l.Wall)
		if l.Quantity > 1 {
			s += fmt.Sprintf(" (%d of them)", l.Quantity)
		}
		s += ": " + l.Why + "."
		if l.Boards > 0 {
			s += fmt.Sprintf(" Provisional, by area: %.1f m2, about %.0f boards.", l.NetArea, math.Ceil(l.Boards))
		}
		out = append(out, s)
	}
	return out
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
