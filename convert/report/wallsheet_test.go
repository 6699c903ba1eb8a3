package report

import (
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

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
	rows = rows[:handedPages(t, rows)]
	for _, tt := range []struct{ block, header, want string }{
		{"Storey rod", "Bottom", "420 285 150"}, // the highest mark at the top, as on the rod
		{"Storey rod", "Course", "3 2 1"},
		{"Batten marks", "Centre", "25 589 1153 1717 2281 2845 3409 3973"},
		{"Batten marks", "Length", "440 440 440 440 440 440 440 440"}, // 590 - 150
		{"Batten marks", "Width", strings.Repeat("50 grid ", 7) + "50 grid"},
		{"Batten marks", "Stock", "S1 S1 S1 S1 S1 S1 S1 S1"},
		{"Cut list", "Piece", "A1.1 A1.2 A2.1 A2.2 A3.1 A3.2"},
		{"Cut list", "Length", "2399 1599 1799 2199 2399 1599"},
		{"Trims", "Mark", "A-t1"},
		{"Trims", "From", "0"},
		{"Trims", "Length", "4000"},
		{"Trims", "What and where", "starter, base"},
		{"Cut list", "Board", "B1 B1 B1 B1 B1 B1"},
	} {
		if got := strings.Join(columnBelow(t, rows, tt.block, tt.header), " "); got != tt.want {
			t.Errorf("%s, %s: got %s, want %s", tt.block, tt.header, got, tt.want)
		}
	}
	said := allText(t, f, "1 =1+1")
	for _, want := range []string{
		"Order of work", "1 more of the other hand", "Seal every sawn edge", "Notches (A2.1): drill the inside corners first",
		"Two people carry a long board, on edge.", "Drill first: 1 screw", "Left in sight: 1 screw", "is for the office",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the wall sheet does not say %q:\n%s", want, said)
		}
	}
	if gable := allText(t, f, "1 Gable"); !strings.Contains(gable, "Rakes (G1.1, G2.1)") || strings.Contains(gable, "Notches") || strings.Contains(gable, "HANDED") {
		t.Errorf("the gable's sheet says\n%s", gable)
	}
	if words := pictured(t, f, "1 =1+1"); len(words) != 2 || !strings.Contains(words[0], "Elevation of wall 1 =1+1") || strings.Contains(words[0], "handed") || !strings.Contains(words[1], "Drawn handed") {
		t.Errorf("the pictures' words are %q", words)
	}
}

// pictured returns the words of the pictures on a sheet.
func pictured(t *testing.T, f *excelize.File, sheet string) []string {
	t.Helper()
	var out []string
	for _, cell := range pictureCells(t, f, sheet) {
		pics, err := f.GetPictures(sheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pics {
			out = append(out, p.Format.AltText)
		}
	}
	return out
}

// handedPages returns the row in which a wall sheet's handed pages begin.
func handedPages(t *testing.T, rows [][]string) int {
	t.Helper()
	at := slices.IndexFunc(rows, func(r []string) bool { return len(r) > 0 && strings.Contains(r[0], "HANDED: all on these pages") })
	if at < 0 {
		t.Fatal("there are no handed pages")
	}
	return at
}

// A wall that is built both ways has pages of each, and one that is handed
// wherever it is built those alone. All that stands on handed pages is mirrored:
// the wall is 4,000 long, so a batten at 25 stands at 3,975, and what ends at
// 4,000 begins at 0.
func TestHandedPages(t *testing.T) {
	both, alone := fullInput(t), fullInput(t)
	alone.Result.Walls[0].Quantity = 1
	for i, in := range []Input{both, alone} {
		f := opened(t, written(t, in))
		rows := rowsOfSheet(t, f, "1 =1+1")
		if i == 0 { // the pages as surveyed come before
			rows = rows[handedPages(t, rows):]
		}
		for _, list := range []struct{ block, header, want string }{
			{"Batten marks", "Centre", "3975 3411 2847 2283 1719 1155 591 27"},
			{"Cut list", "Piece", "A1.1 A1.2 A2.1 A2.2 A3.1 A3.2"},
			{"Cut list", "Left", "1601 0 2201 0 1601 0"},
			{"Storey rod", "Bottom", "420 285 150"},
		} {
			if got := strings.Join(columnBelow(t, rows, list.block, list.header), " "); got != list.want {
				t.Errorf("%s, %s: got %s, want %s", list.block, list.header, got, list.want)
			}
		}
		if words := pictured(t, f, "1 =1+1"); len(words) != 2-i || !strings.Contains(words[1-i], "Drawn handed") {
			t.Errorf("the pictures' words are %q", words)
		}
		if said := allText(t, f, "Summary"); !strings.Contains(said, "Built HANDED: 1. Tables list every wall as surveyed") {
			t.Error("the Summary does not say that the tables are as surveyed")
		}
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

// Words of a piece that run over several rows leave it one box to tick for cut and
// one for fixed, around all of them.
func TestBoxesOverRows(t *testing.T) {
	p := board(1, 0, 3000, 150, 1)
	for x := int64(100); x < 700; x += 200 {
		p.Outline = append(p.Outline, measure.Point{X: mmOf(x)}) // no rectangle
		p.Cutouts = append(p.Cutouts, engine.VoidRect{X: span2(x, x+100), Z: span2(150, 200)})
	}
	rows := cutRows(&p, mmOf(175))
	var boxes []look
	for _, r := range rows {
		if r[7] != r[8] {
			t.Errorf("the two boxes differ: %v", r)
		}
		boxes = append(boxes, r[7].l)
	}
	if want := []look{tickTop, tickSides, tickFoot}; !slices.Equal(boxes, want) {
		t.Errorf("got the boxes %v of %d rows, want %v", boxes, len(rows), want)
	}
	p = board(1, 0, 3000, 150, 1)
	if rows := cutRows(&p, mmOf(175)); len(rows) != 1 || rows[0][7].l != tick {
		t.Errorf("a plain board has the rows %v", rows)
	}
}

// Lists that a few rows would carry over on to a page of their own are set a little
// tighter; others are not.
func TestNoPageForAFewRows(t *testing.T) {
	b, err := open(Input{Result: fixture()})
	if err != nil {
		t.Fatal(err)
	}
	defer b.file.Close()
	p, err := b.newPage("Sheet1", layout{})
	if err != nil {
		t.Fatal(err)
	}
	f := newspaperForm(false, pageWide, pageHigh, 1)
	w := &engine.WallResult{}
	rowsWith := func(pieces int) (rows int) {
		w.Pieces = nil
		for i := range pieces {
			w.Pieces = append(w.Pieces, board(i+1, 0, 3000, 150, 1))
		}
		before := p.row
		if p.used > 0 {
			if err := p.breakPage(); err != nil {
				t.Fatal(err)
			}
		}
		p.room = f.page
		if err := p.lists(w, f); err != nil {
			t.Fatal(err)
		}
		return p.row - before
	}
	least := rowsWith(1)
	full := f.rows(lineHeight)
	for more := range 8 { // pieces beyond what one page of the usual rows holds
		pieces := 1 + full - least + more
		got := rowsWith(pieces)
		onOne := got == full+more
		fits := float64(full+more+1)*tightLine <= f.page
		if onOne != fits {
			t.Errorf("%d rows too many: on one page is %v, want %v (%d rows)", more, onOne, fits, got)
		}
		if high := p.used / float64(got); onOne && more > 0 && high != tightLine {
			t.Errorf("%d rows too many: a row is %v points high, want %v", more, high, tightLine)
		}
	}
}
