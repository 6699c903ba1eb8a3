package drawing

import (
	"image"
	"sync"
	"sync/atomic"

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

// glyph is one letter drawn, level and reading upwards: its masks, where it
// stands from the pen, and how far the pen moves on.
type glyph struct {
	level, up mask
	w, h      int
	dx, dy    int
	advance   int
}

// letters are all letters drawn so far. They take longer to draw than a page of
// them to put down, and so are drawn once for all drawers.
type letters struct {
	plain, strong *opentype.Font
	sizes         sync.Map // textSize: *alphabet
}

// alphabet is the letters of one size.
type alphabet struct {
	ascii   [128]atomic.Pointer[glyph]
	other   sync.Map // rune: *glyph
	drawing sync.Mutex
	face    font.Face
}

var allLetters = sync.OnceValue(func() *letters {
	return &letters{plain: parse(goregular.TTF), strong: parse(gobold.TTF)}
})

// parse reads an embedded font; it cannot fail unless the program is broken.
func parse(data []byte) *opentype.Font {
	f, err := opentype.Parse(data)
	if err != nil {
		panic(err)
	}
	return f
}

func (l *letters) of(s textSize) *alphabet {
	if a, ok := l.sizes.Load(s); ok {
		return a.(*alphabet)
	}
	from := l.plain
	if s.strong {
		from = l.strong
	}
	f, err := opentype.NewFace(from, &opentype.FaceOptions{Size: float64(s.px), DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic(err) // the options above are in range
	}
	a, _ := l.sizes.LoadOrStore(s, &alphabet{face: f})
	return a.(*alphabet)
}

func (a *alphabet) glyph(r rune) *glyph {
	if r < 0 || int(r) >= len(a.ascii) {
		return a.otherGlyph(r)
	}
	g := a.ascii[r].Load()
	if g == nil {
		g = a.draw(r)
		a.ascii[r].Store(g)
	}
	return g
}

func (a *alphabet) otherGlyph(r rune) *glyph {
	g, ok := a.other.Load(r)
	if !ok {
		g, _ = a.other.LoadOrStore(r, a.draw(r))
	}
	return g.(*glyph)
}

func (a *alphabet) draw(r rune) *glyph {
	a.drawing.Lock() // the face may be used by one at a time
	defer a.drawing.Unlock()
	box, drawn, at, advance, _ := a.face.Glyph(fixed.Point26_6{}, r)
	g := &glyph{w: box.Dx(), h: box.Dy(), dx: box.Min.X, dy: box.Min.Y, advance: advance.Round()}
	level, up := make([]uint8, g.w*g.h), make([]uint8, g.w*g.h)
	if alpha, ok := drawn.(*image.Alpha); ok {
		for y := range g.h {
			for x := range g.w {
				v := alpha.AlphaAt(at.X+x, at.Y+y).A
				level[y*g.w+x] = v
				up[(g.w-1-x)*g.h+y] = v
			}
		}
	}
	g.level, g.up = maskOf(level, g.w), maskOf(up, g.h)
	return g
}

// width returns how wide a text is in pixels.
func (l *letters) width(s textSize, text string) int {
	a, n := l.of(s), 0
	for _, r := range text {
		n += a.glyph(r).advance
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
	line, letters := near(y+s.capHeight()/2), d.letters.of(s)
	for _, r := range text {
		g := letters.glyph(r)
		d.ink.stamp(g.level, pen+g.dx, line+g.dy)
		pen += g.advance
	}
}

// upText draws a line of text that reads upwards, centred on y, its capitals
// centred on x.
func (d *Drawer) upText(s textSize, x, y float64, a anchor, text string) {
	pen := near(y) + d.letters.width(s, text)*int(a)/2
	line, letters := near(x+s.capHeight()/2), d.letters.of(s)
	for _, r := range text {
		g := letters.glyph(r)
		d.ink.stamp(g.up, line+g.dy, pen-g.dx-g.w)
		pen -= g.advance
	}
}

// clearFor wipes the paper where a text will stand, with a little air.
func (d *Drawer) clearFor(s textSize, x, y float64, text string) {
	w, h := float64(d.letters.width(s, text))/2+4, s.capHeight()/2+4
	d.ink.rect(near(x-w), near(y-h), near(x+w), near(y+h), paper)
}
