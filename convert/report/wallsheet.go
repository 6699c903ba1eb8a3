package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/convert/drawing"
	"lapwright/convert/lettering"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// A wall sheet is made to be printed and taken up the scaffold, on one sheet of
// paper where it goes: the elevation on its face; on its back, in columns side
// by side, what the fixer must know, the storey rod, the batten marks and the
// cut list.

var (
	rodHeaders    = []string{"Course", "Bottom mm", "Top mm", "Gauge mm", "Note", "Lap mm"}
	battenHeaders = []string{"Batten", "Centre mm", "From mm", "To mm", "Why", "Width mm"}
)

// form is how a wall sheet is laid out: across for a long wall, upright for a
// high one.
type form struct {
	portrait bool
	widths   []float64 // of the grid's columns, in characters
	columns  int       // side by side
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
func newForm(portrait bool, wide, high float64, widths ...float64) form {
	f := form{portrait: portrait, widths: widths}
	for _, w := range widths {
		f.pixels += lettering.Column(w)
	}
	scale := min(1, wide/25.4*96/f.pixels)
	f.page = high / 25.4 * 72 / scale
	f.picture = drawing.Options{Width: int(wide * pixelsAMillimetre), Height: int((high - 9) * pixelsAMillimetre)}
	return f
}

// cutWidths are those of a column of the lists, in characters: piece, from left,
// length, shape, which runs over two, board, and a box each to tick when it is
// cut and fixed.
var cutWidths = []float64{8.5, 7, 7.5, 7.5, 18, 7, 4.5, 6}

// wordsAt is the cell of a column that takes the notes of other lists.
const wordsAt = 4

// shapePixels is how wide words of a shape may be.
func shapePixels() float64 {
	return lettering.Column(cutWidths[3]) + lettering.Column(cutWidths[4]) - cellPadding
}

// newspaperForm is a form of so many columns, a little apart.
func newspaperForm(portrait bool, wide, high float64, columns int) form {
	var widths []float64
	for k := range columns {
		if k > 0 {
			widths = append(widths, 2)
		}
		widths = append(widths, cutWidths...)
	}
	f := newForm(portrait, wide, high, widths...)
	f.columns = columns
	return f
}

// rows is how many rows go on a page.
func (f form) rows() int { return int(f.page/lineHeight) - 1 }

// columnPixels is the width of one of its columns.
func (f form) columnPixels() float64 {
	sum := 0.0
	for _, w := range cutWidths {
		sum += lettering.Column(w)
	}
	return sum
}

// formFor chooses the way of the page on which the wall is drawn larger; a
// small gain is not worth turning the page for.
func formFor(w *engine.WallResult) form {
	across := newspaperForm(false, pageWide, pageHigh, 3)
	upright := newspaperForm(true, pageUprightWide, pageUprightHigh, 2)
	if drawing.Scale(w, upright.picture) > 1.15*drawing.Scale(w, across.picture) {
		return upright
	}
	return across
}

// writeWall writes a wall's sheet: each way that it is built on pages of its own.
func (b *book) writeWall(sheet string, ways []way) error {
	f, _ := ways[0].form()
	p, err := b.newPage(sheet, layout{portrait: f.portrait})
	if err != nil {
		return err
	}
	p.room = f.page
	if err := p.setWidths(f.widths); err != nil {
		return err
	}
	for i, w := range ways {
		if i > 0 {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		if err := p.way(w); err != nil {
			return err
		}
	}
	return p.sw.Flush()
}

func (p *page) way(w way) error {
	f, facts := w.form()
	if err := p.together(facts); err != nil {
		return err
	}
	if err := p.pictures(w.elevation, f); err != nil {
		return err
	}
	return p.lists(w.WallResult, f)
}

// form returns the form of the pages, and the line or lines above the drawing,
// which take their height from it.
func (w way) form() (form, [][]cell) {
	f := formFor(w.WallResult)
	facts := panelText("Wall "+wallName(w.WallResult)+": "+w.facts(), f.pixels)
	f.picture.Height -= int(float64(len(facts)-1) * lineMillimetres * pixelsAMillimetre)
	return f, facts
}

func wallName(w *engine.WallResult) string { return strings.TrimSpace(w.Plot + " " + w.Name) }

// facts says in one line what the pages are of.
func (w way) facts() string {
	var facts []string
	if w.plots != "" {
		facts = append(facts, "for "+w.plots)
	}
	facts = append(facts, fmt.Sprintf("%.2f m2 net", w.Net), plural(len(w.Courses), "course"), plural(len(w.Pieces), "piece"))
	if w.Colour != "" {
		facts = append(facts, "colour "+w.Colour)
	}
	if w.Drop != "" {
		facts = append(facts, dropName(w.Drop))
	}
	if w.Quantity > 1 {
		facts = append(facts, fmt.Sprintf("build %d alike", w.Quantity))
	}
	if w.Mirrored > 0 {
		facts = append(facts, "HANDED: all on these pages is as built, mirrored from the survey")
	}
	if w.other > 0 {
		facts = append(facts, fmt.Sprintf("%d more of the other hand on pages of their own", w.other))
	}
	return strings.Join(facts, "; ") + ". Lengths in mm; x from the wall's left edge seen from outside, heights from the survey datum."
}

// pictureRow is the height in points of the empty rows a picture lies on.
const pictureRow = 15.0

func (p *page) pictures(s *sketch, f form) error {
	pics, err := s.pictures()
	if err != nil {
		return err
	}
	for _, pic := range pics {
		if err := p.place(pic, f); err != nil {
			return err
		}
	}
	return nil
}

// lists writes the lists in columns side by side.
func (p *page) lists(w *engine.WallResult, f form) error {
	pages := flow([]story{
		{rows: p.b.fixersPanel(w, f.columnPixels()), heads: 1},
		{rows: widened(block("Batten marks, mm", pick(battenColumns(), battenHeaders), rowsOf(w, w.Battens))), heads: 2},
		{rows: rodStrip(w), heads: 2, whole: true},
		{rows: p.b.wallCuts(w), heads: 2},
		{rows: wallTrims(w), heads: 2},
	}, f.columns, f.rows())
	for i, columns := range pages {
		if err := p.keep(lineHeight * float64(f.rows())); err != nil {
			return err
		}
		if i > 0 && p.used > 0 {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		for _, r := range beside(columns, len(cutWidths)) {
			if err := p.put(r...); err != nil {
				return err
			}
		}
	}
	return nil
}

// widened fills the rows of a list up to the width of a column: the heading's
// line runs over it all.
func widened(rows [][]cell) [][]cell {
	for i, r := range rows {
		for len(r) > 0 && len(r) < len(cutWidths) {
			r = append(r, map[int]cell{0: {l: heading}, 1: {l: headerLine}}[i])
		}
		rows[i] = r
	}
	return rows
}

// rodStrip is the list of course marks to cut out and tape to the rod, its
// highest mark at the top as it stands there.
func rodStrip(w *engine.WallResult) [][]cell {
	marks := rowsOf(w, w.Courses)
	slices.Reverse(marks)
	rod := widened(block("Storey rod, mm: cut out, tape to the rod", pick(courseColumns(), rodHeaders), marks))
	for i, row := range rod[2:] {
		for len(row) < len(cutWidths) {
			row = append(row, cell{})
		}
		for k := range row {
			row[k].l = rodInner
		}
		row[0].l, row[1].l, row[wordsAt].l, row[len(row)-1].l = rodFirst, rodMark, rodNote, rodLast
		rod[i+2] = row
	}
	return rod
}

// wallCuts is the wall's cut list, with boxes to tick.
func (b *book) wallCuts(w *engine.WallResult) [][]cell {
	full := boardWidth(w)
	name := "Cut list, mm"
	if full > 0 {
		name += fmt.Sprintf(": %v wide and sawn square unless said", full)
	}
	out := widened([][]cell{{{v: name, l: heading}}, {
		{v: "Piece", l: headerLine}, {v: "Left", l: headerLineRight}, {v: "Length", l: headerLineRight}, {v: "Shape", l: headerLine}, {l: headerLine},
		{v: "Board", l: headerLine}, {v: "Cut", l: headerLine}, {v: "Fixed", l: headerLine}}})
	for i := range w.Pieces {
		out = append(out, cutRows(&w.Pieces[i], full)...)
	}
	return out
}

// cutRows is a piece of the cut list; words that are too long for one row go on
// below, so that the columns beside keep their height.
func cutRows(p *engine.Piece, full measure.Length) [][]cell {
	var lines []string
	for _, words := range shapeWords(p, full) {
		lines = append(lines, lettering.Lines(words, shapePixels())...)
	}
	first := ""
	if len(lines) > 0 {
		first, lines = lines[0], lines[1:]
	}
	out := [][]cell{{text(p.Mark), offset(p, lowerLeft(p).X), mm(p.Length), text(first), {}, text(firstStock(p.Stock)), {l: tick}, {l: tick}}}
	for _, l := range lines {
		out = append(out, []cell{{}, {}, {}, text(l), {}, {}, {}, {}})
	}
	for _, r := range out {
		for k := range r {
			r[k] = ruled(r[k])
		}
	}
	return out
}

// stockMark stands between the boards that the pieces of one mark come from.
const stockMark = "; "

// firstStock names the first of several boards and counts the rest, so that they
// keep to their column.
func firstStock(stock string) string {
	first, rest, several := strings.Cut(stock, stockMark)
	if !several {
		return stock
	}
	return fmt.Sprintf("%s+%d", first, 1+strings.Count(rest, stockMark))
}

// wallTrims lists the trims, starters and strips of a wall as they are fixed,
// with boxes to tick.
func wallTrims(w *engine.WallResult) [][]cell {
	if len(w.Trims) == 0 {
		return nil
	}
	out := widened([][]cell{{{v: "Trims, mm, with the length each is cut from", l: heading}}, {
		{v: "Mark", l: headerLine}, {v: "Length", l: headerLineRight}, {v: "Stock", l: headerLine}, {v: "What and where", l: headerLine}, {l: headerLine},
		{l: headerLine}, {v: "Cut", l: headerLine}, {v: "Fixed", l: headerLine}}})
	for i := range w.Trims {
		t := &w.Trims[i]
		row := []cell{text(t.Mark), mm(t.Length), text(firstStock(t.Stock)), text(t.Role + ", " + t.Where), {}, {}, {l: tick}, {l: tick}}
		for k := range row {
			row[k] = ruled(row[k])
		}
		out = append(out, row)
	}
	return out
}

// boardWidth is how wide most of a wall's boards are.
func boardWidth(w *engine.WallResult) measure.Length {
	count, best := map[measure.Length]int{}, measure.Length(0)
	for i := range w.Pieces {
		l := w.Pieces[i].Width
		if count[l]++; count[l] > count[best] || count[l] == count[best] && l > best {
			best = l
		}
	}
	return best
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
		under[i].l = map[look]look{header: headerLine, headerRight: headerLineRight}[under[i].l]
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
