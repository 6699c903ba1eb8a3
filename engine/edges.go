package engine

import (
	"strings"

	"lapwright/engine/measure"
	"lapwright/engine/trims"
)

// trimWall writes the trims, strips and tape of one wall, and the boards of
// its lined reveals.
func (t *takeoff) trimWall(s *stand, w *WallResult) {
	avoid := boardJoints(w)
	for _, line := range trims.Lines(t.trimsOf(s.face)) {
		p := t.trimProduct(line, s.colour)
		at := line.From
		for _, length := range trims.Join(line.Length, p.Length, avoid[line.Upright()], t.rules.TrimJointLap) {
			w.Trims = append(w.Trims, Trim{
				Mark: w.Code + "-T" + itoa(len(w.Trims)+1), Role: p.Role, Code: p.Code, Colour: p.Colour,
				Where: line.Where, Length: length, From: at, To: line.To, Quantity: s.quantity(),
			})
			at = onward(at, line, length)
		}
		if line.Upright() && (line.Role == trims.EdgeTrim || line.Role == trims.InternalCorner || line.Role == trims.ExternalCorner || line.Role == trims.UnequalCorner) {
			w.Strips = append(w.Strips, Strip{Role: RoleTape, Where: line.Where, Width: t.rules.WideBattenWidth, Length: line.Length})
		}
	}
	for i := range w.Battens {
		if b := &w.Battens[i]; b.Why == "joint" {
			w.Strips = append(w.Strips, Strip{Role: RoleTape, Where: "joint batten " + b.Mark, Width: b.Width, Length: b.Z.Length()})
		}
	}
	t.revealBoards(s, w)
}

// boardJoints returns where the boards' joints lie, as distances from the left
// end of the clad span for level trims; upright trims have none to avoid.
func boardJoints(w *WallResult) map[bool][]measure.Length {
	var xs []measure.Length
	for i := range w.Pieces {
		if w.Pieces[i].Right.Kind == Joint {
			x, _ := w.Pieces[i].Outline.Bounds()
			xs = append(xs, x.Hi-w.Clad.Top.Extent().Lo)
		}
	}
	return map[bool][]measure.Length{false: xs}
}

// onward returns the point length further along the line.
func onward(at measure.Point, line trims.Line, length measure.Length) measure.Point {
	return measure.Point{
		X: at.X + (line.To.X-line.From.X)*length/max(1, line.Length),
		Z: at.Z + (line.To.Z-line.From.Z)*length/max(1, line.Length),
	}
}

// trimProduct picks a trim's product: coloured roles in the wall's colour.
func (t *takeoff) trimProduct(line trims.Line, colour string) Product {
	return t.catalogue.pick(string(line.Role), colour)
}

// trimsOf states a wall for its trims.
func (t *takeoff) trimsOf(f *face) trims.Wall {
	w := trims.Wall{
		Top: f.cladTop, Vented: true, Verge: f.wall.Top == Verge,
		Left:  trims.Side{Trim: t.sideTrim(f, true), Z: t.sideSpan(f, true)},
		Right: trims.Side{Trim: t.sideTrim(f, false), Z: t.sideSpan(f, false)},
	}
	for i := 1; i < len(f.base); i++ {
		if a, b := f.base[i-1], f.base[i]; a.X < b.X {
			w.Base = append(w.Base, trims.Level{X: measure.Span{Lo: a.X, Hi: b.X}, Z: a.Z})
		}
	}
	for _, v := range f.voids {
		w.Openings = append(w.Openings, f.trimsOpening(v))
	}
	return w
}

func (f *face) trimsOpening(v Void) trims.Opening {
	o := v.Opening
	x, z := v.Frame[0].Bounds()
	out := trims.Opening{Name: o.Name, X: x, Z: z, Lined: o.Lined && o.Reveal > 0, SillRun: x,
		AtBase: z.Lo <= f.base.Most(x), AtTop: v.Keep[0].Z.Hi >= f.cladTop.Least(x)}
	if len(v.Frame) > 1 {
		out.SillRun, _ = v.Frame[1].Bounds()
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

// neighbour returns the wall that meets a side at a corner, as either of the
// two says, or nil.
func (t *takeoff) neighbour(f *face, left bool) *face {
	named := f.wall.RightMeets
	if left {
		named = f.wall.LeftMeets
	}
	for _, o := range t.byPlot[f.wall.Plot] {
		back := o.wall.LeftMeets
		if left {
			back = o.wall.RightMeets
		}
		if o != f && (o.wall.Name == named || (named == "" && strings.EqualFold(back, f.wall.Name))) {
			return o
		}
	}
	return nil
}

// revealBoards adds the boards that line the jambs and heads of openings.
func (t *takeoff) revealBoards(s *stand, w *WallResult) {
	n := 0
	for _, v := range w.Voids {
		o := v.Opening
		if !o.Lined || o.Reveal <= 0 {
			continue
		}
		product := t.revealProduct(s)
		width := o.Reveal + t.rules.BattenDepth + product.Thickness - t.rules.RevealTrims
		if width > product.Width {
			s.face.flagOnce(Flag{Check, "reveal-wide", w.Plot, w.Name, o.Origin.At("Reveal mm"),
				"the lining of " + o.Name + " is " + width.String() + " mm wide, more than a board of " + product.Width.String(),
				"line it with two boards and a joint strip, or with another sheet"})
			width = product.Width
		}
		for _, side := range []struct {
			where  string
			length measure.Length
		}{{"left jamb", o.Height}, {"right jamb", o.Height}, {"head", o.Width}} {
			n++
			w.Pieces = append(w.Pieces, Piece{
				Mark: w.Code + "-R" + itoa(n), Reveal: name(o.Name, side.where), Length: side.length, Width: width,
				Ripped: width < product.Width, Colour: s.colour, Code: product.Code, Quantity: s.quantity(),
			})
		}
	}
}

// revealProduct returns what reveals are lined with: a reveal board where the
// catalogue has one, else the wall's own board.
func (t *takeoff) revealProduct(s *stand) Product {
	if lines := t.catalogue.all(RoleReveal, s.colour); len(lines) > 0 {
		return lines[0]
	}
	if lines := t.catalogue.boards(t.board, t.job.Board != "", s.colour); len(lines) > 0 {
		return lines[0]
	}
	return t.board
}

// flagOnce adds a flag that several groups of dwellings would raise alike.
func (f *face) flagOnce(g Flag) {
	for _, known := range f.flags {
		if known.Code == g.Code && known.Place == g.Place {
			return
		}
	}
	f.flags = append(f.flags, g)
}
