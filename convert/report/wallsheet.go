package report

import (
	"cmp"
	"fmt"
	"strings"

	"lapwright/convert/drawing"
	"lapwright/convert/lettering"
	"lapwright/engine"
)

// A wall sheet is made to be printed and taken up the scaffold, on one sheet of
// paper where it goes: the elevation on its face; on its back, in columns side
// by side, what the fixer must know, the storey rod, the batten marks and the
// cut list.

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

// newspaperForm is a form of so many columns, a little apart.
func newspaperForm(portrait bool, wide, high float64, columns int) form {
	var widths []float64
	for k := range columns {
		if k > 0 {
			widths = append(widths, 2)
		}
		widths = append(widths, listWidths...)
	}
	f := newForm(portrait, wide, high, widths...)
	f.columns = columns
	return f
}

// rows is how many rows of so many points go on a page.
func (f form) rows(points float64) int { return int(f.page/points) - 1 }

// columnPixels is the width of one of its columns.
func (f form) columnPixels() float64 {
	sum := 0.0
	for _, w := range listWidths {
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
	facts = append(facts, "marks begin with "+w.Code, fmt.Sprintf("%.2f m2 net", w.Net), plural(len(w.Courses), "course"), plural(len(w.Pieces), "piece"))
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

// tightLine is the height of a row, in points, that still holds its text: for
// lists of which a few rows would else take a page of their own.
const tightLine = 12.75

// lists writes the lists in columns side by side.
func (p *page) lists(w *engine.WallResult, f form) error {
	stories := []story{
		{rows: p.b.fixersPanel(w, f.columnPixels()), heads: 1},
		{rows: wallBattens(w), heads: 2},
		{rows: wallRod(w), heads: 2, whole: true},
		{rows: wallCuts(w), heads: 2},
		{rows: wallPackers(w, false), heads: 2},
		{rows: wallPackers(w, true), heads: 2},
		{rows: wallTrims(w), heads: 2},
	}
	pages := closest(stories, f.columns, f.rows(lineHeight))
	if tight := closest(stories, f.columns, f.rows(tightLine)); len(tight) < len(pages) {
		pages, p.line = tight, tightLine
		defer func() { p.line = 0 }()
	}
	high := cmp.Or(p.line, lineHeight)
	for i, columns := range pages {
		if err := p.keep(high * float64(f.rows(high))); err != nil {
			return err
		}
		if i > 0 && p.used > 0 {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		for r := range beside(columns, len(listWidths)) {
			if err := p.put(r...); err != nil {
				return err
			}
		}
	}
	return nil
}
