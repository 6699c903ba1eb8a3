package report

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/drawing"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// barsMost is how many patterns are drawn at all.
const barsMost = 2000

// writeSaw draws the cutting plan as bars, for the saw bench.
func (b *book) writeSaw(sheet string) error {
	f := newForm(false, pageWide, pageHigh, 30, 30, 30, 30, 30)
	p, err := b.newPage(sheet, layout{})
	if err != nil {
		return err
	}
	p.room = f.page
	if err := p.setWidths(f.widths); err != nil {
		return err
	}
	rows := b.res.Cutting[:min(len(b.res.Cutting), barsMost)]
	shapes := b.shapes()
	for _, drop := range dropsOf(rows) {
		if err := p.bars(drop, shapes, f); err != nil {
			return err
		}
	}
	if left := len(b.res.Cutting) - len(rows); left > 0 {
		if err := p.put(cell{v: fmt.Sprintf("%d more boards stand in the Cutting plan.", left), l: panel}); err != nil {
			return err
		}
	}
	return p.sw.Flush()
}

// dropsOf parts the boards by delivery, in the order in which those are first
// met: what comes later cannot be sawn together with what is there.
func dropsOf(rows []engine.CutRow) [][]engine.CutRow {
	var out [][]engine.CutRow
	at := map[string]int{}
	for _, r := range rows {
		i, ok := at[r.Drop]
		if !ok {
			i = len(out)
			at[r.Drop], out = i, append(out, nil)
		}
		out[i] = append(out[i], r)
	}
	return out
}

// bars draws the boards of one delivery, from a page of their own on.
func (p *page) bars(rows []engine.CutRow, shapes map[string]drawing.Shape, f form) error {
	b := p.b
	keep := b.res.Job.Rules.PieceLeastFor(b.res.Job.Rules.BattenCentres)
	pics, err := b.draw.Bars(rows, keep, shapes)
	if err != nil {
		return err
	}
	name := "Saw sheet"
	if s := dropName(rows[0].Drop); s != "" {
		name += " for " + s
	}
	for _, pic := range pics {
		if p.used > 0 {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		if err := p.together(panelText(name+": boards as bars, sawn from the left; boards cut to the same lengths share a bar, their pieces listed under it. Seal every sawn edge. "+carrying(b.res.Board), f.pixels)); err != nil {
			return err
		}
		if err := p.place(pic, f); err != nil {
			return err
		}
	}
	return nil
}

// dropName names a delivery in a sentence, whether the survey calls it "Drop A"
// or "A".
func dropName(drop string) string {
	if drop == "" || strings.HasPrefix(strings.ToLower(drop), "drop") {
		return drop
	}
	return "drop " + drop
}

// shapes lists the pieces that are no whole boards sawn square.
func (b *book) shapes() map[string]drawing.Shape {
	out := map[string]drawing.Shape{}
	for i := range b.res.Walls {
		w := &b.res.Walls[i]
		full := b.boardWidth(w)
		for k := range w.Pieces {
			p, words := sawn(w, &w.Pieces[k], full)
			if words == "" {
				continue
			}
			s := drawing.Shape{Width: full, Words: words}
			if !isReveal(&p) {
				o := lowerLeft(&p)
				s.Outline = p.Outline.Move(measure.Point{X: -o.X, Z: -o.Z})
			}
			out[p.Mark] = s
		}
	}
	return out
}

// place puts a picture over the width of the grid, on rows of its own.
func (p *page) place(pic drawing.Picture, f form) error {
	scale := f.pixels / float64(pic.Width)
	rows := int(float64(pic.Height)*scale/pixelsAPoint/pictureRow) + 1
	if err := p.keep(float64(rows) * pictureRow); err != nil {
		return err
	}
	if err := p.b.file.AddPictureFromBytes(p.sheet, fmt.Sprintf("A%d", p.row+1), &excelize.Picture{
		Extension: ".png", File: pic.PNG,
		Format: &excelize.GraphicOptions{AltText: pic.Text, ScaleX: scale, ScaleY: scale, Positioning: "oneCell", LockAspectRatio: true},
	}); err != nil {
		return err
	}
	return p.space(rows, pictureRow)
}
