package report

import (
	"fmt"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// TestWallPackers: packers are listed board by board from the bottom up, from left
// to right, with the height of each screw. The slope of 1 in 1 from 0, 150 is at 250
// over 100 and at 300 over 150; its screws stand 28 and 45 below.
func TestWallPackers(t *testing.T) {
	w := houseWall()
	w.Pieces = append(w.Pieces, engine.Piece{Mark: "A3.9", Course: 3, Outline: measure.Polygon{{Z: mmOf(150)}, {X: mmOf(1000), Z: mmOf(150)}, {X: mmOf(1000), Z: mmOf(330)}, {X: mmOf(180), Z: mmOf(330)}}})
	high := len(w.Pieces) - 1
	pack := func(piece, batten int, z measure.Length, fixing string, packers ...string) {
		w.Packings = append(w.Packings, engine.Packing{Piece: piece, Batten: batten, Z: z, Thick: measure.MM(int64(len(packers) * 5)), Packers: packers, Fixing: fixing})
	}
	pack(high, 1, mmOf(255), "S50", "P5", "P5")
	pack(high, 0, mmOf(222), "S45", "P5")
	pack(0, 3, mmOf(300), "", "P5", "P5", "P5", "P5", "P5", "P5", "P5")
	pack(0, 2, mmOf(150), "T25", "P5")
	w.Packings[3].Foot = true
	w.Screws = []engine.Screw{{X: mmOf(150), Z: mmOf(255), Piece: high, Packing: 1}, {X: mmOf(100), Z: mmOf(222), Piece: high, Packing: 2}, {X: mmOf(1700), Z: mmOf(300), Packing: 3}}
	if got, want := listed(t, wallPackers(&w, false)), "A1.1 b4 300 25 35 P5 + P5 + P5 + P5 ?\n+ P5 + P5 + P5\nA3.9 b1 222 28 5 P5 S45\nA3.9 b2 255 45 10 P5 + P5 S50"; got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got, want := listed(t, wallPackers(&w, true)), "A1.1 b3 150 5 P5 T25"; got != want {
		t.Errorf("at the lower edge: got %q, want %q", got, want)
	}
	if got := wallPackers(&engine.WallResult{}, false); got != nil {
		t.Errorf("without packers: %v", got)
	}
}

// listed joins what stands in the rows of a list, below its heads.
func listed(t *testing.T, rows [][]cell) string {
	t.Helper()
	var out []string
	for _, r := range rows[2:] {
		if len(r) != len(listWidths) {
			t.Errorf("a row of %d cells", len(r))
		}
		var words []string
		for _, c := range r {
			if c.v != nil {
				words = append(words, fmt.Sprint(c.v))
			}
		}
		out = append(out, strings.Join(words, " "))
	}
	return strings.Join(out, "\n")
}
