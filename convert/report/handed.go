package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// A piece of a wall that is built mirrored is mirrored itself: a board has one
// face, so a notched or sloped piece sawn the one way is of no use the other.

// sawn returns a piece as the saw sheet draws it, and in words how it is sawn:
// of the hand that is built, and how many of all are of the other one where
// both are.
func sawn(w *engine.WallResult, p *engine.Piece, full measure.Length) (engine.Piece, string) {
	other := mirrored(p)
	words, otherWords := strings.Join(shapeWords(p, full), ", "), strings.Join(shapeWords(&other, full), ", ")
	switch {
	case w.Mirrored == 0 || words == otherWords:
		return *p, words
	case allHanded(w):
		return other, otherWords + " (handed, as built)"
	}
	return *p, fmt.Sprintf("%s (%d of all %d HANDED: mirror left to right)", words, w.Mirrored, w.Quantity)
}

// mirrored is a piece with left and right changed over, between the same two
// ends.
func mirrored(p *engine.Piece) engine.Piece {
	out := *p
	if len(p.Outline) == 0 {
		return out
	}
	xs, _ := p.Outline.Bounds()
	over := func(x measure.Length) measure.Length { return xs.Lo + xs.Hi - x }
	out.Left, out.Right = p.Right, p.Left
	out.Outline = make(measure.Polygon, len(p.Outline))
	for i, c := range p.Outline {
		out.Outline[i] = measure.Point{X: over(c.X), Z: c.Z}
	}
	slices.Reverse(out.Outline) // still anticlockwise
	turn := func(rects []engine.VoidRect) []engine.VoidRect {
		turned := make([]engine.VoidRect, len(rects))
		for i, r := range rects {
			turned[len(rects)-1-i] = engine.VoidRect{X: measure.Span{Lo: over(r.X.Hi), Hi: over(r.X.Lo)}, Z: r.Z}
		}
		return turned
	}
	out.Cutouts, out.Holes = turn(p.Cutouts), turn(p.Holes)
	return out
}

// handedPieces says on a wall's sheet which pieces want sawing both ways.
func handedPieces(w *engine.WallResult) string {
	if w.Mirrored == 0 || allHanded(w) {
		return ""
	}
	marks := marksOf(w, func(p *engine.Piece) bool {
		_, words := sawn(w, p, p.Width)
		return strings.Contains(words, "HANDED")
	})
	if marks == "" {
		return ""
	}
	return fmt.Sprintf("Handed (%d of %d): where it is built mirrored, left and right change over in every list here. These pieces are then sawn mirrored too: %s.", w.Mirrored, w.Quantity, marks)
}
