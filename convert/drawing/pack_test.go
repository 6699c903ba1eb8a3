package drawing

import (
	"bytes"
	"image/png"
	"math/rand/v2"
	"testing"
)

// ofShapes inks a canvas at random: nothing, rows repeated, runs and noise.
func ofShapes(w, h int, r *rand.Rand) *canvas {
	c := &canvas{}
	c.reset(w, h)
	for range r.IntN(12) {
		x, y := r.IntN(w), r.IntN(h)
		c.rect(x, y, x+1+r.IntN(w), y+1+r.IntN(1+h/3), uint8(r.IntN(256)))
	}
	for range r.IntN(1 + w*h/8) {
		c.ink[r.IntN(w*h)] = uint8(r.IntN(256))
	}
	return c
}

// TestPackedIsReadBack has the standard library read what is packed, with its
// checksums: the same pixels, in the nearest of sixteen greys.
func TestPackedIsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 11))
	var p packer
	for n := range 400 {
		c := ofShapes(1+r.IntN(1400), 1+r.IntN(60), r)
		if n%4 == 0 {
			c = ofShapes(1+r.IntN(9), 1+r.IntN(9), r)
		}
		data, err := p.pack(c)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("picture %d, %d x %d: %v", n, c.w, c.h, err)
		}
		if b := img.Bounds(); b.Dx() != c.w || b.Dy() != c.h {
			t.Fatalf("picture %d is %v, want %d x %d", n, b, c.w, c.h)
		}
		for i, ink := range c.ink {
			got, _, _, _ := img.At(i%c.w, i/c.w).RGBA()
			want := 255 - int(ink)
			if d := int(got>>8) - want; d < -8 || d > 8 {
				t.Fatalf("picture %d, %d x %d: pixel %d is %d, want about %d", n, c.w, c.h, i, got>>8, want)
			}
		}
	}
}
