package survey

import (
	"regexp"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/templates"
)

// numbered matches a header of one of several openings that stand right of
// their wall: "Window 1 width", "Sill 2", "W3 from left".
var numbered = regexp.MustCompile(`(?i)^(?:((?:opening|window|door|vent|win|w|d|o)\s*\.?\s*\d{1,2})\b[-:_ ]*(\S.*)|(\S.*?)[-:_ (]+((?:opening|window|door|vent|win|w|d|o)?\s*\d{1,2})\)?)$`)

// splitSides takes the columns of openings that stand right of their wall out
// of a header row. What is left are the wall's own columns.
func (r *reader) splitSides(t *table, row *book.Row) *book.Row {
	if t.schema.Name != "Walls" {
		return row
	}
	own := &book.Row{Number: row.Number, Hidden: row.Hidden}
	groups, order := map[string]*table{}, []string{}
	begun, run := false, 0
	for _, c := range row.Cells {
		header := r.plainText(c)
		name, rest := sideName(header)
		h, ok := headerName{}, false
		if name != "" {
			h, ok = r.sideField(rest)
		} else if h, ok = r.sideField(header); ok {
			_, _, walls := r.lookup(t.sheet, t.schema, header)
			if !begun && walls {
				ok = false
			}
			if begun = begun || ok; ok && (run == 0 || groups[fold(runName(run))].find(h.field.Name) != nil) {
				run++
			}
			name = runName(run)
		}
		if !ok {
			own.Cells = append(own.Cells, c)
			continue
		}
		g := groups[fold(name)]
		if g == nil {
			g = r.sideTable(t, name)
			groups[fold(name)] = g
			order = append(order, fold(name))
		}
		g.columns = append(g.columns, column{col: c.Col, field: h.field, unit: h.unit})
	}
	if !r.keepSides(t, groups, order) {
		return row
	}
	return own
}

// sideName parts a header of a numbered opening: which one, and of what.
func sideName(header string) (name, rest string) {
	m := numbered.FindStringSubmatch(tidy(header))
	if m == nil {
		return "", ""
	}
	if m[1] != "" {
		return m[1], m[2]
	}
	return m[4], m[3]
}

func runName(n int) string { return "run " + itoa(n) }

// sideField finds the field of an opening that a header means; its wall stands
// in the same row, so that is not among them.
func (r *reader) sideField(header string) (headerName, bool) {
	h, ok := r.match(r.index["Openings"], header)
	if !ok || h.field.Name == "Plot" || h.field.Name == "Wall" {
		return headerName{}, false
	}
	return h, true
}

// sideTable is a table of openings within a table of walls.
func (r *reader) sideTable(t *table, name string) *table {
	whole := r.schema("Openings")
	schema := &templates.Sheet{Name: whole.Name, Title: whole.Title}
	for _, f := range whole.Fields {
		if f.Name != "Plot" && f.Name != "Wall" {
			schema.Fields = append(schema.Fields, f)
		}
	}
	return &table{schema: schema, sheet: t.sheet, header: t.header, report: &SheetReport{}, side: name,
		origin: newOrigin(t.sheet)}
}

// keepSides keeps groups that say where an opening is and how large; fewer
// columns are the wall's own or unknown ones.
func (r *reader) keepSides(t *table, groups map[string]*table, order []string) bool {
	for _, name := range order {
		if g := groups[name]; len(g.columns) < 3 {
			return false
		}
	}
	for _, name := range order {
		g := groups[name]
		g.key = g.columns[0].col
		g.origin.Last = t.sheet.ColumnName(g.key)
		for _, c := range g.columns {
			g.origin.Columns[c.field.Name] = t.sheet.ColumnName(c.col)
			t.report.Columns = append(t.report.Columns, Column{Letters: t.sheet.ColumnName(c.col), Header: headerAt(t, c.col), Field: c.field.Name, Unit: c.field.Unit, How: besideWall})
			t.next = max(t.next, c.col+1)
		}
		g.next = t.next
		t.sides = append(t.sides, g)
	}
	r.untidy = r.untidy || len(order) > 0
	return true
}

func headerAt(t *table, col int) string {
	if col <= len(t.report.Headers) {
		return t.report.Headers[col-1]
	}
	return ""
}

// continued reports whether a row only adds openings to a wall that stands
// above it: its own columns are blank, or repeat that wall's.
func (r *reader) continued(t *table, row *book.Row) (plot, name string, ok bool) {
	if len(t.sides) == 0 || t.walls == nil {
		return "", "", false
	}
	same := func(first *book.Row) bool {
		for _, c := range t.columns {
			if text := r.plainText(row.At(c.col)); text != "" && (first == nil || text != r.plainText(first.At(c.col))) {
				return false
			}
		}
		return true
	}
	if same(nil) {
		return t.lastPlot, t.lastName, true
	}
	text := func(field string) string {
		if c := t.find(field); c != nil {
			return r.plainText(row.At(c.col))
		}
		return ""
	}
	plot, name = text("Plot"), text("Wall")
	first := t.walls[wallKey(plot, name)]
	return plot, name, first != nil && same(first)
}

// readSides makes openings of what stands right of a wall. A row that is
// there for its openings alone is counted by the first of them.
func (r *reader) readSides(t *table, row *book.Row, plot, name string, alone bool) {
	for _, g := range t.sides {
		rec := record{t: g, row: row, plot: plot, name: name, values: make([]value, len(g.schema.Fields))}
		if !g.filled(row) {
			continue
		}
		if alone {
			rec.counted, alone = true, false
			g.report = t.report
		}
		g.prepare()
		r.parseRow(&rec)
		r.nameSide(&rec, g.side)
		r.takeOpening(rec)
	}
}

// nameSide lets the header of a numbered opening name it, and say of what kind
// it is, where no cell does.
func (r *reader) nameSide(rec *record, header string) {
	word := strings.TrimRight(header, "0123456789 .")
	if word == "" || strings.HasPrefix(header, "run ") {
		return
	}
	if !rec.get("Opening").set {
		rec.values[rec.t.slots["Opening"]] = value{set: true, text: tidy(header)}
	}
	if v, _ := r.parseWord(word, r.schema("Openings").Field("Kind")); v.set && !rec.get("Kind").set {
		rec.values[rec.t.slots["Kind"]] = v
	}
}

func (t *table) filled(row *book.Row) bool {
	for _, c := range t.columns {
		if cell := row.At(c.col); cell.Kind != book.Blank && (cell.Kind != book.Text || tidy(cell.Text) != "") {
			return true
		}
	}
	return false
}
