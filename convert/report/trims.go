package report

import (
	"lapwright/engine"
	"lapwright/engine/measure"
)

type trimRow = ofWall[engine.Trim]

func (b *book) writeTrims(sheet string) error {
	return table[trimRow]{
		sheet: sheet, name: "Trims", many: b.tableRows("Trims"),
		each: rowsOf(b, func(c engine.Counts) int { return c.Trims }, func(i int) (*engine.WallResult, []engine.Trim) {
			w := b.res.Lists(i)
			return w, w.Trims
		}),
		columns: append(append(plotAndWall[engine.Trim](b), trimColumns()...),
			column[trimRow]{"Stock board", 14, func(r trimRow, _ int) cell { return text(r.r.Stock) }},
			column[trimRow]{"From left mm", 10, func(r trimRow, _ int) cell { return mm(trimStart(r.r).X) }},
			column[trimRow]{"Bottom mm", 10, func(r trimRow, _ int) cell { return mm(trimStart(r.r).Z) }}),
	}.write(b)
}

// trimColumns are the columns of a trim.
func trimColumns() []column[trimRow] {
	return []column[trimRow]{
		{"Mark", 10, func(r trimRow, _ int) cell { return text(r.r.Mark) }},
		{"Role", 18, func(r trimRow, _ int) cell { return text(r.r.Role) }},
		{"Code", 14, func(r trimRow, _ int) cell { return text(r.r.Code) }},
		{"Colour", 14, func(r trimRow, _ int) cell { return text(r.r.Colour) }},
		{"Where", 26, func(r trimRow, _ int) cell { return long(r.r.Where) }},
		{"Length mm", 11, func(r trimRow, _ int) cell { return mm(r.r.Length) }},
		{"Quantity", 10, func(r trimRow, _ int) cell { return count(r.r.Quantity) }},
	}
}

// trimStart is the least x and z of a trim.
func trimStart(t *engine.Trim) measure.Point {
	return measure.Point{X: min(t.From.X, t.To.X), Z: min(t.From.Z, t.To.Z)}
}
