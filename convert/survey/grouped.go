package survey

import (
	"lapwright/convert/survey/book"
)

// withGroups reads headers in two rows: a word above that stands over several
// columns, as Wall or Opening over Ref, Width and Height, goes in front of each
// where both together are a header that is known.
func (r *reader) withGroups(t *table, row *book.Row) *book.Row {
	above := rowAt(t.sheet, row.Number-1)
	if above == nil || len(above.Cells) < 2 || len(above.Cells) >= len(row.Cells) || !allText(above) {
		return row
	}
	out := &book.Row{Number: row.Number, Hidden: row.Hidden}
	changed := false
	for _, c := range row.Cells {
		group := ""
		for _, g := range above.Cells {
			if g.Col <= c.Col {
				group = g.Text
			}
		}
		both := tidy(group + " " + c.Text)
		_, wall := r.match(r.index[t.schema.Name], both)
		if _, opening := r.sideField(both); group != "" && c.Kind == book.Text && (wall || opening) {
			c.Text = both
			changed = true
		}
		out.Cells = append(out.Cells, c)
	}
	if !changed {
		return row
	}
	r.untidy = true
	return out
}

func rowAt(s *book.Sheet, number int) *book.Row {
	for i := range s.Rows {
		if s.Rows[i].Number == number {
			return &s.Rows[i]
		}
	}
	return nil
}
