package report

import (
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// columnBelow returns the texts below a header on a wall sheet, from the header's
// row to the first blank.
func columnBelow(t *testing.T, rows [][]string, block, header string) []string {
	t.Helper()
	for r, row := range rows {
		for c, name := range row {
			if !strings.HasPrefix(name, block) {
				continue
			}
			for d := c; r+1 < len(rows) && d < len(rows[r+1]); d++ {
				if rows[r+1][d] != header {
					continue
				}
				var out []string
				for _, below := range rows[r+2:] {
					if d >= len(below) || below[d] == "" {
						break
					}
					out = append(out, below[d])
				}
				return out
			}
		}
	}
	t.Fatalf("no column %s under %s", header, block)
	return nil
}

func TestWallSheet(t *testing.T) {
	f := opened(t, standard(t))
	rows := rowsOfSheet(t, f, "1 =1+1")
	for _, tt := range []struct{ block, header, want string }{
		{"Storey rod", "Bottom", "420 285 150"}, // the highest mark at the top, as on the rod
		{"Storey rod", "Course", "3 2 1"},
		{"Batten marks", "Centre", "25 589 1153 1717 2281 2845 3409 3973"},
		{"Cut list", "Piece", "A1.1 A1.2 A2.1 A2.2 A3.1 A3.2"},
		{"Cut list", "Length", "2399 1599 1799 2199 2399 1599"},
		{"Trims", "Mark", "A-t1"},
		{"Trims", "What and where", "starter, base"},
		{"Cut list", "Board", "B1 B1 B1 B1 B1 B1"},
	} {
		if got := strings.Join(columnBelow(t, rows, tt.block, tt.header), " "); got != tt.want {
			t.Errorf("%s, %s: got %s, want %s", tt.block, tt.header, got, tt.want)
		}
	}
	said := allText(t, f, "1 =1+1")
	for _, want := range []string{
		"Order of work", "1 of them HANDED", "Seal every sawn edge", "Notches (A2.1): drill the inside corners first",
		"Two people carry a long board, on edge.", "Drill first: 1 screw", "Left in sight: 1 screw", "4 mm lower at the head",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the wall sheet does not say %q:\n%s", want, said)
		}
	}
	if gable := allText(t, f, "1 Gable"); !strings.Contains(gable, "Rakes (G1.1, G2.1)") || strings.Contains(gable, "Notches") || strings.Contains(gable, "HANDED") {
		t.Errorf("the gable's sheet says\n%s", gable)
	}
	pictures := 0
	for _, cell := range pictureCells(t, f, "1 =1+1") {
		pics, err := f.GetPictures("1 =1+1", cell)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pics {
			pictures++
			if !strings.Contains(p.Format.AltText, "Elevation of wall 1 =1+1") {
				t.Errorf("the picture's words are %q", p.Format.AltText)
			}
		}
	}
	if pictures != 2 { // as surveyed and handed
		t.Errorf("got %d pictures, want 2", pictures)
	}
}

// A wall that is handed wherever it is built has the handed drawing alone, and
// its sheet says from which edge its lists measure.
func TestWallSheetOfHandedWalls(t *testing.T) {
	in := fullInput(t)
	w := &in.Result.Walls[0]
	w.Quantity, w.Mirrored = 1, 1
	f := opened(t, written(t, in))
	cells := pictureCells(t, f, "1 =1+1")
	if len(cells) != 1 {
		t.Fatalf("got %d pictures, want 1", len(cells))
	}
	pics, err := f.GetPictures("1 =1+1", cells[0])
	if err != nil || len(pics) != 1 || !strings.Contains(pics[0].Format.AltText, "handed") {
		t.Errorf("the picture is not of the handed wall (%v)", err)
	}
	if said := allText(t, f, "1 =1+1"); !strings.Contains(said, "HANDED: drawn as built") || !strings.Contains(said, "x from the wall's RIGHT edge") {
		t.Errorf("the sheet says\n%s", said)
	}
}

// TestPageTurnsForHighWalls: a long wall lies across the page, a tower stands.
func TestPageTurnsForHighWalls(t *testing.T) {
	for _, tt := range []struct {
		wide, high int64
		portrait   bool
	}{{8000, 2500, false}, {7000, 5000, false}, {5000, 8000, true}, {1000, 6000, true}} {
		w := &engine.WallResult{Outline: measure.Rect(span2(0, tt.wide), span2(0, tt.high))}
		if got := formFor(w).portrait; got != tt.portrait {
			t.Errorf("%d x %d: upright is %v, want %v", tt.wide, tt.high, got, tt.portrait)
		}
	}
}

// TestKeep counts points between page breaks.
func TestKeep(t *testing.T) {
	b, err := open(Input{Result: fixture()})
	if err != nil {
		t.Fatal(err)
	}
	defer b.file.Close()
	p, err := b.newPage("Sheet1", layout{})
	if err != nil {
		t.Fatal(err)
	}
	p.room = 10 * lineHeight
	rows := func(n int) [][]cell { return make([][]cell, n) }
	for _, tt := range []struct {
		n    int
		used float64 // lines on the page afterwards
	}{{4, 4}, {5, 9}, {3, 3}, {7, 10}, {1, 1}, {15, 15}, {1, 1}} {
		if err := p.together(rows(tt.n)); err != nil {
			t.Fatal(err)
		}
		if got := p.used / lineHeight; got != tt.used {
			t.Errorf("after %d more lines the page holds %v, want %v", tt.n, got, tt.used)
		}
	}
}
