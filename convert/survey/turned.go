package survey

import (
	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// mostTurned is how many rows a sheet may have that is looked at for a wall in
// each column: its headers stand below each other.
const mostTurned = 500

// turned returns the sheet with its columns for rows, if its headers stand
// below each other and not, as far as they are needed, in one row; else nil.
// Two rows of headers, or a second table, are for a sheet as it is.
func (r *reader) turned(s *book.Sheet, schema *templates.Sheet, row *book.Row) *book.Sheet {
	if s.Turned || len(s.Rows) < 3 || len(s.Rows) > mostTurned || schema.Name != "Walls" && schema.Name != "Openings" {
		return nil
	}
	if row != nil && r.hasNeeded(s, row, schema) {
		return nil
	}
	t := s.Turn()
	if head, _, _ := r.headers(t, schema); head == nil || !r.hasNeeded(t, head, schema) {
		return nil
	}
	return t
}

// noteTurned says that a sheet was read so.
func (r *reader) noteTurned(t *table) {
	if !t.sheet.Turned {
		return
	}
	r.untidy = true
	r.flag(t.sheet, t.header, t.key, engine.Flag{Severity: note, Code: "sheet-turned",
		What: "The headers stand below each other in column " + t.sheet.RowName(t.header) + "; each column right of them was read as a row of " + t.schema.Name,
		Do:   "Nothing, if that is right"})
}
