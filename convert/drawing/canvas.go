package drawing

import (
	"math"
	"slices"
)

// canvas is a sheet of black ink, packed as the picture will be: a row is words
// of a bit a pixel, the leftmost the highest. A line drawing on a site printer
// has no use for greys, and with them took twice the time and a half more space.
// What lies in a row's last word beyond the sheet is never read.
type canvas struct {
	w, h int
	each int // words a row
	ink  []uint64
}

// shade is a word of pixels, all bare or all inked.
type shade uint64

const (
	paper shade = 0
	black shade = math.MaxUint64
)

const wordPixels = 64

type point struct{ x, y float64 }

func (c *canvas) reset(w, h int) {
	c.w, c.h, c.each = w, h, (w+wordPixels-1)/wordPixels
	n := c.each * h
	if cap(c.ink) < n {
		c.ink = make([]uint64, n)
		return
	}
	c.ink = c.ink[:n]
	clear(c.ink)
}

func (c *canvas) row(y int) []uint64 { return c.ink[y*c.each : (y+1)*c.each] }

// stretch is the part of a row from one pixel to another: its words, and which
// bits of the first and the last are meant.
type stretch struct {
	first, last int
	head, tail  uint64
}

func stretchOf(x0, x1 int) stretch {
	s := stretch{
		first: x0 / wordPixels, head: ^uint64(0) >> (x0 % wordPixels),
		last: (x1 - 1) / wordPixels, tail: ^uint64(0) << (wordPixels - 1 - (x1-1)%wordPixels),
	}
	if s.first == s.last {
		s.head &= s.tail
	}
	return s
}

// fill covers the stretch of a row with one shade, given as a word of it.
func (s stretch) fill(row []uint64, word uint64) {
	row[s.first] = row[s.first]&^s.head | word&s.head
	if s.first == s.last {
		return
	}
	for k := s.first + 1; k < s.last; k++ {
		row[k] = word
	}
	row[s.last] = row[s.last]&^s.tail | word&s.tail
}

// over adds a word of pixels to what is on the stretch.
func (s stretch) over(row []uint64, word uint64) {
	for k := s.first; k <= s.last; k++ {
		on := word
		if k == s.first {
			on &= s.head
		}
		if k == s.last {
			on &= s.tail
		}
		row[k] |= on
	}
}

// rect covers a rectangle of whole pixels, whatever was there.
func (c *canvas) rect(x0, y0, x1, y1 int, ink shade) {
	x0, x1 = max(0, min(x0, x1)), min(c.w, max(x0, x1))
	if x0 >= x1 {
		return
	}
	s := stretchOf(x0, x1)
	for y := max(0, y0); y < min(c.h, y1); y++ {
		s.fill(c.row(y), uint64(ink))
	}
}

func near(v float64) int { return int(math.Round(v)) }

// level and upright draw crisp lines along the pixels.
func (c *canvas) level(x0, x1, y float64, wide int, ink shade) {
	top := near(y - float64(wide)/2)
	c.rect(near(min(x0, x1)), top, near(max(x0, x1)), top+wide, ink)
}

func (c *canvas) upright(x, y0, y1 float64, wide int, ink shade) {
	left := near(x - float64(wide)/2)
	c.rect(left, near(min(y0, y1)), left+wide, near(max(y0, y1)), ink)
}

// line draws a line of any direction.
func (c *canvas) line(a, b point, wide int, ink shade) {
	switch {
	case math.Abs(a.y-b.y) < 0.01:
		grow := float64(wide) / 2
		c.level(min(a.x, b.x)-grow, max(a.x, b.x)+grow, a.y, wide, ink)
	case math.Abs(a.x-b.x) < 0.01:
		grow := float64(wide) / 2
		c.upright(a.x, min(a.y, b.y)-grow, max(a.y, b.y)+grow, wide, ink)
	default:
		l := math.Hypot(b.x-a.x, b.y-a.y)
		dx, dy := -(b.y-a.y)/l*float64(wide)/2, (b.x-a.x)/l*float64(wide)/2
		c.polygon([]point{{a.x + dx, a.y + dy}, {b.x + dx, b.y + dy}, {b.x - dx, b.y - dy}, {a.x - dx, a.y - dy}}, ink)
	}
}

// dashes draws a line in dashes of on pixels with gaps of off.
func (c *canvas) dashes(a, b point, on, off float64, wide int, ink shade) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	for at := 0.0; at < l; at += on + off {
		to := min(at+on, l)
		p := func(d float64) point { return point{a.x + (b.x-a.x)*d/l, a.y + (b.y-a.y)*d/l} }
		c.line(p(at), p(to), wide, ink)
	}
}

// outline draws the edges of a polygon.
func (c *canvas) outline(p []point, wide int, ink shade) {
	for i := range p {
		c.line(p[i], p[(i+1)%len(p)], wide, ink)
	}
}

// polygon covers the pixels whose centres lie inside a polygon. A line has some
// in every row or column it crosses, as it is a pixel wide or more.
func (c *canvas) polygon(p []point, ink shade) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range p {
		lo, hi = min(lo, v.y), max(hi, v.y)
	}
	var xs []float64
	for y := max(0, near(lo)); y < min(c.h, near(hi)); y++ {
		xs = crossings(xs[:0], p, float64(y)+0.5)
		for i := 0; i+1 < len(xs); i += 2 {
			c.rect(near(xs[i]), y, near(xs[i+1]), y+1, ink)
		}
	}
}

// crossings appends where a polygon's edges cross a height, from the left.
func crossings(xs []float64, p []point, y float64) []float64 {
	for i, a := range p {
		if b := p[(i+1)%len(p)]; (a.y <= y) != (b.y <= y) {
			xs = append(xs, a.x+(b.x-a.x)*(y-a.y)/(b.y-a.y))
		}
	}
	slices.Sort(xs)
	return xs
}

// mask is a small picture, packed as a canvas is.
type mask struct {
	each  int // words a row
	words []uint64
}

// covered is how far a pixel of a letter must be covered to be black, of 255:
// less than half, so that a thin stroke that lies between pixels is no thinner
// than one that lies on them.
const covered = 104

// maskOf packs coverage whose rows are so many pixels wide.
func maskOf(coverage []uint8, w int) mask {
	m := mask{each: (w + wordPixels - 1) / wordPixels}
	for ; len(coverage) > 0; coverage = coverage[w:] {
		row := make([]uint64, m.each)
		for x, a := range coverage[:w] {
			if a >= covered {
				row[x/wordPixels] |= 1 << (wordPixels - 1 - x%wordPixels)
			}
		}
		m.words = append(m.words, row...)
	}
	return m
}

// stamp puts black where a mask has it, its left top corner at x, y.
func (c *canvas) stamp(m mask, x, y int) {
	pixel := x & (wordPixels - 1)
	at := (x - pixel) / wordPixels
	for words := m.words; len(words) > 0; words = words[m.each:] {
		if y >= 0 && y < c.h {
			stampRow(c.row(y), words[:m.each], at, pixel)
		}
		y++
	}
}

// stampRow puts a row of a mask on a row of the canvas, from a word on, so many
// pixels further right.
func stampRow(row, words []uint64, at, pixel int) {
	over := uint64(0) // what goes into the next word
	for _, w := range words {
		if at >= 0 && at < len(row) {
			row[at] |= over | w>>pixel
		}
		over = w << (wordPixels - pixel)
		at++
	}
	if at >= 0 && at < len(row) {
		row[at] |= over
	}
}
