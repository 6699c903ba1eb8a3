package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// TestBarsTrueOutline looks for a raked end and a notch where their sizes say
// they are: along the bar to scale, across it as a share of the board's width.
func TestBarsTrueOutline(t *testing.T) {
	point := func(x, z int64) measure.Point { return measure.Point{X: measure.MM(x), Z: measure.MM(z)} }
	row := engine.CutRow{Board: "B1", Lot: &engine.Lot{Code: "LB", Stock: measure.MM(3600)}, Count: 1, Offcut: measure.MM(592),
		Cuts: []engine.Cut{{Marks: []string{"A"}, Length: measure.MM(2000)}, {Marks: []string{"B"}, Length: measure.MM(1000)}}}
	shapes := map[string]Shape{
		"A": {Width: measure.MM(200), Words: "left top 400 x 200", Outline: measure.Polygon{point(0, 0), point(2000, 0), point(2000, 200), point(400, 200)}},
		"B": {Width: measure.MM(200), Words: "bottom notch 300 x 100 at 350", Outline: measure.Polygon{point(0, 0), point(350, 0), point(350, 100), point(650, 100), point(650, 0), point(1000, 0), point(1000, 200), point(0, 200)}},
	}
	pics, err := New().Bars([]engine.CutRow{row}, measure.MM(600), shapes)
	if err != nil || len(pics) != 1 {
		t.Fatalf("%d pictures, %v", len(pics), err)
	}
	inkedAt(t, pics[0].PNG, 200, []spot{
		{"middle of the rake", 200, 100, true},
		{"a quarter up the rake", 100, 50, true},
		{"inside the piece, right of the rake", 320, 60, false},
		{"between the two pieces", 2000, 100, true},
		{"top of the notch", 2500, 100, true},
		{"left of the notch", 2350, 50, true},
		{"above the notch, below the text's place", 2200, 30, false},
	})
}

// spot is a place on a board, in millimetres from its lower left corner, and
// whether it is dark.
type spot struct {
	name string
	x, z float64
	want bool
}

// inkedAt looks at places on a board of 3,600 mm, the first in the picture.
func inkedAt(t *testing.T, file []byte, width float64, spots []spot) {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	px := float64(barWide-barLeft-barRight) / 3600
	for _, s := range spots {
		if got := inkedIn(img, barLeft+s.x*px, barHead+barTall*(1-s.z/width)); got != s.want {
			t.Errorf("%s: dark is %v, want %v", s.name, got, s.want)
		}
	}
}

func inkedIn(img image.Image, x, y float64) bool {
	for dx := -2; dx <= 2; dx++ {
		for dy := -2; dy <= 2; dy++ {
			if r, _, _, _ := img.At(int(x)+dx, int(y)+dy).RGBA(); r < 0x3000 {
				return true
			}
		}
	}
	return false
}

// TestBarsShapes: boards share a bar only where their pieces are of one shape,
// and under the bar it is said once what the shape is.
func TestBarsShapes(t *testing.T) {
	row := func(board, mark string) engine.CutRow {
		return engine.CutRow{Board: board, Lot: &engine.Lot{Code: "LB", Stock: measure.MM(3600)}, Count: 1, Cuts: []engine.Cut{{Marks: []string{mark}, Length: measure.MM(2000)}}}
	}
	rows := []engine.CutRow{row("B1", "A"), row("B2", "B"), row("B3", "C"), row("B4", "D"), row("B5", "E")}
	s := newSawyer(New(), rows, 0, map[string]Shape{"B": {Words: "left top 9 x 9"}, "C": {Words: "left top 9 x 9"}, "E": {Words: "left top 8 x 9"}})
	bars := s.alike(rows)
	var got []string
	for _, b := range bars {
		got = append(got, strings.Join(b.names(), "/")+" "+strings.Join(b.lines, "|"))
	}
	want := []string{"B1, B4/LB A   D", "B2-3/LB each: left top 9 x 9.|B   C", "B5/LB E: left top 8 x 9."}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestBarsSayTheCode: what is sawn is fetched by its code, so every bar says it,
// and a board that has a bar to itself its own mark above.
func TestBarsSayTheCode(t *testing.T) {
	row := func(board, code string, long int64) engine.CutRow {
		return engine.CutRow{Board: board, Lot: &engine.Lot{Code: code, Stock: measure.MM(3600)}, Count: 1, Cuts: []engine.Cut{{Marks: []string{board}, Length: measure.MM(long)}}}
	}
	rows := []engine.CutRow{row("B1", "LB", 2000), row("B2", "LB", 2000), row("L13", "ST-30", 1565), row("S41", "BT-75", 2000)}
	var got []string
	for _, b := range newSawyer(New(), rows, 0, nil).alike(rows) {
		got = append(got, strings.Join(b.names(), "/"))
	}
	if want := []string{"B1-2/LB", "L13/ST-30", "S41/BT-75"}; !slices.Equal(got, want) {
		t.Errorf("beside the bars stands %q, want %q", got, want)
	}
}

// TestBarsNameTheirBoards: the boards that share a bar stand beside it in short, or
// where that has no room each by the pieces that come from it.
func TestBarsNameTheirBoards(t *testing.T) {
	var rows []engine.CutRow
	for i := range 60 {
		long := measure.MM(2000)
		if i%3 == 1 {
			long = measure.MM(1000)
		}
		rows = append(rows, engine.CutRow{Board: fmt.Sprint("B", i+1), Lot: &engine.Lot{Code: "LB", Stock: measure.MM(3600)}, Count: 1 + i/59, Cuts: []engine.Cut{{Marks: []string{fmt.Sprint("p", i+1)}, Length: long}}})
	}
	bars := newSawyer(New(), append(rows[:1:1], rows[2], rows[3], rows[59]), 0, nil).alike(append(rows[:1:1], rows[2], rows[3], rows[59]))
	if got, want := strings.Join(bars[0].names(), "/")+" "+strings.Join(bars[0].lines, "|"), "B1, B3-4, B60/LB p1   p3   p4   2 of p60"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	bars = newSawyer(New(), rows, 0, nil).alike(rows)
	if got := strings.Join(bars[0].names(), "/"); got != "LB" || !strings.HasPrefix(bars[0].lines[0], "B1: p1   B3: p3   B4: p4") {
		t.Errorf("twenty gaps: beside the bar stands %q, below it %q", got, bars[0].lines[0])
	}
}

// TestBarsSharedCut looks for the one slope between two pieces of 1,200 that
// share it, the second turned: from 1,200 at the lower edge to 1,022 at the
// upper one, and nothing where two boxes would end.
func TestBarsSharedCut(t *testing.T) {
	rake := Shape{Width: measure.MM(180), Outline: measure.Polygon{{}, {X: measure.MM(1200)}, {X: measure.MM(1020), Z: measure.MM(180)}, {Z: measure.MM(180)}}}
	row := engine.CutRow{Board: "B1", Lot: &engine.Lot{Code: "LB", Stock: measure.MM(3600)}, Count: 1, Shared: measure.MM(178), Offcut: measure.MM(1370),
		Cuts: []engine.Cut{{Marks: []string{"a"}, Length: measure.MM(1200)}, {Marks: []string{"b"}, Length: measure.MM(1200), Turned: true, Saved: measure.MM(178)}}}
	pics, err := New().Bars([]engine.CutRow{row}, measure.MM(600), map[string]Shape{"a": rake, "b": rake})
	if err != nil || len(pics) != 1 {
		t.Fatalf("%d pictures, %v", len(pics), err)
	}
	inkedAt(t, pics[0].PNG, 180, []spot{
		{"middle of the cut", 1111, 90, true},
		{"left of the cut, where the second box begins", 1022, 60, false},
		{"right of the cut, where the first box ends", 1200, 120, false},
		{"end of the second piece", 2222, 90, true},
	})
}

// TestBarsSayEveryPiece saws boards into pieces of all sizes and holds that a reader
// at the bench finds the length of each, with its mark where the board has a bar of
// its own: in the bar or in the lines below it. A notch leaves a piece no room for
// either.
func TestBarsSayEveryPiece(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var rows []engine.CutRow
	shapes := map[string]Shape{}
	for i := range 200 {
		row := engine.CutRow{Board: fmt.Sprint("B", i), Lot: &engine.Lot{Stock: measure.MM(3600)}, Count: 1}
		for left := int64(3600); left > 40 && len(row.Cuts) < 12; {
			long := min(left, 20+int64(r.IntN(1200)))
			mark := fmt.Sprintf("W%d-%d", i, len(row.Cuts))
			if r.IntN(4) == 0 {
				shapes[mark] = Shape{Width: measure.MM(180), Words: "bottom notch", Outline: measure.Polygon{{Z: measure.MM(100)}, {X: measure.MM(long), Z: measure.MM(100)}, {X: measure.MM(long), Z: measure.MM(180)}, {Z: measure.MM(180)}}}
			}
			row.Cuts = append(row.Cuts, engine.Cut{Marks: []string{mark}, Length: measure.MM(long)})
			left -= long
		}
		rows = append(rows, row)
		if i%10 == 0 { // a second board cut alike
			same := row
			same.Board, same.Cuts = row.Board+"x", slices.Clone(row.Cuts)
			for k, c := range same.Cuts {
				same.Cuts[k].Marks = []string{c.Marks[0] + "x"}
				if s, ok := shapes[c.Marks[0]]; ok {
					shapes[c.Marks[0]+"x"] = s
				}
			}
			rows = append(rows, same)
		}
	}
	below, inside := 0, 0
	for _, b := range newSawyer(New(), rows, 0, shapes).alike(rows) {
		said := strings.Join(b.lines, "   ") + " "
		for i, c := range b.rows[0].Cuts {
			length := c.Length.String()
			bar, words := c.Marks[0]+"  "+length, c.Marks[0]+" "+length
			switch {
			case len(b.rows) > 1 && len(b.rows[0].Cuts) == 1:
				bar, words = length, "each "+length
			case len(b.rows) > 1:
				bar, words = length, fmt.Sprintf("piece %d, %s", i+1, length)
			}
			switch {
			case b.pieces[i].text == bar:
				inside++
			case slices.ContainsFunc([]string{";", ".", ":"}, func(end string) bool { return strings.Contains(said, words+end) }):
				below++
			default:
				t.Errorf("board %s does not say %q: its bar says %q, below it stands %q", b.rows[0].Board, words, b.pieces[i].text, said)
			}
		}
	}
	if below < 100 || inside < 100 {
		t.Errorf("%d pieces in bars and %d below: the test shows little", inside, below)
	}
}
