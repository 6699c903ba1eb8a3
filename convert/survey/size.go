package survey

import (
	"slices"
	"strings"

	"lapwright/convert/survey/book"
)

// sizeColumn takes a column that gives width and height in one cell, as
// "1200 x 1050": schedules of windows often do. It serves tables that have no
// columns of their own for them.
func (r *reader) sizeColumn(t *table, col int, header string) bool {
	width, height := t.schema.Field("Width mm"), t.schema.Field("Height mm")
	u, ok := r.sizeHeader(header)
	if !ok || width == nil || height == nil || t.find("Width mm") != nil || t.find("Height mm") != nil {
		return false
	}
	t.columns = append(t.columns, column{col, width, u, 1}, column{col, height, u, 2})
	r.untidy = true
	return true
}

// sizeHeader recognises the header of such a column.
func (r *reader) sizeHeader(header string) (unit, bool) {
	base, u, _ := r.splitUnit(header)
	names := []string{"size", "sizes", "sizewxh", "wxh", "widthxheight", "dimensions", "openingsize", "windowsize", "overallsize", "structuralopening", "sosize", "sizewidthxheight", "wallsize"}
	return u, slices.Contains(names, fold(base)) || slices.Contains(names, fold(header))
}

// cell returns what a column reads of a row: the cell, or a part of the size
// in it. A unit behind the height counts for both.
func (c *column) cell(row *book.Row) book.Cell {
	cell := row.At(c.col)
	if c.part == 0 || cell.Kind != book.Text {
		return cell
	}
	w, h, ok := cutSize(cell.Text)
	if !ok {
		return cell
	}
	cell.Text = h
	if c.part == 1 {
		cell.Text = w
		if _, unit := splitDigits(tidy(h)); strings.Trim(w, "0123456789., ") == "" {
			cell.Text += unit
		}
	}
	return cell
}

// times are the marks between a width and a height.
var times = strings.NewReplacer("×", "x", "X", "x", "*", "x", " by ", "x")

func cutSize(text string) (w, h string, ok bool) {
	return strings.Cut(times.Replace(text), "x")
}

// noSize is what is wrong with a cell that should give a width and a height
// and holds one number or none.
func (c *column) noSize(row *book.Row) (finding, bool) {
	cell := row.At(c.col)
	if c.part == 0 || cell.Kind == book.Blank || cell.Kind == book.Text && tidy(cell.Text) == "" {
		return finding{}, false
	}
	if _, _, ok := cutSize(cell.Text); ok && cell.Kind == book.Text {
		return finding{}, false
	}
	return finding{stop, "type-error", "The cell does not give a width and a height", "Write both with x between, as 1200 x 1050"}, true
}
