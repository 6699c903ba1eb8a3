package report

import "lapwright/engine"

type battenRow = ofWall[engine.Batten]

func (b *book) writeBattens(sheet string) error {
	return table[battenRow]{
		sheet: sheet, name: "Battens", many: b.tableRows("Battens"),
		each: rowsOf(b, func(c engine.Counts) int { return c.Battens }, func(i int) (*engine.WallResult, []engine.Batten) {
			w := b.res.Lists(i)
			return w, w.Battens
		}),
		columns: append(append(plotAndWall[engine.Batten](b), battenColumns()...),
			column[battenRow]{"Stock board", 14, func(r battenRow, _ int) cell { return text(r.r.Stock) }}),
	}.write(b)
}

// battenColumns are the columns of a batten.
func battenColumns() []column[battenRow] {
	return []column[battenRow]{
		{"Batten", 10, func(r battenRow, _ int) cell { return text(r.r.Mark) }},
		{"Centre mm", 11, func(r battenRow, _ int) cell { return mm(r.r.Centre) }},
		{"Width mm", 10, func(r battenRow, _ int) cell { return mm(r.r.Width) }},
		{"From mm", 10, func(r battenRow, _ int) cell { return mm(r.r.Z.Lo) }},
		{"To mm", 10, func(r battenRow, _ int) cell { return mm(r.r.Z.Hi) }},
		{"Why", 14, func(r battenRow, _ int) cell { return text(r.r.Why) }},
		{"Code", 14, func(r battenRow, _ int) cell { return text(r.r.Code) }},
		{"Quantity", 10, func(r battenRow, _ int) cell { return count(r.w.Quantity) }},
	}
}
