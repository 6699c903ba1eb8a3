package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	_ "image/png" // by which a picture's size is read back where it is placed

	"github.com/klauspost/compress/flate"
)

// packer turns ink into a PNG file: of few greys, four pixels a byte, or of black
// alone, eight a byte. Most of a row of a drawing is as the row above; told apart
// from it, as image/png does for no picture with a palette, nearly all bytes are
// zeros. The others cost the time, and black alone has half as many.
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
// palette, pixels, end. The colour type is 3; 0 is bare paper.
func (p *packer) pack(c *canvas) ([]byte, error) {
	return p.file(sheet{c.w, c.h, c.each, c.ink, shadeBits}, greys())
}

// packBlack writes a picture of black on white: dark and black become black, what
// is lighter paper. The canvas is spent.
func (p *packer) packBlack(c *canvas) ([]byte, error) {
	return p.file(c.blackened(), []byte{255, 255, 255, 0, 0, 0})
}

// sheet is ink as a picture has it: rows of so many words, and so many bits a
// pixel.
type sheet struct {
	w, h, each int
	ink        []uint64
	bits       int
}

// blackened packs the ink with a bit a pixel, where it lies.
func (c *canvas) blackened() sheet {
	s := sheet{c.w, c.h, (c.w + 63) / 64, c.ink, 1}
	at := 0
	for y := range c.h {
		row := c.row(y)
		for k := 0; k < len(row); k += 2 {
			word := highBits(row[k]) << 32
			if k+1 < len(row) {
				word |= highBits(row[k+1])
			}
			s.ink[at] = word // never beyond what has been read
			at++
		}
	}
	return s
}

// highBits puts the higher bits of all pixels of a word, which dark and black
// have, side by side into its lower half.
func highBits(word uint64) uint64 {
	if word == 0 {
		return 0
	}
	word = word >> 1 & ones
	word = (word | word>>1) & 0x3333_3333_3333_3333
	word = (word | word>>2) & 0x0f0f_0f0f_0f0f_0f0f
	word = (word | word>>4) & 0x00ff_00ff_00ff_00ff
	word = (word | word>>8) & 0x0000_ffff_0000_ffff
	return (word | word>>16) & 0xffff_ffff
}

func (p *packer) file(c sheet, palette []byte) ([]byte, error) {
	head := binary.BigEndian.AppendUint32(nil, uint32(c.w))
	head = binary.BigEndian.AppendUint32(head, uint32(c.h))
	p.out.Reset()
	p.out.WriteString("\x89PNG\r\n\x1a\n")
	p.chunk("IHDR", append(head, byte(c.bits), 3, 0, 0, 0))
	p.chunk("PLTE", palette)
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
func (p *packer) squeeze(c sheet) (err error) {
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
func (p *packer) rows(c sheet) error {
	size := (c.w*c.bits + 7) / 8
	p.apart = append(p.apart[:0], make([]byte, 1+8*c.each)...)
	p.apart[0] = up
	p.sum = adler{a: 1}
	above := make([]uint64, c.each)
	for y := range c.h {
		row := c.ink[y*c.each : (y+1)*c.each]
		p.change(row, above, c.tail())
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

// tail is which bits of a row's last word lie on the sheet.
func (c sheet) tail() uint64 { return ^uint64(0) << (64*c.each - c.bits*c.w) }

// less subtracts the bytes of two words, each from its own.
func less(a, b uint64) uint64 {
	const high = 0x8080_8080_8080_8080
	return (a | high - b&^high) ^ (a^^b)&high
}

// greys is the palette, from paper to black.
func greys() []byte {
	var out []byte
	for _, ink := range inks {
		v := uint8(255 - ink)
		out = append(out, v, v, v)
	}
	return out
}
