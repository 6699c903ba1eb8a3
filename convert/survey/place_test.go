package survey

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A mark in a random cell of a sheet with title rows, blank, hidden and merged
// rows and columns of its own is flagged at exactly that cell.
func TestEveryCellKnowsItsPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	headers := []string{"Wall", "Width mm", "Height mm", "Base mm", "Quantity", "Batten centres mm", "First batten mm", "Face length mm"}
	values := []any{nil, 7200, 4890, 150, 1, 600, 40, 7200}
	for trial := range 60 {
		top, left := 1+rng.IntN(9), 1+rng.IntN(30)
		order := rng.Perm(len(headers))
		var rows []int
		for row := top + 1; len(rows) < 12; row++ {
			if rng.IntN(4) > 0 {
				rows = append(rows, row)
			}
		}
		markRow, markCol := rows[rng.IntN(len(rows))], rng.IntN(len(headers))
		for headers[order[markCol]] == "Wall" {
			markCol = rng.IntN(len(headers))
		}
		name := func(col, row int) string {
			s, err := excelize.CoordinatesToCellName(left+col, row)
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		path := workbook(t, sheets{"Walls": nil}, func(f *excelize.File) {
			if top > 2 {
				f.SetCellValue("Walls", "A1", "Survey of a house")
			}
			for col, i := range order {
				f.SetCellValue("Walls", name(col, top), headers[i])
				for _, row := range rows {
					v := values[i]
					if v == nil {
						v = fmt.Sprintf("Wall %d", row)
					}
					f.SetCellValue("Walls", name(col, row), v)
				}
			}
			f.SetCellValue("Walls", name(markCol, markRow), "??")
			f.SetRowVisible("Walls", rows[rng.IntN(len(rows))], false)
			f.SetRowVisible("Walls", rows[0]-1, rng.IntN(2) == 0)
		})
		s := read(t, path, Options{})
		want := name(markCol, markRow)
		got := ""
		for _, f := range s.Flags {
			if f.Code == "type-error" {
				got += f.Place.Cell + " "
			}
		}
		if got != want+" " {
			t.Errorf("trial %d: the mark in %s is flagged at %q", trial, want, got)
		}
		if len(s.Job.Walls) != len(rows)-1 {
			t.Errorf("trial %d: %d walls taken of %d rows, of which one is at fault", trial, len(s.Job.Walls), len(rows))
		}
		checkOrigins(t, s, path)
		accounted(t, s)
	}
}

// checkOrigins looks each wall's name and width up at the place the wall says
// it has them from.
func checkOrigins(t *testing.T, s *Survey, path string) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, w := range s.Job.Walls {
		for header, want := range map[string]string{"Wall": w.Name, "Width mm": w.Width.String()} {
			p := w.Origin.At(header)
			if got, err := f.GetCellValue(p.Sheet, p.Cell, excelize.Options{RawCellValue: true}); err != nil || got != want {
				t.Errorf("%s of wall %s is said to stand in %s, where %q stands", header, w.Name, p.Cell, got)
			}
		}
	}
}
