package survey

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// record is one row with its values, by the place of their field in the
// schema. The values are only good until the next row is read.
type record struct {
	t          *table
	row        *book.Row
	plot, name string
	values     []value
	stopped    bool     // a fault keeps it out
	counted    bool     // it is among the rows taken
	why        []string // the faults, with their cells
}

// get returns the value of a field.
func (rec *record) get(name string) value { return rec.values[rec.t.slots[name]] }

func (rec *record) origin() engine.Origin {
	return engine.Origin{Sheet: rec.t.origin, Row: rec.row.Number}
}

// readRows reads every row under the headers and accounts for it. take makes
// something of a row.
func (r *reader) readRows(t *table, take func(record)) {
	if t.header == 0 {
		r.skipAll(t)
		return
	}
	t.prepare()
	r.plotOfSheet(t)
	fills := r.mergedFills(t)
	var blank, hidden []span
	values := make([]value, len(t.schema.Fields))
	last := t.header
	for i := range t.sheet.Rows {
		row := &t.sheet.Rows[i]
		if row.Number <= t.header {
			continue
		}
		row.Fill(fills[row.Number])
		if row.Number > last+1 {
			blank = append(blank, span{last + 1, row.Number - 1})
		}
		t.report.Rows += row.Number - last
		t.report.Blank += row.Number - last - 1
		last = row.Number
		if row.Hidden {
			t.report.Hidden++
			hidden = append(hidden, span{row.Number, row.Number})
		}
		clear(values)
		r.readRow(t, row, values, take)
	}
	r.noteSomePlots(t)
	r.noteRows(t, blank, "blank-row", "blank", "Nothing, if nothing is missing there")
	r.noteHidden(t, hidden)
}

// noteHidden notes what was read though nobody saw it: rows, and columns.
func (r *reader) noteHidden(t *table, rows []span) {
	r.noteRows(t, rows, "hidden-row", "hidden; they were read like any other", "Unhide what is hidden and look, or delete it")
	for _, c := range t.columns {
		if !t.sheet.Turned && t.sheet.HidesColumn(c.col) {
			r.flag(t.sheet, t.header, c.col, engine.Flag{Severity: note, Code: "hidden-column",
				What: "The column " + t.sheet.ColumnName(c.col) + " is hidden; it was read like any other, as " + c.field.Name, Do: "Unhide it and look, or delete it"})
		}
	}
}

// mostFilled bounds the cells that merged ones fill; no honest survey meets it.
const mostFilled = 1 << 20

// mostNamed is how many stretches of rows a flag names.
const mostNamed = 40

// span is a stretch of rows, both ends included.
type span struct{ first, last int }

// prepare puts the columns in the schema's order and numbers the fields.
func (t *table) prepare() {
	t.slots = map[string]int{}
	for i, f := range t.schema.Fields {
		t.slots[f.Name] = i
	}
	slices.SortFunc(t.columns, func(a, b column) int { return cmp.Compare(t.slots[a.field.Name], t.slots[b.field.Name]) })
}

// skipAll accounts for the rows of a sheet whose headers were not found.
func (r *reader) skipAll(t *table) {
	t.report.Rows, t.report.Flagged = len(t.sheet.Rows), len(t.sheet.Rows)
}

func (r *reader) readRow(t *table, row *book.Row, values []value, take func(record)) {
	rec := record{t: t, row: row, values: values}
	kind, cell := r.rowKind(t, row)
	if kind == "row" && r.isSum(t, row) {
		kind = "total"
	}
	switch kind {
	case "blank":
		t.report.Blank++
		return
	case "total":
		t.report.Flagged++
		r.flag(t.sheet, row.Number, cell, engine.Flag{Severity: note, Code: "total-row",
			What: "This row holds totals and was not read", Do: "Nothing, if that is right; if it is a row of its own, name it otherwise"})
		return
	case "heading":
		t.report.Flagged++
		t.heading = barePlot(r.plainText(row.At(cell)))
		r.untidy = true
		r.flag(t.sheet, row.Number, cell, engine.Flag{Severity: note, Code: "plot-heading",
			What: "The rows below were read as of the plot " + quote(t.heading), Do: "Nothing, if that is right; a Plot column leaves no doubt"})
		return
	case "remark":
		t.report.Flagged++
		r.flag(t.sheet, row.Number, cell, engine.Flag{Severity: check, Code: "remark-row",
			What: "This row holds nothing but a sentence and was not read", Do: "Nothing, if it is a remark; if it is a wall or an opening, fill in its sizes"})
		return
	case "beside":
		t.report.Flagged++
		r.flag(t.sheet, row.Number, cell, engine.Flag{Severity: note, Code: "stray-cell",
			What: "This row holds nothing in the columns that are read", Do: "Nothing, if it is a note"})
		return
	}
	if plot, name, ok := r.continued(t, row); ok {
		t.report.Taken++
		r.readSides(t, row, plot, name, true)
		return
	}
	r.parseRow(&rec)
	if rec.stopped {
		t.report.Flagged++
	} else {
		t.report.Taken++
		rec.counted = true
	}
	take(rec)
	if len(t.sides) > 0 {
		t.remember(&rec)
		r.readSides(t, row, rec.plot, rec.name, false)
	}
}

// remember keeps the first row of each wall, so that a row that only adds
// openings to it is known.
func (t *table) remember(rec *record) {
	if t.walls == nil {
		t.walls = map[string]*book.Row{}
	}
	if k := wallKey(rec.plot, rec.name); t.walls[k] == nil {
		t.walls[k] = rec.row
	}
	t.lastPlot, t.lastName = rec.plot, rec.name
}

// rowKind tells rows of values from blank rows, totals and notes beside the
// table. The cell is the column that shows it.
func (r *reader) rowKind(t *table, row *book.Row) (kind string, col int) {
	kind = "blank"
	if c, ok := r.onlyCell(row); ok && t.reads(c.Col) && !t.isText(c.Col) {
		switch {
		case plotWord.MatchString(tidy(c.Text)) && t.find("Plot") == nil && t.needed():
			return "heading", c.Col
		case len(strings.Fields(c.Text)) >= 4 || strings.HasPrefix(tidy(c.Text), "*"):
			return "remark", c.Col
		}
	}
	first := true
	for _, c := range row.Cells {
		if c.Kind == book.Text && tidy(c.Text) == "" {
			continue
		}
		if first && c.Kind == book.Text && !t.isText(c.Col) && (isTotal(c.Text) || totalWord.MatchString(tidy(c.Text)) && t.lacks(row)) {
			return "total", c.Col
		}
		first = false
		if t.reads(c.Col) {
			return "row", c.Col
		}
		if kind == "blank" {
			kind, col = "beside", c.Col
		}
	}
	return kind, col
}

// plotWord begins a row that only says of which plot the rows below are.
var plotWord = regexp.MustCompile(`(?i)^(?:plot|house type|house|type|block|unit|dwelling)s?\b[ .:#-]*\S+`)

// onlyCell returns the one text a row holds, if it holds nothing else.
func (r *reader) onlyCell(row *book.Row) (only book.Cell, ok bool) {
	for _, c := range row.Cells {
		switch {
		case c.Kind == book.Text && tidy(c.Text) == "":
		case ok || c.Kind != book.Text:
			return only, false
		default:
			only, ok = c, true
		}
	}
	return only, ok
}

// isText reports whether the column holds free text, in which the word total
// may stand for itself.
func (t *table) isText(col int) bool {
	return slices.ContainsFunc(t.columns, func(c column) bool { return c.col == col && c.field.Advisory })
}

func (t *table) reads(col int) bool {
	for _, g := range t.sides {
		if g.reads(col) {
			return true
		}
	}
	return slices.ContainsFunc(t.columns, func(c column) bool { return c.col == col })
}

// parseRow reads the cells of a row, flags every fault, and says what is
// missing.
func (r *reader) parseRow(rec *record) {
	t := rec.t
	if rec.plot == "" {
		rec.plot = t.heading
	}
	rec.swallowed()
	for i := range t.columns {
		c := &t.columns[i]
		if bad, is := c.noSize(rec.row); is {
			if c.part == 1 { // told once, not for the height too
				r.found(rec, c, bad)
			}
			continue
		}
		v, found := r.parse(c.cell(rec.row), c.field, c.unit)
		rec.values[t.slots[c.field.Name]] = v
		r.name(rec, c.field.Name, v)
		for _, f := range found {
			r.found(rec, c, f)
		}
		if !v.set && len(found) == 0 && c.field.Constraints.Required {
			r.found(rec, c, finding{stop, "missing-cell", c.field.Name + " is missing", "Fill it in"})
		}
	}
	for _, f := range t.schema.Fields {
		if f.Constraints.Required && t.find(f.Name) == nil {
			rec.stopped = true
			rec.why = append(rec.why, "the column "+f.Name+" is missing")
		}
	}
}

// noteSomePlots questions a sheet in which some rows name their plot and some
// do not: written once for several rows, it is no plot of the others.
func (r *reader) noteSomePlots(t *table) {
	c := t.find("Plot")
	if c == nil || t.plotted == 0 || t.plotless == 0 || t.schema.Name == "Plots" {
		return
	}
	r.flag(t.sheet, t.plotless, c.col, engine.Flag{Severity: check, Code: "plot-blank",
		What: "Plot is blank here while other rows name one; the row was read as of no plot", Do: "Write the plot in every row, or in none"})
}

// name keeps what the row's flags are headed with. Keys stand first in every
// schema.
func (r *reader) name(rec *record, field string, v value) {
	switch field {
	case "Plot":
		rec.plot = v.text
		if v.set {
			rec.t.plotted++
		} else if rec.t.plotless == 0 {
			rec.t.plotless = rec.row.Number
		}
	case "Wall":
		rec.name = v.text
	}
}

// found flags one finding of a row's cell.
func (r *reader) found(rec *record, c *column, f finding) {
	if f.severity == stop && c.field.Advisory {
		f.severity = note
		if f.code == "constraint-error" {
			f.severity = check
		}
	}
	r.flagRow(rec, c.col, f)
}

// flagRow flags a finding at a column of a row; a stop keeps the row out.
func (r *reader) flagRow(rec *record, col int, f finding) {
	severity := f.severity
	if severity == stop && !rec.t.needed() {
		severity = check // the row is left out, and no wall for it
	}
	r.flag(rec.t.sheet, rec.row.Number, col, engine.Flag{Severity: severity, Code: f.code, Plot: rec.plot, Wall: rec.called(), What: f.what, Do: f.do})
	if f.severity == stop {
		rec.leave()
		rec.why = append(rec.why, rec.t.sheet.Address(col, rec.row.Number)+": "+f.what)
	}
}

// called names the row's wall for people; one that has no name by its row.
func (rec *record) called() string {
	if rec.name != "" || rec.t.schema.Name != "Walls" {
		return rec.name
	}
	return "the wall in " + strings.ToLower(rec.t.lines("Row ")) + rec.t.sheet.RowName(rec.row.Number)
}

// leave takes the row from those taken.
func (rec *record) leave() {
	if rec.counted {
		rec.t.report.Taken--
		rec.t.report.Flagged++
	}
	rec.stopped, rec.counted = true, false
}

// needed reports whether walls depend on the table's rows.
func (t *table) needed() bool {
	switch t.schema.Name {
	case "Walls", "Openings", "Plots":
		return true
	}
	return false
}

// col returns where a field's faults are shown: its column, or the name's.
func (t *table) col(field string) int {
	if c := t.find(field); c != nil {
		return c.col
	}
	return t.key
}

// at flags a finding of a row at a field.
func (r *reader) at(rec *record, field string, f finding) {
	r.flagRow(rec, rec.t.col(field), f)
}

// atRows flags what several rows of a table share once, at the first and for its
// plot, and names all.
func (r *reader) atRows(recs []*record, field string, f finding) {
	if len(recs) == 1 {
		r.at(recs[0], field, f)
		return
	}
	t := recs[0].t
	var rows []span
	for _, rec := range recs {
		rows = append(rows, span{rec.row.Number, rec.row.Number})
	}
	slices.SortFunc(rows, func(a, b span) int { return cmp.Compare(a.first, b.first) })
	f.what += fmt.Sprintf("; it stands in %s%s (%d in all)", strings.ToLower(t.lines("Rows ")), strings.TrimSuffix(listRows(t.sheet, rows), ","), len(rows))
	r.flag(t.sheet, rows[0].first, t.col(field), engine.Flag{Severity: f.severity, Code: f.code, Plot: recs[0].plot, What: f.what, Do: f.do})
}

func (r *reader) noteRows(t *table, rows []span, code, what, do string) {
	if len(rows) == 0 {
		return
	}
	verb := t.lines("Rows ") + listRows(t.sheet, rows) + " are "
	if len(rows) == 1 && rows[0].first == rows[0].last {
		verb = t.lines("Row ") + listRows(t.sheet, rows) + " is "
		what = strings.Replace(what, "they were", "it was", 1)
	}
	r.flag(t.sheet, rows[0].first, t.col(""), engine.Flag{Severity: note, Code: code, What: verb + what, Do: do})
}

// lines names rows by what they are in the sheet.
func (t *table) lines(rows string) string {
	if t.sheet.Turned {
		return strings.Replace(rows, "Row", "Column", 1)
	}
	return rows
}

// listRows writes rising stretches of rows as "3, 5 to 8".
func listRows(s *book.Sheet, rows []span) string {
	var parts []string
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[j+1].first == rows[j].last+1 {
			j++
		}
		part := s.RowName(rows[i].first)
		if rows[i].first != rows[j].last {
			part += " to " + s.RowName(rows[j].last)
		}
		if parts = append(parts, part); len(parts) == mostNamed && j+1 < len(rows) {
			return strings.Join(parts, ", ") + " and more, the last " + s.RowName(rows[len(rows)-1].last) + ","
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
