package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/adler32"
	"image/color"
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
		c.rect(x, y, x+1+r.IntN(w), y+1+r.IntN(1+h/3), [2]shade{paper, black}[r.IntN(2)])
	}
	for range r.IntN(1 + w*h/8) {
		x, y := r.IntN(w), r.IntN(h)
		c.rect(x, y, x+1, y+1, [2]shade{paper, black}[r.IntN(2)])
	}
	return c
}

func (c *canvas) black(x, y int) bool {
	return c.row(y)[x/wordPixels]<<(x%wordPixels)>>(wordPixels-1) == 1
}

// TestPackedIsReadBack has the standard library read what is packed, with its
// checksums: every pixel is as on the canvas.
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
		for i := range c.w * c.h {
			want := color.RGBA{255, 255, 255, 255}
			if c.black(i%c.w, i/c.w) {
				want = color.RGBA{A: 255}
			}
			if got := img.At(i%c.w, i/c.w); got != want {
				t.Fatalf("picture %d, %d x %d: pixel %d, %d is %v, want %v", n, c.w, c.h, i%c.w, i/c.w, got, want)
			}
		}
	}
}

// TestChecksum compares the sum of words and runs of zeros with the standard
// library's sum of the same bytes.
func TestChecksum(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 4))
	for range 200 {
		var data []byte
		s := adler{a: 1}
		for range 1 + r.IntN(400) {
			v, n := r.Uint64()|uint64(r.Int64()), r.IntN(700)
			data = append(binary.BigEndian.AppendUint64(data, v), make([]byte, n)...)
			s.word(v)
			s.zeros(n)
			data = append(data, byte(n))
			s.byte(byte(n))
		}
		if got, want := s.value(), adler32.Checksum(data); got != want {
			t.Fatalf("got %08x of %d bytes, want %08x", got, len(data), want)
		}
	}
}
