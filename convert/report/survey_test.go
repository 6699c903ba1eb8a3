package report

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"
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
	must(f.AddComment("Walls o'r", excelize.Comment{Cell: "C3", Author: "surveyor", Text: "measured twice"}))
	_, err = f.NewSheet("Own notes")
	must(err)
	must(f.SetCellFormula("Own notes", "A1", "SUM(1,2)"))
	var out bytes.Buffer
	must(f.Write(&out))
	return out.Bytes()
}
