package survey

import (
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// read reads a survey that must be readable.
func read(t testing.TB, path string, o Options) *Survey {
	t.Helper()
	s, err := Read(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func asError(err error, target **Error) bool { return errors.As(err, target) }

func writeCSV(t testing.TB, path string, rows [][]string) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w := csv.NewWriter(f)
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
}

// sheets are the rows of a workbook's sheets, by name; a string is written as
// text, a number as a number, nil leaves a cell out.
type sheets map[string][][]any

// workbook writes sheets to a file, in the order of names, and lets more be
// done to it.
func workbook(t testing.TB, s sheets, more ...func(*excelize.File)) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	first := true
	for _, name := range sortedNames(s) {
		if first {
			if err := f.SetSheetName("Sheet1", name); err != nil {
				t.Fatal(err)
			}
		} else if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		first = false
		fillSheet(t, f, name, s[name])
	}
	for _, do := range more {
		do(f)
	}
	path := filepath.Join(t.TempDir(), "survey.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

func fillSheet(t testing.TB, f *excelize.File, name string, rows [][]any) {
	t.Helper()
	for i, row := range rows {
		for j, v := range row {
			if v == nil {
				continue
			}
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellValue(name, at, v); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func sortedNames(s sheets) []string {
	var out []string
	for _, n := range []string{"Job", "Walls", "Openings", "Plots", "Rules", "Products", "Declared", "Mapping", "Offcuts"} {
		if _, ok := s[n]; ok {
			out = append(out, n)
		}
	}
	for n := range s {
		known := false
		for _, o := range out {
			known = known || o == n
		}
		if !known {
			out = append(out, n)
		}
	}
	return out
}

// signed marks sheets as made by this program: in one name, or in numbered
// pieces as where the list is long.
func signed(list string) func(*excelize.File) {
	return func(f *excelize.File) {
		half := len(list) / 2
		for name, text := range map[string]string{mark + "_1": list[:half], mark + "_2": list[half:]} {
			if err := f.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: `"` + text + `"`}); err != nil {
				panic(err)
			}
		}
	}
}
