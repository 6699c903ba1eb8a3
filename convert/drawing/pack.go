package drawing

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
)

// shades is how many greys a picture has. More than sixteen make a byte a
// pixel, which the encoder copies row by row; fewer it packs one by one, and
// the file comes out no smaller for it.
const shades = 18

// packer turns ink into a PNG file.
type packer struct {
	pool  buffers
	image image.Paletted
	shade [256]uint8 // of an ink; a division for every dot takes longer
}

// buffers keeps the encoder's memory from one picture to the next.
type buffers struct{ b *png.EncoderBuffer }

func (p *buffers) Get() *png.EncoderBuffer  { return p.b }
func (p *buffers) Put(b *png.EncoderBuffer) { p.b = b }

func greys() color.Palette {
	p := make(color.Palette, shades)
	for i := range p {
		p[i] = color.Gray{Y: uint8(255 - 15*i)}
	}
	return p
}

func (p *packer) pack(c *canvas) ([]byte, error) {
	if p.shade[black] == 0 {
		for ink := range p.shade {
			p.shade[ink] = uint8((ink + 7) / 15)
		}
	}
	for i, ink := range c.ink {
		c.ink[i] = p.shade[ink]
	}
	p.image = image.Paletted{Pix: c.ink, Stride: c.w, Rect: image.Rect(0, 0, c.w, c.h), Palette: greys()}
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &p.pool}
	err := enc.Encode(&out, &p.image)
	return out.Bytes(), err
}
