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

// TestLengthsAndDistances holds the symbols to the tables of RFC 1951, 3.2.5.
func TestLengthsAndDistances(t *testing.T) {
	for _, tt := range []struct {
		name   string
		of     func(int) (int, code)
		n      int
		symbol int
		extra  code
	}{
		{"length", lengthSymbol, 3, 257, code{}},
		{"length", lengthSymbol, 10, 264, code{}},
		{"length", lengthSymbol, 11, 265, code{0, 1}},
		{"length", lengthSymbol, 12, 265, code{1, 1}},
		{"length", lengthSymbol, 34, 272, code{3, 2}},
		{"length", lengthSymbol, 35, 273, code{0, 3}},
		{"length", lengthSymbol, 131, 281, code{0, 5}},
		{"length", lengthSymbol, 257, 284, code{30, 5}},
		{"length", lengthSymbol, 258, 285, code{}},
		{"distance", distanceSymbol, 1, 0, code{}},
		{"distance", distanceSymbol, 4, 3, code{}},
		{"distance", distanceSymbol, 5, 4, code{0, 1}},
		{"distance", distanceSymbol, 8, 5, code{1, 1}},
		{"distance", distanceSymbol, 1201, 20, code{176, 9}},
		{"distance", distanceSymbol, 24577, 29, code{0, 13}},
		{"distance", distanceSymbol, 32768, 29, code{8191, 13}},
	} {
		symbol, extra := tt.of(tt.n)
		if symbol != tt.symbol || extra != tt.extra {
			t.Errorf("%s %d is %d %v, want %d %v", tt.name, tt.n, symbol, extra, tt.symbol, tt.extra)
		}
	}
}

// TestCodesNoLongerThanAllowed has counts that double: codes of that many bits
// would be longer than deflate allows. A code that is complete and has no
// other as its beginning fills the binary fractions exactly (Kraft, 1949).
func TestCodesNoLongerThanAllowed(t *testing.T) {
	for n := 2; n < 50; n++ {
		many, lengths := make([]int, n), make([]uint8, n)
		for i := range many {
			many[i] = 1 << i
		}
		prefixLengths(many, lengths)
		sum := 0
		for _, l := range lengths {
			if l == 0 || l > codeMost {
				t.Fatalf("%d symbols: a code of %d bits", n, l)
			}
			sum += 1 << (codeMost - l)
		}
		if sum != 1<<codeMost {
			t.Errorf("%d symbols: the codes fill %d of %d", n, sum, 1<<codeMost)
		}
	}
}
