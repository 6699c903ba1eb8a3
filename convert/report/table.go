package report

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// column describes one column of a table: the header, the width in
// characters, and what stands in the sheet's row at.
type column[T any] struct {
	header string
	width  float64 // 0: hidden
	of     func(r T, at int) cell
}

// table is a sheet with headers in row 1 and a row below for each of rows.
type table[T any] struct {
	sheet   string
	name    string // of the table, a single word
	columns []column[T]
	rows    []T
	many    int                            // in place of rows: so many, made as they are written
	each    func(from, to int) iter.Seq[T] // those from one number up to another
	breaks  int                            // row that begins a new printed page, 0: none
	foot    func(p *page) error            // writes what stands below the table
	before  func() error                   // pictures, links and the like, ahead of the end
}

// count returns how many rows the table has.
func (t table[T]) count() int { return len(t.rows) + t.many }

// some goes through the rows from one number up to another.
func (t table[T]) some(from, to int) iter.Seq[T] {
	if t.each != nil {
		return t.each(from, to)
	}
	return slices.Values(t.rows[from:to])
}

// write writes the sheet whole.
func (t table[T]) write(b *book) error {
	if b.tables != nil {
		b.tables = append(b.tables, t.values())
		return nil
	}
	last, from, to := true, 0, t.count()
	if slices.Contains(growing(), strings.ReplaceAll(t.name, "_", " ")) {
		from, to = b.part(t.count())
		last = to == t.count()
	}
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
	if err := t.writeRows(p, from, to); err != nil {
		return err
	}
	if t.breaks == 0 {
		if err := p.compact(); err != nil {
			return err
		}
	}
	corner, _ := excelize.CoordinatesToCellName(len(t.columns), max(to-from, 1)+1)
	if err := p.table(strings.ReplaceAll(continuedName(t.name, b.in.part), " ", "_"), "A1:"+corner); err != nil {
		return err
	}
	if t.foot != nil && last {
		p.row = max(to-from, 1) + 1
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

func (t table[T]) writeRows(p *page, from, to int) error {
	heads := make([]cell, len(t.columns))
	for i, c := range t.columns {
		heads[i] = head(c, t.some(from, to))
	}
	if err := p.put(heads...); err != nil {
		return err
	}
	p.header = p.used
	cells := make([]cell, len(t.columns))
	for r := range t.some(from, to) {
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
func head[T any](c column[T], rows iter.Seq[T]) cell {
	at := 1
	for r := range rows {
		if at++; at > 41 {
			break
		}
		switch c.of(r, at).v.(type) {
		case int, float64:
			return cell{v: c.header, l: headerRight}
		case string:
			return cell{v: c.header, l: header}
		}
	}
	return cell{v: c.header, l: header}
}

// link links the cells of a column on the sheet being written, at most so many, to
// the places of their rows, where one is not blank. Links are places, not formulas:
// a sheet's name comes from the survey and goes into no formula.
func (t table[T]) link(b *book, header string, most int, place func(T) string) error {
	col := t.letter(header)
	from, to := b.part(len(t.rows))
	for i, r := range t.rows[from:min(to, from+most)] {
		if at := place(r); at != "" {
			if err := b.file.SetCellHyperLink(t.sheet, fmt.Sprintf("%s%d", col, i+2), at, "Location"); err != nil {
				return err
			}
		}
	}
	return nil
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
