package drawing

import (
	"image"
	"image/draw"
	"math/rand/v2"
	"testing"

	"golang.org/x/image/vector"
)

// TestStamp compares a stamped mask, wherever it lies and even where the sheet
// cuts it off, with one put down pixel by pixel.
func TestStamp(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	for n := range 500 {
		c := ofShapes(1+r.IntN(150), 1+r.IntN(20), r)
		want := make([]bool, c.w*c.h)
		for i := range want {
			want[i] = c.black(i%c.w, i/c.w)
		}
		w, h := 1+r.IntN(140), 1+r.IntN(20)
		coverage := make([]uint8, w*h)
		for i := range coverage {
			coverage[i] = uint8(r.IntN(256))
		}
		x0, y0 := r.IntN(c.w+w)-w, r.IntN(c.h+h)-h
		for i, a := range coverage {
			if x, y := x0+i%w, y0+i/w; x >= 0 && y >= 0 && x < c.w && y < c.h && a >= covered {
				want[y*c.w+x] = true
			}
		}
		c.stamp(maskOf(coverage, w), x0, y0)
		for i := range want {
			if got := c.black(i%c.w, i/c.w); got != want[i] {
				t.Fatalf("%d: %d x %d at %d, %d: pixel %d, %d is black: %v, want %v", n, w, h, x0, y0, i%c.w, i/c.w, got, want[i])
			}
		}
	}
}

// TestThinLines: a thin line of any slope has ink in every row it crosses
// where it is steep, and in every column where it is not.
func TestThinLines(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 6))
	const size = 200
	for range 400 {
		c := &canvas{}
		c.reset(size, size)
		a, b := point{r.Float64() * size, 2}, point{r.Float64() * size, size - 2}
		flat := r.IntN(2) == 0
		if flat {
			a, b = point{a.y, a.x}, point{b.y, b.x}
		}
		c.line(a, b, 1, black)
		for i := 4; i < size-4; i++ {
			found := false
			for k := range size {
				x, y := k, i
				if flat {
					x, y = i, k
				}
				found = found || c.black(x, y)
			}
			if !found {
				t.Fatalf("from %v to %v: broken at %d", a, b, i)
			}
		}
	}
}

// TestHatch: hatching lies within its ends, leaves what is drawn, and has ink in every row of a bar that is as wide as its lines are apart.
func TestHatch(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		d := New()
		d.ink = ofShapes(100+r.IntN(100), barTall, r)
		before := append([]uint64(nil), d.ink.ink...)
		lo := r.IntN(d.ink.w - 16)
		hi := lo + 16 + r.IntN(d.ink.w-16-lo+1)
		d.hatch(float64(lo), float64(hi), 0)
		was := &canvas{w: d.ink.w, h: d.ink.h, each: d.ink.each, ink: before}
		for y := range barTall {
			hatched := 0
			for x := range d.ink.w {
				old, got := was.black(x, y), d.ink.black(x, y)
				if old == got {
					continue
				}
				hatched++
				if old || x < lo || x >= hi {
					t.Fatalf("hatched from %d to %d: pixel %d, %d changed to black: %v", lo, hi, x, y, got)
				}
			}
			if bare := was.bare(lo, hi, y); bare && hatched == 0 {
				t.Fatalf("hatched from %d to %d: nothing in row %d", lo, hi, y)
			}
		}
	}
}

// bare reports whether nothing stands in part of a row.
func (c *canvas) bare(x0, x1, y int) bool {
	for x := x0; x < x1; x++ {
		if c.black(x, y) {
			return false
		}
	}
	return true
}

// TestPolygon compares an outline filled and one wiped with how far the
// library's rasterizer says each pixel is covered, on raked boards: what is
// covered whole is black, or bare, and what is not at all is left alone.
func TestPolygon(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	const w, h = 80, 36 // the board may reach beyond
	for n := range 400 {
		x0, x1, y0, y1 := 20*r.Float64(), 60+30*r.Float64(), 10*r.Float64(), 30+9*r.Float64()
		board := []point{{x0, y1}, {x1, y1}, {x1 - 40*r.Float64(), y0}, {x0 + 15*r.Float64(), y0}}
		var fill vector.Rasterizer
		fill.Reset(w, h)
		fill.DrawOp = draw.Src
		fill.MoveTo(float32(board[0].x), float32(board[0].y))
		for _, p := range board[1:] {
			fill.LineTo(float32(p.x), float32(p.y))
		}
		fill.ClosePath()
		want := image.NewAlpha(image.Rect(0, 0, w, h))
		fill.Draw(want, want.Rect, image.Opaque, image.Point{})

		c := &canvas{}
		c.reset(w, h)
		fills := n%2 == 0
		if fills {
			c.polygon(board, black)
		} else {
			c.rect(0, 0, w, h, black)
			c.polygon(board, paper)
		}
		for i, coverage := range want.Pix {
			x, y := i%w, i/w
			if got := c.black(x, y) == fills; coverage == 255 && !got || coverage == 0 && got {
				t.Fatalf("%v, filled: %v: pixel %d, %d, covered %d of 255, was reached: %v", board, fills, x, y, coverage, got)
			}
		}
	}
}
