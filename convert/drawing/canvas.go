package drawing

import (
	"image"
	"image/draw"
	"math"
	"slices"

	"golang.org/x/image/vector"
)

// canvas is a sheet of ink in a few shades, packed as the picture will be: a
// row is words of pixels, the leftmost in the highest bits. What lies in a row's
// last word beyond the sheet is never read.
type canvas struct {
	w, h int
	each int // words a row
	ink  []uint64
	fill *vector.Rasterizer
	mask []uint8
}

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
		first: x0 / wordPixels, head: ^uint64(0) >> (shadeBits * (x0 % wordPixels)),
		last: (x1 - 1) / wordPixels, tail: ^uint64(0) << shift((x1-1)%wordPixels),
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

// under puts a word of pixels on the stretch where a row is bare.
func (s stretch) under(row []uint64, word uint64) {
	for k := s.first; k <= s.last; k++ {
		on := ^covered(row[k])
		if k == s.first {
			on &= s.head
		}
		if k == s.last {
			on &= s.tail
		}
		row[k] |= word & on
	}
}

// rect covers a rectangle of whole pixels, whatever was there.
func (c *canvas) rect(x0, y0, x1, y1 int, ink shade) {
	x0, x1 = max(0, min(x0, x1)), min(c.w, max(x0, x1))
	if x0 >= x1 {
		return
	}
	s, word := stretchOf(x0, x1), wordOf(ink)
	for y := max(0, y0); y < min(c.h, y1); y++ {
		s.fill(c.row(y), word)
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

// strip is how many rows of a polygon are worked out together: a long sloped
// line fills next to nothing of the rectangle around it.
const strip = 32

// polygon covers the inside of a polygon, smooth at its edges.
func (c *canvas) polygon(p []point, ink shade) {
	_, lo, _, hi := c.bounds(p, 0, float64(c.h))
	for y0 := lo; y0 < hi; y0 += strip {
		y1 := min(y0+strip, hi)
		if x0, _, x1, _ := c.bounds(p, float64(y0), float64(y1)); x0 < x1 {
			c.inside(p, image.Rect(x0, y0, x1, y1), ink)
		}
	}
}

// wipe bares the paper inside a polygon, to the nearest pixel: an outline will
// cover its edges.
func (c *canvas) wipe(p []point) {
	_, lo, _, hi := c.bounds(p, 0, float64(c.h))
	var xs []float64
	for y := lo; y < min(hi, c.h); y++ {
		xs = crossings(xs[:0], p, float64(y)+0.5)
		for i := 0; i+1 < len(xs); i += 2 {
			c.rect(near(xs[i]), y, near(xs[i+1]), y+1, paper)
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

// inside covers what lies of a polygon in a rectangle that holds all of it
// between two rows.
func (c *canvas) inside(p []point, r image.Rectangle, ink shade) {
	r.Min.X -= r.Min.X % wordPixels
	m := c.rasterize(p, r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := c.row(y)[r.Min.X/wordPixels:]
		for k := 0; k*wordPixels < m.Stride; k++ {
			cover(&row[k], m.Pix[k*wordPixels:min((k+1)*wordPixels, m.Stride)], ink)
		}
		m.Pix = m.Pix[m.Stride:]
	}
}

// rasterize works out how far a polygon covers each pixel of a rectangle.
func (c *canvas) rasterize(p []point, r image.Rectangle) *image.Alpha {
	if c.fill == nil {
		c.fill = &vector.Rasterizer{}
	}
	c.fill.Reset(r.Dx(), r.Dy())
	c.fill.DrawOp = draw.Src
	for i, v := range p {
		x, y := float32(v.x-float64(r.Min.X)), float32(v.y-float64(r.Min.Y))
		if i == 0 {
			c.fill.MoveTo(x, y)
			continue
		}
		c.fill.LineTo(x, y)
	}
	c.fill.ClosePath()
	if n := r.Dx() * r.Dy(); cap(c.mask) < n {
		c.mask = make([]uint8, n)
	}
	m := &image.Alpha{Pix: c.mask[:r.Dx()*r.Dy()], Stride: r.Dx(), Rect: image.Rect(0, 0, r.Dx(), r.Dy())}
	c.fill.Draw(m, m.Rect, image.Opaque, image.Point{})
	return m
}

// bounds returns the pixels that a polygon's edges touch between two heights,
// within the canvas; x0 is x1 where there are none.
func (c *canvas) bounds(p []point, above, below float64) (x0, y0, x1, y1 int) {
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if max(a.y, b.y) < above || min(a.y, b.y) > below {
			continue
		}
		for _, v := range [2]point{a, b} {
			if v.y < above || v.y > below {
				y := max(above, min(below, v.y))
				v = point{a.x + (b.x-a.x)*(y-a.y)/(b.y-a.y), y}
			}
			lo = point{min(lo.x, v.x), min(lo.y, v.y)}
			hi = point{max(hi.x, v.x), max(hi.y, v.y)}
		}
	}
	if lo.x > hi.x {
		return 0, 0, 0, 0
	}
	return max(0, int(math.Floor(lo.x))), max(0, int(math.Floor(lo.y))),
		min(c.w, int(math.Ceil(hi.x))+1), min(c.h, int(math.Ceil(hi.y))+1)
}
