package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	_ "image/png" // by which a picture's size is read back where it is placed

	"github.com/klauspost/compress/zlib"
)

// packer turns ink into a PNG file of sixteen greys, two pixels a byte. Most
// rows of a drawing are as the row above; told apart from it, as image/png
// does for no picture with a palette, nearly all bytes are zeros.
type packer struct {
	shade [256]byte // the grey of an ink
	apart []byte    // of each row the filter's byte, and what differs from the row above
	greys []byte    // the row above, packed
	out   bytes.Buffer
	zip   *zlib.Writer
}

// up is the filter that tells a row apart from the one above it (ISO/IEC
// 15948, 9.2); over the first row stands a blank one.
const up = 2

// pack writes the chunks of a PNG file (ISO/IEC 15948, clause 11): header,
// palette, pixels, end. A pixel is 4 bits, colour type 3; 0 is bare paper.
func (p *packer) pack(c *canvas) ([]byte, error) {
	p.rows(c)
	data, err := p.squeeze()
	if err != nil {
		return nil, err
	}
	head := binary.BigEndian.AppendUint32(nil, uint32(c.w))
	head = binary.BigEndian.AppendUint32(head, uint32(c.h))
	var out bytes.Buffer
	out.Grow(len(data) + 256)
	out.WriteString("\x89PNG\r\n\x1a\n")
	chunk(&out, "IHDR", append(head, 4, 3, 0, 0, 0))
	chunk(&out, "PLTE", greys())
	chunk(&out, "IDAT", data)
	chunk(&out, "IEND", nil)
	return out.Bytes(), nil
}

// squeeze packs the rows into memory that the next call uses again.
func (p *packer) squeeze() (_ []byte, err error) {
	p.out.Reset()
	if p.zip == nil {
		p.zip, err = zlib.NewWriterLevel(&p.out, zlib.BestSpeed)
	} else {
		p.zip.Reset(&p.out)
	}
	if err == nil {
		_, err = p.zip.Write(p.apart)
	}
	if err == nil {
		err = p.zip.Close()
	}
	return p.out.Bytes(), err
}

// begin makes ready for so many rows of so many bytes; the first stands below
// bare paper.
func (p *packer) begin(rows, size int) {
	for ink := range p.shade {
		p.shade[ink] = byte((ink + 8) / 17) // the nearest
	}
	if n := rows * (1 + size); cap(p.apart) < n {
		p.apart = make([]byte, n)
	} else {
		p.apart = p.apart[:n]
		clear(p.apart)
	}
	p.greys = append(p.greys[:0], make([]byte, size)...)
}

// rows tells each row apart from the one above.
func (p *packer) rows(c *canvas) {
	size := (c.w + 1) / 2
	p.begin(c.h, size)
	above := make([]uint8, c.w)
	for y := range c.h {
		ink, apart := c.ink[y*c.w:(y+1)*c.w], p.apart[y*(1+size):(y+1)*(1+size)]
		apart[0] = up
		if !bytes.Equal(ink, above) {
			p.change(apart[1:], ink, above)
		}
		above = ink
	}
}

// change tells a row apart from the one above, eight pixels at a time: in most
// places the ink is the same.
func (p *packer) change(apart []byte, ink, above []uint8) {
	n := len(ink) &^ 7
	for x := 0; x < n; x += 8 {
		if binary.LittleEndian.Uint64(ink[x:]) == binary.LittleEndian.Uint64(above[x:]) {
			continue
		}
		row := (*[8]uint8)(ink[x:])
		for i := range 4 {
			p.set(apart, x/2+i, p.shade[row[2*i]]<<4|p.shade[row[2*i+1]])
		}
	}
	for x := n; x < len(ink); x += 2 {
		pair := p.shade[ink[x]] << 4
		if x+1 < len(ink) {
			pair |= p.shade[ink[x+1]]
		}
		p.set(apart, x/2, pair)
	}
}

// set puts two pixels, less what is above.
func (p *packer) set(apart []byte, at int, pair byte) {
	apart[at] = pair - p.greys[at]
	p.greys[at] = pair
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
