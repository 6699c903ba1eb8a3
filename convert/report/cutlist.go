package report

import (
	"fmt"
	"iter"
	"strings"

	"lapwright/convert/lettering"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// ofWall is a row of a wall's own table, with its wall.
type ofWall[T any] struct {
	w *engine.WallResult
	r *T
}

// allWalls puts the rows of every wall in one list, of what every result holds.
func allWalls[T any](b *book, of func(w *engine.WallResult) []T) []ofWall[T] {
	var out []ofWall[T]
	for i := range b.res.Walls {
		w := &b.res.Walls[i]
		rows := of(w)
		for j := range rows {
			out = append(out, ofWall[T]{w, &rows[j]})
		}
	}
	return out
}

// plotAndWall are the two columns most tables begin with.
func plotAndWall[T any](b *book) []column[ofWall[T]] {
	return []column[ofWall[T]]{
		{"Plot", b.nameWidths().plot, func(r ofWall[T], _ int) cell { return long(r.w.Plot) }},
		{"Wall", b.nameWidths().wall, func(r ofWall[T], _ int) cell { return long(r.w.Name) }},
	}
}

// nameWidths are how wide the columns of plots and walls are, in characters: a
// name is mostly one word, which breaks where it must and not at a space.
type nameWidths struct{ plot, wall float64 }

// nameWidths measures the names once.
func (b *book) nameWidths() nameWidths {
	if b.widths == (nameWidths{}) {
		b.widths = nameWidths{10, 14}
		widen := func(width *float64, name string) { *width = max(*width, min(nameMost, widthOf(name))) }
		for i := range b.res.Walls {
			widen(&b.widths.plot, b.res.Walls[i].Plot)
			widen(&b.widths.wall, b.res.Walls[i].Name)
		}
		for _, l := range b.res.Left {
			widen(&b.widths.plot, l.Plot)
			widen(&b.widths.wall, l.Wall)
		}
		for _, p := range b.res.Job.Plots {
			widen(&b.widths.plot, p.Name)
		}
	}
	return b.widths
}

// nameMost is the most characters that a column is made wide for a name.
const nameMost = 30

// widthOf is how wide a column is, in characters, that holds a text on one line,
// also in programs that make columns a little narrower.
func widthOf(s string) float64 { return (1.1*lettering.Width(s) + cellPadding - 5) / 7 }

// rowsOf goes through the rows of every wall's list, from one number up to another.
// It asks the result for no wall but theirs, and for one at a time; count says how
// many rows a wall has.
func rowsOf[T any](b *book, count func(engine.Counts) int, of func(i int) (*engine.WallResult, []T)) func(from, to int) iter.Seq[ofWall[T]] {
	return func(from, to int) iter.Seq[ofWall[T]] {
		return func(yield func(ofWall[T]) bool) {
			first := 0 // number of the wall's first row
			for i := 0; i < len(b.res.Walls) && first < to; i++ {
				n := count(b.res.Counts(i))
				if first+n > from {
					w, rows := of(i)
					for k := max(0, from-first); k < min(n, to-first); k++ {
						if !yield(ofWall[T]{w, &rows[k]}) {
							return
						}
					}
				}
				first += n
			}
		}
	}
}

type pieceRow = ofWall[engine.Piece]

func (b *book) cutList(sheet string) table[pieceRow] {
	var over []engine.Piece // pieces of one wall are written over those of the one before
	return table[pieceRow]{
		sheet: sheet, name: "Cut_list", many: b.tableRows("Cut list"),
		each: rowsOf(b, func(c engine.Counts) int { return c.Pieces }, func(i int) (*engine.WallResult, []engine.Piece) {
			over = b.res.Pieces(i, over)
			return &b.res.Walls[i], over
		}),
		columns: append(plotAndWall[engine.Piece](b), pieceColumns()...),
	}
}

func (b *book) writeCutList(sheet string) error { return b.cutList(sheet).write(b) }

// pieceColumns are the columns of a piece, wherever pieces are listed.
func pieceColumns() []column[pieceRow] {
	return []column[pieceRow]{
		{"Course", 9, func(r pieceRow, _ int) cell { return courseOf(r.r) }},
		{"Piece", 10, func(r pieceRow, _ int) cell { return text(r.r.Mark) }},
		{"From left mm", 9, func(r pieceRow, _ int) cell { return offset(r.r, lowerLeft(r.r).X) }},
		{"Bottom mm", 9, func(r pieceRow, _ int) cell { return offset(r.r, lowerLeft(r.r).Z) }},
		{"Length mm", 9, func(r pieceRow, _ int) cell { return mm(r.r.Length) }},
		{"Width mm", 9, func(r pieceRow, _ int) cell { return mm(r.r.Width) }},
		{"Left end", 10, func(r pieceRow, _ int) cell { return text(endWord(r.r.Left)) }},
		{"Right end", 10, func(r pieceRow, _ int) cell { return text(endWord(r.r.Right)) }},
		{"Cut-outs", 20, func(r pieceRow, _ int) cell { return long(cutouts(r.r)) }},
		{"Colour", 12, func(r pieceRow, _ int) cell { return text(r.r.Colour) }},
		{"Code", 15, func(r pieceRow, _ int) cell { return text(r.r.Code) }},
		{"Stock board", 12, func(r pieceRow, _ int) cell { return text(r.r.Stock) }},
		{"Quantity", 10, func(r pieceRow, _ int) cell { return count(r.r.Quantity) }},
		{"Outline", 30, func(r pieceRow, _ int) cell { return fine(outline(r.r)) }},
	}
}

func isReveal(p *engine.Piece) bool { return p.Course == 0 }

func courseOf(p *engine.Piece) cell {
	if isReveal(p) {
		return text("reveal")
	}
	return count(p.Course)
}

// lowerLeft returns a piece's least x and least z.
func lowerLeft(p *engine.Piece) measure.Point {
	if len(p.Outline) == 0 {
		return measure.Point{}
	}
	xs, zs := p.Outline.Bounds()
	return measure.Point{X: xs.Lo, Z: zs.Lo}
}

// offset shows a place on the wall; a reveal board has none.
func offset(p *engine.Piece, l measure.Length) cell {
	if isReveal(p) {
		return cell{}
	}
	return mm(l)
}

func endWord(e engine.End) string {
	switch e.Kind {
	case engine.Joint:
		return "joint"
	case engine.Rake:
		return fmt.Sprintf("rake %.1f", e.Degrees)
	}
	return "square"
}

// cutouts lists what is cut out of a piece, each as x,z,w,h from its own lower
// left corner; for a reveal board, where it belongs.
func cutouts(p *engine.Piece) string {
	if isReveal(p) {
		return p.Reveal
	}
	o := lowerLeft(p)
	parts := make([]string, len(p.Cutouts))
	for i, c := range p.Cutouts {
		at := measure.Point{X: c.X.Lo - o.X, Z: c.Z.Lo - o.Z}
		size := measure.Point{X: c.X.Length(), Z: c.Z.Length()}
		parts[i] = at.String() + "," + size.String()
	}
	return strings.Join(parts, ";")
}

// outline gives the exact polygon of a piece that is no plain rectangle, from
// its own lower left corner.
func outline(p *engine.Piece) string {
	if isReveal(p) || len(p.Outline) == 0 || p.Outline.IsRect() {
		return ""
	}
	o := lowerLeft(p)
	return measure.Points(p.Outline.Move(measure.Point{X: -o.X, Z: -o.Z}))
}
