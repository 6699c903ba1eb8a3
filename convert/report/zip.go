package report

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"hash/crc32"
	"io"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"github.com/xuri/excelize/v2"
)

// sortedZip writes a zip archive whose entries stand in the order of their
// names, whatever order they came in, with no times: equal workbooks are equal
// bytes. Entries are packed as they come, so that only packed bytes wait.
type sortedZip struct {
	out     io.Writer
	entries []*zipEntry
}

// packers keeps used compressors: one weighs more than a small workbook.
var packers = sync.Pool{New: func() any {
	w, _ := flate.NewWriter(io.Discard, flate.BestSpeed)
	return w
}}

func newSortedZip(w io.Writer) excelize.ZipWriter { return &sortedZip{out: w} }

// Create begins an entry and ends the one before.
func (z *sortedZip) Create(name string) (io.Writer, error) {
	z.end()
	e := &zipEntry{name: name}
	if !strings.HasSuffix(name, ".png") { // a picture is packed already
		e.packer = packers.Get().(*flate.Writer)
		e.packer.Reset(&e.data)
	}
	z.entries = append(z.entries, e)
	return e, nil
}

// AddFS is no part of what the workbook needs.
func (z *sortedZip) AddFS(fs.FS) error { return fs.ErrInvalid }

// Close writes the archive.
func (z *sortedZip) Close() error {
	z.end()
	slices.SortStableFunc(z.entries, func(a, b *zipEntry) int { return strings.Compare(a.name, b.name) })
	out := zip.NewWriter(z.out)
	for _, e := range z.entries {
		w, err := out.CreateRaw(e.header())
		if err != nil {
			return err
		}
		if _, err := w.Write(e.data.Bytes()); err != nil {
			return err
		}
	}
	return out.Close()
}

func (z *sortedZip) end() {
	if n := len(z.entries); n > 0 {
		z.entries[n-1].end()
	}
}

// zipEntry is one part of the workbook, packed.
type zipEntry struct {
	name   string
	data   bytes.Buffer
	packer *flate.Writer // nil: stored as it is, or at its end
	packed bool
	size   uint64
	sum    uint32
}

// Write packs more of the entry.
func (e *zipEntry) Write(p []byte) (int, error) {
	e.size += uint64(len(p))
	e.sum = crc32.Update(e.sum, crc32.IEEETable, p)
	if e.packer == nil {
		return e.data.Write(p)
	}
	return e.packer.Write(p)
}

func (e *zipEntry) end() {
	if e.packer == nil {
		return
	}
	_ = e.packer.Close() // writes to memory only
	packers.Put(e.packer)
	e.packer, e.packed = nil, true
}

func (e *zipEntry) header() *zip.FileHeader {
	h := &zip.FileHeader{
		Name: e.name, CRC32: e.sum,
		UncompressedSize64: e.size, CompressedSize64: uint64(e.data.Len()),
	}
	if e.packed {
		h.Method = zip.Deflate
	}
	return h
}
