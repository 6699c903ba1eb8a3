package survey

import (
	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// region is a table found on a sheet: as what, and the part of the sheet that
// holds it.
type region struct {
	schema *templates.Sheet
	sheet  *book.Sheet
}

// regions finds the tables on a sheet that have every header they need, below
// or beside each other. One alone is no reason to cut a sheet up: nil.
func (r *reader) regions(s *book.Sheet) []region {
	var heads []int // indexes of rows that hold headers
	for i := range s.Rows {
		row := &s.Rows[i]
		if len(row.Cells) >= 3 && allWords(row) && len(r.spans(s, row)) > 0 {
			heads = append(heads, i)
		}
	}
	var out []region
	for n, i := range heads {
		end := len(s.Rows)
		if n+1 < len(heads) {
			end = aboveTitle(s, heads[n+1])
		}
		start := 0
		if n > 0 {
			start = aboveTitle(s, i)
		}
		spans := r.spans(s, &s.Rows[i])
		for k, p := range spans {
			from, to := p.from, 1<<14
			if k == 0 {
				from = 1
			}
			if k+1 < len(spans) {
				to = spans[k+1].from - 1
			}
			out = append(out, region{p.schema, cutOut(s, start, end, from, to)})
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// allWords reports whether a row could hold headers: texts, none of which
// begins with a figure. In CSV numbers are texts too, and long tables of them
// are passed over quickly.
func allWords(row *book.Row) bool {
	for _, c := range row.Cells {
		if c.Kind != book.Text || c.Text == "" || c.Text[0] >= '0' && c.Text[0] <= '9' {
			return false
		}
	}
	return true
}

func allText(row *book.Row) bool {
	for _, c := range row.Cells {
		if c.Kind != book.Text {
			return false
		}
	}
	return true
}

// aboveTitle steps over the title rows above a header row: rows of one or two
// texts.
func aboveTitle(s *book.Sheet, i int) int {
	for i > 0 && len(s.Rows[i-1].Cells) <= 2 && allText(&s.Rows[i-1]) && s.Rows[i].Number-s.Rows[i-1].Number <= 2 {
		i--
	}
	return i
}

// cutOut returns the part of a sheet within rows and columns.
func cutOut(s *book.Sheet, start, end, from, to int) *book.Sheet {
	out := &book.Sheet{File: s.File, Name: s.Name, Hidden: s.Hidden, Merged: s.Merged, Doubts: s.Doubts}
	for _, row := range s.Rows[start:end] {
		part := book.Row{Number: row.Number, Hidden: row.Hidden}
		for _, c := range row.Cells {
			if c.Col >= from && c.Col <= to {
				part.Cells = append(part.Cells, c)
			}
		}
		if len(part.Cells) > 0 {
			out.Rows = append(out.Rows, part)
		}
	}
	return out
}

// headerSpan is a run of headers of one table, from a column on.
type headerSpan struct {
	schema *templates.Sheet
	from   int
}

// spans finds the tables whose headers stand in a row. Several stand beside
// each other only with a blank column between.
func (r *reader) spans(s *book.Sheet, row *book.Row) []headerSpan {
	var out []headerSpan
	for start := 0; start < len(row.Cells); {
		end := start + 1
		for end < len(row.Cells) && row.Cells[end].Col == row.Cells[end-1].Col+1 {
			end++
		}
		part := &book.Row{Number: row.Number, Cells: row.Cells[start:end]}
		if schema := r.tableOf(s, part); schema != nil {
			out = append(out, headerSpan{schema, row.Cells[start].Col})
		}
		start = end
	}
	if schema := r.tableOf(s, row); len(out) == 0 && schema != nil {
		out = append(out, headerSpan{schema, row.Cells[0].Col})
	}
	return out
}

// tableOf returns the table for which a row holds every needed header.
func (r *reader) tableOf(s *book.Sheet, row *book.Row) *templates.Sheet {
	for _, name := range []string{"Openings", "Walls", "Plots"} {
		if schema := r.schema(name); r.hasNeeded(s, row, schema) {
			return schema
		}
	}
	return nil
}

// takeRegions reads each of several tables on one sheet.
func (r *reader) takeRegions(s *book.Sheet, parts []region) {
	r.untidy = true
	for _, p := range parts {
		t := r.open(p.sheet, p.schema, "one of several tables on the sheet")
		r.take(t)
		r.flag(s, t.header, t.key, engine.Flag{Severity: note, Code: "sheet-by-headers",
			What: "Of several tables on this sheet, the one under these headers was read as " + p.schema.Name,
			Do:   "Nothing, if that is right; one table a sheet leaves no doubt"})
	}
}
