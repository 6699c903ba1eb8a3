package survey

import (
	"regexp"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// statement matches what a sheet says of its units above the table: "All
// dimensions in metres", "Sizes (cm)", "Units: mm".
var statement = regexp.MustCompile(`(?i)\b(?:dimensions?|dims|sizes?|measurements?|units?|measured)\b[^.;]*?(?:\bin\b|[:(=])\s*(mm|cm|m|millimet(?:re|er)s?|centimet(?:re|er)s?|met(?:re|er)s?|inches|feet|ft)\b`)

// sheetUnits takes the unit of lengths from a statement above the headers, or
// from a row of units under them. It counts for columns that name none.
func (r *reader) sheetUnits(t *table, row *book.Row) {
	for i := range t.sheet.Rows {
		above := &t.sheet.Rows[i]
		if above.Number >= row.Number {
			if above.Number > row.Number {
				r.unitRow(t, above)
				return
			}
			continue
		}
		for _, c := range above.Cells {
			m := statement.FindStringSubmatch(r.plainText(c))
			if m == nil {
				continue
			}
			u, _ := r.unitOf(m[1])
			if n := r.giveUnit(t, func(c *column) (unit, bool) { return u, c.unit.kind == "" }); n > 0 {
				r.flag(t.sheet, above.Number, c.Col, engine.Flag{Severity: note, Code: "unit-stated",
					What: "Lengths whose column names no unit were read in " + u.name + ", as is said here", Do: "Nothing, if that is right"})
			}
		}
	}
}

// giveUnit sets the unit of length columns and returns of how many.
func (r *reader) giveUnit(t *table, of func(*column) (unit, bool)) int {
	n := 0
	for _, part := range append([]*table{t}, t.sides...) {
		for i := range part.columns {
			c := &part.columns[i]
			own, _ := r.unitOf(c.field.Unit)
			if u, ok := of(c); ok && u.kind != "" && u.kind == own.kind {
				c.unit = u
				r.untidy = true
				n++
				r.reportUnit(t, c)
			}
		}
	}
	return n
}

func (r *reader) reportUnit(t *table, c *column) {
	for i := range t.report.Columns {
		if rep := &t.report.Columns[i]; rep.Letters == t.sheet.ColumnName(c.col) {
			rep.Unit = c.unit.name
		}
	}
}

// bareUnit reads a text that is a unit and nothing else, as "(mm)".
func (r *reader) bareUnit(text string) (unit, bool) {
	base, u, ok := r.splitUnit("x " + text)
	return u, ok && base == "x"
}

// unitRow reads a row of units right under the headers, as "(mm)" under each
// length. It is part of the headers.
func (r *reader) unitRow(t *table, row *book.Row) {
	units := map[int]unit{}
	for _, c := range row.Cells {
		u, ok := r.bareUnit(r.plainText(c))
		if text := r.plainText(c); text != "" && text != "-" && !ok {
			return
		}
		if c.Kind != book.Text {
			return
		}
		units[c.Col] = u
	}
	if n := r.giveUnit(t, func(c *column) (unit, bool) { u := units[c.col]; return u, u.kind != "" }); n == 0 {
		return
	}
	t.header, t.report.Header = row.Number, row.Number
	for _, g := range t.sides {
		g.header = row.Number
	}
	r.flag(t.sheet, row.Number, row.Cells[0].Col, engine.Flag{Severity: note, Code: "unit-stated",
		What: "This row holds the units of the columns", Do: "Nothing, if that is right"})
}
