package survey

import (
	"context"
	"slices"
	"strings"
	"unicode"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// extras reads the files that options name beside the survey: a single table, or
// the sheets of that name in a workbook of several, which must be there.
func (r *reader) extras(ctx context.Context, o Options) error {
	for _, e := range []struct{ path, as string }{{o.Mapping, "Mapping"}, {o.Products, "Products"}} {
		if e.path == "" {
			continue
		}
		b, err := book.Open(ctx, e.path)
		if err != nil {
			return err
		}
		if len(b.Sheets) > 1 && !slices.ContainsFunc(b.Sheets, func(s *book.Sheet) bool { return r.byName(s.Name) == r.schema(e.as) }) {
			return notAsNamed(b, e.as)
		}
		for i, s := range b.Sheets {
			if len(b.Sheets) > 1 && r.byName(s.Name) != r.schema(e.as) {
				continue
			}
			r.order[s.File+"\x00"+s.Name] = -len(b.Sheets) + i
			r.flagText(s)
			t := r.open(s, r.schema(e.as), "named by an option")
			if e.as == "Mapping" {
				r.readRows(t, r.takeMapping)
			} else {
				r.level = levelOption
				r.readRows(t, r.takeProduct)
			}
		}
	}
	return nil
}

// notAsNamed refuses a workbook that holds nothing of what an option named it for.
func notAsNamed(b *book.Book, as string) error {
	var names []string
	for _, s := range b.Sheets {
		names = append(names, s.Name)
	}
	return &Error{File: b.Sheets[0].File, What: "has no sheet " + as + ", for which it was named; its sheets are: " + strings.Join(names, ", "),
		Do: "Name the sheet " + as + ", or save it alone, as CSV or as a workbook of one sheet"}
}

func (r *reader) schema(name string) *templates.Sheet {
	for _, s := range r.schemas {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// byName finds the schema a sheet's name means.
func (r *reader) byName(name string) *templates.Sheet {
	key := fold(name)
	for _, s := range r.schemas {
		if fold(s.Name) == key {
			return s
		}
	}
	for _, s := range r.schemas {
		if slices.ContainsFunc(s.OtherNames, func(n string) bool { return fold(n) == key }) {
			return s
		}
	}
	return nil
}

// byFile finds the schema a CSV file's name means: the whole of it, or its
// last words, as in "plot 7 - walls.csv".
func (r *reader) byFile(s *book.Sheet) *templates.Sheet {
	if schema := r.byName(s.Name); schema != nil || !isFile(s) {
		return schema
	}
	words := strings.FieldsFunc(s.Name, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
	for n := min(3, len(words)-1); n > 0; n-- {
		if schema := r.byName(strings.Join(words[len(words)-n:], " ")); schema != nil {
			return schema
		}
	}
	return nil
}

// isFile reports whether a sheet is a CSV file.
func isFile(s *book.Sheet) bool {
	ending, ok := strings.CutPrefix(s.File, s.Name+".")
	return ok && !strings.HasPrefix(strings.ToLower(ending), "xls")
}

// locate decides what every sheet is, and reads the mapping.
func (r *reader) locate(b *book.Book) error {
	ours := ownSheets(b)
	dropLinkTexts(b, ours)
	for _, s := range b.Sheets {
		r.flagText(s)
	}
	var rest []*book.Sheet
	for _, s := range b.Sheets {
		switch {
		case ours[s.Name]:
			r.report(s, "", "made by this program; made anew")
			if s.Name == orderSheet(b.Names) {
				r.readEdits(s)
			}
		case r.byName(s.Name) == r.schema("Mapping"):
			r.readRows(r.open(s, r.schema("Mapping"), "name"), r.takeMapping)
		default:
			rest = append(rest, s)
		}
	}
	for _, s := range rest {
		r.claim(s, rest)
	}
	return r.ctx.Err()
}

// claim opens a sheet as what its name, the mapping or its headers say.
func (r *reader) claim(s *book.Sheet, all []*book.Sheet) {
	for _, m := range r.mapping {
		if m.header == "" && m.sheet == fold(s.Name) {
			if schema := r.byName(m.ours); schema != nil {
				r.untidy = true
				r.take(r.open(s, schema, "mapping"))
			} else {
				r.report(s, "", "left out by the mapping")
			}
			return
		}
	}
	schema := r.byFile(s)
	if parts := r.rejectedAgain(s); parts != nil {
		r.takeRegions(s, parts)
		return
	}
	if parts := r.regions(s); parts != nil && (schema == nil || !schema.Items()) {
		r.takeRegions(s, parts)
		return
	}
	switch {
	case schema == nil:
		r.byHeaders(s, all)
	case fold(schema.Name) == fold(s.Name):
		r.take(r.open(s, schema, "name"))
	case r.hasExact(schema, all):
		r.report(s, "", "not read: there is a sheet named "+schema.Name)
		r.flag(s, 1, 1, engine.Flag{Severity: check, Code: "sheet-unread",
			What: "This sheet could be " + schema.Name + " too, but there is one of that name; it was not read",
			Do:   "Put its rows into " + schema.Name + ", or leave it out"})
	default:
		r.untidy = true
		r.take(r.open(s, schema, "other name"))
	}
}

func (r *reader) hasExact(schema *templates.Sheet, all []*book.Sheet) bool {
	return slices.ContainsFunc(all, func(s *book.Sheet) bool { return fold(s.Name) == fold(schema.Name) })
}

// byHeaders takes a sheet of unknown name for walls or openings if it has all
// the headers they need, and says so.
func (r *reader) byHeaders(s *book.Sheet, all []*book.Sheet) {
	for _, name := range []string{"Openings", "Walls"} {
		schema := r.schema(name)
		at := s
		row, _, _ := r.headers(s, schema)
		if turned := r.turned(s, schema, row); turned != nil {
			at = turned
			row, _, _ = r.headers(at, schema)
		} else if row == nil || !r.hasNeeded(s, row, schema) {
			continue
		}
		if r.hasExact(schema, all) {
			r.report(s, "", "not read: it has the headers of "+name+", but there is a sheet of that name")
			r.flag(at, row.Number, row.Cells[0].Col, engine.Flag{Severity: check, Code: "sheet-unread",
				What: "This sheet has the headers of " + name + " but there is a sheet of that name; it was not read",
				Do:   "Put its rows into " + name + ", or leave it out"})
			return
		}
		r.untidy = true
		r.take(r.open(s, schema, "headers"))
		f := engine.Flag{Severity: note, Code: "sheet-by-headers",
			What: "The sheet " + quote(s.Name) + " has the headers of " + name + " and was read as that",
			Do:   "Name it " + name + " if that is right; if not, name it otherwise in a Mapping sheet"}
		if r.files {
			f.What, f.Do = strings.Replace(f.What, "The sheet", "The file", 1), "Nothing, if that is right; if not, name it otherwise in a Mapping sheet"
		}
		r.flag(at, row.Number, row.Cells[0].Col, f)
		return
	}
	r.report(s, "", notKnown)
	if len(s.Rows) > 0 {
		r.flag(s, s.Rows[0].Number, s.Rows[0].Cells[0].Col, engine.Flag{Severity: note, Code: "sheet-unread",
			What: "The sheet " + quote(s.Name) + " is not known and was not read" + suggestion(s.Name, templates.Names()),
			Do:   "Nothing, if it is a sheet of your own"})
	}
}

func (r *reader) hasNeeded(s *book.Sheet, row *book.Row, schema *templates.Sheet) bool {
	return len(r.lacks(s, row, schema)) == 0
}

// lacks lists the headers that a schema needs and a row has not.
func (r *reader) lacks(s *book.Sheet, row *book.Row, schema *templates.Sheet) (out []string) {
	has := map[string]bool{}
	for _, c := range row.Cells {
		if h, _, ok := r.lookup(s, schema, c.Text); ok && c.Kind == book.Text && h.field != nil {
			has[h.field.Name] = true
		} else if _, ok := r.sizeHeader(c.Text); ok {
			has["Width mm"], has["Height mm"] = true, true
		}
	}
	for _, f := range schema.Fields {
		if f.Constraints.Required && !has[f.Name] {
			out = append(out, f.Name)
		}
	}
	return out
}

func (r *reader) take(t *table) {
	r.manySurveys(t)
	r.tables = append(r.tables, t)
	if t.sheet.Hidden && len(t.sheet.Rows) > 0 {
		r.flag(t.sheet, max(t.header, 1), max(t.key, 1), engine.Flag{Severity: note, Code: "hidden-sheet",
			What: "The sheet " + quote(t.sheet.Name) + " is hidden; it was read like any other", Do: "Unhide it and look, or delete it"})
	}
}

// manySurveys questions a second file of walls in a folder of CSV files: each may
// be a survey of its own.
func (r *reader) manySurveys(t *table) {
	for _, before := range r.tables {
		if r.files && t.schema.Name == "Walls" && before.schema.Name == "Walls" && before.sheet.File != t.sheet.File {
			r.flag(t.sheet, max(t.header, 1), max(t.key, 1), engine.Flag{Severity: check, Code: "several-walls",
				What: "The walls of this file and of " + before.sheet.File + " were read as one survey, as they lie in one folder",
				Do:   "Nothing, if they are one building; if not, take each file off by its own name"})
			return
		}
	}
}

// notKnown is why a sheet was not read that nothing tells the meaning of.
const notKnown = "not known; kept as it is"

// report starts a sheet's report.
func (r *reader) report(s *book.Sheet, as, why string) *SheetReport {
	rep := &SheetReport{File: s.File, Name: s.Name, As: as, Why: why}
	r.reports = append(r.reports, rep)
	return rep
}

// open finds a sheet's headers and says what is missing or unknown.
func (r *reader) open(s *book.Sheet, schema *templates.Sheet, how string) *table {
	t := &table{schema: schema, sheet: s, report: r.report(s, schema.Name, how), next: 1}
	row, top, n := r.headers(s, schema)
	if turned := r.turned(s, schema, row); turned != nil {
		s, t.sheet = turned, turned
		row, top, n = r.headers(s, schema)
	}
	if row == nil || n < 2 && len(schema.Header()) > 1 {
		t.origin = newOrigin(s)
		if !schema.Items() {
			r.noHeaders(t)
		}
		return t
	}
	t.header, t.report.Header = row.Number, row.Number
	t.report.Headers = r.texts(row)
	r.columnsOf(t, r.splitSides(t, row))
	r.missingLabels(t)
	for _, g := range t.sides {
		r.missingLabels(g)
	}
	r.keyColumn(t)
	r.noteTurned(t)
	r.noteHeaderRow(t, row, top)
	r.sheetUnits(t, row)
	r.noEdges(t)
	return t
}

// noteHeaderRow says where the headers stand, if not in the first row alone.
func (r *reader) noteHeaderRow(t *table, row *book.Row, top int) {
	above := t.sheet.Rows[0].Number < top
	if !above && top == t.header {
		return
	}
	what := "The headers were found in " + strings.ToLower(t.lines("Row ")) + t.sheet.RowName(t.header)
	if top < t.header {
		what = "The headers were found in " + strings.ToLower(t.lines("Rows ")) + t.sheet.RowName(top) + " and " + t.sheet.RowName(t.header)
	}
	if above && t.sheet.Turned {
		what += "; what stands to their left was not read"
	} else if above {
		what += "; what stands above was not read"
	}
	r.untidy = true
	r.flag(t.sheet, t.header, row.Cells[0].Col, engine.Flag{Severity: note, Code: "header-row", What: what, Do: "Nothing, if that is right"})
}

// noEdges says what counts where a sheet of walls has no columns for edges.
func (r *reader) noEdges(t *table) {
	if t.schema.Name != "Walls" {
		return
	}
	left, right := t.schema.Field("Left edge"), t.schema.Field("Right edge")
	if t.find(left.Name) == nil && t.find(right.Name) == nil {
		r.flag(t.sheet, t.header, t.next, engine.Flag{Severity: note, Code: "default-used",
			What: "There is no column for the left and right edges; every wall was taken to end in an " + left.Default,
			Do:   "Add " + left.Name + " and " + right.Name + " if walls end in corners or abutments"})
	}
}

// texts returns a row's cells from column A on.
func (r *reader) texts(row *book.Row) []string {
	out := make([]string, row.Cells[len(row.Cells)-1].Col)
	for _, c := range row.Cells {
		out[c.Col-1] = r.plainText(c)
	}
	return out
}

// MissingLabel is the code of headers that a sheet wants and has not.
const MissingLabel = "missing-label"

func (r *reader) noHeaders(t *table) {
	if len(t.sheet.Rows) == 0 {
		return
	}
	var names []string
	for _, f := range t.schema.Header() {
		if f.Constraints.Required {
			names = append(names, f.Name)
		}
	}
	f := engine.Flag{Severity: stop, Code: MissingLabel,
		What: "No row of this sheet holds the headers of " + t.schema.Name,
		Do:   "Put the headers above the rows: " + strings.Join(names, ", ")}
	if blank := r.leftOpen(t.sheet, t.schema); blank != "" {
		f.What += "; the mapping leaves open what these mean: " + blank
		f.Do = "Fill in Ours for them in the mapping; needed are " + strings.Join(names, ", ")
	}
	r.flag(t.sheet, 1, 1, f)
}

// missingLabels flags needed columns that are not there, right of the headers.
func (r *reader) missingLabels(t *table) {
	col := t.next
	for _, f := range t.schema.Header() {
		if !f.Constraints.Required || t.find(f.Name) != nil || r.claimedTwice(t, f.Name) {
			continue
		}
		r.flag(t.sheet, t.header, col, engine.Flag{Severity: stop, Code: MissingLabel,
			What: "The column " + f.Name + " is missing; no row can be taken without it" + t.mayBe(f.Name),
			Do:   "Add it, or say in a Mapping sheet which of your columns it is"})
		col++
	}
}

// mayBe names the unknown column whose header is nearest to a field's.
func (t *table) mayBe(field string) string {
	for _, c := range t.report.Columns {
		if c.near == field {
			return "; " + t.sheet.Address(t.numberOf(c.Letters), t.header) + ", " + quote(c.Header) + ", may be it"
		}
	}
	return ""
}

// numberOf returns the number of a column that was named by ColumnName.
func (t *table) numberOf(name string) int {
	row := rowAt(t.sheet, t.header)
	if row == nil {
		return 0
	}
	for _, c := range row.Cells {
		if t.sheet.ColumnName(c.Col) == name {
			return c.Col
		}
	}
	return 0
}

// newOrigin begins the list of a sheet's columns.
func newOrigin(s *book.Sheet) *engine.SheetMap {
	return &engine.SheetMap{File: s.File, Sheet: s.Name, Columns: map[string]string{}, Turned: s.Turned}
}

func (r *reader) claimedTwice(t *table, name string) bool {
	return slices.ContainsFunc(t.report.Columns, func(c Column) bool { return strings.HasPrefix(c.How, "claims "+name+",") })
}

// keyColumn is where a fault in a field without a column is shown: the name
// of the wall or opening.
func (r *reader) keyColumn(t *table) {
	t.key = 1
	for _, name := range []string{"Opening", "Wall", "Plot", "Code"} {
		if c := t.find(name); c != nil {
			t.key = c.col
			break
		}
	}
	t.origin.Last = t.sheet.ColumnName(t.key)
}
