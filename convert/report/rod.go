package report

import "lapwright/engine"

func courses(w *engine.WallResult) []engine.Course { return w.Courses }

type courseRow = ofWall[engine.Course]

func (b *book) writeRod(sheet string) error {
	return table[courseRow]{
		sheet: sheet, name: "Storey_rod", rows: allWalls(b, courses),
		columns: append(plotAndWall[engine.Course](b), courseColumns()...),
	}.write(b)
}

// courseColumns are the columns of a course mark.
func courseColumns() []column[courseRow] {
	return []column[courseRow]{
		{"Course", 9, func(r courseRow, _ int) cell { return count(r.r.Number) }},
		{"Bottom mm", 11, func(r courseRow, _ int) cell { return mm(r.r.Bottom) }},
		{"Top mm", 11, func(r courseRow, _ int) cell { return mm(r.r.Top) }},
		{"Gauge mm", 11, func(r courseRow, _ int) cell { return unlessTop(r.r.Gauge.Shown()) }},
		{"Lap mm", 9, func(r courseRow, _ int) cell { return unlessTop(r.r.Lap.Shown()) }},
		{"Note", 50, func(r courseRow, _ int) cell { return long(r.r.Note) }},
	}
}

// unlessTop leaves blank what the top course has not.
func unlessTop(v float64) cell {
	if v == 0 {
		return cell{}
	}
	return decimal(v)
}
