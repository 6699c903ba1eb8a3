package report

import (
	"context"
	"fmt"
	"io"
	"slices"

	"lapwright/engine"
)

// OrderBook is the merged order of several takeoffs, with the list of a batch
// where it is one's.
type OrderBook struct {
	Version  string // of the program
	Currency string
	Lines    []OrderLine
	Takeoffs []string   // the takeoffs, where there is no list
	Held     []Held     // what all of them count
	Lacks    []string   // what the order leaves out, in words
	List     []BatchRow // nil: the order alone
}

// OrderLine is a line of a merged order.
type OrderLine struct {
	engine.OrderLine
	Takeoffs int    // how many have it
	Remark   string // where they disagree
}

// BatchRow is one survey of a batch.
type BatchRow struct {
	File, Takeoff, Result string
	Walls, Built, Left    int
	NetArea               float64 // m2
	Boards, Bound         int
	Waste                 float64 // per cent
	Amount                float64
	Currency              string
	Stops, Checks, Notes  int
	Codes, Effort         string
	Digest, Wrong         string
	Kept                  string // a file the takeoff went beside, and why
}

// WriteOrder writes a merged order as a workbook whose order follows its
// inputs. Equal inputs give equal bytes.
func WriteOrder(ctx context.Context, w io.Writer, in OrderBook) (err error) {
	b, err := in.open()
	if err != nil {
		return err
	}
	defer func() {
		if e := b.file.Close(); err == nil {
			err = e
		}
	}()
	sheets := in.sheets()
	if err := b.reserveOrder(sheets); err != nil {
		return err
	}
	if err := b.keepHeld(in.Held); err != nil {
		return err
	}
	return b.finish(ctx, w, sheets)
}

// open begins the workbook.
func (in OrderBook) open() (*book, error) {
	res := &engine.Result{Job: &engine.Job{Name: "merged order", Currency: in.Currency}}
	for _, l := range in.Lines {
		l.Issued = engine.Inputs{Spare: l.Spare, Pack: l.Pack, Price: l.Price}
		res.Order = append(res.Order, l.OrderLine)
	}
	return open(Input{Result: res, Version: in.Version})
}

func (in OrderBook) sheets() []planned {
	order := planned{want: "Order summary", write: in.writeOrder}
	if in.List != nil {
		return []planned{{want: "Batch", write: in.writeList}, order}
	}
	return []planned{order, {want: "Takeoffs", write: in.writeTakeoffs}}
}

// reserveOrder makes the sheets empty, in order, before any is streamed.
func (b *book) reserveOrder(sheets []planned) error {
	for i := range sheets {
		s := &sheets[i]
		s.sheet = b.names.take(s.want)
		b.actual[s.want] = s.sheet
		if err := b.newSheet(s.sheet); err != nil {
			return err
		}
		b.own = append(b.own, s.sheet)
	}
	if err := b.file.DeleteSheet("Sheet1"); err != nil {
		return err
	}
	if err := b.activate(sheets[0].sheet); err != nil {
		return err
	}
	b.layOrder()
	return b.signNames()
}

// writeOrder writes the order as a takeoff has it, with two columns more.
func (in OrderBook) writeOrder(b *book, sheet string) error {
	t := b.orderTable(sheet)
	t.columns = append(t.columns,
		column[orderRow]{"Takeoffs", 9, func(_ orderRow, at int) cell { return count(in.Lines[at-2].Takeoffs) }},
		column[orderRow]{"Remark", 40, func(_ orderRow, at int) cell { return long(in.Lines[at-2].Remark) }},
	)
	t.foot = func(p *page) error {
		if err := b.orderFoot(p, t); err != nil {
			return err
		}
		for _, s := range in.Lacks {
			if err := p.put(cell{v: "ORDER INCOMPLETE: " + s + ".", l: lack}); err != nil {
				return err
			}
		}
		return nil
	}
	return t.write(b)
}

func (in OrderBook) writeTakeoffs(b *book, sheet string) error {
	return table[string]{sheet: sheet, name: "Takeoffs", rows: in.Takeoffs, columns: []column[string]{
		{"Takeoff", 80, func(s string, _ int) cell { return long(s) }},
	}}.write(b)
}

func (in OrderBook) writeList(b *book, sheet string) error {
	t := table[BatchRow]{sheet: sheet, name: "Batch", rows: in.List, columns: listColumns()}
	t.foot = func(p *page) error { return in.listFoot(p, t) }
	return t.write(b)
}

func listColumns() []column[BatchRow] {
	return []column[BatchRow]{
		{"File", 34, func(r BatchRow, _ int) cell { return long(r.File) }},
		{"Result", 15, func(r BatchRow, _ int) cell { return resultCell(r.Result) }},
		{"Walls", 8, func(r BatchRow, _ int) cell { return count(r.Walls) }},
		{"Built", 8, func(r BatchRow, _ int) cell { return count(r.Built) }},
		{"Left out", 8, func(r BatchRow, _ int) cell { return count(r.Left) }},
		{"Net m2", 10, func(r BatchRow, _ int) cell { return fixed(r.NetArea, hundreds) }},
		{"Boards", 9, func(r BatchRow, _ int) cell { return count(r.Boards) }},
		{"Bound", 9, func(r BatchRow, _ int) cell {
			if r.byPrice() {
				return cell{}
			}
			return count(r.Bound)
		}},
		{"Waste %", 9, func(r BatchRow, _ int) cell { return fixed(r.Waste, tenth) }},
		{"Amount", 12, func(r BatchRow, _ int) cell { return money(r.Amount) }},
		{"Currency", 10, func(r BatchRow, _ int) cell { return text(r.Currency) }},
		{"Stops", 7, func(r BatchRow, _ int) cell { return count(r.Stops) }},
		{"Checks", 8, func(r BatchRow, _ int) cell { return count(r.Checks) }},
		{"Notes", 7, func(r BatchRow, _ int) cell { return count(r.Notes) }},
		{"Flags", 36, func(r BatchRow, _ int) cell { return text(r.Codes) }},
		{"What is wrong", 40, func(r BatchRow, _ int) cell { return long(r.Wrong) }},
		{"Takeoff", 34, func(r BatchRow, _ int) cell { return text(r.Takeoff) }},
		{"Effort", 10, func(r BatchRow, _ int) cell { return text(r.Effort) }},
		{"Digest", 66, func(r BatchRow, _ int) cell { return text(r.Digest) }},
		{"Kept", 40, func(r BatchRow, _ int) cell { return long(r.Kept) }},
	}
}

// byPrice reports whether lengths were chosen by price, so that a number of
// boards is no measure.
func (r BatchRow) byPrice() bool { return r.Boards > 0 && r.Bound == 0 }

// resultCell makes what was not done stand out, in words and in style.
func resultCell(s string) cell {
	switch s {
	case "done":
		return text(s)
	case "done with stops":
		return cell{v: s, l: checked}
	}
	return cell{v: s, l: stopped}
}

// aboveBounds says how far the boards of a batch are from the bound, in all and
// in the survey that is farthest from it.
func aboveBounds(list []BatchRow) string {
	boards, bound := 0, 0
	var worst BatchRow
	for _, r := range list {
		boards, bound = boards+r.Boards, bound+r.Bound
		if r.Boards-r.Bound > worst.Boards-worst.Bound {
			worst = r
		}
	}
	switch {
	case boards == 0, slices.ContainsFunc(list, BatchRow.byPrice):
		return ""
	case boards == bound:
		return atBound
	}
	return fmt.Sprintf("%s of %d above the bound: thorough effort might save %s. Farthest is %s: %d, of at least %d.",
		plural(boards-bound, "board"), boards, someOf(boards-bound), worst.File, worst.Boards, worst.Bound)
}

// listFoot sums what may be summed. Amounts are of each takeoff by itself, its
// packs rounded; the merged order rounds once and comes to less.
func (in OrderBook) listFoot(p *page, t table[BatchRow]) error {
	p.row++
	out := make([]cell, len(t.columns))
	for i := range out {
		out[i] = cell{l: totalText}
	}
	last := max(len(t.rows), 1) + 1
	out[0].v = fmt.Sprintf("Total of %s", plural(len(in.List), "survey"))
	for i, c := range t.columns {
		of, summed := map[string]func(BatchRow) float64{
			"Walls": func(r BatchRow) float64 { return float64(r.Walls) }, "Built": func(r BatchRow) float64 { return float64(r.Built) },
			"Left out": func(r BatchRow) float64 { return float64(r.Left) }, "Net m2": func(r BatchRow) float64 { return r.NetArea },
			"Boards": func(r BatchRow) float64 { return float64(r.Boards) }, "Bound": func(r BatchRow) float64 { return float64(r.Bound) },
			"Stops": func(r BatchRow) float64 { return float64(r.Stops) }, "Checks": func(r BatchRow) float64 { return float64(r.Checks) },
			"Notes": func(r BatchRow) float64 { return float64(r.Notes) },
		}[c.header]
		if !summed || c.header == "Bound" && slices.ContainsFunc(in.List, BatchRow.byPrice) {
			continue // no sum of bounds is one of all boards
		}
		sum := 0.0
		for _, r := range t.rows {
			sum += of(r)
		}
		letter := t.letter(c.header)
		out[i] = live(fmt.Sprintf("SUM(%s2:%s%d)", letter, letter, last), sum, totalNumber)
	}
	if err := p.put(out...); err != nil {
		return err
	}
	p.row++
	if s := aboveBounds(in.List); s != "" {
		if err := p.put(cell{v: s, l: panel}); err != nil {
			return err
		}
	}
	return p.put(cell{v: "Amounts here are of each takeoff by itself, its packs rounded up. The merged order on the sheet Order summary rounds once.", l: panel})
}
