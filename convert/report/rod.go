package report

import (
	"strings"

	"lapwright/engine"
)

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
		{"Note", 50, func(r courseRow, _ int) cell { return long(courseNote(r.r)) }},
	}
}

// unlessTop leaves blank what the top course has not.
func unlessTop(v float64) cell {
	if v == 0 {
		return cell{}
	}
	return decimal(v)
}

// courseNote is what a course's note says. A sill that falls in a lap is no sill
// met: neither edge of a board stands at it, and the board below is notched.
func courseNote(c *engine.Course) string {
	parts := strings.Split(c.Note, "; ")
	for i, p := range parts {
		if rest, is := strings.CutPrefix(p, "sill met in part"); is {
			parts[i] = "sill missed, in the lap" + rest
		}
	}
	return strings.Join(parts, "; ")
}
