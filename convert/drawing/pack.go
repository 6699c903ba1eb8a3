package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	_ "image/png" // by which a picture's size is read back where it is placed
)

// packer turns ink into a PNG file of sixteen greys, two pixels a byte. It
// does so itself because most rows of a drawing are as the row above, wholly
// or in long stretches, which an encoder for any picture has to find out byte
// by byte; it takes a tenth of the time of image/png with BestSpeed.
type packer struct {
	shade      [256]byte // the grey of an ink
	row, above []byte    // a filter byte and the pixels
	out        squeezer
}

// pack writes the chunks of a PNG file (ISO/IEC 15948, clause 11): header,
// palette, pixels, end. A pixel is 4 bits, colour type 3; 0 is bare paper.
func (p *packer) pack(c *canvas) ([]byte, error) {
	p.pixels(c)
	head := binary.BigEndian.AppendUint32(nil, uint32(c.w))
	head = binary.BigEndian.AppendUint32(head, uint32(c.h))
	var out bytes.Buffer
	out.Grow(len(p.out.data) + 256)
	out.WriteString("\x89PNG\r\n\x1a\n")
	chunk(&out, "IHDR", append(head, 4, 3, 0, 0, 0))
	chunk(&out, "PLTE", greys())
	chunk(&out, "IDAT", p.out.data)
	chunk(&out, "IEND", nil)
	return out.Bytes(), nil
}

// pixels packs the rows, none of them filtered.
func (p *packer) pixels(c *canvas) {
	if p.shade[black] == 0 {
		for ink := range p.shade {
			p.shade[ink] = byte((ink + 8) / 17) // the nearest
		}
	}
	size := 1 + (c.w+1)/2
	if len(p.row) != size {
		p.row, p.above = make([]byte, size), make([]byte, size)
	}
	p.out.begin(size)
	var before []uint8
	for y := range c.h {
		ink := c.ink[y*c.w : (y+1)*c.w]
		if y > 0 && size >= shortest && bytes.Equal(ink, before) {
			p.out.again()
			continue
		}
		p.row, p.above = p.above, p.row
		p.pairs(p.row[1:], ink)
		if y == 0 {
			p.out.first(p.row)
		} else {
			p.out.next(p.row, p.above)
		}
		before = ink
	}
	p.out.end()
}

// pairs packs a row of ink two pixels a byte. Most of it is bare paper, taken
// eight at a time.
func (p *packer) pairs(to []byte, ink []uint8) {
	for ; len(ink) >= 8; ink, to = ink[8:], to[4:] {
		if binary.LittleEndian.Uint64(ink) == 0 {
			binary.LittleEndian.PutUint32(to, 0)
			continue
		}
		for i := range 4 {
			to[i] = p.shade[ink[2*i]]<<4 | p.shade[ink[2*i+1]]
		}
	}
	for ; len(ink) > 1; ink, to = ink[2:], to[1:] {
		to[0] = p.shade[ink[0]]<<4 | p.shade[ink[1]]
	}
	if len(ink) == 1 {
		to[0] = p.shade[ink[0]] << 4
	}
}

// greys is the palette, from paper to black.
func greys() []byte {
	var out []byte
	for i := range 16 {
		v := uint8(255 - 17*i)
		out = append(out, v, v, v)
	}
	return out
}

func chunk(out *bytes.Buffer, name string, data []byte) {
	out.Write(binary.BigEndian.AppendUint32(nil, uint32(len(data))))
	sum := crc32.NewIEEE()
	sum.Write([]byte(name)) // never fails
	sum.Write(data)
	out.WriteString(name)
	out.Write(data)
	out.Write(binary.BigEndian.AppendUint32(nil, sum.Sum32()))
}
