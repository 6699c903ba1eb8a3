package survey

import (
	"slices"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// unknownColumn is how a column was understood that means nothing known.
const unknownColumn = "unknown"

// unknownHeaders flags the columns that no spelling and no mapping knows. One
// that looks like a misspelling of a column that is wanted, or that holds a
// length beside most walls, wants a decision; any other is a note.
func (r *reader) unknownHeaders(t *table, row *book.Row) {
	judged := 0
	for i := range t.report.Columns {
		rep := &t.report.Columns[i]
		if rep.How != unknownColumn {
			continue
		}
		c := row.Cells[slices.IndexFunc(row.Cells, func(c book.Cell) bool { return t.sheet.ColumnName(c.Col) == rep.Letters })]
		near := ""
		if judged++; judged <= mostJudged {
			near = r.nearestField(t, rep.Header)
		}
		rep.near, rep.doubtful = near, near != ""
		f := engine.Flag{Severity: note, Code: "extra-label", What: "The column " + quote(rep.Header) + " is not known and was not read",
			Do: "Rename it to one of our headers, map it, or leave it as a column of your own"}
		if t.sheet.Turned {
			f.What = "The row " + quote(rep.Header) + " is not known and was not read"
		}
		switch {
		case judged > mostJudged:
		case near != "":
			f.Severity = check
			f.What += "; the nearest known is " + near
			f.Do = "Rename it to " + near + " if it is that, or say in a Mapping sheet what it is"
		case r.holdsWords(t, c.Col) != "":
			f.Severity, rep.doubtful = check, true
			f.What += ", though it holds words of " + r.holdsWords(t, c.Col)
		case r.holdsLengths(t, c.Col, rep.Header):
			f.Severity, rep.doubtful = check, true
			f.What += ", though it holds a number in most rows"
		}
		r.flag(t.sheet, t.header, c.Col, f)
	}
}

// nearestField returns the field, among those without a column, of which a
// header may be a misspelling: any spelling of it counts, its unit does not.
func (r *reader) nearestField(t *table, header string) string {
	base, _, _ := r.splitUnit(header)
	best, least := "", 0
	words := strings.Fields(strings.ToLower(base))
	for i := range t.schema.Header() {
		f := &t.schema.Header()[i]
		if t.find(f.Name) != nil {
			continue
		}
		own, _, _ := r.splitUnit(f.Name)
		if best == "" && f.Name != "Notes" && !slices.ContainsFunc(strings.Fields(strings.ToLower(own)), func(w string) bool { return !slices.Contains(words, w) }) {
			best, least = f.Name, len(base) // it says so, and more
		}
		for _, word := range append([]string{own, f.Title}, f.OtherNames...) {
			d, ok := nearTo(fold(base), fold(word))
			if ok && (best == "" || d < least) {
				best, least = f.Name, d
			}
		}
	}
	return best
}

// mostJudged is how many unknown columns are looked into; a survey of more has
// them from somewhere else.
const mostJudged = 200

// mostSampled is how many rows are looked at to tell what a column holds.
const mostSampled = 200

// holdsLengths reports whether a column could be one of lengths: a number
// stands in it in most rows that hold any, its header names no other kind of
// unit, and it does not merely count the rows.
func (r *reader) holdsLengths(t *table, col int, header string) bool {
	if _, u, ok := r.splitUnit(header); ok && u.kind != "length" || !t.hasLengths() {
		return false
	}
	rows, numbers, counting := 0, 0, 0
	for i := range t.sheet.Rows {
		row := &t.sheet.Rows[i]
		if row.Number <= t.header || !t.filled(row) {
			continue
		}
		if rows++; rows > mostSampled {
			break
		}
		c := row.At(col)
		if c.Kind != book.Number && c.Kind != book.Text {
			continue
		}
		n, fault := r.cellNumber(c, &templates.Field{})
		if fault != nil || n.suffix.kind != "" && n.suffix.kind != "length" {
			continue
		}
		numbers++
		if n.suffix.kind == "" && n.value.IsInt() && n.value.Num().IsInt64() && n.value.Num().Int64() <= int64(rows) {
			counting++
		}
	}
	return numbers > 0 && 2*numbers > rows && counting < numbers
}

// hasLengths reports whether the table is one of lengths, as walls are.
func (t *table) hasLengths() bool { return t.schema.Name == "Walls" || t.schema.Name == "Openings" }

// holdsWords returns the field, among those without a column, of which most
// texts of a column are words, as of an edge.
func (r *reader) holdsWords(t *table, col int) string {
	for i := range t.schema.Header() {
		f := &t.schema.Header()[i]
		if len(f.Constraints.Enum) == 0 || f.Advisory || t.find(f.Name) != nil {
			continue
		}
		texts, words := 0, 0
		for j := range t.sheet.Rows[:min(len(t.sheet.Rows), mostSampled)] {
			row := &t.sheet.Rows[j]
			if c := row.At(col); row.Number > t.header && c.Kind == book.Text && tidy(c.Text) != "" {
				texts++
				if spelling(c.Text, f) != "" {
					words++
				}
			}
		}
		if words > 0 && 2*words > texts {
			return f.Name
		}
	}
	return ""
}
