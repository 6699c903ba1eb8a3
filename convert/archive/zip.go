// Package archive writes the zip archives that workbooks are: equal parts give
// equal bytes, in whatever order they come.
package archive

import (
	"archive/zip"
	"bytes"
	"cmp"
	"hash/crc32"
	"io"
	"io/fs"
	"runtime"
	"slices"
	"strings"

	"github.com/klauspost/compress/flate"
)

// Zip is an archive being written. Its entries stand in the order of their
// names and bear no times. They are packed as they come, so that only packed
// bytes wait.
type Zip struct {
	out     io.Writer
	packed  spool
	entries []*entry
	sealed  string // name of the entry that gets the seal; blank: none
}

// New begins an archive.
func New(w io.Writer) *Zip { return &Zip{out: w} }

// packers keeps used compressors, one a core: each weighs more than a small
// workbook.
var packers = make(spares[*flate.Writer], runtime.GOMAXPROCS(0))

func newPacker() *flate.Writer {
	w, _ := flate.NewWriter(io.Discard, flate.BestSpeed) // the level is good
	return w
}

// Create begins an entry and ends the one before.
func (z *Zip) Create(name string) (io.Writer, error) {
	if err := z.end(); err != nil {
		return nil, err
	}
	if name == z.sealed && name != "" {
		return z.hold(name), nil
	}
	e := &entry{name: name, to: &z.packed, from: z.packed.size}
	if !strings.HasSuffix(name, ".png") { // a picture is packed already
		e.packer = packers.take(newPacker)
		e.packer.Reset(&z.packed)
	}
	z.entries = append(z.entries, e)
	return e, nil
}

// AddFS is no part of what a workbook needs.
func (z *Zip) AddFS(fs.FS) error { return fs.ErrInvalid }

// Close writes the archive.
func (z *Zip) Close() (err error) {
	defer func() { err = cmp.Or(err, z.packed.close()) }()
	if err := z.end(); err != nil {
		return err
	}
	if err := z.seal(); err != nil {
		return err
	}
	slices.SortStableFunc(z.entries, func(a, b *entry) int { return strings.Compare(a.name, b.name) })
	out := zip.NewWriter(z.out)
	for _, e := range z.entries {
		w, err := out.CreateRaw(e.header())
		if err != nil {
			return err
		}
		if err := z.packed.copyTo(w, e.from, e.length); err != nil {
			return err
		}
	}
	return out.Close()
}

// end ends the last entry.
func (z *Zip) end() error {
	if n := len(z.entries); n > 0 {
		return z.entries[n-1].end()
	}
	return nil
}

// entry is one part, packed to a stretch of a spool.
type entry struct {
	name         string
	to           *spool
	from, length int64
	ended        bool
	packer       *flate.Writer // nil: stored as it is, or at its end
	packed       bool
	size         uint64
	sum          uint32
	held         *bytes.Buffer // its text, while it waits for all others; nil: it does not
}

// Write packs more of the entry.
func (e *entry) Write(p []byte) (int, error) {
	e.size += uint64(len(p))
	e.sum = crc32.Update(e.sum, crc32.IEEETable, p)
	if e.packer == nil {
		return e.to.Write(p)
	}
	return e.packer.Write(p)
}

func (e *entry) end() error {
	if e.ended {
		return nil
	}
	e.ended = true
	var err error
	if e.packer != nil {
		err = e.packer.Close()
		packers.keep(e.packer)
		e.packer, e.packed = nil, true
	}
	e.length = e.to.size - e.from
	return err
}

func (e *entry) header() *zip.FileHeader {
	h := &zip.FileHeader{
		Name: e.name, CRC32: e.sum,
		UncompressedSize64: e.size, CompressedSize64: uint64(e.length),
	}
	if e.packed {
		h.Method = zip.Deflate
	}
	return h
}
