package engine

import (
	"cmp"
	"slices"
	"strings"

	"lapwright/engine/measure"
	"lapwright/engine/trims"
)

// trimWall writes the trims, strips and tape of one wall, and the boards of
// its lined reveals.
func (t *takeoff) trimWall(s *stand, w *WallResult) {
	lines, butts := trims.Lines(t.trimsOf(s.face)), w.joints()
	w.Trims = make([]Trim, 0, len(lines)+8)
	for _, line := range lines {
		p := t.trimProduct(line, s.colour)
		at := line.From
		var seats trims.Seats
		if line.Length > p.Length { // only then is it joined
			seats = trims.Seats{On: w.seatsOf(line), Avoid: jointsBy(line, butts, s.face.width), Keep: t.rules.TrimJointLap, Least: t.rules.TrimLeast}
		}
		for _, length := range trims.Join(line.Length, p.Length, seats) {
			next := onward(line, at, length)
			w.Trims = append(w.Trims, Trim{
				Mark: w.Code + "-T" + itoa(len(w.Trims)+1), Role: p.Role, Code: p.Code, Colour: p.Colour,
				Where: line.Where, Length: length, From: at, To: next, Quantity: s.quantity(),
			})
			at = next
		}
		if line.Upright() && line.Role != trims.FrameTrim {
			w.Strips = append(w.Strips, t.tapes(line, s.face)...)
		}
	}
	for i := range w.Battens {
		if b := &w.Battens[i]; b.Why == "joint" {
			w.Strips = append(w.Strips, Strip{Role: RoleTape, Where: "joint batten " + b.Mark, Width: b.Width, Length: b.Z.Length()})
		}
	}
	t.revealBoards(s, w)
}

// tapes returns the tape behind an upright trim, as wide as the batten it lies
// on: at a corner one on each of its two battens.
func (t *takeoff) tapes(line trims.Line, f *face) []Strip {
	tape := Strip{Role: RoleTape, Where: line.Where, Width: t.rules.WideBattenWidth, Length: line.Length}
	switch {
	case line.Role == trims.ExternalCorner || line.Role == trims.InternalCorner:
		return []Strip{tape, tape}
	case line.Role == trims.EdgeTrim && (line.From.X == f.span.Lo || line.From.X == f.span.Hi):
		tape.Width = t.rules.BattenWidth
	}
	return []Strip{tape}
}

// seatsOf returns the battens that a line lies across and is fixed to, as
// distances from its start along it, to a tenth; none for a line along one.
func (w *WallResult) seatsOf(line trims.Line) []measure.Length {
	tr := Trim{Role: string(line.Role), From: line.From, To: line.To}
	if !tr.acrossBattens() {
		return nil
	}
	var out []measure.Length
	for _, x := range w.crossedBy(nil, &tr) {
		if line.From.X < x && x < line.To.X {
			out = append(out, ((x - line.From.X) * line.Length / (line.To.X - line.From.X)).DownTo(measure.Tenth))
		}
	}
	return out
}

// butt is where two boards are jointed: where the left one ends, and how high it
// is.
type butt struct {
	x measure.Length
	z measure.Span
}

// joints returns where the wall's boards are jointed, course by course.
func (w *WallResult) joints() []butt {
	var out []butt
	for i := range w.Pieces {
		if p := &w.Pieces[i]; p.Right.Kind == Joint {
			x, z := p.Outline.Bounds()
			out = append(out, butt{x.Hi, z})
		}
	}
	return out
}

// jointsBy returns where boards that a level trim touches are jointed, as
// distances from its left end. An upright or a sloping trim crosses courses and
// has no joints to keep off.
func jointsBy(line trims.Line, butts []butt, width measure.Length) []measure.Length {
	if line.From.Z != line.To.Z {
		return nil
	}
	var out []measure.Length
	near := measure.Span{Lo: line.From.Z, Hi: line.From.Z}.Grow(width / 2)
	for _, b := range butts {
		if !b.z.And(near).Empty() {
			out = append(out, b.x-line.From.X)
		}
	}
	return out
}

// onward returns the point length further along the line than at; its end for
// the last length, which may be rounded up.
func onward(line trims.Line, at measure.Point, length measure.Length) measure.Point {
	if rest := measure.Distance(at, line.To); length+measure.Tenth > rest {
		return line.To
	}
	return measure.Point{
		X: at.X + (line.To.X-line.From.X)*length/line.Length,
		Z: at.Z + (line.To.Z-line.From.Z)*length/line.Length,
	}
}

// trimProduct picks a trim's product in the wall's colour: of the stock lengths
// listed the one that needs the fewest lengths for this line, then the one that
// leaves least over.
func (t *takeoff) trimProduct(line trims.Line, colour string) Product {
	lines := t.catalogue.all(string(line.Role), colour)
	if len(lines) == 0 {
		return t.catalogue.pick(string(line.Role), colour)
	}
	number := func(p Product) measure.Length {
		if p.Length <= 0 {
			return 1
		}
		return (line.Length + p.Length - 1) / p.Length
	}
	return slices.MinFunc(lines, func(a, b Product) int {
		return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(number(a)*a.Length, number(b)*b.Length))
	})
}

// trimsOf states a wall for its trims.
func (t *takeoff) trimsOf(f *face) trims.Wall {
	w := trims.Wall{
		Base: f.base, Top: f.cladTop, Vented: true, Verge: f.wall.Top == Verge,
		Left:  trims.Side{Trim: t.sideTrim(f, true), Z: t.sideSpan(f, true)},
		Right: trims.Side{Trim: t.sideTrim(f, false), Z: t.sideSpan(f, false)},
	}
	for _, v := range f.voids {
		w.Openings = append(w.Openings, f.trimsOpening(v))
	}
	return w
}

func (f *face) trimsOpening(v Void) trims.Opening {
	o := v.Opening
	x, z := v.Frame[0].Bounds()
	out := trims.Opening{Name: o.Name, X: x, Z: z, Lined: o.Lined && o.Reveal > 0, Gap: v.Keep[0].Z.Hi - z.Hi,
		AtBase: z.Lo <= f.base.Most(x), AtTop: v.Keep[0].Z.Hi >= f.cladTop.Least(x)}
	if len(v.Frame) > 1 {
		out.Sill.X, out.Sill.Z = v.Frame[1].Bounds()
	}
	if out.AtBase {
		out.Z.Lo = max(z.Lo, f.base.Least(x))
	} else {
		out.Down = f.below(v.Keep[0].Z.Lo, z.Lo)
	}
	return out
}

// below returns how far the jamb trims run below a sill: to the bottom of the
// boards that stop at the jambs there, where the board under them reaches the
// sill without being cut a full lap.
func (f *face) below(keep, sill measure.Length) measure.Length {
	for k := len(f.marks) - 1; k > 0; k-- {
		if f.marks[k] < keep {
			if keep <= f.marks[k-1]+f.width {
				return sill - f.marks[k]
			}
			return 0
		}
	}
	return 0
}

// sideTrim returns the trim at a side of the wall. A corner belongs to the
// wall on its left, so that two walls that meet do not both order it.
func (t *takeoff) sideTrim(f *face, left bool) trims.Role {
	edge := f.wall.Right
	if left {
		edge = f.wall.Left
	}
	role := trims.EdgeTrim
	switch edge {
	case ExternalCorner:
		role = trims.ExternalCorner
	case InternalCorner:
		role = trims.InternalCorner
	default:
		return role
	}
	if left && t.neighbour(f, true) != nil {
		return ""
	}
	return role
}

// sideSpan returns what the trim at a side covers: the wall's own clad height
// there, and of a shared corner the other wall's too.
func (t *takeoff) sideSpan(f *face, left bool) measure.Span {
	span := f.sideHeight(left)
	if other := t.neighbour(f, left); other != nil && len(other.base) > 1 {
		o := other.sideHeight(!left)
		span = measure.Span{Lo: min(span.Lo, o.Lo), Hi: max(span.Hi, o.Hi)}
	}
	return span
}

func (f *face) sideHeight(left bool) measure.Span {
	x := f.span.Hi
	if left {
		x = f.span.Lo
	}
	return measure.Span{Lo: f.base.At(x), Hi: f.cladTop.At(x)}
}

// meet is how a wall is found from one it meets: by its own name, or by the one
// that its left or right edge is said to meet.
type meet struct {
	plot, name string
	by         byte // n, l or r
}

func meetOf(plot, name string, by byte) meet { return meet{plot, strings.ToLower(name), by} }

// index notes how a wall is found.
func (t *takeoff) index(f *face) {
	w := f.wall
	for _, m := range []meet{{w.Plot, w.Name, 'n'}, meetOf(w.Plot, w.LeftMeets, 'l'), meetOf(w.Plot, w.RightMeets, 'r')} {
		if m.name != "" {
			t.meets[m] = append(t.meets[m], f)
		}
	}
}

// neighbour returns the wall that meets a side at a corner, as either of the
// two says, or nil.
func (t *takeoff) neighbour(f *face, left bool) *face {
	named, back := f.wall.RightMeets, byte('l')
	if left {
		named, back = f.wall.LeftMeets, 'r'
	}
	m := meet{f.wall.Plot, named, 'n'}
	if named == "" {
		m = meetOf(f.wall.Plot, f.wall.Name, back)
	}
	for _, o := range t.meets[m] {
		if o != f && o.covered() {
			return o
		}
	}
	return nil
}

// flagOnce adds a flag unless one of its code stands at its place already.
func (f *face) flagOnce(g Flag) {
	for _, known := range f.flags {
		if known.Code == g.Code && known.Place == g.Place {
			return
		}
	}
	f.flags = append(f.flags, g)
}
