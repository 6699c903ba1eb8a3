package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/engine/measure"
)

// cell is what stands in one cell: a value, and a formula where it is live.
// The value of a formula is what the formula gives now, for readers that do
// not compute.
type cell struct {
	v any // string, int, float64 or nil
	f string
	l look
}

func text(s string) cell { return cell{v: orNil(s), l: plain} }
func long(s string) cell { return cell{v: orNil(s), l: wrapped} }
func count(n int) cell   { return cell{v: n, l: whole} }

// fine is for what only a check reads: in smaller letters.
func fine(s string) cell { return cell{v: orNil(s), l: small} }

// orNil keeps an empty text from becoming a cell that is not blank.
func orNil(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// mm shows a length in millimetres, to the tenth where a slope made one.
func mm(l measure.Length) cell { return decimal(l.Shown()) }

// decimal shows a whole number as such, any other with one decimal.
func decimal(v float64) cell {
	if v == math.Trunc(v) {
		return cell{v: v, l: whole}
	}
	return cell{v: v, l: tenth}
}

// quantity shows a whole number as such, any other with two decimals.
func quantity(v float64) cell {
	if v == math.Trunc(v) {
		return cell{v: v, l: grouped}
	}
	return cell{v: math.Round(v*1e6) / 1e6, l: hundreds}
}

func money(v float64) cell { return cell{v: v, l: hundreds} }

// optional leaves a cell blank where the number is zero, which there means
// not known.
func optional(v float64) cell {
	if v == 0 {
		return cell{}
	}
	return quantity(v)
}

// given shows a number unless it is zero, which there means not given.
func given(v float64, l look) cell {
	if v == 0 {
		return cell{}
	}
	return cell{v: v, l: l}
}

func live(formula string, v any, l look) cell { return cell{v: v, f: formula, l: l} }

// column describes one column of a table: the header, the width in
// characters, and what stands in the sheet's row at.
type column[T any] struct {
	header string
	width  float64
	of     func(r T, at int) cell
}

// table is a sheet with headers in row 1 and a row below for each of rows.
type table[T any] struct {
	sheet   string
	name    string // of the table, a single word
	columns []column[T]
	rows    []T
	breaks  int                 // row that begins a new printed page, 0: none
	foot    func(p *page) error // writes what stands below the table
	before  func() error        // pictures, links and the like, ahead of the end
}

// write writes the sheet whole.
func (t table[T]) write(b *book) error {
	p, err := b.newPage(t.sheet, layout{headerRow: true})
	if err != nil {
		return err
	}
	widths := make([]float64, len(t.columns))
	for i, c := range t.columns {
		widths[i] = c.width
	}
	if err := p.setWidths(widths); err != nil {
		return err
	}
	if err := t.writeRows(p); err != nil {
		return err
	}
	last, _ := excelize.CoordinatesToCellName(len(t.columns), max(len(t.rows), 1)+1)
	if err := p.table(t.name, "A1:"+last); err != nil {
		return err
	}
	if t.foot != nil {
		p.row = max(len(t.rows), 1) + 1
		if err := t.foot(p); err != nil {
			return err
		}
	}
	if t.before != nil {
		if err := t.before(); err != nil {
			return err
		}
	}
	return p.sw.Flush()
}

func (t table[T]) writeRows(p *page) error {
	heads := make([]cell, len(t.columns))
	for i, c := range t.columns {
		heads[i] = head(c, t.rows)
	}
	if err := p.put(heads...); err != nil {
		return err
	}
	cells := make([]cell, len(t.columns))
	for _, r := range t.rows {
		if p.row+1 == t.breaks {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		for i, c := range t.columns {
			cells[i] = ruled(c.of(r, p.row+1))
		}
		if err := p.put(cells...); err != nil {
			return err
		}
	}
	return nil
}

// ruled gives a blank cell the rule under its row.
func ruled(c cell) cell {
	if c == (cell{}) {
		return cell{l: blank}
	}
	return c
}

// head is a column's header, on the side its values stand on.
func head[T any](c column[T], rows []T) cell {
	for i, r := range rows {
		if i == 40 {
			break
		}
		switch c.of(r, i+2).v.(type) {
		case int, float64:
			return cell{v: c.header, l: headerRight}
		case string:
			return cell{v: c.header, l: header}
		}
	}
	return cell{v: c.header, l: header}
}

// letter returns the letters of the column with that header.
func (t table[T]) letter(header string) string {
	for i, c := range t.columns {
		if c.header == header {
			name, _ := excelize.ColumnNumberToName(i + 1)
			return name
		}
	}
	panic("no column " + header + " in " + t.name)
}

// page is a sheet being streamed, row by row.
type page struct {
	b     *book
	sw    *excelize.StreamWriter
	sheet string
	row   int       // the last row written
	wide  []float64 // of the columns, in characters
	room  float64   // points that go on one printed page, 0: not counted
	used  float64   // points written since the page began
	vals  []any
}

func (p *page) setWidths(widths []float64) error {
	p.wide = widths
	for i, w := range widths {
		if err := p.sw.SetColWidth(i+1, i+1, w); err != nil {
			return err
		}
	}
	return nil
}

// put writes the next row, as high as its wrapped texts need.
func (p *page) put(cells ...cell) error {
	p.row++
	p.vals = p.vals[:0]
	for _, c := range cells {
		v, err := p.value(c)
		if err != nil {
			return err
		}
		p.vals = append(p.vals, v)
	}
	height := fitted(cells, p.wide)
	p.used += max(height, lineHeight)
	return p.sw.SetRow(fmt.Sprintf("A%d", p.row), p.vals, excelize.RowOpts{Height: height})
}

// lineHeight is about what a spreadsheet makes a row of one line, in points.
const lineHeight = 13.5

// space writes rows without cells.
func (p *page) space(rows int, points float64) error {
	for range rows {
		p.row++
		if err := p.sw.SetRow(fmt.Sprintf("A%d", p.row), nil, excelize.RowOpts{Height: points}); err != nil {
			return err
		}
	}
	p.used += float64(rows) * points
	return nil
}

// keep begins a new printed page unless so many points still go on this one.
func (p *page) keep(points float64) error {
	if p.used == 0 || p.used+points <= p.room {
		return nil
	}
	return p.breakPage()
}

// breakPage begins a new printed page below the last row.
func (p *page) breakPage() error {
	p.used = 0
	return p.sw.InsertPageBreak(fmt.Sprintf("A%d", p.row+1))
}

// together writes rows on one page if one page holds them.
func (p *page) together(rows [][]cell) error {
	if err := p.keep(lineHeight * float64(len(rows))); err != nil {
		return err
	}
	for _, r := range rows {
		if err := p.put(r...); err != nil {
			return err
		}
	}
	return nil
}

// value turns a cell into what the stream writer takes. A text goes in as a
// text whatever it begins with; only f is ever a formula.
func (p *page) value(c cell) (any, error) {
	if c == (cell{}) {
		return nil, nil
	}
	id, err := p.b.style(c.l)
	if err != nil {
		return nil, err
	}
	return excelize.Cell{StyleID: id, Formula: c.f, Value: c.v}, nil
}

// table marks a range as a table.
func (p *page) table(name, area string) error {
	err := p.sw.AddTable(&excelize.Table{Range: area, Name: "lw_" + name, StyleName: "TableStyleLight1"})
	if err == nil && p.b.in.Accessible {
		p.b.dropFilters()
	}
	return err
}

// dropFilters takes the filter buttons off the tables written so far.
func (b *book) dropFilters() {
	b.file.Pkg.Range(func(k, v any) bool {
		if name := k.(string); strings.HasPrefix(name, "xl/tables/") {
			b.file.Pkg.Store(name, withoutElement(v.([]byte), "autoFilter"))
		}
		return true
	})
}
