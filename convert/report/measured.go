package report

import "lapwright/engine"

type measuredRow = engine.Measured

func (b *book) writeMeasured(sheet string) error {
	return table[measuredRow]{
		sheet: sheet, name: "Measured_quantities", rows: b.res.Measured,
		columns: []column[measuredRow]{
			{"Plot", b.nameWidths().plot, func(r measuredRow, _ int) cell { return text(r.Plot) }},
			{"Item", 50, func(r measuredRow, _ int) cell { return long(r.Item) }},
			{"Unit", 8, func(r measuredRow, _ int) cell { return text(r.Unit) }},
			{"Quantity", 12, func(r measuredRow, _ int) cell { return quantity(r.Quantity) }},
			{"Note", 56, func(r measuredRow, _ int) cell { return long(r.Note) }},
		},
	}.write(b)
}
