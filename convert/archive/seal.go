package archive

import (
	"archive/zip"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
)

// Unsealed stands in the entry that seals an archive for the seal of all others,
// which is known last and is as long.
const Unsealed = "unsealed-unsealed-unsealed-unsealed-unsealed-unsealed-unsealed-0"

// Seal makes an entry, which is to hold [Unsealed], hold in its place a sum of all
// other entries. Whoever finds it right knows that no program has written the
// archive since.
func (z *Zip) Seal(name string) { z.sealed = name }

// seal packs the entry that was held back.
func (z *Zip) seal() error {
	i := slices.IndexFunc(z.entries, func(e *entry) bool { return e.held != nil })
	if i < 0 {
		return nil
	}
	e := z.entries[i]
	var others []part
	for _, o := range z.entries {
		if o != e {
			others = append(others, part{o.name, o.size, o.sum})
		}
	}
	text := bytes.Replace(e.held.Bytes(), []byte(Unsealed), []byte(sumOf(others)), 1)
	z.entries = slices.Delete(z.entries, i, i+1)
	z.sealed = ""
	w, err := z.Create(e.name)
	if err != nil {
		return err
	}
	if _, err := w.Write(text); err != nil {
		return err
	}
	return z.end()
}

// part is what a seal knows of an entry.
type part struct {
	name string
	size uint64
	sum  uint32
}

func sumOf(parts []part) string {
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(a.name, b.name) })
	sum := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(sum, "%q %d %08x\n", p.name, p.size, p.sum) // never fails, as package hash says
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// SealOf returns the seal that an archive would have in that entry, by what its list
// of entries says. That they are what it says is not looked at.
func SealOf(file string, name string) (string, error) {
	z, err := zip.OpenReader(file)
	if err != nil {
		return "", err
	}
	defer z.Close()
	var others []part
	for _, f := range z.File {
		if f.Name != name {
			others = append(others, part{f.Name, f.UncompressedSize64, f.CRC32})
		}
	}
	return sumOf(others), nil
}

// hold begins an entry that waits for all others.
func (z *Zip) hold(name string) io.Writer {
	e := &entry{name: name, held: &bytes.Buffer{}, ended: true}
	z.entries = append(z.entries, e)
	return e.held
}
