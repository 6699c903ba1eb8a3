package drawing

import (
	"fmt"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Sizes of the pictures of boards as bars, in pixels.
const (
	barWide  = 2400
	barTall  = 40
	barAir   = 18 // below a bar
	barLeft  = 330
	barRight = 330 // kept for what becomes of the leftover
	barHead  = 50
	barLine  = 28   // of marks below a bar
	barPage  = 1430 // high at most, which fills a page
	barWords = 300  // listed under one bar at most
)

// bar is boards that are cut alike.
type bar struct {
	rows  []engine.CutRow
	lines []string // the marks, where there are several boards
	words int      // boards and marks
}

func (b bar) high() int {
	return barTall + barAir + barLine*len(b.lines)
}

// Bars draws patterns of the cutting plan as bars to one scale, one below the
// other, a picture a page: the pieces in sawing order and, hatched, what is
// left. Boards cut to the same lengths share a bar, under which their marks are
// listed. A leftover of at least keep is worth keeping.
func (d *Drawer) Bars(rows []engine.CutRow, keep measure.Length) ([]Picture, error) {
	longest := measure.Length(1)
	for _, r := range rows {
		longest = max(longest, r.Stock)
	}
	scale := float64(barWide-barLeft-barRight) / float64(longest)
	var out []Picture
	for bars := d.alike(rows); len(bars) > 0; {
		n, high := 0, barHead+10
		for n < len(bars) && (n == 0 || high+bars[n].high() <= barPage) {
			high += bars[n].high()
			n++
		}
		pic, err := d.barPage(bars[:n], high, scale, keep)
		if err != nil {
			return nil, err
		}
		out, bars = append(out, pic), bars[n:]
	}
	return out, nil
}

func (d *Drawer) barPage(bars []bar, high int, scale float64, keep measure.Length) (Picture, error) {
	d.ink.reset(barWide, high)
	s := textSize{22, false}
	d.text(s, 10, 24, atStart, "board")
	d.text(s, 190, 24, atStart, "how many")
	d.text(s, barLeft+4, 24, atStart, "pieces in sawing order, lengths in mm")
	d.text(s, barWide-barRight+20, 24, atStart, "what is left")
	y := barHead
	for _, b := range bars {
		d.bar(b, float64(y), scale, keep)
		y += b.high()
	}
	data, err := d.packer.pack(d.ink)
	return Picture{PNG: data, Width: d.ink.w, Height: d.ink.h, Text: describeBars(bars)}, err
}

// alike groups boards that are cut to the same lengths from the same stock, in
// the order first met.
func (d *Drawer) alike(rows []engine.CutRow) []bar {
	var out []bar
	at := map[string]int{}
	for _, r := range rows {
		key := fmt.Sprint(r.Code, "\x00", r.Colour, r.Stock, r.OnHand, r.Offcut)
		for _, c := range r.Cuts {
			key += fmt.Sprint(" ", c.Length, len(c.Marks))
		}
		i, ok := at[key]
		if !ok || out[i].words > barWords { // a page must hold the list under a bar
			i = len(out)
			at[key] = i
			out = append(out, bar{})
		}
		out[i].rows = append(out[i].rows, r)
		out[i].words += 1 + len(r.Cuts)
	}
	for i := range out {
		if len(out[i].rows) > 1 {
			out[i].lines = d.fold(boardWords(out[i].rows), barMarks, barWide-barLeft-20)
		}
	}
	return out
}

// boardWords says of each board which pieces come from it.
func boardWords(rows []engine.CutRow) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		marks := make([]string, len(r.Cuts))
		for k, c := range r.Cuts {
			marks[k] = strings.Join(c.Marks, "+")
		}
		out[i] = r.Board + ": " + strings.Join(marks, ", ")
		if r.Count > 1 {
			out[i] = fmt.Sprintf("%d of %s", r.Count, out[i])
		}
	}
	return out
}

// barMarks are the letters below a bar.
var barMarks = textSize{21, false}

// fold breaks words, which stay whole, into lines of so many pixels.
func (d *Drawer) fold(words []string, s textSize, wide int) []string {
	var lines []string
	line := ""
	for _, w := range words {
		if longer := line + "   " + w; line != "" && d.letters.width(s, longer) <= wide {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = w
	}
	return append(lines, line)
}

func (d *Drawer) bar(b bar, y, scale float64, keep measure.Length) {
	r, n := b.rows[0], 0
	for _, other := range b.rows {
		n += other.Count
	}
	middle := y + barTall/2
	name := r.Board
	if len(b.rows) > 1 {
		name = r.Code
	}
	s := textSize{26, true}
	for s.px > 14 && d.letters.width(s, name) > 175 {
		s.px--
	}
	d.text(s, 10, middle, atStart, name)
	d.text(textSize{24, false}, 200, middle, atStart, fmt.Sprintf("x %d", n))
	x := float64(barLeft)
	for _, c := range r.Cuts {
		to := x + float64(c.Length)*scale
		length, mark := c.Length.Nearest(measure.Tenth).String(), strings.Join(c.Marks, "+")
		if len(b.rows) > 1 {
			mark = ""
		}
		d.segment(x, to, y, mark, length)
		x = to
	}
	end := barLeft + float64(r.Stock)*scale
	d.hatch(min(x+4, end), end, y)
	d.frame(barLeft, end, y, 3)
	d.text(textSize{22, false}, end+20, middle, atStart, leftover(r, keep))
	for i, line := range b.lines {
		d.text(barMarks, barLeft, y+barTall+float64(barLine*i)+barLine/2, atStart, line)
	}
}

// segment draws one piece: its mark and length, or either alone, or nothing.
func (d *Drawer) segment(lo, hi, y float64, mark, length string) {
	d.frame(lo, hi, y, 3)
	texts := []string{mark + "  " + length, mark}
	if mark == "" {
		texts = []string{length}
	}
	for _, text := range texts {
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

func describeBars(bars []bar) string {
	n := 0
	for _, b := range bars {
		for _, r := range b.rows {
			n += r.Count
		}
	}
	return fmt.Sprintf("%d boards of the cutting plan drawn as %d bars, the pieces in sawing order from the left, from %s on; the sheet Cutting plan says the same in words.",
		n, len(bars), bars[0].rows[0].Board)
}
