package report

import "lapwright/engine"

type alternativeRow = engine.Alternative

func (b *book) writeAlternatives(sheet string) error {
	return table[alternativeRow]{
		sheet: sheet, name: "Alternatives", rows: b.res.Options,
		columns: []column[alternativeRow]{
			{"Change", 40, func(r alternativeRow, _ int) cell { return long(r.Change) }},
			{"Boards", 10, func(r alternativeRow, _ int) cell { return count(r.Boards) }},
			{"Waste %", 10, func(r alternativeRow, _ int) cell { return fixed(r.Waste, tenth) }},
			{"Least waste %", 10, func(r alternativeRow, _ int) cell { return given(rounded(r.Floor), tenth) }},
			{"Joints", 10, func(r alternativeRow, _ int) cell { return count(r.Joints) }},
			{"Cost", 13, func(r alternativeRow, _ int) cell { return money(r.Cost) }},
			{"In force", 9, func(r alternativeRow, _ int) cell { return text(yes(r.Current)) }},
			{"Note", 44, func(r alternativeRow, _ int) cell { return long(r.Note) }},
		},
	}.write(b)
}

func fixed(v float64, l look) cell { return cell{v: rounded(v), l: l} }

func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}
