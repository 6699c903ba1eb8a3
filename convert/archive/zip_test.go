package archive

import (
	"archive/zip"
	"bytes"
	"io"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// TestZip reads back with archive/zip what was packed in no order, held
// in memory or not, and looks whether a temporary file is left.
func TestZip(t *testing.T) {
	for _, tt := range []struct {
		name string
		size int
	}{{"few bytes", 1000}, {"several chunks", 100_000}, {"more than a spool holds", spoolMost}} {
		t.Run(tt.name, func(t *testing.T) {
			temp := t.TempDir()
			for _, name := range []string{"TMPDIR", "TMP", "TEMP"} {
				t.Setenv(name, temp)
			}
			r := rand.New(rand.NewPCG(1, 2))
			want := map[string][]byte{}
			var out bytes.Buffer
			z := New(&out)
			for _, name := range []string{"c.xml", "a.png", "b.xml"} {
				data := make([]byte, tt.size)
				for i := range data {
					data[i] = byte(r.Uint32())
				}
				want[name] = data
				w, err := z.Create(name)
				if err != nil {
					t.Fatal(err)
				}
				for part := range slices.Chunk(data, 999) {
					if _, err := w.Write(part); err != nil {
						t.Fatal(err)
					}
				}
			}
			if err := z.Close(); err != nil {
				t.Fatal(err)
			}
			back, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
			if err != nil {
				t.Fatal(err)
			}
			if len(back.File) != len(want) || !slices.IsSortedFunc(back.File, func(a, b *zip.File) int { return bytes.Compare([]byte(a.Name), []byte(b.Name)) }) {
				t.Errorf("entries: got %d, sorted by name or not; want %d, sorted", len(back.File), len(want))
			}
			for _, f := range back.File {
				r, err := f.Open()
				if err != nil {
					t.Fatal(err)
				}
				got, err := io.ReadAll(r) // checks the sum
				if err != nil || !bytes.Equal(got, want[f.Name]) {
					t.Errorf("%s: got %d bytes and error %v, want the %d written", f.Name, len(got), err, len(want[f.Name]))
				}
			}
			if left, _ := os.ReadDir(temp); len(left) > 0 {
				t.Errorf("left in the temporary folder: %v", left)
			}
		})
	}
}
