package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine"
)

// flagRow is a flag with the sheet it stood in, where that is in this book.
type flagRow struct {
	engine.Flag
	target string // where its cell is now, blank: not here
}

// bySeverity puts stops first, then checks, then notes, each in their order.
func bySeverity(in []engine.Flag) []engine.Flag {
	out := slices.Clone(in)
	slices.SortStableFunc(out, func(a, b engine.Flag) int { return int(b.Severity) - int(a.Severity) })
	return out
}

// linksMost is the most links one sheet may hold.
const linksMost = 65000

func (b *book) flagTable(sheet string) table[flagRow] {
	rows := make([]flagRow, len(b.flags))
	for i, f := range b.flags {
		rows[i] = flagRow{f, b.target(f.Place)}
	}
	t := table[flagRow]{sheet: sheet, name: "Flagged_issues", rows: rows, columns: b.flagColumns()}
	t.before = func() error { return t.link(b, "Cell", linksMost, func(r flagRow) string { return r.target }) }
	return t
}

func (b *book) writeFlags(sheet string) error { return b.flagTable(sheet).write(b) }

func (b *book) flagColumns() []column[flagRow] {
	return []column[flagRow]{
		{"Severity", 10, func(r flagRow, _ int) cell { return cell{v: r.Severity.String(), l: severityLook(r.Severity)} }},
		{"Code", 18, func(r flagRow, _ int) cell { return text(r.Code) }},
		{"Plot", b.nameWidths().plot, func(r flagRow, _ int) cell { return text(r.Plot) }},
		{"Wall", b.nameWidths().wall, func(r flagRow, _ int) cell { return long(r.Wall) }},
		{"Sheet", 11, func(r flagRow, _ int) cell { return text(r.Place.Sheet) }},
		{"Cell", 8, func(r flagRow, _ int) cell {
			c := text(r.Place.Cell)
			if r.target != "" {
				c.l = link
			}
			return c
		}},
		{"What is wrong", 54, func(r flagRow, _ int) cell { return long(r.What) }},
		{"What to do", 44, func(r flagRow, _ int) cell { return long(r.Do) }},
		{"File", 16, func(r flagRow, _ int) cell { return long(r.Place.File) }},
	}
}

func severityLook(s engine.Severity) look {
	return map[engine.Severity]look{engine.Stop: stopped, engine.Check: checked, engine.Note: noted}[s]
}

// target returns where a place of the survey is in this workbook, blank if the
// survey's sheets are not in it.
func (b *book) target(p engine.Place) string {
	sheet, ok := b.surveySheet(p)
	if !ok || p.Cell == "" {
		return ""
	}
	return ref(sheet) + "!" + p.Cell
}

// surveySheet returns the sheet of the survey that a place is on. A row of the
// built-in catalogue, or of a file named beside the survey, is on none, though
// the survey may have a sheet of that name.
func (b *book) surveySheet(p engine.Place) (string, bool) {
	if p.File != "" && b.in.SurveyName != "" && p.File != b.in.SurveyName {
		return "", false
	}
	sheet, ok := b.kept[strings.ToLower(p.Sheet)]
	return sheet, ok
}

// flagPlace returns the place of a flag's row on the sheet it is on.
func (b *book) flagPlace(row int) string {
	part := row / b.rowsMost()
	return fmt.Sprintf("%s!A%d", ref(b.actual[continuedName("Flagged issues", part)]), row%b.rowsMost()+2)
}
