package survey

import (
	"fmt"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// mergedFills finds which values merged cells give to the rows below their
// first: what is written once and merged down counts for every row.
func (r *reader) mergedFills(t *table) map[int][]book.Cell {
	fills, filled := map[int][]book.Cell{}, 0
	for _, m := range t.sheet.Merged {
		if m.Row2 <= t.header {
			continue
		}
		c, ok := t.sheet.Cell(m.Row1, m.Col1)
		if !ok || m.Row1 <= t.header {
			continue
		}
		if m.Row2 > m.Row1 && t.reads(m.Col1) {
			r.untidy = true
			r.flag(t.sheet, m.Row1, m.Col1, engine.Flag{Severity: note, Code: "merged-cell",
				What: fmt.Sprintf("%s%s to %s are merged here; the value counts for each of them", t.lines("Rows "), t.sheet.RowName(m.Row1), t.sheet.RowName(m.Row2)), Do: "Nothing, if that is right"})
			for n := m.Row1 + 1; n <= m.Row2 && filled < mostFilled; n++ {
				fills[n] = append(fills[n], c)
				filled++
			}
		}
		if m.Col2 > m.Col1 && t.readsBetween(m.Col1, m.Col2) > 1 {
			r.flag(t.sheet, m.Row1, m.Col1, engine.Flag{Severity: check, Code: "merged-cell",
				What: "This cell is merged across several columns; its value counts for the first, the others are blank", Do: "Take the merge apart and fill each cell in"})
		}
	}
	return fills
}

func (t *table) readsBetween(from, to int) int {
	n := 0
	for _, c := range t.columns {
		if c.col >= from && c.col <= to {
			n++
		}
	}
	return n
}
