package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	_ "image/png" // by which a picture's size is read back where it is placed

	"github.com/klauspost/compress/flate"
)

// packer turns ink into a PNG file, eight pixels a byte. Most of a row of a
// drawing is as the row above; told apart from it, as image/png does for no
// picture with a palette, nearly all bytes are zeros. The others cost the time.
type packer struct {
	apart []byte // of a row the filter's byte, and what differs from the row above
	out   bytes.Buffer
	zip   *flate.Writer
	sum   adler
}

// up is the filter that tells a row apart from the one above it (ISO/IEC
// 15948, 9.2); over the first row stands a blank one.
const up = 2

// pack writes the chunks of a PNG file (ISO/IEC 15948, clause 11): header,
// palette, pixels, end. A pixel is a bit, colour type 3; 0 is bare paper.
func (p *packer) pack(c *canvas) ([]byte, error) {
	head := binary.BigEndian.AppendUint32(nil, uint32(c.w))
	head = binary.BigEndian.AppendUint32(head, uint32(c.h))
	p.out.Reset()
	p.out.WriteString("\x89PNG\r\n\x1a\n")
	p.chunk("IHDR", append(head, 1, 3, 0, 0, 0))
	p.chunk("PLTE", []byte{255, 255, 255, 0, 0, 0})
	from := p.begin("IDAT")
	err := p.squeeze(c)
	p.end(from)
	p.chunk("IEND", nil)
	return bytes.Clone(p.out.Bytes()), err
}

func (p *packer) chunk(name string, data []byte) {
	from := p.begin(name)
	p.out.Write(data)
	p.end(from)
}

// begin and end write what stands about the data of a chunk: how long they are,
// its name; a checksum of name and data.
func (p *packer) begin(name string) (from int) {
	p.out.WriteString("long" + name)
	return p.out.Len()
}

func (p *packer) end(from int) {
	const long, name = 4, 4
	all := p.out.Bytes()
	binary.BigEndian.PutUint32(all[from-name-long:], uint32(len(all)-from))
	p.out.Write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(all[from-name:])))
}

// squeeze writes the rows as a zlib stream (RFC 1950): two bytes that say so,
// the packed bytes, their checksum.
func (p *packer) squeeze(c *canvas) (err error) {
	if p.zip == nil {
		if p.zip, err = flate.NewWriter(&p.out, flate.BestSpeed); err != nil {
			return err
		}
	}
	p.zip.Reset(&p.out)
	p.out.Write([]byte{0x78, 0x01})
	if err := p.rows(c); err != nil {
		return err
	}
	err = p.zip.Close()
	p.out.Write(binary.BigEndian.AppendUint32(nil, p.sum.value()))
	return err
}

// rows packs what tells each row apart from the one above.
func (p *packer) rows(c *canvas) error {
	size := (c.w + 7) / 8
	p.apart = append(p.apart[:0], make([]byte, 1+8*c.each)...)
	p.apart[0] = up
	p.sum = adler{a: 1}
	above, tail := make([]uint64, c.each), stretchOf(0, c.w).tail
	for y := range c.h {
		row := c.row(y)
		p.change(row, above, tail)
		p.sum.zeros(size - 8*c.each) // less than none: those that are not packed
		p.sum.fold()
		if _, err := p.zip.Write(p.apart[:1+size]); err != nil {
			return err
		}
		clear(p.apart[1:])
		above = row
	}
	return nil
}

// change tells a row apart from the one above, a word at a time: in most places
// the ink is the same. Of the last word only the tail counts.
func (p *packer) change(row, above []uint64, tail uint64) {
	p.sum.byte(up)
	summed := 0 // words
	above = above[:len(row)]
	for k, word := range row {
		if word == above[k] {
			continue
		}
		d := less(word, above[k])
		if k == len(row)-1 {
			d &= tail
		}
		binary.BigEndian.PutUint64(p.apart[1+8*k:], d)
		p.sum.zeros(8 * (k - summed))
		p.sum.word(d)
		summed = k + 1
	}
	p.sum.zeros(8 * (len(row) - summed))
}

// less subtracts the bytes of two words, each from its own.
func less(a, b uint64) uint64 {
	const high = 0x8080_8080_8080_8080
	return (a | high - b&^high) ^ (a^^b)&high
}
