package report

import (
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

type cutRow = *engine.CutRow

func (b *book) cuttingPlan(sheet string) table[cutRow] {
	return table[cutRow]{sheet: sheet, name: "Cutting_plan", many: b.res.CutCount(), each: b.res.CutRows, columns: b.cutColumns()}
}

func (b *book) writeCutting(sheet string) error { return b.cuttingPlan(sheet).write(b) }

func (b *book) cutColumns() []column[cutRow] {
	return []column[cutRow]{
		{"Board", 9, func(r cutRow, _ int) cell { return text(r.Board) }},
		{"Pool", 10, func(r cutRow, _ int) cell { return text(r.Pool) }},
		{"Code", 15, func(r cutRow, _ int) cell { return text(r.Code) }},
		{"Colour", 12, func(r cutRow, _ int) cell { return text(r.Colour) }},
		{"Stock mm", 9, func(r cutRow, _ int) cell { return mm(r.Stock) }},
		{"Count", 8, func(r cutRow, _ int) cell { return count(r.Count) }},
		{"Cuts", 54, func(r cutRow, _ int) cell { return long(cutsText(r.Cuts)) }},
		{"Offcut mm", 10, func(r cutRow, _ int) cell { return mm(r.Offcut) }},
		{"Shared mm", 10, func(r cutRow, _ int) cell { return mm(r.Shared) }},
		{"From", 10, func(r cutRow, _ int) cell { return text(fromWord(r.OnHand)) }},
		{"Role", 13, func(r cutRow, _ int) cell { return text(r.Role) }},
		{"Pieces", 8, func(r cutRow, _ int) cell { return count(piecesOf(r)) }},
		{"Cut mm", 9, func(r cutRow, _ int) cell { return mm(lengthOf(r)) }},
		{"Shared cuts", 40, func(r cutRow, _ int) cell { return long(r.SharedCuts()) }},
	}
}

func fromWord(onHand bool) string {
	if onHand {
		return "on hand"
	}
	return "new"
}

// cutsText lists the cuts of a board in sawing order.
func cutsText(cuts []engine.Cut) string {
	parts := make([]string, len(cuts))
	for i, c := range cuts {
		parts[i] = strings.Join(c.Marks, "+") + " " + c.Length.Nearest(measure.Tenth).String()
	}
	return strings.Join(parts, "; ")
}

// piecesOf counts the pieces that come from one such board.
func piecesOf(r cutRow) int {
	n := 0
	for _, c := range r.Cuts {
		n += len(c.Marks)
	}
	return n
}

// lengthOf adds up what is cut from one such board.
func lengthOf(r cutRow) measure.Length {
	var sum measure.Length
	for _, c := range r.Cuts {
		sum += c.Length
	}
	return sum
}
