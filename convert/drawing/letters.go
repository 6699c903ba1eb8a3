package drawing

import (
	"image"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// textSize is a size of letters in pixels; strong is bold.
type textSize struct {
	px     int
	strong bool
}

// glyph is one letter drawn: its mask, where it stands from the pen, and how
// far the pen moves on.
type glyph struct {
	mask    []uint8
	w, h    int
	dx, dy  int
	advance int
}

type glyphKey struct {
	size textSize
	r    rune
}

// letters draws text and keeps every letter it has drawn.
type letters struct {
	plain, strong *opentype.Font
	faces         map[textSize]font.Face
	glyphs        map[glyphKey]glyph
}

func newLetters() *letters {
	return &letters{
		plain: parse(goregular.TTF), strong: parse(gobold.TTF),
		faces: map[textSize]font.Face{}, glyphs: map[glyphKey]glyph{},
	}
}

// parse reads an embedded font; it cannot fail unless the program is broken.
func parse(data []byte) *opentype.Font {
	f, err := opentype.Parse(data)
	if err != nil {
		panic(err)
	}
	return f
}

func (l *letters) face(s textSize) font.Face {
	if f, ok := l.faces[s]; ok {
		return f
	}
	from := l.plain
	if s.strong {
		from = l.strong
	}
	f, err := opentype.NewFace(from, &opentype.FaceOptions{Size: float64(s.px), DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic(err) // the options above are in range
	}
	l.faces[s] = f
	return f
}

func (l *letters) glyph(s textSize, r rune) glyph {
	key := glyphKey{s, r}
	if g, ok := l.glyphs[key]; ok {
		return g
	}
	box, mask, at, advance, _ := l.face(s).Glyph(fixed.Point26_6{}, r)
	g := glyph{w: box.Dx(), h: box.Dy(), dx: box.Min.X, dy: box.Min.Y, advance: advance.Round()}
	g.mask = make([]uint8, g.w*g.h)
	if a, ok := mask.(*image.Alpha); ok {
		for y := range g.h {
			copy(g.mask[y*g.w:(y+1)*g.w], a.Pix[a.PixOffset(at.X, at.Y+y):])
		}
	}
	l.glyphs[key] = g
	return g
}

// width returns how wide a text is in pixels.
func (l *letters) width(s textSize, text string) int {
	n := 0
	for _, r := range text {
		n += l.glyph(s, r).advance
	}
	return n
}

// capHeight is the height of a capital letter: of the Go fonts, about 0.73 em.
func (s textSize) capHeight() float64 { return 0.73 * float64(s.px) }

// place of a text about its point.
type anchor int

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

// text draws a line of text with its capitals centred on y.
func (d *Drawer) text(s textSize, x, y float64, a anchor, text string) {
	pen := near(x) - d.letters.width(s, text)*int(a)/2
	line := near(y + s.capHeight()/2)
	for _, r := range text {
		g := d.letters.glyph(s, r)
		if g.w > 0 {
			d.ink.stamp(g.mask, g.w, pen+g.dx, line+g.dy, black)
		}
		pen += g.advance
	}
}

// upText draws a line of text that reads upwards, centred on y, its capitals
// centred on x.
func (d *Drawer) upText(s textSize, x, y float64, a anchor, text string) {
	pen := near(y) + d.letters.width(s, text)*int(a)/2
	line := near(x + s.capHeight()/2)
	for _, r := range text {
		g := d.letters.glyph(s, r)
		if g.w > 0 {
			d.ink.stamp(g.turned(), g.h, line+g.dy, pen-g.dx-g.w, black)
		}
		pen -= g.advance
	}
}

// turned returns the letter's mask turned a quarter to the left.
func (g glyph) turned() []uint8 {
	out := make([]uint8, len(g.mask))
	for y := range g.h {
		for x := range g.w {
			out[(g.w-1-x)*g.h+y] = g.mask[y*g.w+x]
		}
	}
	return out
}

// clear wipes the paper where a text will stand, with a little air.
func (d *Drawer) clearFor(s textSize, x, y float64, text string) {
	w, h := float64(d.letters.width(s, text))/2+4, s.capHeight()/2+4
	d.ink.rect(near(x-w), near(y-h), near(x+w), near(y+h), paper)
}
