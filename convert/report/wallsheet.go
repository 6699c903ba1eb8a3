package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/convert/drawing"
	"lapwright/engine"
)

// A wall sheet is made to be printed and taken up the scaffold: the elevation
// first; then what the fixer must know, the storey rod and the batten marks;
// last the cut list, which may run over several pages.

var (
	cutHeaders    = []string{"Piece", "Course", "From left mm", "Bottom mm", "Length mm", "Width mm", "Left end", "Right end", "Cut-outs", "Stock board", "Quantity"}
	rodHeaders    = []string{"Course", "Bottom mm", "Top mm", "Gauge mm", "Lap mm", "Note"}
	battenHeaders = []string{"Batten", "Centre mm", "Width mm", "From mm", "To mm", "Why"}
)

// form is how a wall sheet is laid out: across for a long wall, upright for a
// high one.
type form struct {
	portrait bool
	widths   []float64 // of the grid's columns, in characters
	right    int       // index of the first column of what stands at the right
	pixels   float64   // width of the grid
	page     float64   // points of grid that go on one printed page
	picture  drawing.Options
}

// pixelsAMillimetre is the fineness of the drawings as printed: 220 an inch.
const pixelsAMillimetre = 2400.0 / pageWide

// lineMillimetres is how high a line of text is on paper, or a bit less.
const lineMillimetres = 5.0

// newForm works out a form for a page with so many millimetres between its
// margins. The drawing is kept some millimetres lower, for the line above it.
func newForm(portrait bool, wide, high float64, right int, widths ...float64) form {
	f := form{portrait: portrait, widths: widths, right: right}
	for _, w := range widths {
		f.pixels += columnPixels(w)
	}
	scale := min(1, wide/25.4*96/f.pixels)
	f.page = high / 25.4 * 72 / scale
	f.picture = drawing.Options{Width: int(wide * pixelsAMillimetre), Height: int((high - 9) * pixelsAMillimetre)}
	return f
}

// leftPixels is the width of the columns before the right side and its gap.
func (f form) leftPixels() float64 {
	sum := 0.0
	for _, w := range f.widths[:f.right-1] {
		sum += columnPixels(w)
	}
	return sum
}

// formFor chooses the way of the page on which the wall is drawn larger; a
// small gain is not worth turning the page for.
func formFor(w *engine.WallResult) form {
	across := newForm(false, pageWide, pageHigh, 14, 9, 8, 8, 8, 8, 7, 9.5, 9.5, 18, 9, 8.5, 6, 7.5, 2, 8, 9, 8, 8, 7, 15)
	upright := newForm(true, pageUprightWide, pageUprightHigh, 7, 9, 8, 8, 8, 8, 7, 9.5, 9.5, 13, 9, 8.5, 7.5, 8.5)
	if drawing.Scale(w, upright.picture) > 1.15*drawing.Scale(w, across.picture) {
		return upright
	}
	return across
}

func (b *book) writeWall(sheet string, w *engine.WallResult) error {
	f, facts := b.wallForm(w)
	p, err := b.newPage(sheet, layout{portrait: f.portrait})
	if err != nil {
		return err
	}
	p.room = f.page
	if err := p.setWidths(f.widths); err != nil {
		return err
	}
	if err := p.together(facts); err != nil {
		return err
	}
	if err := p.pictures(w, f); err != nil {
		return err
	}
	if err := p.scaffold(w, f); err != nil {
		return err
	}
	if err := p.wallCuts(w, f); err != nil {
		return err
	}
	return p.sw.Flush()
}

// wallForm returns a wall's form, and the line or lines above its drawing,
// which take their height from it.
func (b *book) wallForm(w *engine.WallResult) (form, [][]cell) {
	f := formFor(w)
	facts := panelText("Wall "+wallName(w)+": "+wallFacts(w), f.pixels)
	f.picture.Height -= int(float64(len(facts)-1) * lineMillimetres * pixelsAMillimetre)
	return f, facts
}

func wallName(w *engine.WallResult) string { return strings.TrimSpace(w.Plot + " " + w.Name) }

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
	edge := "left"
	switch {
	case allHanded(w):
		edge = "RIGHT"
		facts = append(facts, "HANDED: drawn as built; in the lists below left and right are changed over")
	case w.Mirrored > 0:
		facts = append(facts, fmt.Sprintf("%d of them HANDED: mirror left to right", w.Mirrored))
	}
	return strings.Join(facts, "; ") + ". Lengths in mm; x from the wall's " + edge + " edge seen from outside, heights from the survey datum."
}

// allHanded reports whether a wall is built mirrored wherever it is built.
func allHanded(w *engine.WallResult) bool { return w.Mirrored > 0 && w.Mirrored >= w.Quantity }

// hands lists the ways a wall is drawn: as surveyed, handed, or both, as it is
// built.
func hands(w *engine.WallResult) []bool {
	switch {
	case allHanded(w):
		return []bool{true}
	case w.Mirrored > 0:
		return []bool{false, true}
	}
	return []bool{false}
}

// pictures puts the elevation on the sheet, in each way that some are built.
func (p *page) pictures(w *engine.WallResult, f form) error {
	for _, f.picture.Mirror = range hands(w) {
		if err := p.picture(w, f); err != nil {
			return err
		}
	}
	return nil
}

// pictureRow is the height in points of the empty rows a picture lies on.
const pictureRow = 15.0

func (p *page) picture(w *engine.WallResult, f form) error {
	pic, ok := p.b.drawn[drawnKey{w, f.picture.Mirror}]
	if !ok {
		var err error
		if pic, err = p.b.draw.Elevation(w, f.picture); err != nil {
			return err
		}
	}
	return p.place(pic, f)
}

// scaffold writes the fixer's panel with the rod beside it; on an upright page
// the panel, and below it the rod and the batten marks.
func (p *page) scaffold(w *engine.WallResult, f form) error {
	if !f.portrait {
		return p.together(f.beside(p.b.fixersPanel(w, f.leftPixels()), rodStrip(w, false)))
	}
	if err := p.together(append(p.b.fixersPanel(w, f.pixels), nil)); err != nil {
		return err
	}
	return p.together(f.beside(rodStrip(w, true), battenMarks(w)))
}

func battenMarks(w *engine.WallResult) [][]cell {
	return block("Batten marks, mm", pick(battenColumns(), battenHeaders), rowsOf(w, w.Battens))
}

// beside puts one list to the right of another.
func (f form) beside(left, right [][]cell) [][]cell {
	both := make([][]cell, max(len(left), len(right)))
	for i := range both {
		if i < len(left) {
			both[i] = append(both[i], left[i]...)
		}
		if i < len(right) {
			for len(both[i]) < f.right {
				both[i] = append(both[i], cell{})
			}
			both[i] = append(both[i], right[i]...)
		}
	}
	return both
}

// rodStrip is the list of course marks to cut out and tape to the rod, its
// highest mark at the top as it stands there. Where its last column is narrow,
// it takes one more, over which notes run.
func rodStrip(w *engine.WallResult, narrow bool) [][]cell {
	marks := rowsOf(w, w.Courses)
	slices.Reverse(marks)
	rod := block("Storey rod, mm: cut out, tape to the rod", pick(courseColumns(), rodHeaders), marks)
	for i, row := range rod {
		if narrow {
			row = append(row, cell{l: map[bool]look{true: heading, false: header}[i == 0]})
		}
		rod[i] = row
		if i < 2 {
			continue
		}
		for k := range row {
			row[k].l = rodInner
		}
		row[0].l, row[1].l, row[len(rodHeaders)-1].l, row[len(row)-1].l = rodFirst, rodMark, rodNote, rodLast
	}
	return rod
}

// wallCuts writes the wall's cut list, with boxes to tick, its headers
// repeated on every page it runs to. On a page across, the batten marks stand
// beside it.
func (p *page) wallCuts(w *engine.WallResult, f form) error {
	cuts := block("Cut list, mm", pick(pieceColumns(), cutHeaders), rowsOf(w, w.Pieces))
	cuts[0] = append(cuts[0], cell{l: heading}, cell{l: heading})
	cuts[1] = append(cuts[1], cell{v: "Cut", l: header}, cell{v: "Fixed", l: header})
	for i := 2; i < len(cuts); i++ {
		cuts[i] = append(cuts[i], cell{l: tick}, cell{l: tick})
	}
	if !f.portrait {
		cuts = f.beside(cuts, battenMarks(w))
	}
	if err := p.together([][]cell{nil}); err != nil {
		return err
	}
	if err := p.keep(lineHeight * float64(min(len(cuts), 12))); err != nil {
		return err
	}
	if err := p.titleRow(p.row + 2); err != nil {
		return err
	}
	for _, row := range cuts {
		if err := p.put(row...); err != nil {
			return err
		}
	}
	return nil
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
		under[i] = head(c, rows)
		under[i].v = strings.TrimSuffix(c.header, " mm") // the unit stands in the block's name
	}
	out = append(out, heads, under)
	for _, r := range rows {
		line := make([]cell, len(columns))
		for i, c := range columns {
			line[i] = ruled(c.of(r, 0))
		}
		out = append(out, line)
	}
	return out
}
