package survey

import (
	"cmp"
	"slices"

	"lapwright/convert/survey/book"
	"lapwright/templates"
)

// headers finds a sheet's headers: the row that holds most of them, put
// together with the row above or below it where headers take two rows; top is
// the number of the first. n is how many are known.
func (r *reader) headers(s *book.Sheet, schema *templates.Sheet) (row *book.Row, top, n int) {
	row, n = r.headerRow(s, schema)
	if row == nil {
		return nil, 0, 0
	}
	for _, pair := range [][2]*book.Row{{rowAt(s, row.Number-1), row}, {row, rowAt(s, row.Number+1)}} {
		if both := r.inTwoRows(s, schema, pair[0], pair[1]); both != nil {
			return both, pair[0].Number, r.countHeaders(s, both, schema)
		}
	}
	return row, row.Number, n
}

// inTwoRows reads headers in two rows: a word above that stands over several
// columns, as Wall or Opening over Ref, Width and Height, goes in front of each
// where both together are a header that is known. A header that stands above
// alone, as over merged cells, counts for its own column. nil: they are not
// headers in two rows.
func (r *reader) inTwoRows(s *book.Sheet, schema *templates.Sheet, above, below *book.Row) *book.Row {
	if above == nil || below == nil || len(above.Cells) < 2 || len(below.Cells) < 2 || !allText(above) || !allText(below) {
		return nil
	}
	if !slices.ContainsFunc(below.Cells, func(c book.Cell) bool { _, is := r.bareUnit(c.Text); return !is }) {
		return nil // a row of units
	}
	out := &book.Row{Number: below.Number, Hidden: below.Hidden}
	changed := false
	for _, c := range below.Cells {
		joined := c
		joined.Text = tidy(groupOver(above, c.Col) + " " + c.Text)
		alone := r.isHeader(s, schema, c.Text)
		switch own := above.At(c.Col); {
		case own.Kind == book.Blank && groupOver(above, c.Col) == "":
		case r.isHeader(s, schema, joined.Text):
			c, changed = joined, true
		case alone:
			changed = changed || own.Kind != book.Blank && !r.isHeader(s, schema, own.Text)
		default:
			return nil // no header below: the rows of the table begin
		}
		out.Cells = append(out.Cells, c)
	}
	for _, c := range above.Cells {
		if below.At(c.Col).Kind == book.Blank && tidy(c.Text) != "" { // an unknown one is flagged like any other
			out.Cells = append(out.Cells, c)
			changed = changed || r.isHeader(s, schema, c.Text)
		}
	}
	if !changed {
		return nil
	}
	slices.SortFunc(out.Cells, func(a, b book.Cell) int { return cmp.Compare(a.Col, b.Col) })
	r.untidy = true
	return out
}

// groupOver returns the text above that stands over a column: in it, or the
// nearest to its left.
func groupOver(above *book.Row, col int) string {
	group := ""
	for _, c := range above.Cells {
		if c.Col <= col {
			group = c.Text
		}
	}
	return group
}

// isHeader reports whether a text is a header of the table, or of an opening
// that stands right of its wall.
func (r *reader) isHeader(s *book.Sheet, schema *templates.Sheet, text string) bool {
	if _, _, ok := r.lookup(s, schema, text); ok {
		return true
	}
	if schema.Name != "Walls" {
		return false
	}
	if name, rest := sideName(text); name != "" {
		text = rest
	}
	_, ok := r.sideField(text)
	return ok
}

func rowAt(s *book.Sheet, number int) *book.Row {
	i, ok := slices.BinarySearchFunc(s.Rows, number, func(r book.Row, n int) int { return cmp.Compare(r.Number, n) })
	if !ok {
		return nil
	}
	return &s.Rows[i]
}
