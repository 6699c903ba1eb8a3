package book

import (
	"slices"
	"strconv"
)

// Turn returns the sheet with its columns for rows. Addresses stay those of
// the sheet as it is.
func (s *Sheet) Turn() *Sheet {
	out := &Sheet{File: s.File, Name: s.Name, Hidden: s.Hidden, Turned: !s.Turned}
	byCol := map[int][]Cell{}
	var cols []int
	for i := range s.Rows {
		for _, c := range s.Rows[i].Cells {
			if byCol[c.Col] == nil {
				cols = append(cols, c.Col)
			}
			at := c.Col
			c.Col = s.Rows[i].Number
			byCol[at] = append(byCol[at], c)
		}
	}
	slices.Sort(cols)
	for _, col := range cols {
		out.Rows = append(out.Rows, Row{Number: col, Hidden: s.HidesColumn(col), Cells: byCol[col]})
	}
	for _, m := range s.Merged {
		out.Merged = append(out.Merged, Range{m.Col1, m.Row1, m.Col2, m.Row2})
	}
	return out
}

// Address returns the name of the cell at a column and row of Rows.
func (s *Sheet) Address(col, row int) string {
	if s.Turned {
		col, row = row, col
	}
	return Address(col, row)
}

// ColumnName returns what a column of Rows is called: its letters, or the
// number of the row that it is in a turned sheet.
func (s *Sheet) ColumnName(col int) string {
	if s.Turned {
		return strconv.Itoa(col)
	}
	return Column(col)
}

// RowName returns what a row of Rows is called.
func (s *Sheet) RowName(row int) string {
	if s.Turned {
		return Column(row)
	}
	return strconv.Itoa(row)
}
