package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Line weights, in pixels.
const (
	weightBoard   = 3
	weightJoint   = 5
	weightHidden  = 1 // of what lies behind, and of what only leads or marks
	weightTrim    = 7 // over both its lines
	weightOpening = 5
	weightDim     = 2
)

// boards draws the pieces from the bottom up, each over the lap of the one
// below, as they are fixed.
func (v *view) boards() {
	if len(v.w.Outline) > 0 {
		v.ink.outline(v.points(v.w.Outline), weightHidden, black)
	}
	pieces := byCourse(v.w.Pieces)
	for i, p := range pieces {
		if len(p.Outline) < 3 {
			continue
		}
		pts := v.points(p.Outline)
		v.cover(p.Outline, pts)
		v.ink.outline(pts, weightBoard, black)
		if i > 0 && pieces[i-1].Course == p.Course {
			v.joint(pieces[i-1].Outline, p.Outline)
		}
	}
}

// joint draws the gap between two boards of a course, which is narrower than a line,
// as one line that covers the ends of both: as wide at every joint.
func (v *view) joint(left, right measure.Polygon) {
	if len(left) < 3 {
		return
	}
	l, zs := left.Bounds()
	r, other := right.Bounds()
	if l.Lo > r.Lo { // handed
		l, r = r, l
	}
	lo, hi := v.x(l.Hi), v.x(r.Lo)
	zs = zs.And(other)
	if hi < lo || hi-lo > weightJoint-weightBoard || zs.Empty() {
		return
	}
	x := near((lo + hi) / 2)
	v.ink.rect(x-weightJoint/2, near(v.z(zs.Hi)), x+weightJoint/2+1, near(v.z(zs.Lo)), black)
}

// cover wipes the paper behind a polygon.
func (v *view) cover(p measure.Polygon, pts []point) {
	if p.IsRect() { // as nearly all boards are: no need of smooth edges
		xs, zs := p.Bounds()
		lo, hi := v.span(xs)
		v.ink.rect(near(lo), near(v.z(zs.Hi)), near(hi), near(v.z(zs.Lo)), paper)
		return
	}
	v.ink.polygon(pts, paper)
}

func byCourse(in []engine.Piece) []*engine.Piece {
	var out []*engine.Piece
	for i := range in {
		if in[i].Course > 0 {
			out = append(out, &in[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *engine.Piece) int { return a.Course - b.Course })
	return out
}

// battens are behind the boards: their two edges are dashed.
func (v *view) battens() {
	for _, b := range v.w.Battens {
		lo, hi := v.span(measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2})
		for _, x := range []float64{lo, hi} {
			v.ink.dashes(point{x, v.z(b.Z.Lo)}, point{x, v.z(b.Z.Hi)}, 14, 10, weightHidden, black)
		}
	}
}

// openings are blank with crossed lines and say what they are.
func (v *view) openings() {
	for _, o := range v.w.Voids {
		for i, f := range o.Frame {
			pts := v.points(f)
			v.cover(f, pts)
			if i == 0 && len(pts) == 4 {
				v.ink.line(pts[0], pts[2], weightHidden, black)
				v.ink.line(pts[1], pts[3], weightHidden, black)
			}
			v.ink.outline(pts, weightOpening, black)
		}
	}
}

// openingTexts says what the openings are, in letters of one size where they have
// room for it: first those that hold their name, so that the others' names keep
// clear of it.
func (v *view) openingTexts() {
	texts, px := make([]openingText, len(v.w.Voids)), openingLargest
	for i, o := range v.w.Voids {
		if len(o.Frame) > 0 {
			texts[i] = v.openingText(o, openingLargest)
			if n := texts[i].size.px; n >= openingUsual {
				px = min(px, n)
			}
		}
	}
	for i, o := range v.w.Voids {
		switch {
		case len(o.Frame) == 0:
		case texts[i].size.px > px:
			v.write(v.openingText(o, px))
		case texts[i].size.px > 0:
			v.write(texts[i])
		}
	}
	for i, o := range v.w.Voids {
		if len(o.Frame) > 0 && texts[i].size.px == 0 {
			v.nameBeside(o)
		}
	}
}

// Sizes of the letters in openings, in pixels: the largest, the least that all
// openings share, and the least.
const openingLargest, openingUsual, openingLeast = 32, 22, 16

// openingText is what is written in an opening, its lines about a middle; without
// a size where not even its name has room.
type openingText struct {
	size  textSize
	at    point
	lines []string
}

func (v *view) write(t openingText) { v.lines(t.size, t.at.x, t.at.y, t.lines) }

// openingText places an opening's name, size and sill in it, in letters of at most
// so many pixels and clear of those of its trims, or its name alone where there is
// no room for all.
func (v *view) openingText(o engine.Void, px int) openingText {
	xs, zs := o.Frame[0].Bounds()
	lo, hi := v.span(xs)
	in := box{point{lo + 6, v.z(zs.Hi) + 6}, point{hi - 6, v.z(zs.Lo) - 6}}
	lines := []string{o.Opening.Name, fmt.Sprintf("%v x %v", o.Opening.Width, o.Opening.Height), fmt.Sprintf("sill %v", o.Opening.Sill)}
	for ; px >= openingLeast; px -= 2 {
		if t := (openingText{size: textSize{px, false}, lines: lines}); v.seat(&t, in) {
			return t
		}
	}
	if t := (openingText{size: textSize{18, true}, lines: lines[:1]}); v.seat(&t, in) {
		return t
	}
	return openingText{}
}

// seat finds a place for lines within a box: its middle, or else as little above or
// below as clears what stands there.
func (v *view) seat(t *openingText, in box) bool {
	high := 1.3 * float64(t.size.px) * float64(len(t.lines))
	x, y := (in.lo.x+in.hi.x)/2, (in.lo.y+in.hi.y)/2
	for off := 0.0; off <= (in.hi.y-in.lo.y-high)/2; off += 8 {
		for _, at := range []point{{x, y + off}, {x, y - off}} {
			if v.seated(t, at, in) {
				t.at = at
				return true
			}
		}
	}
	return false
}

// seated reports whether lines about a middle keep within a box and clear of other
// texts.
func (v *view) seated(t *openingText, at point, in box) bool {
	step := 1.3 * float64(t.size.px)
	at.y -= step * float64(len(t.lines)-1) / 2
	for i, l := range t.lines {
		s := t.size
		s.strong = s.strong || i == 0
		r := v.room(s, at, l)
		s.px += 6 // some air
		if r.lo.x < in.lo.x || r.hi.x > in.hi.x || !v.free(s, at, l) {
			return false
		}
		at.y += step
	}
	return true
}

// nameBeside writes the name of a small opening beside it, where nothing
// stands.
func (v *view) nameBeside(o engine.Void) {
	xs, zs := o.Frame[0].Bounds()
	lo, hi := v.span(xs)
	x, y := (lo+hi)/2, (v.z(zs.Lo)+v.z(zs.Hi))/2
	s, name := textSize{18, true}, o.Opening.Name
	half := float64(v.letters.width(s, name))/2 + 12
	up := (v.z(zs.Lo)-v.z(zs.Hi))/2 + s.capHeight()/2 + 6
	for _, at := range []point{{hi + half, y}, {lo - half, y}, {x, y - up}, {x, y + up}} {
		if v.free(s, at, name) {
			v.lines(s, at.x, at.y, []string{name})
			return
		}
	}
	v.nameless = append(v.nameless, name)
}

// box is a part of the picture.
type box struct{ lo, hi point }

// room is the box of a text, with a little air.
func (v *view) room(s textSize, at point, text string) box {
	w, h := float64(v.letters.width(s, text))/2+3, s.capHeight()/2+2
	return box{point{at.x - w, at.y - h}, point{at.x + w, at.y + h}}
}

// take keeps what is written later off a text.
func (v *view) take(s textSize, at point, text string) {
	v.taken = append(v.taken, v.room(s, at, text))
}

// free reports whether a text touches none that stands already, nor leaves the
// wall.
func (v *view) free(s textSize, at point, text string) bool {
	r := v.room(s, at, text)
	return r.lo.x >= v.left && r.hi.x <= v.right() && v.untaken(r)
}

// untaken reports whether a text touches none that stands already.
func (v *view) untaken(r box) bool {
	return !slices.ContainsFunc(v.taken, func(b box) bool {
		return r.lo.x < b.hi.x && b.lo.x < r.hi.x && r.lo.y < b.hi.y && b.lo.y < r.hi.y
	})
}

// takenAt returns what texts take of a band of pixels, as spans of the wall.
func (v *view) takenAt(top, bottom float64) []measure.Span {
	var out []measure.Span
	for _, b := range v.taken {
		if b.hi.y < top || b.lo.y > bottom {
			continue
		}
		lo, hi := v.along(b.lo.x), v.along(b.hi.x)
		out = append(out, measure.Span{Lo: min(lo, hi), Hi: max(lo, hi)})
	}
	return out
}

func (v *view) lines(s textSize, x, y float64, lines []string) {
	step := 1.3 * float64(s.px)
	y -= step * float64(len(lines)-1) / 2
	for i, l := range lines {
		at := s
		at.strong = at.strong || i == 0
		v.clearFor(at, x, y, l)
		v.text(at, x, y, atMiddle, l)
		v.take(at, point{x, y}, l)
		y += step
	}
}

// zones stand above the wall: a bar from end to end of each, and a chain line
// down the wall where two meet.
func (v *view) zones() {
	y := v.z(v.zs.Hi) - 48
	s := textSize{24, false}
	for i, z := range v.w.Zones {
		lo, hi := v.span(z.X)
		v.dimension(lo, hi, y)
		if name := v.zoneText(z, s, hi-lo-16); name != "" {
			v.clearFor(s, (lo+hi)/2, y, name)
			v.text(s, (lo+hi)/2, y, atMiddle, name)
		}
		if i > 0 {
			x := v.x(z.X.Lo)
			v.ink.dashes(point{x, y + 10}, point{x, v.z(v.zs.Lo)}, 40, 24, weightHidden, black)
		}
	}
}

// zoneText is as much of a zone's name as there is room for; what is left out is
// said elsewhere.
func (v *view) zoneText(z engine.Zone, s textSize, room float64) string {
	full := v.zoneName(z)
	if float64(v.letters.width(s, full)) < room {
		return full
	}
	if (z.Centres > 0 || len(v.w.Zones) > 1) && !slices.Contains(v.uncentred, full) {
		v.uncentred = append(v.uncentred, full)
	}
	z.Centres = 0
	for _, name := range []string{v.zoneName(z), "zone " + z.Name} {
		if z.Name != "" && float64(v.letters.width(s, name)) < room {
			return name
		}
	}
	return ""
}

// zoneName names a zone, of several with its width, and the battens it wants; a
// wall whose wind is not known has one zone without a name.
func (v *view) zoneName(z engine.Zone) string {
	var parts []string
	switch {
	case z.Name == "":
	case len(v.w.Zones) > 1:
		parts = append(parts, fmt.Sprintf("zone %s %v", z.Name, z.X.Length().Nearest(measure.Millimetre)))
	default:
		parts = append(parts, "zone "+z.Name)
	}
	if z.Centres > 0 {
		parts = append(parts, fmt.Sprintf("battens at %v centres", z.Centres))
	}
	return strings.Join(parts, ", ")
}

// datum is the level all heights are taken from.
func (v *view) datum() {
	if datumSaid(v.zs) != "" {
		return
	}
	y := v.z(0)
	v.ink.dashes(point{v.left - 60, y}, point{v.right() + 60, y}, 30, 10, weightDim, black)
	x := v.right() + 40
	v.ink.polygon([]point{{x, y}, {x - 16, y - 24}, {x + 16, y - 24}}, black)
}

// pieceMarks puts each piece's mark in what shows of it, wiping the battens
// behind it. Where the mark does not fit, its end without the wall's own
// letters does; where that does not fit either, the cut list must serve.
func (v *view) pieceMarks() {
	room := v.leastFace()
	v.marks = textSize{px: max(markLeast, min(32, int(room*0.72))), strong: true}
	for _, p := range byCourse(v.w.Pieces) {
		if !v.pieceMark(p) {
			v.hidden = append(v.hidden, p.Mark)
		}
	}
}

// leastFace returns how many pixels of a board show between two courses.
func (v *view) leastFace() float64 {
	least := 0.0
	for _, c := range v.w.Courses {
		h := c.Gauge
		if h == 0 {
			h = c.Top - c.Bottom
		}
		if px := float64(h) * v.scale; least == 0 || px < least {
			least = px
		}
	}
	return least
}

func (v *view) pieceMark(p *engine.Piece) bool {
	if len(p.Outline) < 3 {
		return false
	}
	_, face := p.Outline.Bounds()
	if i := slices.IndexFunc(v.w.Courses, func(c engine.Course) bool { return c.Number == p.Course }); i >= 0 && v.w.Courses[i].Gauge > 0 {
		face.Hi = min(face.Hi, face.Lo+v.w.Courses[i].Gauge)
	}
	if p.Outline.IsRect() {
		return v.pieceMarkIn(p, face, v.marks, 0)
	}
	for s := v.marks; s.px >= markLeast; s.px-- { // clear of a trim along a cut edge
		if v.pieceMarkIn(p, face, s, weightTrim/2+4) {
			return true
		}
	}
	return false
}

// markLeast is the least size of a piece's mark, in pixels.
const markLeast = 15

// pieceMarkIn writes a mark in letters of a size where they keep so many pixels off
// the edges of the piece.
func (v *view) pieceMarkIn(p *engine.Piece, face measure.Span, s textSize, air float64) bool {
	tall, middle := measure.Length(s.capHeight()/v.scale), (face.Lo+face.Hi)/2
	if face.Length() < tall {
		return false
	}
	taken := append(v.blocked(face), v.takenAt(v.z(middle+tall/2), v.z(middle-tall/2))...)
	slices.SortFunc(taken, func(a, b measure.Span) int { return cmp.Compare(a.Lo, b.Lo) })
	keep := tall/2 + measure.Length(air/v.scale)
	room := widest(measure.Less(within(p.Outline, max(face.Lo, middle-keep), min(face.Hi, middle+keep)), taken))
	lo, hi := v.span(room)
	at := point{(lo + hi) / 2, v.z(middle)}
	for _, text := range []string{p.Mark, shortMark(p.Mark, v.w.Code)} {
		if wide := float64(v.letters.width(s, text)); text != "" && wide <= hi-lo-10-2*air {
			high := min(s.capHeight()/2+4, float64(face.Length())*v.scale/2-weightBoard/2-1) // the courses' lines stay
			v.ink.rect(near(at.x-wide/2-4), near(at.y-high), near(at.x+wide/2+4), near(at.y+high), paper)
			v.text(s, at.x, at.y, atMiddle, text)
			v.take(s, at, text)
			return true
		}
	}
	return false
}

// blocked returns what openings take of a face.
func (v *view) blocked(face measure.Span) []measure.Span {
	var out []measure.Span
	for _, o := range v.w.Voids {
		for _, f := range o.Frame {
			if xs, zs := f.Bounds(); !zs.And(face).Empty() {
				out = append(out, xs)
			}
		}
	}
	return out
}

// shortMark takes the wall's letters off a mark.
func shortMark(mark, code string) string {
	return strings.TrimLeft(strings.TrimPrefix(mark, code), "-./ ")
}
