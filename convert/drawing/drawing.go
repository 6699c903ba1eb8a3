// Package drawing draws a wall's elevation as a picture for print: boards to
// scale with their marks, joints, battens, openings, trims, wind zones,
// dimensions and a scale bar, in black alone, told apart by line weight, dash and
// double lines, so that a site printer or copier loses nothing.
package drawing

import (
	"fmt"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Options says how to draw. The zero value draws on the width of an A4 page
// across.
type Options struct {
	Width  int // of the picture in pixels, 0: 2400, which is 220 an inch across A4
	Height int // the most it may be high, 0: 1500
}

// Picture is a drawing as a PNG file, with the words that stand for it.
type Picture struct {
	PNG           []byte
	Width, Height int // pixels
	Text          string
}

// Drawer draws walls one after another; it keeps memory from one to the next. It
// is not safe for use by two goroutines at once.
type Drawer struct {
	letters *letters
	ink     *canvas
	packer  packer
}

// New returns a drawer.
func New() *Drawer { return &Drawer{letters: allLetters(), ink: &canvas{}} }

// Margins of the picture around the wall, in pixels at the usual width.
const (
	marginLeft   = 300
	marginRight  = 90
	marginTop    = 150
	marginBottom = 424
)

// view is one drawing under way: where the wall stands in the picture.
type view struct {
	*Drawer
	w      *engine.WallResult
	o      Options
	xs, zs measure.Span // what is shown of the wall's plane
	scale  float64      // pixels a micrometre
	left   float64      // pixel of xs.Lo
	base   float64      // pixel of zs.Lo
	marks  textSize     // of piece marks
	hidden []string     // marks of the pieces too small for them
	taken  []box        // where texts stand that no piece's mark may touch

	nameless   []string // openings without room for their names
	uncentred  []string // zones without room for their widths and batten centres, with those
	unlettered []string // openings and edges whose trims have no room for their letters
}

// Elevation draws a wall as it is given: one that is built handed is given so
// by [engine.WallResult.Handed].
func (d *Drawer) Elevation(w *engine.WallResult, o Options) (Picture, error) {
	v := d.place(w, o.filled())
	v.datum()
	v.boards()
	v.battens()
	v.zones()
	v.openings()
	v.trims()
	v.trimMarks()
	v.openingTexts()
	v.pieceMarks()
	v.courseMarks()
	v.dimensions()
	v.title()
	v.legend()
	data, err := d.packer.pack(d.ink)
	return Picture{PNG: data, Width: d.ink.w, Height: d.ink.h, Text: describe(w)}, err
}

// Scale returns how large a wall is drawn, in pixels a millimetre: the largest
// scale at which it fits.
func Scale(w *engine.WallResult, o Options) float64 {
	return fit(w, o.filled()) * float64(measure.Millimetre)
}

func (o Options) filled() Options {
	if o.Width == 0 {
		o.Width = 2400
	}
	if o.Height == 0 {
		o.Height = 1500
	}
	return o
}

// fit returns the scale in pixels a micrometre.
func fit(w *engine.WallResult, o Options) float64 {
	xs, zs := extent(w)
	wide, high := float64(o.Width-marginLeft-rightOf(w)), float64(o.Height-marginTop-below(w))
	return min(wide/float64(max(1, xs.Length())), high/float64(max(1, zs.Length())))
}

// place chooses the scale and the picture's height.
func (d *Drawer) place(w *engine.WallResult, o Options) *view {
	v := &view{Drawer: d, w: w, o: o, scale: fit(w, o)}
	v.xs, v.zs = extent(w)
	wide := float64(o.Width - marginLeft - rightOf(w))
	tall := int(v.scale * float64(v.zs.Length()))
	d.ink.reset(o.Width, marginTop+tall+below(w))
	v.left = marginLeft + (wide-v.scale*float64(v.xs.Length()))/2
	v.base = float64(marginTop + tall)
	return v
}

// extent returns what the picture shows: the wall, its boards, and the datum if
// that is near.
func extent(w *engine.WallResult) (xs, zs measure.Span) {
	grow := func(p measure.Polygon) {
		if len(p) == 0 {
			return
		}
		x, z := p.Bounds()
		xs = measure.Span{Lo: min(xs.Lo, x.Lo), Hi: max(xs.Hi, x.Hi)}
		zs = measure.Span{Lo: min(zs.Lo, z.Lo), Hi: max(zs.Hi, z.Hi)}
	}
	if len(w.Outline) > 0 {
		xs, zs = w.Outline.Bounds()
	}
	for i := range w.Pieces {
		grow(w.Pieces[i].Outline)
	}
	if zs.Lo <= datumNear || 4*zs.Lo <= zs.Length() {
		zs.Lo = min(zs.Lo, 0)
	}
	return xs, zs
}

// datumNear is how far below a wall the datum is drawn in any case, and else only
// if that takes no more than a quarter of the wall's height: a dormer or a gable
// far above it would be drawn tiny over a blank.
const datumNear = 300 * measure.Millimetre

// datumSaid says where the datum lies if the picture does not show it; blank if
// it does.
func datumSaid(zs measure.Span) string {
	switch {
	case zs.Lo > 0:
		return fmt.Sprintf("the datum lies %v mm below what is drawn", zs.Lo.Nearest(measure.Millimetre))
	case zs.Hi < 0:
		return fmt.Sprintf("the datum lies %v mm above what is drawn", (-zs.Hi).Nearest(measure.Millimetre))
	}
	return ""
}

// x returns the pixel of a place along the wall.
func (v *view) x(at measure.Length) float64 {
	return v.left + v.scale*float64(at-v.xs.Lo)
}

// along returns the place along the wall of a pixel.
func (v *view) along(x float64) measure.Length {
	return v.xs.Lo + measure.Length((x-v.left)/v.scale)
}

// z returns the pixel of a height.
func (v *view) z(at measure.Length) float64 { return v.base - v.scale*float64(at-v.zs.Lo) }

// span returns the pixels of a span along the wall.
func (v *view) span(s measure.Span) (lo, hi float64) { return v.x(s.Lo), v.x(s.Hi) }

// right returns the pixel of the right edge of what is shown.
func (v *view) right() float64 { return v.left + v.scale*float64(v.xs.Length()) }

func (v *view) points(p measure.Polygon) []point {
	out := make([]point, len(p))
	for i, c := range p {
		out[i] = point{v.x(c.X), v.z(c.Z)}
	}
	return out
}
