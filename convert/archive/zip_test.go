package archive

import (
	"archive/zip"
	"bytes"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
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

// A seal is right as long as no other entry changes, is added or goes, whatever
// becomes of the one that holds it, and stands in an archive whose bytes do not
// depend on the order in which entries come.
func TestSeal(t *testing.T) {
	const holder = "b.xml"
	write := func(sealed bool, entries ...[2]string) []byte {
		t.Helper()
		var out bytes.Buffer
		z := New(&out)
		if sealed {
			z.Seal(holder)
		}
		for _, e := range entries {
			w, err := z.Create(e[0])
			if err == nil {
				_, err = io.WriteString(w, e[1])
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	file := filepath.Join(t.TempDir(), "x.zip")
	sealOf := func(data []byte) string {
		t.Helper()
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		seal, err := SealOf(file, holder)
		if err != nil {
			t.Fatal(err)
		}
		return seal
	}
	a, b, c := [2]string{"a.xml", "one"}, [2]string{holder, "<" + Unsealed + ">"}, [2]string{"c.png", "two"}
	data := write(true, c, b, a)
	if !bytes.Equal(data, write(true, a, b, c)) {
		t.Error("the bytes depend on the order")
	}
	seal := sealOf(data)
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	f, err := z.Open(holder)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := io.ReadAll(f); err != nil || string(got) != "<"+seal+">" || len(seal) != len(Unsealed) {
		t.Errorf("the entry holds %q, %v; the seal is %s", got, err, seal)
	}
	if sealOf(write(false, a, [2]string{holder, "other"}, c)) != seal {
		t.Error("the entry that holds the seal counts")
	}
	for name, other := range map[string][][2]string{
		"changed": {a, b, {"c.png", "tow"}}, "longer": {a, b, {"c.png", "two "}}, "renamed": {a, b, {"d.png", "two"}}, "added": {a, b, c, {"d", ""}}, "gone": {a, b},
	} {
		if sealOf(write(false, other...)) == seal {
			t.Errorf("%s: the seal is right all the same", name)
		}
	}
}
