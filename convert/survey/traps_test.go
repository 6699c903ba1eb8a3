package survey

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// What a reader that turns CSV into typed fields does silently: "2,400" becomes
// 2.4, 3.9 becomes 3, a blank becomes 0, NaN passes, a misspelt header gives
// zeros, and a row with a fault is kept with 0 in its place.
func TestWhatTypedReadersDoSilently(t *testing.T) {
	for _, c := range []struct {
		text string
		want engine.Flag
	}{
		{"Wall,Width mm,Height mm\nA,\"2,400\",2600\n", engine.Flag{Severity: stop, Code: "type-error", Place: engine.Place{Cell: "B2"}}},
		{"Wall,Width mm,Height mm,Quantity\nA,2400,2600,3.9\n", engine.Flag{Severity: stop, Code: "type-error", Place: engine.Place{Cell: "D2"}}},
		{"Wall,Width mm,Height mm\nA,,2600\n", engine.Flag{Severity: stop, Code: "missing-cell", Place: engine.Place{Cell: "B2"}}},
		{"Wall,Width mm,Height mm\nA,NaN,2600\n", engine.Flag{Severity: stop, Code: "type-error", Place: engine.Place{Cell: "B2"}}},
		{"Wall,Width mm,Height mm\nA,+Inf,2600\n", engine.Flag{Severity: stop, Code: "type-error", Place: engine.Place{Cell: "B2"}}},
		{"Wall,Widht mm,Height mm\nA,2400,2600\n", engine.Flag{Severity: stop, Code: "missing-label", Place: engine.Place{Cell: "D1"}}},
		{"Wall,Width mm,Height mm\nA,2400,x\n", engine.Flag{Severity: stop, Code: "type-error", Place: engine.Place{Cell: "C2"}}},
	} {
		path := filepath.Join(t.TempDir(), "Walls.csv")
		if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		s := read(t, path, Options{})
		found := false
		for _, f := range s.Flags {
			found = found || f.Severity == c.want.Severity && f.Code == c.want.Code && f.Place.Cell == c.want.Place.Cell
		}
		if !found || len(s.Job.Walls) != 0 || len(s.Rejected) != 1 {
			t.Errorf("%q gives the flags %+v and %d walls; want %s at %s and none", c.text, s.Flags, len(s.Job.Walls), c.want.Code, c.want.Place.Cell)
		}
	}
}

// What is shown is not what is read: 2.4 shown without decimals is 2, 0.125
// shown as a percentage is 13 %, 7200 shown in thousands is 7.
func TestTheStoredValueCounts(t *testing.T) {
	formats := map[string]string{"B2": "0", "C2": "0.0,"}
	path := workbook(t, sheets{
		"Walls":    {{"Wall", "Width (m)", "Height mm"}, {"Front", 7.204, 4890}},
		"Rules":    {{"Rule", "Value"}, {"Spare other", 0.125}},
		"Declared": {{"Item", "Value"}, {"Board density kg/m3", 1300.5}},
	}, func(f *excelize.File) {
		for cell, code := range formats {
			style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStyle("Walls", cell, cell, style); err != nil {
				t.Fatal(err)
			}
		}
		cellFormat("Rules", "B2", 9)(f)
		cellFormat("Declared", "B2", 1)(f)
	})
	s := read(t, path, Options{})
	w := s.Job.Walls[0]
	if w.Width.String() != "7204" || w.Height.String() != "4890" || s.Job.Rules.SpareOther != 12.5 || s.Job.Declared[0].Value != "1300.5" {
		t.Errorf("width %v, height %v, spare %v, density %s; want 7204, 4890, 12.5, 1300.5", w.Width, w.Height, s.Job.Rules.SpareOther, s.Job.Declared[0].Value)
	}
}

// Text that looks like a formula stays text, in and out.
func TestTextIsNeverAFormula(t *testing.T) {
	const evil = `=HYPERLINK("x","y")`
	s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Width mm", "Height mm", "Notes"}, {evil, 7200, 4890, "+1"}}}), Options{})
	if w := s.Job.Walls[0]; w.Name != evil || w.Notes != "+1" {
		t.Errorf("read as %q, %q", w.Name, w.Notes)
	}
}
