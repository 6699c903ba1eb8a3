package drawing

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
)

// packer turns ink into a PNG file of sixteen greys, four bits a pixel.
type packer struct {
	pool  buffers
	image image.Paletted
}

// buffers keeps the encoder's memory from one picture to the next.
type buffers struct{ b *png.EncoderBuffer }

func (p *buffers) Get() *png.EncoderBuffer  { return p.b }
func (p *buffers) Put(b *png.EncoderBuffer) { p.b = b }

func greys() color.Palette {
	p := make(color.Palette, 16)
	for i := range p {
		p[i] = color.Gray{Y: uint8(255 - 17*i)}
	}
	return p
}

func (p *packer) pack(c *canvas) ([]byte, error) {
	for i, ink := range c.ink { // halves round to the darker grey
		c.ink[i] = uint8((int(ink) + 8) / 17)
	}
	p.image = image.Paletted{Pix: c.ink, Stride: c.w, Rect: image.Rect(0, 0, c.w, c.h), Palette: greys()}
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &p.pool}
	err := enc.Encode(&out, &p.image)
	return out.Bytes(), err
}
