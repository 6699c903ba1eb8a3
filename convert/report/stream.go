package report

import (
	"cmp"
	"fmt"
	"strconv"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/lettering"
	surveybook "lapwright/convert/survey/book"
)

// page is a sheet being streamed, row by row.
type page struct {
	b     *book
	sw    *excelize.StreamWriter
	sheet string
	row   int       // the last row written
	wide  []float64 // of the columns, in characters
	room  float64   // points that go on one printed page, 0: not counted
	used  float64   // points written since the page began
	line  float64   // points of a row of one line, 0: lineHeight

	header float64         // points of a table's header row
	cells  []excelize.Cell // of the row, kept from row to row
	vals   []any           // pointers to them
	sum    *surveybook.Contents
}

// setWidths sets how wide the columns are; 0 hides one. The library puts what
// it is told last in front and copies the rest each time: told from the right,
// columns of a width together, they stand in order and take the least work.
func (p *page) setWidths(widths []float64) error {
	p.wide = widths
	for to := len(widths); to > 0; {
		from, w := to, widths[to-1]
		for from > 1 && widths[from-2] == w {
			from--
		}
		if err := p.setWidth(from, to, w); err != nil {
			return err
		}
		to = from - 1
	}
	return nil
}

func (p *page) setWidth(from, to int, w float64) error {
	if w == 0 {
		return p.sw.SetColVisible(from, to, false)
	}
	return p.sw.SetColWidth(from, to, lettering.Stored(w))
}

// put writes the next row, as high as its wrapped texts need.
func (p *page) put(cells ...cell) error {
	p.row++
	if len(p.cells) < len(cells) {
		p.cells = make([]excelize.Cell, len(cells))
	}
	p.vals = p.vals[:0]
	for i := range cells {
		c := &cells[i]
		if *c == (cell{}) {
			p.vals = append(p.vals, nil)
			continue
		}
		id, err := p.b.style(c.l)
		if err != nil {
			return err
		}
		// A text goes in as a text whatever it begins with; only f is ever a formula.
		p.cells[i] = excelize.Cell{StyleID: id, Formula: c.f, Value: c.v}
		p.vals = append(p.vals, &p.cells[i])
		p.addUp(i+1, c)
	}
	height := cmp.Or(fitted(cells, p.wide), p.line)
	p.used += cmp.Or(height, lineHeight)
	return p.sw.SetRow("A"+strconv.Itoa(p.row), p.vals, excelize.RowOpts{Height: height})
}

// lineHeight is the height of a row of one line, in points.
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

// table marks a range as a table.
func (p *page) table(name, area string) error {
	p.b.setTablesAside()
	return p.sw.AddTable(&excelize.Table{Range: area, Name: "lw_" + name, StyleName: "TableStyleLight1"})
}
