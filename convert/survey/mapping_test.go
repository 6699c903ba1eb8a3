package survey

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
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
	for _, want := range []string{"Sheet,Their header,Ours", "Wall schedule,,Walls", "Wall schedule,LH edge,Left edge", "Plot list,Opp. hand,Handed"} {
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
