package report

import (
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// cornerPiece is 1,000 long and 180 wide with 50 x 117 out of its lower right
// corner.
func cornerPiece() engine.Piece {
	at := func(x, z int64) measure.Point { return measure.Point{X: mmOf(2000 + x), Z: mmOf(900 + z)} }
	return engine.Piece{Mark: "A6b", Course: 6, Length: mmOf(1000), Width: mmOf(180), Quantity: 4,
		Right:   engine.End{Kind: engine.Joint},
		Cutouts: []engine.VoidRect{{X: span2(2950, 3000), Z: span2(900, 1017)}},
		Outline: measure.Polygon{at(0, 0), at(950, 0), at(950, 117), at(1000, 117), at(1000, 180), at(0, 180)}}
}

// TestMirrored: what stands 950 from the left stands 0 from it when the piece is
// turned over: 1,000 - 950 - 50.
func TestMirrored(t *testing.T) {
	p := cornerPiece()
	m := p.Handed()
	if got := strings.Join(shapeWords(&m, mmOf(180)), ", "); got != "bottom notch 50 x 117 at 0" {
		t.Errorf("mirrored it is sawn %q", got)
	}
	if m.Left.Kind != engine.Joint || m.Right.Kind != engine.Square {
		t.Errorf("its ends are %v and %v", m.Left, m.Right)
	}
	if m.Outline.Area2() != p.Outline.Area2() { // signed: anticlockwise both
		t.Errorf("its outline has twice the area %v, want %v", m.Outline.Area2(), p.Outline.Area2())
	}
	if back := m.Handed(); strings.Join(shapeWords(&back, mmOf(180)), ", ") != "bottom notch 50 x 117 at 950" {
		t.Error("mirrored twice it is another piece")
	}
}

// TestSawnByHand: the saw sheet says how many pieces are of the other hand where
// some walls are handed, and shows the handed piece where all are. What is the
// same both ways is not said to be handed.
func TestSawnByHand(t *testing.T) {
	plain := engine.Piece{Mark: "A1a", Course: 1, Outline: measure.Rect(span2(0, 900), span2(0, 180)), Length: mmOf(900), Width: mmOf(180)}
	for _, tt := range []struct {
		name             string
		piece            engine.Piece
		quantity, handed int
		want             string
	}{
		{"none handed", cornerPiece(), 4, 0, "bottom notch 50 x 117 at 950"},
		{"some handed", cornerPiece(), 4, 1, "bottom notch 50 x 117 at 950 (1 of all 4 HANDED: mirror left to right)"},
		{"all handed", cornerPiece(), 4, 4, "bottom notch 50 x 117 at 0 (handed, as built)"},
		{"a plain board", plain, 4, 1, ""},
		{"both ends alike", fixture().Walls[1].Pieces[0], 4, 1, strings.Join(shapeWords(&fixture().Walls[1].Pieces[0], mmOf(175)), ", ")},
	} {
		w := &engine.WallResult{Quantity: tt.quantity, Mirrored: tt.handed, Pieces: []engine.Piece{tt.piece}}
		p, got := sawn(w, &tt.piece, tt.piece.Width)
		if got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
		if notchedLeft := len(p.Outline) > 0 && !p.Outline.Holds(measure.Point{X: mmOf(2010), Z: mmOf(910)}); tt.name != "both ends alike" && tt.name != "a plain board" && notchedLeft != (tt.handed == tt.quantity) {
			t.Errorf("%s: the outline is notched at the left: %v", tt.name, notchedLeft)
		}
	}
}
