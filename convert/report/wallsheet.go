package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/drawing"
	"lapwright/engine"
)

// A wall sheet is made to be printed and taken up the scaffold: the elevation
// on the first page; then, side by side, what the saw needs (the cut list and
// the fixer's panel) and what the rod and the tape need (course marks, battens).

// leftColumns and rightColumns are the columns of the two sides; between them
// stands a gap of one column.
var (
	leftHeaders  = []string{"Piece", "Course", "From left mm", "Bottom mm", "Length mm", "Width mm", "Left end", "Right end", "Cut-outs", "Stock board", "Quantity"}
	rodHeaders   = []string{"Course", "Bottom mm", "Top mm", "Gauge mm", "Lap mm", "Note"}
	battenHeader = []string{"Batten", "Centre mm", "Width mm", "From mm", "To mm", "Why"}
)

// wallWidths are the widths of the grid's columns, in characters.
var wallWidths = []float64{9, 7, 8, 8, 8, 7, 9.5, 9.5, 18, 9, 8, 2, 8, 9, 9, 8, 8, 16}

const (
	rightFrom = 12 // index of the first column of the right side
	rowPoints = 15.0
	pixelsAnInch,
	pointsAnInch = 96.0, 72.0
)

func (b *book) writeWall(sheet string, w *engine.WallResult) error {
	p, err := b.newPage(sheet, layout{})
	if err != nil {
		return err
	}
	if err := p.setWidths(wallWidths); err != nil {
		return err
	}
	total := 0.0
	for _, w := range wallWidths {
		total += columnPixels(w)
	}
	if err := p.wallHead(w); err != nil {
		return err
	}
	if err := p.pictures(w, total); err != nil {
		return err
	}
	if err := p.sides(b.leftSide(w), b.rightSide(w)); err != nil {
		return err
	}
	return p.sw.Flush()
}

func wallName(w *engine.WallResult) string { return strings.TrimSpace(w.Plot + " " + w.Name) }

func (p *page) wallHead(w *engine.WallResult) error {
	return p.put(cell{v: "Wall " + wallName(w) + ": " + wallFacts(w), l: panel})
}

// wallFacts says in one line what the sheet is of.
func wallFacts(w *engine.WallResult) string {
	facts := []string{fmt.Sprintf("%.2f m2 net", w.Net), plural(len(w.Courses), "course"), plural(len(w.Pieces), "piece")}
	if w.Colour != "" {
		facts = append(facts, "colour "+w.Colour)
	}
	if w.Drop != "" {
		facts = append(facts, "drop "+w.Drop)
	}
	if w.Quantity > 1 {
		facts = append(facts, fmt.Sprintf("build %d alike", w.Quantity))
	}
	if w.Mirrored > 0 {
		facts = append(facts, fmt.Sprintf("%d of them HANDED: mirror left to right", w.Mirrored))
	}
	return strings.Join(facts, "; ") + ". Lengths in mm; x from the wall's left edge seen from outside, heights from the survey datum."
}

// pictures puts the elevation on the sheet, and the handed one where some are
// built so, each on a page of its own.
func (p *page) pictures(w *engine.WallResult, pixels float64) error {
	if err := p.picture(w, pixels, false); err != nil {
		return err
	}
	if w.Mirrored > 0 {
		return p.picture(w, pixels, true)
	}
	return nil
}

func (p *page) picture(w *engine.WallResult, pixels float64, mirror bool) error {
	pic, err := p.b.draw.Elevation(w, drawing.Options{Mirror: mirror})
	if err != nil {
		return err
	}
	scale := pixels / float64(pic.Width)
	at := fmt.Sprintf("A%d", p.row+1)
	if err := p.b.file.AddPictureFromBytes(p.sheet, at, &excelize.Picture{
		Extension: ".png", File: pic.PNG,
		Format: &excelize.GraphicOptions{AltText: pic.Text, ScaleX: scale, ScaleY: scale, Positioning: "oneCell", LockAspectRatio: true},
	}); err != nil {
		return err
	}
	points := float64(pic.Height) * scale * pointsAnInch / pixelsAnInch
	p.row += int(points/rowPoints) + 1
	return p.breakPage()
}

// breakPage starts a new printed page below the last row.
func (p *page) breakPage() error {
	return p.sw.InsertPageBreak(fmt.Sprintf("A%d", p.row+1))
}

// sides writes two columns of rows side by side.
func (p *page) sides(left, right [][]cell) error {
	for i := range max(len(left), len(right)) {
		row := make([]cell, len(wallWidths))
		if i < len(left) {
			copy(row, left[i])
		}
		if i < len(right) {
			copy(row[rightFrom:], right[i])
		}
		if err := p.put(row...); err != nil {
			return err
		}
	}
	return nil
}

func (b *book) leftSide(w *engine.WallResult) [][]cell {
	out := block("Cut list", pick(pieceColumns(), leftHeaders), rowsOf(w, w.Pieces))
	out = append(out, nil)
	return append(out, b.fixersPanel(w)...)
}

// rightSide has the storey rod, its highest mark at the top as it stands on
// the rod, and the battens.
func (b *book) rightSide(w *engine.WallResult) [][]cell {
	marks := rowsOf(w, w.Courses)
	slices.Reverse(marks)
	rod := block("Storey rod: cut out, tape to the rod", pick(courseColumns(), rodHeaders), marks)
	for _, row := range rod[2:] {
		for i := range row {
			row[i].l = rodText
			if _, isText := row[i].v.(string); !isText && row[i].v != nil {
				row[i].l = rodMark
			}
		}
	}
	out := append(rod, nil)
	return append(out, block("Batten marks", pick(battenColumns(), battenHeader), rowsOf(w, w.Battens))...)
}

func rowsOf[T any](w *engine.WallResult, rows []T) []ofWall[T] {
	out := make([]ofWall[T], len(rows))
	for i := range rows {
		out[i] = ofWall[T]{w, &rows[i]}
	}
	return out
}

// pick takes the columns with those headers, in that order.
func pick[T any](from []column[T], headers []string) []column[T] {
	out := make([]column[T], len(headers))
	for i, h := range headers {
		at := slices.IndexFunc(from, func(c column[T]) bool { return c.header == h })
		out[i] = from[at]
	}
	return out
}

// block lays out a titled list.
func block[T any](name string, columns []column[T], rows []T) [][]cell {
	out := make([][]cell, 0, len(rows)+2)
	heads, under := []cell{{v: name, l: heading}}, make([]cell, len(columns))
	for i, c := range columns {
		if i > 0 {
			heads = append(heads, cell{l: heading})
		}
		under[i] = cell{v: c.header, l: header}
	}
	out = append(out, heads, under)
	for _, r := range rows {
		line := make([]cell, len(columns))
		for i, c := range columns {
			line[i] = c.of(r, 0)
		}
		out = append(out, line)
	}
	return out
}
