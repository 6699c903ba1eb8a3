package report

import (
	"fmt"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// list is a story of n rows below its heads, each named.
func list(name string, heads, n int, whole bool) story {
	s := story{heads: heads, whole: whole}
	for i := range heads {
		s.rows = append(s.rows, []cell{{v: fmt.Sprintf("%s-head%d", name, i+1)}})
	}
	for i := range n {
		s.rows = append(s.rows, []cell{{v: fmt.Sprintf("%s%d", name, i+1)}})
	}
	return s
}

// TestFlow: every row stands once and in order, no column is too long, heads
// stand above each part of their list, and a whole list is not broken.
func TestFlow(t *testing.T) {
	stories := []story{list("a", 1, 7, false), list("b", 2, 9, false), list("c", 2, 6, true), list("d", 2, 40, false)}
	pages := flow(stories, 3, 10)
	var got []string
	broken := map[int]bool{}
	at := 0
	for _, page := range pages {
		if len(page) > 3 {
			t.Errorf("a page of %d columns", len(page))
		}
		for _, column := range page {
			at++
			if len(column) > 10 {
				t.Errorf("column %d has %d rows", at, len(column))
			}
			under := ""
			for _, r := range column {
				if r == nil {
					continue
				}
				name := r[0].v.(string)
				if strings.Contains(name, "head") {
					under = name[:1]
					continue
				}
				if under != name[:1] {
					t.Errorf("column %d: %s stands without its heads", at, name)
				}
				if name[:1] == "c" {
					broken[at] = true
				}
				got = append(got, name)
			}
		}
	}
	var want []string
	for _, s := range stories {
		for _, r := range s.rows[s.heads:] {
			want = append(want, r[0].v.(string))
		}
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("got %v, want %v", got, want)
	}
	if len(broken) != 1 {
		t.Errorf("the whole list stands in columns %v", broken)
	}
}

// TestClosest: columns of twelve rows. Below a list of seven a whole one of seven does
// not go, and with both columns begun so the last list goes on to a third; if the
// whole one stands last, two columns are just full. Where nothing is gained the order
// stays.
func TestClosest(t *testing.T) {
	heads := func(stories ...story) string {
		var out []string
		for _, page := range closest(stories, 3, 12) {
			for _, column := range page {
				out = append(out, fmt.Sprint(column[0][0].v))
			}
		}
		return strings.Join(out, " ")
	}
	if got, want := heads(list("a", 1, 6, false), list("b", 1, 6, true), list("c", 1, 6, false)), "a-head1 c-head1"; got != want {
		t.Errorf("the columns begin with %s, want %s", got, want)
	}
	if got, want := heads(list("a", 1, 2, false), list("b", 1, 6, true), list("c", 1, 6, false)), "a-head1 c-head1"; got != want {
		t.Errorf("the columns begin with %s, want %s", got, want)
	}
	pages := closest([]story{list("a", 1, 2, false), list("b", 1, 6, true), list("c", 1, 6, false)}, 3, 12)
	if got := pages[0][0][4][0].v; got != "b-head1" {
		t.Errorf("below the first list stands %v", got)
	}
}

// TestFlowKeepsEntries: of columns of eight rows the first is full after the head,
// five notes and two rows of a sixth that takes three: it goes on to the second as
// a whole, as does a piece of two rows in a list.
func TestFlowKeepsEntries(t *testing.T) {
	notes := list("a", 1, 5, false)
	notes.rows = append(notes.rows, panelText("one two three four five six", 100)...)
	notes.rows = append(notes.rows, list("b", 0, 3, false).rows...)
	notes.rows = append(notes.rows, []cell{{v: "piece"}}, []cell{{}, {v: "goes on"}})
	var starts []string
	for _, page := range flow([]story{notes}, 9, 8) {
		for _, column := range page {
			starts = append(starts, fmt.Sprint(column[1][0].v))
			if len(column) > 8 {
				t.Errorf("a column of %d rows", len(column))
			}
		}
	}
	if want := []string{"a1", "one two", "piece"}; strings.Join(starts, "|") != strings.Join(want, "|") {
		t.Errorf("below the heads the columns begin with %q, want %q", starts, want)
	}
}

// TestShapeWords marks pieces out by hand: 45 degrees take as much off the
// edge as off the end; a corner of 3 along 4 is atan(3/4) from square.
func TestShapeWords(t *testing.T) {
	full := mmOf(180)
	poly := func(points ...int64) measure.Polygon {
		var out measure.Polygon
		for i := 0; i < len(points); i += 2 {
			out = append(out, measure.Point{X: mmOf(points[i]), Z: mmOf(points[i+1])})
		}
		return out
	}
	rake := func(deg float64, under bool) engine.End {
		return engine.End{Kind: engine.Rake, Degrees: deg, Under: under}
	}
	for _, tt := range []struct {
		name, want string
		p          engine.Piece
	}{
		{"whole", "", engine.Piece{Course: 1, Width: full, Outline: poly(0, 0, 1000, 0, 1000, 180, 0, 180)}},
		{"ripped", "ripped to 120 wide", engine.Piece{Course: 1, Width: mmOf(120), Outline: poly(0, 0, 1000, 0, 1000, 120, 0, 120)}},
		{"gable", "both top 180 x 180, 45.0°", engine.Piece{Course: 1, Width: full, Left: rake(45, false), Right: rake(45, false), Outline: poly(100, 0, 1100, 0, 920, 180, 280, 180)}},
		{"eaves", "left top 30 x 40, 36.9°", engine.Piece{Course: 1, Width: full, Left: rake(36.87, false), Outline: poly(0, 0, 1000, 0, 1000, 180, 30, 180, 0, 140)}},
		{"long slope", "right top 900 x 100, 83.7°", engine.Piece{Course: 1, Width: full, Right: rake(83.66, false), Outline: poly(0, 0, 1000, 0, 1000, 80, 100, 180, 0, 180)}},
		{"over a roof", "right bottom 90 x 180, 26.6°", engine.Piece{Course: 1, Width: full, Right: rake(26.57, true), Outline: poly(0, 0, 910, 0, 1000, 180, 0, 180)}},
		{"apex, narrower by its slopes alone", "both top 178 x 140, 51.8°", engine.Piece{Course: 1, Width: mmOf(140), Left: rake(51.82, false), Right: rake(51.82, false), Outline: poly(0, 0, 356, 0, 178, 140)}},
		{"ripped and raked", "ripped to 140 wide; left top 140 x 140, 45.0°", engine.Piece{Course: 1, Width: mmOf(140), Ripped: true, Left: rake(45, false), Outline: poly(0, 0, 900, 0, 900, 140, 140, 140)}},
		{"notches", "bottom notch 50 x 110 at 0; top notch 200 x 30 at 400", engine.Piece{Course: 1, Width: full,
			Outline: poly(50, 0, 1000, 0, 1000, 180, 600, 180, 600, 150, 400, 150, 400, 180, 0, 180, 0, 110, 50, 110),
			Cutouts: []engine.VoidRect{{X: span2(0, 50), Z: span2(0, 110)}, {X: span2(400, 600), Z: span2(150, 180)}}}},
		{"verge over a joint", "right top 900 x 100, 83.7°", engine.Piece{Course: 1, Width: full, Right: engine.End{Kind: engine.Joint}, Outline: poly(0, 0, 1000, 0, 1000, 80, 100, 180, 0, 180)}},
		{"verge over a joint, at the left", "left top 30 x 40, 36.9°", engine.Piece{Course: 1, Width: full, Left: engine.End{Kind: engine.Joint}, Outline: poly(0, 0, 1000, 0, 1000, 180, 30, 180, 0, 140)}},
		{"roof under a joint", "left bottom 30 x 40, 36.9°", engine.Piece{Course: 1, Width: full, Outline: poly(30, 0, 1000, 0, 1000, 180, 0, 180, 0, 40)}},
		{"two slopes between joints", "outline 0,0; 1000,0; 1000,80; 500,180; 0,130", engine.Piece{Course: 1, Width: full, Outline: poly(0, 0, 1000, 0, 1000, 80, 500, 180, 0, 130)}},
		{"reveal", "ripped to 150 wide; W1 left", engine.Piece{Width: mmOf(150), Reveal: "W1 left"}},
	} {
		if got := strings.Join(shapeWords(&tt.p, full), "; "); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, got, tt.want)
		}
	}
}

// TestScrewLines: the words follow the screws as placed.
func TestScrewLines(t *testing.T) {
	w := houseWall()
	w.Battens[3].Centre, w.Battens[4].Centre = mmOf(2400), mmOf(1800)
	w.Screws = []engine.Screw{
		{X: mmOf(2379), Piece: 0, Batten: 3, Kind: "joint"}, {X: mmOf(2426), Piece: 1, Batten: 3, Kind: "joint"},
		{X: mmOf(1815), Piece: 0, Batten: 4, Kind: "field"}, {X: mmOf(25), Piece: 0, Batten: 0, Kind: "field"},
	}
	// A slope of 1 in 1 from 0, 150: at 100 it is at 250, 28 above one screw, and at
	// 150 at 300, 45 above another.
	w.Pieces = append(w.Pieces, engine.Piece{Course: 1, Outline: measure.Polygon{{X: 0, Z: mmOf(150)}, {X: mmOf(1000), Z: mmOf(150)}, {X: mmOf(1000), Z: mmOf(330)}, {X: mmOf(180), Z: mmOf(330)}}})
	raked := len(w.Pieces) - 1
	w.Screws = append(w.Screws, engine.Screw{X: mmOf(100), Z: mmOf(222), Piece: raked, Batten: 0, Kind: "rake"},
		engine.Screw{X: mmOf(150), Z: mmOf(255), Piece: raked, Batten: 0, Kind: "rake"})
	said := strings.Join(screwLines(&w, mmOf(20)), "\n")
	for _, want := range []string{"20 mm below the board's top edge", "At a sloped cut: 28 to 45 mm below it, measured upright", "one each side, 20 to 25 mm from the boards' ends", "to one side of it, up to 15 mm", "(1 screw)"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
	if got := screwLines(&engine.WallResult{}, mmOf(20)); got != nil {
		t.Errorf("without screws: %v", got)
	}
}
