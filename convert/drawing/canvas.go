package drawing

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// canvas is a sheet of ink: 0 is bare paper, 255 is black.
type canvas struct {
	w, h int
	ink  []uint8
	fill *vector.Rasterizer
	mask []uint8
}

type point struct{ x, y float64 }

// Greys.
const (
	black = 255
	dark  = 170
	mid   = 120
	light = 60
	paper = 0
)

func (c *canvas) reset(w, h int) {
	c.w, c.h = w, h
	if cap(c.ink) < w*h {
		c.ink = make([]uint8, w*h)
	}
	c.ink = c.ink[:w*h]
	clear(c.ink)
}

// rect covers a rectangle of whole pixels, whatever was there.
func (c *canvas) rect(x0, y0, x1, y1 int, ink uint8) {
	x0, x1 = max(0, min(x0, x1)), min(c.w, max(x0, x1))
	y0, y1 = max(0, min(y0, y1)), min(c.h, max(y0, y1))
	if x0 >= x1 {
		return
	}
	for y := y0; y < y1; y++ {
		row := c.ink[y*c.w+x0 : y*c.w+x1]
		for i := range row {
			row[i] = ink
		}
	}
}

func near(v float64) int { return int(math.Round(v)) }

// level and upright draw crisp lines along the pixels.
func (c *canvas) level(x0, x1, y float64, wide int, ink uint8) {
	top := near(y - float64(wide)/2)
	c.rect(near(min(x0, x1)), top, near(max(x0, x1)), top+wide, ink)
}

func (c *canvas) upright(x, y0, y1 float64, wide int, ink uint8) {
	left := near(x - float64(wide)/2)
	c.rect(left, near(min(y0, y1)), left+wide, near(max(y0, y1)), ink)
}

// line draws a line of any direction.
func (c *canvas) line(a, b point, wide int, ink uint8) {
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
func (c *canvas) dashes(a, b point, on, off float64, wide int, ink uint8) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	for at := 0.0; at < l; at += on + off {
		to := min(at+on, l)
		p := func(d float64) point { return point{a.x + (b.x-a.x)*d/l, a.y + (b.y-a.y)*d/l} }
		c.line(p(at), p(to), wide, ink)
	}
}

// outline draws the edges of a polygon.
func (c *canvas) outline(p []point, wide int, ink uint8) {
	for i := range p {
		c.line(p[i], p[(i+1)%len(p)], wide, ink)
	}
}

// strip is how many rows of a polygon are worked out together: a long sloped
// line fills next to nothing of the rectangle around it.
const strip = 32

// polygon covers the inside of a polygon, smooth at its edges.
func (c *canvas) polygon(p []point, ink uint8) {
	_, lo, _, hi := c.bounds(p, 0, float64(c.h))
	for y0 := lo; y0 < hi; y0 += strip {
		y1 := min(y0+strip, hi)
		if x0, _, x1, _ := c.bounds(p, float64(y0), float64(y1)); x0 < x1 {
			c.inside(p, image.Rect(x0, y0, x1, y1), ink)
		}
	}
}

// inside covers what lies of a polygon in a rectangle that holds all of it
// between two rows.
func (c *canvas) inside(p []point, r image.Rectangle, ink uint8) {
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
	c.stamp(m.Pix, m.Stride, r.Min.X, r.Min.Y, ink)
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

// stamp puts ink where a mask says, mixed with what is there.
func (c *canvas) stamp(mask []uint8, stride, x0, y0 int, ink uint8) {
	from, to := max(0, -x0), min(stride, c.w-x0)
	if from >= to {
		return
	}
	for y := max(0, -y0); y*stride < len(mask) && y0+y < c.h; y++ {
		row := c.ink[(y0+y)*c.w+x0+from : (y0+y)*c.w+x0+to]
		for x, a := range mask[y*stride+from : y*stride+to] {
			switch a {
			case 0:
			case 255:
				row[x] = ink
			default:
				row[x] = uint8((int(row[x])*(255-int(a)) + int(ink)*int(a)) / 255)
			}
		}
	}
}
