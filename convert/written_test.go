package convert

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/survey"
	"lapwright/engine"
)

// Whatever a reader writes into a takeoff keeps it from being written over, and the
// sheet is named; a workbook that was only saved by another program is replaced.
func TestWhatIsWrittenIntoATakeoffIsKept(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "house.xlsx")
	if _, err := Template(in, true); err != nil {
		t.Fatal(err)
	}
	takeoff := func() Report {
		t.Helper()
		rep, err := Convert(t.Context(), in, Options{Effort: engine.EffortQuick})
		if err != nil {
			t.Fatal(err)
		}
		return rep
	}
	first := takeoff()
	made, err := os.ReadFile(first.Out)
	if err != nil {
		t.Fatal(err)
	}
	note := func(sheet, cell string, v any) func(*excelize.File) error {
		return func(f *excelize.File) error { return f.SetCellValue(sheet, cell, v) }
	}
	for _, c := range []struct {
		name  string
		write func(f *excelize.File) error
		why   string // of what keeps it; blank: it is replaced
	}{
		{"saved", func(*excelize.File) error { return nil }, ""},
		{"a note beside a table", note("Cut list", "R5", "ask Tom"), "(sheet Cut list); to carry that on, copy it over"},
		{"a number typed over another", note("Storey rod", "D3", 1), "(sheet Storey rod)"},
		{"a ticked cell of a wall", note("Front", "A60", "x"), "(sheet Front)"},
		{"an order signed", note("Order summary", "C40", "signed"), "(sheet Order summary)"},
		{"a quantity of packs typed over its formula", note("Order summary", "K2", 3), "(sheet Order summary)"},
		{"a formula of one's own", func(f *excelize.File) error { return f.SetCellFormula("Order summary", "X2", "M2*1.2") }, "(sheet Order summary)"},
		{"a comment", func(f *excelize.File) error {
			return f.AddComment("Battens", excelize.Comment{Cell: "B2", Author: "site", Text: "moved"})
		}, "(sheet Battens)"},
		{"a wall mended", note("Walls", "C2", 7300), "(sheet Walls); to carry that on, feed " + first.Out + " in, in place of the survey"},
		{"a comment on the survey", func(f *excelize.File) error {
			return f.AddComment("Walls", excelize.Comment{Cell: "Z9", Author: "site", Text: "moved"})
		}, "(sheet Walls)"},
		{"an added sheet", func(f *excelize.File) error {
			_, err := f.NewSheet("Notes")
			return err
		}, "(sheet Notes)"},
		{"two sheets", func(f *excelize.File) error {
			if err := note("Trims", "Z1", "x")(f); err != nil {
				return err
			}
			return note("Openings", "Z1", "x")(f)
		}, "(sheets Trims, Openings); to carry that on, copy it over, and feed "},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := os.WriteFile(first.Out, made, 0o644); err != nil {
				t.Fatal(err)
			}
			f, err := excelize.OpenFile(first.Out)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := c.write(f); err != nil {
				t.Fatal(err)
			}
			if err := f.Save(); err != nil {
				t.Fatal(err)
			}
			rep := takeoff()
			if c.why == "" {
				if rep.Kept != "" || rep.Out != first.Out {
					t.Errorf("%s is kept: %s", rep.Kept, rep.Why)
				}
				return
			}
			if want := "something was written into it since " + c.why; rep.Kept != first.Out || !strings.Contains(rep.Why, want) {
				t.Errorf("kept %q because %q, want %q", rep.Kept, rep.Why, want)
			}
		})
	}
}

// A spreadsheet program that saves a takeoff writes nothing of its own into it,
// though it puts texts, numbers and formulas in other words.
func TestSavedByASpreadsheetProgram(t *testing.T) {
	rep, err := Convert(t.Context(), Example, Options{Out: filepath.Join(t.TempDir(), "house.xlsx"), Effort: engine.EffortQuick})
	if err != nil {
		t.Fatal(err)
	}
	for _, tool := range []string{"soffice", "ssconvert"} {
		t.Run(tool, func(t *testing.T) {
			if w, err := survey.ReadWritten(recomputed(t, tool, rep.Out)); err != nil || len(w.Made)+len(w.Survey) > 0 {
				t.Errorf("saving is taken for writing: %+v, %v", w, err)
			}
		})
	}
}
