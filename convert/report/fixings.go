package report

import (
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

type fixingRow = ofWall[engine.FixingRow]

func (b *book) writeFixings(sheet string) error {
	return table[fixingRow]{
		sheet: sheet, name: "Fixing_schedule", many: b.tableRows("Fixing schedule"),
		each: rowsOf(b, func(c engine.Counts) int { return c.Fixings }, func(i int) (*engine.WallResult, []engine.FixingRow) {
			w := b.res.Lists(i)
			return w, w.Fixings
		}),
		columns: append(plotAndWall[engine.FixingRow](b), fixingColumns()...),
	}.write(b)
}

func fixingColumns() []column[fixingRow] {
	return []column[fixingRow]{
		{"Zone", 8, func(r fixingRow, _ int) cell { return text(r.r.Zone) }},
		{"Fixing", 14, func(r fixingRow, _ int) cell { return text(r.r.Fixing) }},
		{"Where", 24, func(r fixingRow, _ int) cell { return long(r.r.Where) }},
		{"Centres mm", 10, func(r fixingRow, _ int) cell { return unlessTop(r.r.Centres.Shown()) }},
		{"Count", 9, func(r fixingRow, _ int) cell { return count(r.r.Count) }},
		{"Pre-drilled", 11, func(r fixingRow, _ int) cell { return count(r.r.PreDrilled) }},
		{"Visible", 9, func(r fixingRow, _ int) cell { return count(r.r.Visible) }},
		{"Load N", 10, func(r fixingRow, _ int) cell { return optional(r.r.Load) }},
		{"Resistance N", 13, func(r fixingRow, _ int) cell { return optional(r.r.Resistance) }},
		{"Use %", 9, func(r fixingRow, _ int) cell { return optional(r.r.Use) }},
		{"Basis", 50, func(r fixingRow, _ int) cell { return long(r.r.Basis) }},
		{"Verdict", 14, func(r fixingRow, _ int) cell { return long(r.r.Verdict) }},
		// What a designer needs to check the loads.
		{"Zone from and to mm", 24, func(r fixingRow, _ int) cell { return long(zoneSpans(r.w, r.r.Zone)) }},
		{"Suction Pa", 9, func(r fixingRow, _ int) cell { return optional(zoneOf(r).Suction) }},
		{"Pressure Pa", 10, func(r fixingRow, _ int) cell { return optional(zoneOf(r).Pressure) }},
		{"Packers mm", 10, func(r fixingRow, _ int) cell { return packersOf(r.r.Packers) }},
	}
}

// packersOf says how thick the packers are that a row's fixings go through or pin:
// a number where all are alike, from and to else; blank: none.
func packersOf(s measure.Span) cell {
	switch {
	case s.Hi == 0:
		return cell{}
	case s.Lo == s.Hi:
		return mm(s.Hi)
	}
	return cell{v: s.Lo.String() + " to " + s.Hi.String(), l: rightText}
}

// zoneOf returns the wind zone that a row of the schedule is in; strips of one
// name have the same load.
func zoneOf(r fixingRow) engine.Zone {
	for _, z := range r.w.Zones {
		if z.Name != "" && z.Name == r.r.Zone {
			return z
		}
	}
	return engine.Zone{}
}

// zoneSpans says over which strips of a wall a zone lies, from its left edge.
func zoneSpans(w *engine.WallResult, name string) string {
	var out []string
	for _, z := range w.Zones {
		if z.Name != "" && z.Name == name {
			out = append(out, z.X.Lo.String()+" to "+z.X.Hi.String())
		}
	}
	return strings.Join(out, "; ")
}
