package survey

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/archive"
	"lapwright/convert/lettering"
	"lapwright/templates"
)

// rowsForInput is how many rows of a blank sheet have drop-downs and help.
const rowsForInput = 1000

// Limits of a spreadsheet: the texts of a cell's help, and a drop-down list
// that is written out.
const (
	mostTitle = 32
	mostHelp  = 255
	mostList  = 255
)

// WriteTemplate writes the blank survey workbook, or the filled example, with
// drop-downs, help texts, units and limits as the schemas have them. Equal
// calls write equal bytes.
func WriteTemplate(w io.Writer, example bool) (err error) {
	f := excelize.NewFile()
	defer func() { err = cmp.Or(err, f.Close()) }()
	t := &writer{file: f}
	if err := t.styles(); err != nil {
		return err
	}
	schemas, err := templates.Schemas()
	if err != nil {
		return err
	}
	for i, s := range schemas {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.Name)
		} else {
			_, err = f.NewSheet(s.Name)
		}
		if err != nil {
			return err
		}
		if err := t.sheet(s, example); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	if err := t.guide(schemas); err != nil {
		return err
	}
	for _, name := range f.GetSheetList() { // the library says A1, where some readers then stop
		if err := f.SetSheetDimension(name, ""); err != nil {
			return err
		}
	}
	walls, err := f.GetSheetIndex("Walls")
	if err != nil {
		return err
	}
	f.SetActiveSheet(walls)
	f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return archive.New(w) })
	return f.Write(io.Discard)
}

// Example returns the filled example as a workbook.
func Example() ([]byte, error) {
	var b bytes.Buffer
	err := WriteTemplate(&b, true)
	return b.Bytes(), err
}

// writer holds the workbook that is being written and its cell styles.
type writer struct {
	file                         *excelize.File
	head, needed, input, prefill int
}

func (t *writer) styles() error {
	border := []excelize.Border{{Type: "left", Color: "BFBFBF", Style: 1}, {Type: "right", Color: "BFBFBF", Style: 1}, {Type: "top", Color: "BFBFBF", Style: 1}, {Type: "bottom", Color: "BFBFBF", Style: 1}}
	wrap := &excelize.Alignment{WrapText: true, Vertical: "top"}
	for _, s := range []struct {
		id    *int
		style excelize.Style
	}{
		{&t.head, excelize.Style{Font: &excelize.Font{Bold: true, Family: "Calibri", Size: 11}, Fill: fill("E7E6E6"), Border: border, Alignment: wrap}},
		{&t.needed, excelize.Style{Font: &excelize.Font{Bold: true, Underline: "single", Family: "Calibri", Size: 11}, Fill: fill("D9D9D9"), Border: border, Alignment: wrap}},
		{&t.input, excelize.Style{Border: border, Alignment: &excelize.Alignment{Vertical: "top"}}},
		{&t.prefill, excelize.Style{Fill: fill("F2F2F2"), Border: border, Alignment: wrap}},
	} {
		id, err := t.file.NewStyle(&s.style)
		if err != nil {
			return err
		}
		*s.id = id
	}
	return nil
}

func fill(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

// sheet writes one sheet: headers, help and limits, and its rows.
func (t *writer) sheet(s *templates.Sheet, example bool) error {
	if err := t.headers(s); err != nil {
		return err
	}
	rows, err := content(s, example)
	if err != nil {
		return err
	}
	for i, row := range rows {
		for j, cell := range row {
			if err := t.cell(s, i, j, cell); err != nil {
				return err
			}
		}
	}
	if err := t.help(s, rows); err != nil {
		return err
	}
	total := 0.0
	for i := range s.Header() {
		total += width(s, i)
	}
	if err := t.file.SetRowHeight(s.Name, 1, 32); err != nil { // two lines
		return err
	}
	return t.page(s.Name, 1+int(total)/pageWidth)
}

// content returns the rows a sheet is written with. A sheet of items lists all
// items, with the example's values where wanted.
func content(s *templates.Sheet, example bool) ([][]string, error) {
	var filled [][]string
	if example {
		rows, err := templates.Example(s.Name)
		if err != nil {
			return nil, err
		}
		if len(rows) > 0 {
			filled = rows[1:]
		}
		if filled != nil && !s.Items() {
			return reorder(s, rows), nil
		}
	}
	if !s.Items() {
		return nil, nil
	}
	var out [][]string
	for _, f := range s.Fields {
		row := make([]string, len(s.Columns))
		row[0] = f.Name
		if len(row) > 2 {
			row[2] = f.Unit
		}
		for _, have := range filled {
			if have[0] == f.Name {
				copy(row[1:], have[1:])
			}
		}
		out = append(out, row)
	}
	return out, nil
}

// reorder puts an example's columns in the schema's order.
func reorder(s *templates.Sheet, rows [][]string) [][]string {
	var out [][]string
	for _, have := range rows[1:] {
		row := make([]string, len(s.Fields))
		for i := range s.Fields {
			if j := slices.Index(rows[0], s.Fields[i].Name); j >= 0 {
				row[i] = have[j]
			}
		}
		out = append(out, row)
	}
	return out
}

func (t *writer) headers(s *templates.Sheet) error {
	for i, f := range s.Header() {
		at, err := excelize.CoordinatesToCellName(i+1, 1)
		if err != nil {
			return err
		}
		style := t.head
		if f.Constraints.Required {
			style = t.needed
		}
		if err := t.file.SetCellStr(s.Name, at, f.Name); err != nil {
			return err
		}
		if err := t.file.SetCellStyle(s.Name, at, at, style); err != nil {
			return err
		}
		if err := t.file.SetColWidth(s.Name, letters(i+1), letters(i+1), width(s, i)); err != nil {
			return err
		}
		if err := t.validate(s.Name, at, &f, true); err != nil {
			return err
		}
	}
	return nil
}

func letters(col int) string {
	name, _ := excelize.ColumnNumberToName(col) // col is a column of a schema
	return name
}

// width is how wide a column is: room for its words or its header.
func width(s *templates.Sheet, col int) float64 {
	f := s.Header()[col]
	switch {
	case s.Items() && col == 0, f.Name == "Notes", f.Name == "Description", f.Name == "Source", f.Name == "Why", f.Name == "Address":
		return 30
	case s.Items() && col == 1:
		return 36
	case len(f.Constraints.Enum) > 0, f.Form != "":
		return 20
	}
	return 14
}

// cell writes a value: a number as one, the rest as text, never as a formula.
func (t *writer) cell(s *templates.Sheet, row, col int, text string) error {
	at, err := excelize.CoordinatesToCellName(col+1, row+2)
	if err != nil {
		return err
	}
	style := t.input
	if s.Items() && col != 1 {
		style = t.prefill
	}
	if err := t.file.SetCellStyle(s.Name, at, at, style); err != nil {
		return err
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil && isNumeric(s, row, col) {
		return t.file.SetCellFloat(s.Name, at, v, -1, 64)
	}
	if text == "" {
		return nil
	}
	return t.file.SetCellStr(s.Name, at, text)
}

func isNumeric(s *templates.Sheet, row, col int) bool {
	f := &s.Header()[col]
	if s.Items() {
		if col != 1 {
			return false
		}
		f = &s.Fields[row]
	}
	return f.Type == "integer" || f.Type == "number"
}

// help puts help, limits and drop-downs on the cells to fill in.
func (t *writer) help(s *templates.Sheet, rows [][]string) error {
	if s.Items() {
		for i := range s.Fields {
			at := fmt.Sprintf("B%d", i+2)
			if err := t.validate(s.Name, at, &s.Fields[i], false); err != nil {
				return err
			}
		}
		return nil
	}
	for i := range s.Fields {
		col := letters(i + 1)
		area := fmt.Sprintf("%s2:%s%d", col, col, max(rowsForInput, len(rows))+1)
		if err := t.validate(s.Name, area, &s.Fields[i], false); err != nil {
			return err
		}
	}
	return nil
}

// validate puts a field's help on an area and, unless it is a header, its
// limits. A wrong value is warned of, not refused: it may be a note in words,
// which the reader flags.
func (t *writer) validate(sheet, area string, f *templates.Field, header bool) error {
	v := excelize.NewDataValidation(true)
	v.Sqref = area
	v.SetInput(cut(f.Title, mostTitle), cut(helpText(f), mostHelp))
	if !header {
		if err := limits(v, f); err != nil {
			return err
		}
		v.SetError(excelize.DataValidationErrorStyleWarning, cut(f.Title, mostTitle), cut("Expected: "+f.Holds()+".", mostHelp))
	}
	return t.file.AddDataValidation(sheet, v)
}

func limits(v *excelize.DataValidation, f *templates.Field) error {
	list := f.Constraints.Enum
	if f.Type == "boolean" {
		list = []string{"yes", "no"}
	}
	if n := len(strings.Join(list, ",")); n > 0 && n < mostList && !slices.Contains(list, ",") {
		return v.SetDropList(list)
	}
	lo, hi := f.Constraints.Minimum, f.Constraints.Maximum
	kind := excelize.DataValidationTypeDecimal
	if f.Type == "integer" {
		kind = excelize.DataValidationTypeWhole
	}
	if f.Type != "integer" && f.Type != "number" || lo == nil {
		return nil
	}
	if hi == nil {
		return v.SetRange(*lo, 0, kind, excelize.DataValidationOperatorGreaterThanOrEqual)
	}
	return v.SetRange(*lo, *hi, kind, excelize.DataValidationOperatorBetween)
}

// helpText is what shows beside a cell: what it means, what it holds, what a
// blank means.
func helpText(f *templates.Field) string {
	parts := []string{f.Description, "Holds: " + f.Holds() + "."}
	switch blank := f.Blank(); {
	case blank == "needed":
		parts = append(parts, "Needed.")
	case blank != "":
		parts = append(parts, "Blank: "+blank+".")
	}
	return strings.Join(parts, " ")
}

// cut shortens a text to so many letters.
func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-1]) + "…"
}

// pageWidth is how many letters stand side by side on a printed page.
const pageWidth = 170

// page freezes the headers and sets the sheet up to print on so many pages
// side by side.
func (t *writer) page(sheet string, pages int) error {
	if err := t.file.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	landscape, paper, none := "landscape", 9, 0
	if err := t.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &landscape, Size: &paper, FitToWidth: &pages, FitToHeight: &none}); err != nil {
		return err
	}
	fit := true
	if err := t.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := t.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&A&RPage &P of &N"}); err != nil {
		return err
	}
	return t.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: "'" + sheet + "'!$A:$B,'" + sheet + "'!$1:$1", Scope: sheet})
}

const (
	linePoints  = 15.0 // of a line of 11 point text
	cellPadding = 6.0  // pixels a cell keeps clear beside its text
)

// guide writes a sheet that lists every column with its unit and limits. It is
// marked as made by this program, so that it is not taken for survey.
func (t *writer) guide(schemas []*templates.Sheet) error {
	const name = "How to fill in"
	if _, err := t.file.NewSheet(name); err != nil {
		return err
	}
	rows := [][]string{{"Sheet", "Column or item", "What it means", "Holds", "Blank"}}
	for _, s := range schemas {
		for i := range s.Fields {
			f := &s.Fields[i]
			rows = append(rows, []string{s.Name, f.Name, f.Description, f.Holds(), f.Blank()})
		}
	}
	widths := []float64{12, 28, 70, 50, 20}
	for i, row := range rows {
		lines := 1
		for j, text := range row {
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				return err
			}
			if err := t.file.SetCellStr(name, at, text); err != nil {
				return err
			}
			lines = max(lines, lettering.Count(text, lettering.Column(widths[j])-cellPadding))
		}
		if err := t.file.SetRowHeight(name, i+1, float64(lines)*linePoints); err != nil {
			return err
		}
	}
	last := fmt.Sprintf("E%d", len(rows))
	if err := t.file.SetCellStyle(name, "A1", last, t.prefill); err != nil {
		return err
	}
	if err := t.file.SetCellStyle(name, "A1", "E1", t.head); err != nil {
		return err
	}
	for i, w := range widths {
		if err := t.file.SetColWidth(name, letters(i+1), letters(i+1), w); err != nil {
			return err
		}
	}
	if err := t.file.SetDefinedName(&excelize.DefinedName{Name: mark, RefersTo: `"` + name + `"`}); err != nil {
		return err
	}
	return t.page(name, 1)
}
