package drawing

import (
	"math"
	"slices"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// trimLetters are the letters that stand for trims beside their lines, in the
// order of the key.
var trimLetters = []struct{ letter, role string }{
	{"S", engine.RoleStarter}, {"V", engine.RoleVent}, {"E", engine.RoleEdge}, {"I", engine.RoleInternal},
	{"X", engine.RoleExternal}, {"U", engine.RoleUnequal}, {"F", engine.RoleFrame},
}

func trimLetter(role string) string {
	for _, l := range trimLetters {
		if l.role == role {
			return l.letter
		}
	}
	return ""
}

// trims are double lines where they lie.
func (v *view) trims() {
	var lines [][2]point
	for _, t := range v.w.Trims {
		if t.From != t.To {
			lines = append(lines, [2]point{{v.x(t.From.X), v.z(t.From.Z)}, {v.x(t.To.X), v.z(t.To.Z)}})
		}
	}
	v.double(lines)
}

// double draws lines as two side by side, open where they meet.
func (v *view) double(lines [][2]point) {
	for _, l := range lines {
		v.ink.line(l[0], l[1], weightTrim, black)
	}
	for _, l := range lines {
		v.ink.line(l[0], l[1], weightTrim-2*weightDim, paper)
	}
}

// edge is a straight stretch along which one or more trims lie.
type edge struct {
	where    string
	letters  string
	from, to measure.Point // of its longest trim
}

// edges gathers the trims that lie along the same stretch.
func edges(w *engine.WallResult) []edge {
	var out []edge
	at := map[string]int{}
	for _, t := range w.Trims {
		letter := trimLetter(t.Role)
		if t.From == t.To || letter == "" {
			continue
		}
		key := t.Where + slope(t.From, t.To)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, edge{where: t.Where, from: t.From, to: t.To})
		}
		e := &out[i]
		if !strings.Contains(e.letters, letter) {
			e.letters += letter
		}
		if long(t.From, t.To) > long(e.from, e.to) {
			e.from, e.to = t.From, t.To
		}
	}
	return out
}

// slope tells the stretches of one edge apart: levels by their height, slopes
// by their direction.
func slope(a, b measure.Point) string {
	switch {
	case a.Z == b.Z:
		return " level " + a.Z.String()
	case a.X == b.X:
		return " upright " + a.X.String()
	case (a.Z < b.Z) == (a.X < b.X):
		return " rising"
	}
	return " falling"
}

func long(a, b measure.Point) float64 { return math.Hypot(float64(b.X-a.X), float64(b.Z-a.Z)) }

// trimMarks writes, beside each stretch, the letters of the trims that lie
// there: inside an opening for its own, outside the wall for the others.
func (v *view) trimMarks() {
	for _, e := range edges(v.w) {
		if v.trimMark(e, textSize{20, true}) || v.trimMark(e, textSize{14, true}) {
			continue
		}
		where := e.where
		if o := v.openingOf(where); o != nil {
			where = o.Opening.Name
		}
		if !slices.Contains(v.unlettered, where) {
			v.unlettered = append(v.unlettered, where)
		}
	}
}

// trimMark writes the letters of one stretch, if there is room for them.
func (v *view) trimMark(e edge, s textSize) bool {
	a, b := point{v.x(e.from.X), v.z(e.from.Z)}, point{v.x(e.to.X), v.z(e.to.Z)}
	l := math.Hypot(b.x-a.x, b.y-a.y)
	middle := point{(a.x + b.x) / 2, (a.y + b.y) / 2}
	out := point{-(b.y - a.y) / l, (b.x - a.x) / l}
	wide := float64(v.letters.width(s, e.letters))
	centre, inside := v.centreFor(e.where)
	if (out.x*(centre.x-middle.x)+out.y*(centre.y-middle.y) > 0) != inside {
		out = point{-out.x, -out.y}
	}
	off := 10 + s.capHeight()/2 + math.Abs(out.x)*(wide-s.capHeight())/2
	if inside && e.from.X == e.to.X && v.roomInRow(e, s, wide) {
		middle.y = min(a.y, b.y) + min(l/2, off) // beside the head's letters: a text keeps the room below
	}
	at := point{middle.x + out.x*off, middle.y + out.y*off}
	if inside && !v.roomInside(e, s, wide) || l < s.capHeight()+4 {
		return false
	}
	if !inside {
		at = v.beside(e, s, at, point{(b.x - a.x) / l, (b.y - a.y) / l}, l)
	}
	v.clearFor(s, at.x, at.y, e.letters)
	v.text(s, at.x, at.y, atMiddle, e.letters)
	v.take(s, at, e.letters)
	return true
}

// beside moves the letters of an edge of the wall along it, the least way that takes
// them off those of another trim there, and off the ticks of the courses.
func (v *view) beside(e edge, s textSize, at, along point, l float64) point {
	const step = 4.0
	for d := 0.0; d < l/2; d += step {
		for _, d := range [2]float64{d, -d} {
			p := point{at.x + d*along.x, at.y + d*along.y}
			if r := v.room(s, p, e.letters); v.untaken(r) && !v.onTick(r) {
				return p
			}
		}
	}
	return at
}

// onTick reports whether a text left of the wall touches the tick of a course.
func (v *view) onTick(r box) bool {
	return r.lo.x < v.left && r.hi.x > v.left-60 && slices.ContainsFunc(v.w.Courses, func(c engine.Course) bool {
		y := v.z(c.Bottom)
		return r.lo.y < y+weightDim && r.hi.y > y-weightDim
	})
}

// centreFor returns the middle of the opening that a place names, or of what
// is shown of the wall.
func (v *view) centreFor(where string) (at point, inside bool) {
	if o := v.openingOf(where); o != nil {
		xs, zs := o.Frame[0].Bounds()
		return point{(v.x(xs.Lo) + v.x(xs.Hi)) / 2, (v.z(zs.Lo) + v.z(zs.Hi)) / 2}, true
	}
	return point{(v.left + v.right()) / 2, (v.z(v.zs.Lo) + v.z(v.zs.Hi)) / 2}, false
}

// openingOf returns the opening whose name begins the name of a place, as in
// "W1 head".
func (v *view) openingOf(where string) *engine.Void {
	for i, o := range v.w.Voids {
		if len(o.Frame) > 0 && o.Opening != nil && strings.HasPrefix(where, o.Opening.Name+" ") {
			return &v.w.Voids[i]
		}
	}
	return nil
}

// roomInside reports whether letters go inside an opening without touching
// those of its other sides or its name.
func (v *view) roomInside(e edge, s textSize, wide float64) bool {
	xs, zs := v.openingOf(e.where).Frame[0].Bounds()
	if lettersHigh := 4*s.capHeight() + 24; float64(zs.Length())*v.scale < lettersHigh {
		return false
	}
	if e.from.X == e.to.X {
		wide = 2*wide + 3*float64(s.px) // both jambs, and the name between them
	}
	return float64(xs.Length())*v.scale >= wide+20
}

// roomInRow reports whether the letters of both jambs stand in one row with those of
// the head.
func (v *view) roomInRow(e edge, s textSize, wide float64) bool {
	xs, _ := v.openingOf(e.where).Frame[0].Bounds()
	head := float64(v.letters.width(s, "SV"))
	return float64(xs.Length())*v.scale >= 2*wide+head+60
}

// trimKey says what the letters mean, of those that the drawing shows, and returns
// where it ends.
func (v *view) trimKey(y float64) float64 {
	shown := ""
	for _, e := range edges(v.w) {
		shown += e.letters
	}
	s, x := textSize{22, false}, 60.0
	for _, l := range trimLetters {
		if !strings.Contains(shown, l.letter) {
			continue
		}
		v.text(textSize{22, true}, x, y, atStart, l.letter)
		x += float64(v.letters.width(textSize{22, true}, l.letter)) + 10
		v.text(s, x, y, atStart, l.role)
		x += float64(v.letters.width(s, l.role)) + 34
	}
	return x
}
