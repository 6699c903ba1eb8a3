package drawing

import (
	"fmt"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Sizes of the picture of boards as bars, in pixels.
const (
	barWide  = 2400
	barStep  = 58 // from one bar to the next
	barTall  = 40
	barLeft  = 330
	barRight = 330 // kept for what becomes of the leftover
	barHead  = 50
)

// Bars draws patterns of the cutting plan as bars to one scale, one below the
// other: the pieces in sawing order and, hatched, what is left. A leftover of
// at least keep is worth keeping.
func (d *Drawer) Bars(rows []engine.CutRow, keep measure.Length) (Picture, error) {
	d.ink.reset(barWide, barHead+barStep*len(rows)+10)
	longest := measure.Length(1)
	for _, r := range rows {
		longest = max(longest, r.Stock)
	}
	scale := float64(barWide-barLeft-barRight) / float64(longest)
	s := textSize{22, false}
	d.text(s, 10, 24, atStart, "board")
	d.text(s, 190, 24, atStart, "boards alike")
	d.text(s, barLeft+4, 24, atStart, "pieces in sawing order, lengths in mm")
	d.text(s, barWide-barRight+20, 24, atStart, "what is left")
	for i, r := range rows {
		d.bar(r, float64(barHead+barStep*i), scale, keep)
	}
	data, err := d.packer.pack(d.ink)
	return Picture{PNG: data, Width: d.ink.w, Height: d.ink.h, Text: describeBars(rows)}, err
}

func (d *Drawer) bar(r engine.CutRow, y, scale float64, keep measure.Length) {
	middle := y + barTall/2
	d.text(textSize{26, true}, 10, middle, atStart, r.Board)
	d.text(textSize{24, false}, 190, middle, atStart, fmt.Sprintf("x %d", r.Count))
	x := float64(barLeft)
	for _, c := range r.Cuts {
		to := x + float64(c.Length)*scale
		d.segment(x, to, y, strings.Join(c.Marks, "+"), c.Length.Nearest(measure.Tenth).String())
		x = to
	}
	end := barLeft + float64(r.Stock)*scale
	d.hatch(min(x+4, end), end, y)
	d.frame(barLeft, end, y, 3)
	d.text(textSize{22, false}, end+20, middle, atStart, leftover(r, keep))
}

// segment draws one piece: its mark and length, or the mark alone, or nothing.
func (d *Drawer) segment(lo, hi, y float64, mark, length string) {
	d.frame(lo, hi, y, 3)
	for _, text := range []string{mark + "  " + length, mark} {
		for px := 26; px >= 18; px -= 2 {
			s := textSize{px, true}
			if float64(d.letters.width(s, text)) <= hi-lo-10 {
				d.text(s, (lo+hi)/2, y+barTall/2, atMiddle, text)
				return
			}
		}
	}
}

func (d *Drawer) frame(lo, hi, y float64, wide int) {
	d.ink.level(lo, hi, y, wide, black)
	d.ink.level(lo, hi, y+barTall, wide, black)
	d.ink.upright(lo, y, y+barTall, wide, black)
	d.ink.upright(hi, y, y+barTall, wide, black)
}

// hatch fills the leftover with sloping lines.
func (d *Drawer) hatch(lo, hi, y float64) {
	for x := lo; x < hi; x += 16 {
		top := min(x+barTall*0.6, hi)
		d.ink.line(point{x, y + barTall}, point{top, y + barTall - (top-x)/0.6}, 2, mid)
	}
}

// leftover says what becomes of a board's end.
func leftover(r engine.CutRow, keep measure.Length) string {
	switch {
	case r.Offcut == 0:
		return "nothing"
	case r.Offcut >= keep:
		return fmt.Sprintf("%v: keep", r.Offcut.Nearest(measure.Tenth))
	}
	return fmt.Sprintf("%v: waste", r.Offcut.Nearest(measure.Tenth))
}

func describeBars(rows []engine.CutRow) string {
	if len(rows) == 0 {
		return "No boards to saw."
	}
	return fmt.Sprintf("Boards %s to %s of the cutting plan drawn as bars, the pieces in sawing order from the left; the sheet Cutting plan says the same in words.",
		rows[0].Board, rows[len(rows)-1].Board)
}
