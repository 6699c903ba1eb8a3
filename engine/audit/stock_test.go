package audit

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// sawn is a job of one board row and the pieces it cuts, which stand on no
// wall: pieces of no course are only cut.
func sawn(b Board, pieces ...Piece) *Job {
	b.Name, b.Code, b.Width, b.Count = "B1", "BD36", mm(175), 1
	w := Wall{Name: "R", Quantity: 1, Limits: Limits{Width: mm(175)},
		Base: pts(0, 0, 1000, 0), Top: pts(0, 0, 1000, 0)}
	for _, p := range pieces {
		p.Code, p.Stock, p.Quantity = "BD36", "B1", 1
		w.Pieces = append(w.Pieces, p)
	}
	return &Job{Kerf: mm(4), Walls: []Wall{w}, Boards: []Board{b}, Order: []Line{{"BD36", "", 1}}}
}

func cuts(v ...float64) (out []Cut, pieces []Piece) {
	for i, l := range v {
		mark := string(rune('a' + i))
		out = append(out, Cut{[]string{mark}, mm(l)})
		pieces = append(pieces, Piece{Mark: mark, Length: mm(l), Width: mm(175)})
	}
	return out, pieces
}

// TestBoardFit works the rule on a 3,600 mm board and a 4 mm kerf, by hand.
func TestBoardFit(t *testing.T) {
	for _, c := range []struct {
		name    string
		lengths []float64
		offcut  float64
		want    string
	}{
		{"the whole board: no cut at all", []float64{3600}, 0, ""},
		{"1,796 + 4 + 1,800 to the millimetre", []float64{1796, 1800}, 0, ""},
		{"a millimetre too much", []float64{1797, 1800}, 0, "B1 board-fit"},
		{"1 left, the last kerf takes it", []float64{3599}, 0, ""},
		{"1 left is no offcut", []float64{3599}, 1, "B1 board-fit"},
		{"4 left, the last kerf takes all", []float64{3596}, 0, ""},
		{"5 left, 1 after the last kerf", []float64{3595}, 1, ""},
		{"the last kerf forgotten", []float64{3000}, 600, "B1 board-fit"},
		{"3,000 + 4 leaves 596", []float64{3000}, 596, ""},
		{"1,000 + 4 + 1,000 + 4 leaves 1,592", []float64{1000, 1000}, 1592, ""},
		{"a kerf too few counted", []float64{1000, 1000}, 1596, "B1 board-fit"},
		{"tenths: 1,199.9 + 4 + 1,199.9 + 4 leaves 1,192.2", []float64{1199.9, 1199.9}, 1192.2, ""},
	} {
		list, pieces := cuts(c.lengths...)
		job := sawn(Board{Stock: mm(3600), Cuts: list, Offcut: measure.Length(c.offcut*1000 + 0.5)}, pieces...)
		if got := strings.Join(found(job), ";"); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// TestPair rips two pieces from one length: their widths and a kerf.
func TestPair(t *testing.T) {
	for _, c := range []struct {
		name           string
		widthA, widthB float64
		lengthB, cut   float64
		want           string
	}{
		{"80 + 4 + 91 of 175", 80, 91, 1000, 1000, ""},
		{"80 + 4 + 92", 80, 92, 1000, 1000, "B1 pair"},
		{"the longer one counts", 80, 90, 1200, 1200, ""},
		{"cut for the shorter one", 80, 90, 1200, 1000, "B1 cut-length"},
	} {
		a := Piece{Mark: "a", Length: mm(1000), Width: mm(c.widthA)}
		b := Piece{Mark: "b", Length: mm(c.lengthB), Width: mm(c.widthB)}
		job := sawn(Board{Stock: mm(3600), Cuts: []Cut{{[]string{"a", "b"}, mm(c.cut)}}, Offcut: mm(3596 - c.cut)}, a, b)
		if got := strings.Join(found(job), ";"); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
	job := sawn(Board{Stock: mm(3600), Cuts: []Cut{{[]string{"a", "b"}, mm(1000)}}, Offcut: mm(2596)},
		Piece{Mark: "a", Length: mm(1000), Width: mm(80)}, Piece{Mark: "b", Length: mm(1000), Width: mm(80)})
	job.Boards[0].Width = 0
	if got := found(job); !slices.Equal(got, []string{"B1 pair"}) {
		t.Errorf("ripped from what is no board: got %v", got)
	}
	job.Boards[0].Cuts[0].Marks = nil
	if got := found(job); len(got) == 0 {
		t.Error("a cut of nothing went unnoticed")
	}
}

// TestShared puts two pieces of 1,000 mm with one end cut to 45 degrees over
// the board's 175 mm on one board: turned end for end they share the sloped
// cut. Their boxes overlap by 175 mm less the kerf along the board, which at 45
// degrees is 4 x 1.41421 = 5.657; the plain sum holds a kerf of 4 there, so 175 -
// 5.657 + 4 = 173.343 mm are saved (plain geometry).
func TestShared(t *testing.T) {
	rake := func(mark string, run float64) Piece {
		return Piece{Mark: mark, Length: mm(1000), Width: mm(175),
			Outline: pts(0, 0, 1000, 0, 1000-run, 175, 0, 175)}
	}
	other := func(mark string, run float64) Piece {
		return Piece{Mark: mark, Length: mm(1000), Width: mm(175),
			Outline: pts(0, 0, 1000, 0, 1000, 175, run, 175)}
	}
	square := func(mark string) Piece { return Piece{Mark: mark, Length: mm(1000), Width: mm(175)} }
	for _, c := range []struct {
		name   string
		a, b   Piece
		shared float64
		turns  bool
		want   string
	}{
		{"both at 45 degrees", rake("a", 175), rake("b", 175), 173.3, true, ""},
		{"a little more than the kerf leaves", rake("a", 175), rake("b", 175), 173.4, true, "B1 shared"},
		{"slopes of two hands", rake("a", 175), other("b", 175), 173.3, true, "B1 shared"},
		{"nothing shared where it could be", rake("a", 175), rake("b", 175), 0, true, ""},
		{"a millimetre more than the slope's run", rake("a", 175), rake("b", 175), 176, true, "B1 shared"},
		{"board does not turn", rake("a", 175), rake("b", 175), 173.3, false, "B1 shared"},
		{"slopes differ", rake("a", 175), rake("b", 150), 140, true, "B1 shared"},
		{"one end is square", rake("a", 175), square("b"), 1, true, "B1 shared"},
		{"less than nothing", rake("a", 175), rake("b", 175), -1, true, "B1 shared"},
	} {
		job := sawn(Board{Stock: mm(3600), Turns: c.turns, Shared: mm(c.shared), Offcut: mm(3600 - 2008 + c.shared),
			Cuts: []Cut{{[]string{"a"}, mm(1000)}, {[]string{"b"}, mm(1000)}}}, c.a, c.b)
		var got []string
		for _, f := range found(job) { // they stand on no wall, so their shapes are of no course
			if !strings.Contains(f, "band") {
				got = append(got, f)
			}
		}
		if s := strings.Join(got, ";"); s != c.want {
			t.Errorf("%s: got %q, want %q", c.name, s, c.want)
		}
	}
}

func TestNamed(t *testing.T) {
	for _, c := range []struct {
		list, name string
		n          int
		found      bool
	}{
		{"", "B1", 0, false}, {"B1", "B1", 1, true}, {"B1;B2", "B2", 2, true}, {"B1; B2", "B2", 2, true},
		{"B12", "B1", 1, false}, {" ; B3;", "B3", 1, true},
	} {
		if n, ok := named(c.list, c.name); n != c.n || ok != c.found {
			t.Errorf("named(%q, %q): got %d %v, want %d %v", c.list, c.name, n, ok, c.n, c.found)
		}
	}
}
