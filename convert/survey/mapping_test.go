package survey

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// A mapping that is saved from one survey reads the next one of the same
// customer in the same way, without the help of other names.
func TestAMappingServesTheNextSurvey(t *testing.T) {
	theirs := filepath.Join(surveys, "terrace--abbreviations.xlsx")
	first := read(t, theirs, Options{})
	var b bytes.Buffer
	if err := first.WriteMapping(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Sheet,Their header,Ours", "Wall schedule,,Walls", "Walls,LH edge,Left edge", "Plots,Opp. hand,Handed"} {
		if !strings.Contains(b.String(), want+"\n") {
			t.Errorf("the mapping lacks %q:\n%s", want, b.String())
		}
	}
	path := filepath.Join(t.TempDir(), "mapping.csv")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	second := read(t, theirs, Options{Mapping: path})
	if got, want := said(t, second), said(t, first); got != want {
		t.Error(difference(got, want))
	}
	for _, sheet := range second.Sheets {
		for _, c := range sheet.Columns {
			if sheet.Name == "Wall schedule" && c.Header == "LH edge" && c.How != "mapping" {
				t.Errorf("%s was read by %q", c.Header, c.How)
			}
		}
	}
}

// What may be a misspelt column, or is claimed twice, is left open in a saved
// mapping: read with it, the next survey is asked again, at the mapping's cell.
func TestAMappingLeavesDoubtsOpen(t *testing.T) {
	rows := sheets{"Walls": {{"Wall", "Width", "Height", "Colur", "Lift", "Qty", "No off"}, {"Front", 7200, 4890, "Chalk", "b", 2, 3}}}
	s := read(t, workbook(t, rows), Options{})
	var b bytes.Buffer
	if err := s.WriteMapping(&b); err != nil {
		t.Fatal(err)
	}
	want := "Sheet,Their header,Ours\nWalls,Width,Width mm\nWalls,Height,Height mm\nWalls,Colur,\nWalls,Lift,-\nWalls,Qty,\nWalls,No off,\n"
	if b.String() != want {
		t.Errorf("the mapping is\n%s\nwant\n%s", b.String(), want)
	}
	path := filepath.Join(t.TempDir(), "mapping.csv")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	var asked []string
	for _, f := range read(t, workbook(t, rows), Options{Mapping: path}).Flags {
		if f.Place.File == "mapping.csv" {
			asked = append(asked, f.Code+" "+f.Place.Cell)
		}
	}
	if got := strings.Join(asked, ", "); got != "missing-cell C4, missing-cell C6, missing-cell C7" {
		t.Errorf("the mapping is asked about at %s", got)
	}
}

// A misspelt header is told with the column it may be, at both ends.
func TestAMisspeltHeaderIsNamed(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Widht (mm)", "Height"}, {"Front", 7200, 4890}}}), Options{})
	var said string
	for _, f := range s.Flags {
		said += f.Place.Cell + " " + f.What + "\n"
	}
	for _, want := range []string{`B1 The column "Widht (mm)" is not known and was not read; the nearest known is Width mm`,
		`D1 The column Width mm is missing; no row can be taken without it; B1, "Widht (mm)", may be it`} {
		if !strings.Contains(said, want) {
			t.Errorf("the flags say\n%s\nwant in it\n%s", said, want)
		}
	}
}

// The unit of their column goes with the mapping.
func TestAMappingKeepsUnits(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Width (m)", "Height in cm"}, {"Front", 7.2, 489}}}), Options{})
	var b bytes.Buffer
	if err := s.WriteMapping(&b); err != nil {
		t.Fatal(err)
	}
	if want := "Walls,Width (m),Width m\nWalls,Height in cm,Height cm\n"; !strings.Contains(b.String(), want) {
		t.Errorf("the mapping is\n%s\nwant in it\n%s", b.String(), want)
	}
}

func TestCSVFilesByTheirNames(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"plot 7 - walls.csv":  "\xEF\xBB\xBFWall,Width,Height\n\n\"The \"\"long\"\"\nwall\",\"9000\",4890\nEnd,3000,4890\n",
		"plot 7_openings.csv": "sep=;\nWall;Opening;From left;Sill;Width;Height\nEnd;W1;700;900;1 200;1,05 m\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s := read(t, filepath.Join(dir, "plot 7 - walls.csv"), Options{With: []string{filepath.Join(dir, "plot 7_openings.csv")}})
	if len(s.Job.Walls) != 2 || len(s.Job.Walls[1].Openings) != 1 {
		t.Fatalf("read as %+v with the flags %+v", s.Job.Walls, s.Flags)
	}
	if w := s.Job.Walls[0]; w.Name != `The "long" wall` || w.Origin.Row != 3 {
		t.Errorf("the first wall is %q in row %d, want row 3", w.Name, w.Origin.Row)
	}
	if p := s.Job.Walls[1].Origin.At("Width mm"); p.Cell != "B4" || p.File != "plot 7 - walls.csv" {
		t.Errorf("the second wall's width is said to stand at %+v, want B4", p)
	}
	if o := s.Job.Walls[1].Openings[0]; o.Height.String() != "1050" || o.Origin.At("Sill mm").Cell != "D3" {
		t.Errorf("the opening is %+v", o)
	}
}

// Heights at the ridge and corners at the ends are known by the words sites
// use (common practice), alone in their column.
func TestRidgeAndCornersAreKnown(t *testing.T) {
	for _, name := range []string{"Ridge", "Ridge height", "Height at ridge"} {
		s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Width mm", "Eaves ht", name, "Left corner", "RH end"},
			{"End", 6000, 4890, 7250, "ext corner", "int corner"}}}), Options{})
		if len(s.Job.Walls) != 1 {
			t.Fatalf("%s: %d walls, flags %+v", name, len(s.Job.Walls), s.Flags)
		}
		w := s.Job.Walls[0]
		if w.ApexHeight.Value != measure.MM(7250) || w.Height != measure.MM(4890) || w.Left != engine.ExternalCorner || w.Right != engine.InternalCorner {
			t.Errorf("%s: read as %+v", name, w)
		}
	}
}
