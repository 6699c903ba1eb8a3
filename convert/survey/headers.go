package survey

import (
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// match finds the field a header means. A whole spelling goes first; then one
// with a unit behind it.
func (r *reader) match(index map[string]headerName, header string) (headerName, bool) {
	if h, ok := index[fold(header)]; ok {
		h.own = h.own && tidy(header) == h.field.Name
		return h, true
	}
	base, u, ok := r.splitUnit(header)
	if !ok {
		return headerName{}, false
	}
	h, ok := index[fold(base)]
	own, _ := r.unitOf(fieldUnit(h.field))
	if !ok || own.kind != u.kind {
		return headerName{}, false
	}
	return headerName{field: h.field, unit: u}, true
}

func fieldUnit(f *templates.Field) string {
	if f == nil {
		return ""
	}
	return f.Unit
}

// column is one column of a table that a field was found for.
type column struct {
	col   int
	field *templates.Field
	unit  unit
	part  int // of a size "1200 x 1050": 1 its width, 2 its height; 0: the whole cell
}

// table is one sheet that is read.
type table struct {
	schema   *templates.Sheet
	sheet    *book.Sheet
	report   *SheetReport
	header   int      // row; 0: there is none
	columns  []column // in the order of the schema's header
	origin   *engine.SheetMap
	next     int    // first column right of the headers
	key      int    // column in which a fault of a field without a column is shown
	side     string // which of the openings beside a wall it holds
	lastPlot string // of the last row that named a wall
	lastName string
	walls    map[string]*book.Row // first row of each wall, kept where openings stand beside walls
	sides    []*table             // openings that stand right of their wall
	nameless int                  // rows without a name that were looked at as sums
	heading  string               // plot that a row of its own names for those below
	plotted  int                  // rows that name a plot
	plotless int                  // first row that names none
	slots    map[string]int       // field -> its place in the schema
}

// find returns the column of a field, or nil.
func (t *table) find(name string) *column {
	for i := range t.columns {
		if t.columns[i].field.Name == name {
			return &t.columns[i]
		}
	}
	return nil
}

// headersLookedFor is how many rows may stand above the headers.
const headersLookedFor = 60

// headerRow finds the row that holds most of a schema's headers, the first of
// equals, and how many it holds.
func (r *reader) headerRow(s *book.Sheet, schema *templates.Sheet) (at *book.Row, most int) {
	for i := range s.Rows[:min(len(s.Rows), headersLookedFor)] {
		if n := r.countHeaders(s, &s.Rows[i], schema); n > most {
			at, most = &s.Rows[i], n
		}
	}
	return at, most
}

func (r *reader) countHeaders(s *book.Sheet, row *book.Row, schema *templates.Sheet) int {
	seen := map[string]bool{}
	for _, c := range row.Cells {
		if c.Kind != book.Text {
			continue
		}
		if h, _, ok := r.lookup(s, schema, c.Text); ok && h.field != nil {
			seen[h.field.Name] = true
		}
	}
	return len(seen)
}

// lookup finds a header's field by the mapping first, then by its spellings.
func (r *reader) lookup(s *book.Sheet, schema *templates.Sheet, header string) (h headerName, how string, ok bool) {
	if ours, found := r.mapped(s, schema, header); found {
		if ours == "-" {
			return headerName{}, "left out by the mapping", true
		}
		h, ok = r.match(r.index[schema.Name], ours)
		if _, u, given := r.splitUnit(header); given && ok && h.unit.kind == u.kind && fold(ours) == fold(h.field.Name) {
			h.unit = u // their header names its own unit
		}
		h.own = false
		return h, "mapping", ok
	}
	h, ok = r.match(r.index[schema.Name], header)
	how = "other name"
	if h.own {
		how = "own header"
	}
	return h, how, ok
}

// columnsOf matches the headers of a table. Two columns that claim one field
// are both left out.
func (r *reader) columnsOf(t *table, row *book.Row) {
	claims := map[string][]book.Cell{}
	t.origin = newOrigin(t.sheet)
	for _, c := range row.Cells {
		t.next = max(t.next, c.Col+1)
		header := r.plainText(c)
		h, how, ok := r.lookup(t.sheet, t.schema, header)
		rep := Column{Letters: t.sheet.ColumnName(c.Col), Header: header, How: how}
		switch {
		case !ok && r.sizeColumn(t, c.Col, header):
			rep.Field, rep.How = "Width mm", sizeInCell
			claims["Width mm"], claims["Height mm"] = append(claims["Width mm"], c), append(claims["Height mm"], c)
		case !ok:
			rep.How = unknownColumn
		case h.field != nil:
			rep.Field, rep.Unit, rep.own = h.field.Name, h.field.Unit, h.field.Unit
			rep.base, _, _ = r.splitUnit(h.field.Name)
			if h.unit.kind != "" {
				rep.Unit = h.unit.name
			}
			r.untidy = r.untidy || !h.own
			t.columns = append(t.columns, column{col: c.Col, field: h.field, unit: h.unit})
			claims[h.field.Name] = append(claims[h.field.Name], c)
		}
		t.report.Columns = append(t.report.Columns, rep)
	}
	r.dropClaimedTwice(t, claims)
	r.unknownHeaders(t, row)
	for _, c := range t.columns {
		t.origin.Columns[c.field.Name] = t.sheet.ColumnName(c.col)
	}
}

func (r *reader) dropClaimedTwice(t *table, claims map[string][]book.Cell) {
	kept := t.columns[:0]
	for _, c := range t.columns {
		twice := claims[c.field.Name]
		if len(twice) <= 1 {
			kept = append(kept, c)
			continue
		}
		if c.col != twice[0].Col {
			severity := check
			if c.field.Constraints.Required {
				severity = stop
			}
			r.flag(t.sheet, t.header, c.col, engine.Flag{Severity: severity, Code: "duplicate-label",
				What: "This column and " + t.sheet.Address(twice[0].Col, t.header) + " both give " + c.field.Name + "; neither was read",
				Do:   "Leave one of them, or rename the other"})
		}
	}
	t.columns = kept
	for i := range t.report.Columns {
		if rep := &t.report.Columns[i]; len(claims[rep.Field]) > 1 {
			rep.Field, rep.How, rep.doubtful = "", "claims "+rep.Field+", as another column does", true
		}
	}
}

func quote(s string) string { return `"` + strings.ReplaceAll(s, `"`, "'") + `"` }
