package batch

import (
	"context"
	"errors"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/sync/errgroup"

	"lapwright/convert"
	"lapwright/convert/report"
	"lapwright/convert/survey/book"
)

// Order merges the orders of takeoff workbooks, as their readers have left
// spare, packs and prices, into one workbook, and returns its name.
func Order(ctx context.Context, takeoffs []string, out, version string) (string, report.OrderBook, error) {
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
		return "", report.OrderBook{}, err
	}
	b, err := orderBook(sources)
	if err != nil {
		return "", b, err
	}
	b.Version = version
	name, err := convert.Save(out, func(w io.Writer) error { return report.WriteOrder(ctx, w, b) })
	return name, b, err
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
		for _, l := range s.lacks {
			b.Lacks = append(b.Lacks, s.name+": "+l)
		}
	}
	return b, nil
}

// readOrder reads the order summary of a takeoff workbook.
func readOrder(ctx context.Context, path string) (source, error) {
	s := source{name: filepath.ToSlash(path)}
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
	for _, sheet := range b.Sheets {
		if sheet.Name == "Order summary" && s.read(sheet) {
			return s, nil
		}
	}
	return s, &convert.Error{Kind: convert.Unusable, Path: path, What: "has no order: it is no takeoff workbook", Do: "Name takeoffs that this program wrote"}
}

// read takes the lines of an order's sheet, what it lacks, and its currency.
func (s *source) read(sheet *book.Sheet) bool {
	if len(sheet.Rows) == 0 {
		return false
	}
	cols := map[string]int{}
	for _, c := range sheet.Rows[0].Cells {
		cols[c.Text] = c.Col
	}
	for _, h := range []string{"Drop", "Role", "Code", "Net quantity", "Spare %", "Pack", "Unit price"} {
		if cols[h] == 0 {
			return false
		}
	}
	s.currency = "GBP"
	for i := range sheet.Rows[1:] {
		row := &sheet.Rows[i+1]
		text := func(h string) string { return row.At(cols[h]).Text }
		first := row.At(1).Text
		if currency, ok := strings.CutPrefix(first, "Total "); ok && text("Role") == "" {
			s.currency = currency
			s.foot(sheet.Rows[i+2:])
			return true
		}
		if text("Role") != "" {
			s.lines = append(s.lines, lineOf(text))
		}
	}
	return true
}

// foot reads what stands below the total of what the order lacks.
func (s *source) foot(rows []book.Row) {
	for i := range rows {
		text := rows[i].At(1).Text
		if after, ok := strings.CutPrefix(text, "ORDER INCOMPLETE: "); ok {
			s.lacks = append(s.lacks, strings.TrimSuffix(after, "."))
		}
	}
}

func lineOf(text func(string) string) convert.OrderLine {
	number := func(h string) float64 {
		v, _ := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text(h)), ",", "."), 64) // blank is 0
		return v
	}
	return convert.OrderLine{
		Drop: text("Drop"), Role: text("Role"), Code: text("Code"), Description: text("Description"), Colour: text("Colour"), Unit: text("Unit"),
		Net: number("Net quantity"), Spare: number("Spare %"), Pack: number("Pack"), Price: number("Unit price"), Weight: number("Unit weight kg"),
	}
}
