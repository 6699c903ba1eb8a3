package batch

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/sync/errgroup"

	"lapwright/convert"
	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/natural"
	"lapwright/engine/quantity"
)

// MergedOrder is what merging orders came to.
type MergedOrder struct {
	report.OrderBook
	Saved   convert.Saved // the workbook
	Exports []string      // written beside it
	Earlier []string      // beside it and of an earlier run
	Twice   []string      // what it counts twice, as asked, in words
	Beside  []string      // what is out of date, and what is not named and may count, in words
	Plain   bool          // a UBL order names no electronic addresses
}

// Order merges the orders of takeoff workbooks, as their readers have left
// spare, packs and prices, into one workbook, and writes it in further forms
// where o asks for them. Of o, Out, Version and Export count. What two of them
// count both is an error, unless it is to count twice.
func Order(ctx context.Context, takeoffs []string, twice bool, o convert.Options) (m MergedOrder, err error) {
	sources := make([]source, len(takeoffs))
	group, inner := errgroup.WithContext(ctx)
	group.SetLimit(4)
	for i, path := range takeoffs {
		group.Go(func() (err error) {
			sources[i], err = readOrder(inner, path)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return m, err
	}
	shared := sharedBy(sources)
	if len(shared) > 0 && !twice {
		return m, refuseTwice(shared)
	}
	for _, s := range shared {
		m.Twice = append(m.Twice, s.words())
	}
	m.Beside = append(outdated(sources), unnamed(sources)...)
	if m.OrderBook, err = orderBook(sources); err != nil {
		return m, err
	}
	m.Version = o.Version
	e := export(m.OrderBook, sources, o)
	if err := e.Check(sources[0].name); err != nil {
		return m, err
	}
	if m.Saved, err = convert.SaveOrder(o.Out, func(w io.Writer) error { return report.WriteOrder(ctx, w, m.OrderBook) }); err != nil {
		return m, err
	}
	m.Plain = e.Order.Plain()
	m.Earlier = e.Earlier(m.Saved.Name)
	m.Exports, err = e.Write(m.Saved.Name)
	return m, err
}

// export returns a merged order in the forms asked for. What heads the orders
// stands where they agree.
func export(b report.OrderBook, sources []source, o convert.Options) convert.Export {
	order := exchange.Order{Currency: b.Currency, Lacks: strings.Join(b.Lacks, "; ")}
	for _, l := range b.Lines {
		l.Order, l.Packs, l.Amount = bought(l.Net, l.Spare, l.Pack, l.Price)
		order.Lines = append(order.Lines, l.OrderLine)
	}
	order.Parties, order.Site = headOf(sources)
	return convert.Export{
		Formats: o.Export, Order: order,
		Tables: func() ([]report.Table, error) { return report.OrderTables(b) },
		JSON: func(w io.Writer) error {
			return exchange.OrderJSON(w, order, strings.TrimSpace("lapwright "+o.Version))
		},
	}
}

func orderBook(sources []source) (report.OrderBook, error) {
	var b report.OrderBook
	lines, err := merge(sources)
	if err != nil {
		return b, err
	}
	b.Lines = lines
	for _, s := range sources {
		b.Currency = s.currency
		b.Takeoffs = append(b.Takeoffs, s.name)
		b.Held = append(b.Held, s.held...)
		for _, l := range s.lacks {
			b.Lacks = append(b.Lacks, s.name+": "+l)
		}
	}
	slices.SortFunc(b.Takeoffs, natural.Compare) // Drop 2 before Drop 10, whatever the shell does
	return b, nil
}

// readOrder reads the order summary of a takeoff workbook.
func readOrder(ctx context.Context, path string) (source, error) {
	s := source{name: filepath.ToSlash(path)}
	if err := noFolder(path); err != nil {
		return s, err
	}
	b, err := book.Open(ctx, path)
	if err != nil {
		var r *book.Refusal
		if errors.As(err, &r) {
			kind := convert.Unusable
			if r.Missing {
				kind = convert.Missing
			}
			return s, &convert.Error{Kind: kind, Path: path, What: r.What, Do: r.Do, Err: err}
		}
		return s, err
	}
	s.held = report.ReadHeld(b.Text(report.HeldName))
	s.merged = b.Text(report.RunName) == ""
	for _, sheet := range b.Sheets {
		if sheet.Name != "Order summary" {
			continue
		}
		if is, err := s.read(sheet); is || err != nil {
			return s, err
		}
	}
	return s, &convert.Error{Kind: convert.Unusable, Path: path, What: "has no order: it is no takeoff workbook", Do: "Name takeoffs that this program wrote"}
}

// noFolder refuses a folder and says what to name in its place.
func noFolder(path string) error {
	files, err := os.ReadDir(path)
	if err != nil {
		return nil // a file, or nothing
	}
	e := &convert.Error{Kind: convert.Unusable, Path: path, What: "is a folder without takeoffs", Do: "Make them first, with lapwright takeoff, and name them"}
	if slices.ContainsFunc(files, func(f os.DirEntry) bool { return strings.HasSuffix(f.Name(), suffix) }) {
		e.What, e.Do = "is a folder", "Name the takeoffs in it, as "+filepath.Join(path, "*"+suffix)
	}
	return e
}

// read takes the lines of an order's sheet, what it lacks, and its currency. It
// reports whether the sheet is one; what a reader has typed where a number must
// stand is an error.
func (s *source) read(sheet *book.Sheet) (is bool, err error) {
	if len(sheet.Rows) == 0 {
		return false, nil
	}
	cols := map[string]int{}
	for _, c := range sheet.Rows[0].Cells {
		cols[c.Text] = c.Col
	}
	for _, h := range []string{"Drop", "Role", "Code", "Net quantity", "Spare %", "Pack", "Unit price"} {
		if cols[h] == 0 {
			return false, nil
		}
	}
	s.currency, s.head = "GBP", map[string]string{}
	for i := range sheet.Rows[1:] {
		row := &sheet.Rows[i+1]
		text := func(h string) string { return row.At(cols[h]).Text }
		first := row.At(1).Text
		if currency, ok := strings.CutPrefix(first, "Total "); ok && text("Role") == "" {
			s.currency = currency
			s.foot(sheet.Rows[i+2:])
			return true, nil
		}
		if text("Role") != "" || text("Net quantity") != "" { // a line of the reader's own may have no role
			l, wrong := lineOf(text)
			if wrong != "" {
				return true, &convert.Error{Kind: convert.Unusable, Path: s.name, What: fmt.Sprintf("has %q for %s in row %d of its order", text(wrong), wrong, row.Number), Do: "Type a number there, or leave it blank"}
			}
			s.lines = append(s.lines, l)
		}
	}
	return true, nil
}

// headOf returns what heads a merged order: what all that say it agree on. An
// order without a number gets one that follows from its lines.
func headOf(sources []source) (parties engine.OrderParties, site string) {
	agreed := func(word string) string {
		text := ""
		for _, s := range sources {
			switch said := s.head[word]; {
			case said == "" || said == text:
			case text != "":
				return ""
			default:
				text = said
			}
		}
		return text
	}
	parties = engine.OrderParties{Number: agreed(report.OrderNumber), IssueDate: agreed(report.OrderDate), Buyer: agreed(report.OrderBuyer), Seller: agreed(report.OrderSeller)}
	if parties.Number == "" {
		sum := sha256.New()
		for _, s := range sources {
			fmt.Fprintf(sum, "%q %v\n", s.name, s.lines)
		}
		parties.Number = "lapwright-" + hex.EncodeToString(sum.Sum(nil))[:12]
	}
	return parties, agreed(report.OrderSite)
}

// foot reads what stands below the total: of what the order lacks, and what
// heads it.
func (s *source) foot(rows []book.Row) {
	for i := range rows {
		text := rows[i].At(1).Text
		switch text {
		case report.OrderNumber, report.OrderDate, report.OrderBuyer, report.OrderSeller, report.OrderSite:
			s.head[text] = rows[i].At(report.OrderValueColumn).Text
		}
		if after, ok := strings.CutPrefix(text, "ORDER INCOMPLETE: "); ok {
			s.lacks = append(s.lacks, strings.TrimSuffix(after, "."))
		}
	}
}

// lineOf reads a line of an order; wrong names what ought to be a number and is
// none. A blank is 0.
func lineOf(text func(string) string) (l exchange.OrderLine, wrong string) {
	number := func(h string) float64 {
		typed := strings.TrimSpace(text(h))
		v, err := strconv.ParseFloat(strings.ReplaceAll(cmp.Or(typed, "0"), ",", "."), 64)
		if err != nil || v < 0 || math.IsInf(v, 0) || math.IsNaN(v) {
			wrong = h
		}
		return v
	}
	l = exchange.OrderLine{
		Drop: text("Drop"), Role: text("Role"), Code: text("Code"), Description: text("Description"), Colour: text("Colour"), Unit: text("Unit"),
		Net: number("Net quantity"), Spare: number("Spare %"), Pack: number("Pack"), Price: number("Unit price"), Weight: number("Unit weight kg"),
	}
	l.UnitCode = exchange.UnitCode(l.Unit)
	l.Order, l.Packs, l.Amount = bought(l.Net, l.Spare, l.Pack, l.Price)
	return l, wrong
}

// bought is what a line of an order comes to.
func bought(net, spare, pack, price float64) (order, packs, amount float64) {
	order = quantity.Order(net, spare)
	packs = quantity.Packs(order, pack)
	return order, packs, quantity.Amount(packs, pack, price)
}
