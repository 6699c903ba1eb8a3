package drawing

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Sizes of the pictures of boards as bars, in pixels.
const (
	barWide  = 2400
	barTall  = 38
	barAir   = 13 // below a bar
	barLeft  = 330
	barRight = 330 // kept for what becomes of the leftover
	barHead  = 50
	barLine  = 26   // of marks below a bar
	barNames = 24.0 // from one name beside a bar to the next
	barPage  = 1430 // high at most, which fills a page
	barWords = 300  // listed under one bar at most
)

// Shape is how a piece is to be sawn where it is no whole board square at both
// ends: its outline from its lower left corner, seen from the front with the
// top edge up, on a board so wide, and in words. A piece that is only ripped
// needs no outline.
type Shape struct {
	Outline measure.Polygon
	Width   measure.Length // of the whole board
	Words   string
}

// bar is boards that are cut alike.
type bar struct {
	rows   []engine.CutRow
	pieces []segment
	boards string   // in short, as in B1-6, B8; blank: several, for which there is no room beside the bar
	lines  []string // what had no room in the bar, the shapes, and the marks where there are several boards
	words  int      // boards and marks
}

// sawyer draws bars to one scale.
type sawyer struct {
	*Drawer
	scale  float64        // pixels a micrometre
	keep   measure.Length // a leftover so long is worth keeping
	shapes map[string]Shape
}

func (b bar) high() int {
	return barTall + barAir + barLine*len(b.lines)
}

// Bars draws patterns of the cutting plan as bars to one scale, one below the
// other, a picture a page: the pieces in sawing order and, hatched, what is
// left. Boards cut to the same lengths share a bar, under which their marks are
// listed. Pieces of which shapes holds the mark are drawn in outline. A leftover
// of at least keep is worth keeping.
func (d *Drawer) Bars(rows []engine.CutRow, keep measure.Length, shapes map[string]Shape) ([]Picture, error) {
	w := newSawyer(d, rows, keep, shapes)
	var out []Picture
	for bars := w.alike(rows); len(bars) > 0; {
		n, high := 0, barHead+10
		for n < len(bars) && (n == 0 || high+bars[n].high() <= barPage) {
			high += bars[n].high()
			n++
		}
		pic, err := w.barPage(bars[:n], high)
		if err != nil {
			return nil, err
		}
		out, bars = append(out, pic), bars[n:]
	}
	return out, nil
}

// newSawyer draws rows so large that the longest board fills the width.
func newSawyer(d *Drawer, rows []engine.CutRow, keep measure.Length, shapes map[string]Shape) sawyer {
	longest := measure.Length(1)
	for _, r := range rows {
		longest = max(longest, r.Stock)
	}
	return sawyer{d, float64(barWide-barLeft-barRight) / float64(longest), keep, shapes}
}

func (d sawyer) barPage(bars []bar, high int) (Picture, error) {
	d.ink.reset(barWide, high)
	s := textSize{22, false}
	d.text(s, 10, 24, atStart, "board")
	d.text(s, 190, 24, atStart, "how many")
	d.text(s, barLeft+4, 24, atStart, "pieces in sawing order, front and top edge up, mm; hatched comes off. 'left top 229 x 180, 51.8\u00b0': that corner, 229 along the edge by 180 of the end, 51.8\u00b0 from square")
	d.text(s, barWide-barRight+20, 24, atStart, "what is left")
	y := barHead
	for _, b := range bars {
		d.bar(b, float64(y))
		y += b.high()
	}
	data, err := d.packer.pack(d.ink)
	return Picture{PNG: data, Width: d.ink.w, Height: d.ink.h, Text: describeBars(bars)}, err
}

// alike groups boards that are cut to the same lengths from the same stock, in
// the order first met.
func (d sawyer) alike(rows []engine.CutRow) []bar {
	var out []bar
	at := map[string]int{}
	for _, r := range rows {
		key := d.cutting(r)
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
		b := &out[i]
		b.pieces = d.segments(b.rows[0], len(b.rows) > 1)
		if words := d.pieceWords(b); len(words) > 0 {
			b.lines = d.fold(words, barMarks, barWide-barLeft-20)
		}
		b.boards = d.boardRange(b.rows)
		if words := boardWords(b.rows, b.boards == ""); len(words) > 0 {
			b.lines = append(b.lines, d.fold(words, barMarks, barWide-barLeft-20)...)
		}
	}
	return out
}

// cutting is the same for two boards if they are cut alike, and for no others:
// numbers end by themselves, words by a zero.
func (d sawyer) cutting(r engine.CutRow) string {
	key := append([]byte(r.Code), 0)
	key = append(append(key, r.Colour...), 0)
	number := func(n measure.Length) { key = binary.AppendVarint(key, int64(n)) }
	yes := func(is bool) { key = strconv.AppendBool(key, is) }
	number(r.Stock)
	yes(r.OnHand)
	number(r.Offcut)
	for _, c := range r.Cuts {
		number(c.Length)
		number(c.Saved)
		yes(c.Turned)
		number(measure.Length(len(c.Marks)))
		for _, m := range c.Marks {
			key = append(append(key, d.shapes[m].Words...), 0)
		}
	}
	return string(key)
}

// boardRange names boards in short; several not at all where that has no room.
func (d *Drawer) boardRange(rows []engine.CutRow) string {
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = r.Board
	}
	text := strings.Join(ranges(names), ", ")
	if len(rows) > 1 && d.letters.width(textSize{namesLeast, true}, text) > namesWide {
		return ""
	}
	return text
}

// boardWords says of each board, named or in the order of their names, which pieces
// come from it, where a bar stands for several, and which pieces one raked cut parts.
func boardWords(rows []engine.CutRow, named bool) []string {
	if len(rows) == 1 {
		if shared := rows[0].SharedCuts(); shared != "" {
			return []string{shared}
		}
		return nil
	}
	out := make([]string, len(rows))
	for i, r := range rows {
		marks := make([]string, len(r.Cuts))
		for k, c := range r.Cuts {
			marks[k] = strings.Join(c.Marks, "+")
		}
		out[i] = strings.Join(marks, ", ")
		if named {
			out[i] = r.Board + ": " + out[i]
		}
		if r.Count > 1 {
			out[i] = fmt.Sprintf("%d of %s", r.Count, out[i])
		}
		if shared := r.SharedCuts(); shared != "" {
			out[i] += " (" + shared + ")"
		}
	}
	return out
}

// barMarks are the letters below a bar.
var barMarks = textSize{21, false}

// fold breaks words, which stay whole, into lines of so many pixels.
func (d *Drawer) fold(words []string, s textSize, wide int) []string {
	const gap = "   "
	var lines []string
	from, used, apart := 0, 0, d.letters.width(s, gap)
	for i, w := range words {
		n := d.letters.width(s, w)
		if i > from && used+apart+n > wide {
			lines = append(lines, strings.Join(words[from:i], gap))
			from = i
		}
		if i > from {
			n += used + apart
		}
		used = n
	}
	return append(lines, strings.Join(words[from:], gap))
}

func (d sawyer) bar(b bar, y float64) {
	r, n := b.rows[0], 0
	for _, other := range b.rows {
		n += other.Count
	}
	middle := y + barTall/2
	d.names(b.names(), middle)
	d.text(textSize{24, false}, 200, middle, atStart, fmt.Sprintf("x %d", n))
	x := float64(barLeft)
	for _, p := range b.pieces {
		d.segment(p, y)
		x = p.hi
	}
	end := barLeft + float64(r.Stock)*d.scale
	d.hatch(min(x+4, end), end, y)
	d.frame(barLeft, end, y, 3)
	d.text(textSize{22, false}, end+20, middle, atStart, leftover(r, d.keep))
	for i, line := range b.lines {
		d.text(barMarks, barLeft, y+barTall+float64(barLine*i)+barLine/2, atStart, line)
	}
}

// names are what stands to the left of a bar: which boards, where that has room,
// and the code they are bought by.
func (b bar) names() []string {
	r := b.rows[0]
	switch {
	case r.Code == "":
		return []string{cmp.Or(b.boards, r.Board)}
	case b.boards == "":
		return []string{r.Code}
	}
	return []string{b.boards, r.Code}
}

// namesWide is how many pixels a name beside a bar may take, namesLeast the least
// size of its letters.
const namesWide, namesLeast = 175, 14

// names writes the names of a bar one below the other, as large as they go.
func (d *Drawer) names(names []string, middle float64) {
	y := middle - barNames/2*float64(len(names)-1)
	for _, name := range names {
		s := textSize{26 - 4*(len(names)-1), true}
		for s.px > namesLeast && d.letters.width(s, name) > namesWide {
			s.px--
		}
		d.text(s, 10, y, atStart, name)
		y += barNames
	}
}

func (d *Drawer) frame(lo, hi, y float64, wide int) {
	d.ink.level(lo, hi, y, wide, black)
	d.ink.level(lo, hi, y+barTall, wide, black)
	d.ink.upright(lo, y, y+barTall, wide, black)
	d.ink.upright(hi, y, y+barTall, wide, black)
}

// hatch fills a bar from one pixel to another with thin sloping lines. They lie alike on every bar, from the sheet's own edge on, and so pack small.
func (d *Drawer) hatch(lo, hi, y float64) {
	from, to := max(0, near(lo)), min(d.ink.w, near(hi))
	if from >= to {
		return
	}
	s := stretchOf(from, to)
	for i, word := range hatching() {
		s.over(d.ink.row(near(y)+i), word)
	}
}

// hatching is a word of each row of a hatched bar.
var hatching = sync.OnceValue(func() (rows [barTall]uint64) {
	c := &canvas{}
	c.reset(3*wordPixels, barTall)
	for x := 0.0; x < float64(c.w); x += 16 { // a word, or a whole part of one
		c.line(point{x, barTall}, point{x + 0.6*barTall, 0}, 1, black)
	}
	for y := range rows {
		rows[y] = c.row(y)[1] // the first lacks the lines from further left, the last is cut off
	}
	return rows
})

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
