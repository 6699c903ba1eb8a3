package survey

import (
	"slices"
	"strings"
	"testing"
)

// The faults of a survey of a wall in each column are those of the same survey
// as rows, each at the cell that its own is turned to: C3 becomes C3, E4 D5.
func TestTurnedFaultsStandAtTheirCells(t *testing.T) {
	rows := sound()
	rows["Walls"][2][2] = "six metres"
	rows["Walls"][3][4] = "externl cornr"
	rows["Openings"][1][6] = nil
	turned := sheets{"Walls": turn(rows["Walls"]), "Openings": turn(rows["Openings"])}
	var want []string
	for _, line := range flagLines(read(t, workbook(t, rows), Options{})) {
		at := line[strings.LastIndex(line, "!")+1:] // one letter and one figure here
		want = append(want, strings.TrimSuffix(line, at)+string('A'+at[1]-'1')+string('1'+at[0]-'A'))
	}
	s := read(t, workbook(t, turned), Options{})
	got := slices.DeleteFunc(flagLines(s), func(l string) bool { return strings.Contains(l, "sheet-turned") })
	slices.Sort(want)
	if !slices.Equal(got, want) || len(want) < 4 {
		t.Errorf("flags\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
	for _, r := range s.Rejected {
		if want := map[string]string{"Side": "C", "Back": "D", "Front": "B"}[r.Name]; r.As == "Walls" && r.Line != want {
			t.Errorf("the wall %s is said to stand in %q, want column %q", r.Name, r.Line, want)
		}
	}
	accounted(t, s)
}

// The engine, too, knows each value's true cell.
func TestTurnedOrigins(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": turn(sound()["Walls"])}), Options{})
	for i, column := range []string{"B", "C", "D"} {
		o := s.Job.Walls[i].Origin
		if w, b := o.At("Width mm").Cell, o.At("Base mm").Cell; w != column+"3" || b != column+"2" {
			t.Errorf("wall %d has its width in %s and a base in %s, want %s3 and %s2", i+1, w, b, column, column)
		}
	}
}

// A hidden doubt: where both ways of reading have what is needed, the sheet is
// read as it stands.
func TestASheetThatReadsBothWaysIsNotTurned(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Width", "Height"}, {"Width", 7200, 4890}, {"Height", 6000, 4890}}}), Options{})
	if len(s.Job.Walls) != 2 || s.Job.Walls[0].Name != "Width" || s.Job.Walls[0].Width.String() != "7200" {
		t.Errorf("read as %+v", s.Job.Walls)
	}
}
