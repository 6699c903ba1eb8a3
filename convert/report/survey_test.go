package report

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// surveyBook is a survey workbook with a sheet whose name has a quote in it, a
// text that looks like a formula, a format, a comment and an unknown sheet.
func surveyBook(t *testing.T) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	must(f.SetDefaultFont("Arial"))
	must(f.SetSheetName("Sheet1", "Walls o'r"))
	must(f.SetSheetRow("Walls o'r", "A1", &[]any{"Plot", "Wall", "Width mm"}))
	must(f.SetSheetRow("Walls o'r", "A2", &[]any{"1", "=1+1", 4000}))
	must(f.SetSheetRow("Walls o'r", "A3", &[]any{"1", "Rear", 3000}))
	id, err := f.NewStyle(&excelize.Style{NumFmt: 4, Font: &excelize.Font{Bold: true, Italic: true}})
	must(err)
	must(f.SetCellStyle("Walls o'r", "C3", "C3", id))
	must(f.SetColWidth("Walls o'r", "B", "B", 33))
	must(f.SetCellHyperLink("Walls o'r", "A3", "https://example.invalid/plan", "External"))
	must(f.AddComment("Walls o'r", excelize.Comment{Cell: "C3", Author: "surveyor", Text: "measured twice"}))
	_, err = f.NewSheet("Own notes")
	must(err)
	must(f.SetCellFormula("Own notes", "A1", "SUM(1,2)"))
	var out bytes.Buffer
	must(f.Write(&out))
	return out.Bytes()
}

// TestSurveyComesBack holds the survey's sheets to what they were, but for the
// marks on flagged cells.
func TestSurveyComesBack(t *testing.T) {
	before, data := surveyBook(t), standard(t)
	f := opened(t, data)
	if a, b := parts(t, before)["xl/worksheets/sheet2.xml"], parts(t, data)["xl/worksheets/sheet2.xml"]; a != b {
		t.Errorf("a sheet without flags changed from\n%s\nto\n%s", a, b)
	}
	for cell, want := range map[string]string{"A1": "Plot", "B2": "=1+1", "C2": "4000", "C3": "3000"} {
		if got, _ := f.GetCellValue("Walls o'r", cell); got != want {
			t.Errorf("%s: got %q, want %q", cell, got, want)
		}
	}
	if w, _ := f.GetColWidth("Walls o'r", "B"); w != 33 {
		t.Errorf("column B is %v wide, want 33", w)
	}
	for _, tt := range []struct {
		cell, fill   string
		bold, italic bool
		numFmt       int
	}{
		{"C3", fillStop, true, true, 4}, // a stop, in the survey's own bold format
		{"B2", fillCheck, false, false, 0},
		{"C2", "", false, false, 0}, // not flagged
	} {
		id, _ := f.GetCellStyle("Walls o'r", tt.cell)
		s, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if len(s.Fill.Color) > 0 {
			got = s.Fill.Color[0]
		}
		if got != tt.fill || s.NumFmt != tt.numFmt || (s.Font != nil && (s.Font.Bold != tt.bold || s.Font.Italic != tt.italic)) {
			t.Errorf("%s: fill %q, number format %d, font %+v; want %+v", tt.cell, got, s.NumFmt, s.Font, tt)
		}
	}
}

func TestFlagsAndCellsLinkEachOther(t *testing.T) {
	f := opened(t, standard(t))
	for i, row := range rowsOfSheet(t, f, "Flagged issues")[1:] {
		at := fmt.Sprintf("F%d", i+2)
		has, to, err := f.GetCellHyperLink("Flagged issues", at)
		if want := "'Walls o''r'!" + row[5]; err != nil || !has || to != want {
			t.Errorf("flag %d links to %q (%v), want %q", i+1, to, err, want)
		}
	}
	for cell, want := range map[string]string{"C3": "'Flagged issues'!A2", "B2": "'Flagged issues'!A3"} {
		if has, to, err := f.GetCellHyperLink("Walls o'r", cell); err != nil || !has || to != want {
			t.Errorf("%s links to %q (%v), want %q", cell, to, err, want)
		}
	}
}

// Where the flags go on on other sheets, the links lead to and come from the
// sheet that each flag is on.
func TestLinksOfFlagsThatGoOn(t *testing.T) {
	in := fullInput(t)
	in.rowsMost = 1
	f := opened(t, written(t, in))
	for _, tt := range []struct{ sheet, cell, want string }{
		{"Walls o'r", "C3", "'Flagged issues'!A2"},
		{"Walls o'r", "B2", "'Flagged issues 2'!A2"},
		{"Flagged issues", "F2", "'Walls o''r'!C3"},
		{"Flagged issues 2", "F2", "'Walls o''r'!B2"},
		{"Flagged issues 3", "F2", "'Walls o''r'!B2"},
	} {
		if has, to, err := f.GetCellHyperLink(tt.sheet, tt.cell); err != nil || !has || to != tt.want {
			t.Errorf("%s!%s links to %q (%v), want %q", tt.sheet, tt.cell, to, err, tt.want)
		}
	}
}

// TestOwnLinksStay flags a cell that has a link of the survey's own.
func TestOwnLinksStay(t *testing.T) {
	in := fullInput(t)
	in.Result.Flags = append(in.Result.Flags, engine.Flag{Code: "x", What: "odd", Place: engine.Place{Sheet: "Walls o'r", Cell: "A3"}})
	has, to, err := opened(t, written(t, in)).GetCellHyperLink("Walls o'r", "A3")
	if err != nil || !has || to != "https://example.invalid/plan" {
		t.Errorf("A3 links to %q (%v), want the survey's own place", to, err)
	}
}

// A flag of another file whose sheet has the name of one of the survey's marks
// nothing there.
func TestFlagsOfOtherFilesMarkNothing(t *testing.T) {
	in := fullInput(t)
	in.Result.Flags = []engine.Flag{{Severity: engine.Check, Code: "x", What: "odd", Place: engine.Place{File: "products.csv", Sheet: "Walls o'r", Cell: "A2"}},
		{Severity: engine.Check, Code: "x", What: "odd", Place: engine.Place{File: in.SurveyName, Sheet: "Walls o'r", Cell: "B3"}}}
	f := opened(t, written(t, in))
	for cell, want := range map[string]bool{"A2": false, "B3": true} {
		if has, to, err := f.GetCellHyperLink("Walls o'r", cell); err != nil || has != want {
			t.Errorf("%s links to %q (%v); want a link: %v", cell, to, err, want)
		}
	}
	for at, want := range map[string]bool{"F2": false, "F3": true} {
		if has, to, err := f.GetCellHyperLink("Flagged issues", at); err != nil || has != want {
			t.Errorf("the flag %s links to %q (%v); want a link: %v", at, to, err, want)
		}
	}
}

func TestCommentsSayWhatIsWrong(t *testing.T) {
	got := comments(t, opened(t, standard(t)))
	for cell, want := range map[string]string{
		"C3": "surveyor: measured twice\nlapwright:\nSTOP (opening-outside): The opening lies outside. Measure again.",
		"B2": "lapwright:\nCHECK (piece-short): Piece A1.2 is short. Look at it on the drawing.\nNOTE (hidden-row): The row is hidden. Nothing: it was taken like any other.",
	} {
		if got[cell] != want {
			t.Errorf("%s says\n%s\nwant\n%s", cell, got[cell], want)
		}
	}
}

func comments(t *testing.T, f *excelize.File) map[string]string {
	t.Helper()
	all, err := f.GetComments("Walls o'r")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, c := range all {
		out[c.Cell] = plainComment(c)
	}
	return out
}

// TestRoundAgain feeds a takeoff in as its own survey: nothing of the first
// run may be left, and nothing of the survey be lost.
func TestRoundAgain(t *testing.T) {
	in := fullInput(t)
	first := written(t, in)
	in.Survey = first
	second := written(t, in)
	in.Survey = second
	third := written(t, in)
	if a, b := opened(t, first).GetSheetList(), opened(t, third).GetSheetList(); !slices.Equal(a, b) {
		t.Errorf("sheets %q became %q", a, b)
	}
	if a, b := len(parts(t, first)), len(parts(t, third)); a != b {
		t.Errorf("%d parts became %d", a, b)
	}
	if a, b := comments(t, opened(t, first)), comments(t, opened(t, third)); !maps.Equal(a, b) {
		t.Errorf("comments %q became %q", a, b)
	}

	mended := in
	mended.Result = fixture()
	mended.Result.Flags = nil
	f := opened(t, written(t, mended))
	if got := comments(t, f); len(got) != 1 || got["C3"] != "measured twice" {
		t.Errorf("with all mended the comments are %q, want the surveyor's alone", got)
	}
	if has, to, _ := f.GetCellHyperLink("Walls o'r", "C3"); has {
		t.Errorf("with all mended C3 still links to %s", to)
	}
	id, _ := f.GetCellStyle("Walls o'r", "C3")
	if s, _ := f.GetStyle(id); len(s.Fill.Color) > 0 || !s.Font.Bold {
		t.Errorf("with all mended C3 looks like %+v", s)
	}
}

// TestHelpSheetsStay: a page of help in a blank survey is marked as no data,
// and is kept, and stays marked, however often the workbook goes round.
func TestHelpSheetsStay(t *testing.T) {
	f := opened(t, surveyBook(t))
	if err := f.SetDefinedName(&excelize.DefinedName{Name: mark, RefersTo: `"Own notes"`}); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in := fullInput(t)
	in.Survey = buf.Bytes()
	for range 2 {
		in.Survey = written(t, in)
		out := opened(t, in.Survey)
		if got := out.GetSheetList(); !slices.Contains(got, "Own notes") || !signedNames(out)["Own notes"] || madeSheets(out)["Own notes"] {
			t.Errorf("the page of help is lost or no longer known: sheets %q", got)
		}
	}
}

// TestForeignSheetsOfOurNames keeps a survey's own sheet called Summary.
func TestForeignSheetsOfOurNames(t *testing.T) {
	f := opened(t, surveyBook(t))
	if err := f.SetSheetName("Own notes", "summary"); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in := fullInput(t)
	in.Survey = buf.Bytes()
	out := opened(t, written(t, in))
	if got := out.GetSheetList(); got[1] != "summary" || got[2] != "Summary (2)" {
		t.Errorf("got sheets %q", got)
	}
	if formula, _ := out.GetCellFormula("summary", "A1"); formula != "SUM(1,2)" {
		t.Errorf("the survey's own sheet has %q", formula)
	}
}

// TestPartsAreNotOverwritten takes a survey whose sheet ids are not the
// numbers of its parts, as they are once sheets were deleted.
func TestPartsAreNotOverwritten(t *testing.T) {
	f := opened(t, surveyBook(t))
	for _, s := range []string{"x", "y", "z"} {
		if _, err := f.NewSheet(s); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SetCellValue("z", "A1", "kept"); err != nil {
		t.Fatal(err)
	}
	for i := range f.WorkBook.Sheets.Sheet {
		f.WorkBook.Sheets.Sheet[i].SheetID = i + 1
	}
	f.WorkBook.Sheets.Sheet[4].SheetID, f.WorkBook.Sheets.Sheet[2].SheetID = 2, 3 // z, in sheet5.xml
	f.WorkBook.Sheets.Sheet[1].SheetID = 4
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in := fullInput(t)
	in.Survey = buf.Bytes()
	if got, _ := opened(t, written(t, in)).GetCellValue("z", "A1"); got != "kept" {
		t.Errorf("got %q in the survey's last sheet, want kept", got)
	}
}

// TestTablesAreNotOverwritten takes a survey whose table has another number
// than its part, as some programs write them.
func TestTablesAreNotOverwritten(t *testing.T) {
	f := opened(t, surveyBook(t))
	if err := f.AddTable("Walls o'r", &excelize.Table{Range: "A1:C3", Name: "Theirs"}); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in := fullInput(t)
	in.Survey = renamed(t, buf.Bytes(), "/tables/table1.xml", "/tables/table3.xml")
	tables, err := opened(t, written(t, in)).GetTables("Walls o'r")
	if err != nil {
		t.Fatal(err)
	}
	if len(tables) != 1 || tables[0].Name != "Theirs" {
		t.Errorf("the survey's sheet has the tables %+v, want its own", tables)
	}
}
