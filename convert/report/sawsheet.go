package report

import (
	"fmt"
	"strings"
	"sync"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/drawing"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// barsMost is how many patterns are drawn at all.
const barsMost = 2000

// delivery is the boards of one drop, which are sawn together: what comes later
// cannot be sawn with what is there.
type delivery struct {
	drop string
	rows []engine.CutRow
	bars *sketch
}

// deliveries parts the cutting plan by delivery, in the order in which those
// are first met.
func deliveries(res *engine.Result) []delivery {
	var out []delivery
	at := map[string]int{}
	drawn := make([]engine.CutRow, 0, min(res.CutCount(), barsMost))
	for r := range res.CutRows(0, cap(drawn)) {
		drawn = append(drawn, *r)
		i, ok := at[r.Drop]
		if !ok {
			i = len(out)
			at[r.Drop], out = i, append(out, delivery{drop: r.Drop})
		}
		out[i].rows = append(out[i].rows, *r)
	}
	shapes := sync.OnceValue(func() map[string]drawing.Shape { return shapes(res, drawn) })
	keep := res.Job.Rules.PieceLeastFor(res.Job.Rules.BattenCentres)
	for i := range out {
		rows := out[i].rows
		out[i].bars = newSketch("the saw sheet", func(d *drawing.Drawer) ([]drawing.Picture, error) {
			return d.Bars(rows, keep, shapes())
		})
	}
	return out
}

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
	for _, d := range b.saw {
		if err := p.delivery(d, f); err != nil {
			return err
		}
	}
	if left := b.res.CutCount() - barsMost; left > 0 {
		if err := p.put(cell{v: fmt.Sprintf("%d more boards stand in the Cutting plan.", left), l: panel}); err != nil {
			return err
		}
	}
	return p.sw.Flush()
}

// delivery shows the boards of one delivery, from a page of their own on.
func (p *page) delivery(d delivery, f form) error {
	pics, err := d.bars.pictures()
	if err != nil {
		return err
	}
	name := "Saw sheet"
	if s := dropName(d.drop); s != "" {
		name += " for " + s
	}
	for _, pic := range pics {
		if p.used > 0 {
			if err := p.breakPage(); err != nil {
				return err
			}
		}
		if err := p.together(panelText(name+": boards as bars, sawn from the left; boards cut to the same lengths share a bar, the pieces of each board listed under it, in the order of the boards. Seal every sawn edge of a board. "+carrying(p.b.res.Board), f.pixels)); err != nil {
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

// shapes lists the pieces that are no whole boards sawn square, of the walls that
// boards are cut for.
func shapes(res *engine.Result, boards []engine.CutRow) map[string]drawing.Shape {
	codes := map[string]bool{}
	for _, r := range boards {
		for _, c := range r.Cuts {
			for _, mark := range c.Marks {
				code, _, _ := strings.Cut(mark, "-")
				codes[code] = true
			}
		}
	}
	out := map[string]drawing.Shape{}
	for i := range res.Walls {
		if !codes[res.Walls[i].Code] {
			continue
		}
		w := res.Whole(i)
		full := boardWidth(w)
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
