package drawing

import (
	"bytes"
	"compress/zlib"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
)

// some makes data of one kind: zeros with a little among them, noise, words
// that come again near and far, and counts that make the longest codes.
func some(kind, n int, r *rand.Rand) []byte {
	out := make([]byte, n)
	switch kind {
	case 0:
		for range r.IntN(1 + n/20) {
			out[r.IntN(n)] = byte(r.IntN(4))
		}
	case 1:
		for i := range out {
			out[i] = byte(r.IntN(256))
		}
	case 2:
		for i := range out {
			out[i] = byte(1 + r.IntN(3))
		}
		for range n / 100 {
			from, to, l := r.IntN(n), r.IntN(n), r.IntN(600)
			copy(out[to:min(n, to+l)], slices.Clone(out[from:min(n, from+l)]))
		}
	case 3: // Fibonacci's numbers are the counts of the deepest tree there is
		a, b, v := 1, 1, byte(1)
		for at := 0; at < n; v++ {
			for range min(a, n-at) {
				out[at] = v
				at++
			}
			a, b = b, a+b
		}
		r.Shuffle(n, func(i, j int) { out[i], out[j] = out[j], out[i] })
	}
	return out
}

// TestSqueezedIsReadBack has the standard library read what is squeezed, and
// its checksum.
func TestSqueezedIsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 51))
	var s squeezer
	for n := range 400 {
		size := r.IntN(40)
		if n%3 > 0 {
			size = 1 + r.IntN(200_000)
		}
		data := some(n%4, max(size, 1), r)[:size]
		in, err := zlib.NewReader(bytes.NewReader(s.squeeze(data)))
		if err != nil {
			t.Fatalf("%d, %d bytes: %v", n, size, err)
		}
		got, err := io.ReadAll(in)
		if err != nil || !bytes.Equal(got, data) {
			t.Fatalf("%d, %d bytes: %d read back, %v", n, size, len(got), err)
		}
	}
}

// TestRunsOfZeros reads back runs of every length about what one token holds.
func TestRunsOfZeros(t *testing.T) {
	var s squeezer
	for n := range 800 {
		data := append(append([]byte{7}, make([]byte, n)...), 9)
		in, err := zlib.NewReader(bytes.NewReader(s.squeeze(data)))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := io.ReadAll(in); err != nil || !bytes.Equal(got, data) {
			t.Fatalf("%d zeros: %d bytes read back, %v", n, len(got), err)
		}
	}
}

// TestDrawingIsSmall holds the size of a drawing to that which the standard
// library packs the same rows to at its fastest.
func TestDrawingIsSmall(t *testing.T) {
	d := New()
	pic, err := d.Elevation(large(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z, _ := zlib.NewWriterLevel(&out, zlib.BestSpeed)
	if _, err := z.Write(d.packer.apart); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if most := out.Len() * 21 / 20; len(pic.PNG) > most {
		t.Errorf("%d bytes, want at most %d", len(pic.PNG), most)
	}
}
