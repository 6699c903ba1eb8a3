package engine

import (
	"lapwright/engine/measure"
)

// revealBoards adds the boards that line the jambs and heads of openings: the
// head's as wide as the opening, the jambs' up to its underside (common practice)
// and down to the boards at a door or clear of a sill's horns.
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
			s.flag(Flag{Check, "reveal-wide", w.Plot, w.Name, o.Origin.At("Reveal mm"),
				"the lining of " + o.Name + " is " + width.String() + " mm wide, more than a board of " + product.Width.String(),
				"line it with two boards and a joint strip, or with another sheet"})
			width = product.Width
		}
		x := measure.Span{Lo: o.Left, Hi: o.Left + o.Width}
		foot := max(o.Sill, s.face.baseLine().Least(x))
		if len(v.Keep) > 1 {
			foot = max(foot, v.Keep[1].Z.Hi)
		}
		jamb := o.Sill + o.Height - product.Thickness - foot
		for _, side := range []struct {
			where  string
			length measure.Length
		}{{"left jamb", jamb}, {"right jamb", jamb}, {"head", o.Width}} {
			if side.length <= 0 {
				continue
			}
			for _, length := range evenly(side.length, product.Length) {
				n++
				w.Pieces = append(w.Pieces, Piece{
					Mark: w.Code + "-R" + itoa(n), Reveal: name(o.Name, side.where), Length: length, Width: width,
					Ripped: width < product.Width, Colour: s.colour, Code: product.Code, Quantity: s.quantity(),
				})
			}
		}
	}
}

// evenly cuts a length into the fewest equal parts that stock allows, to the
// millimetre.
func evenly(length, stock measure.Length) []measure.Length {
	if stock <= 0 || length <= stock {
		return []measure.Length{length}
	}
	n := (length + stock - 1) / stock
	var out []measure.Length
	for ; n > 0; n-- {
		part := (length / n).DownTo(measure.Millimetre)
		if n == 1 {
			part = length
		}
		out = append(out, part)
		length -= part
	}
	return out
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
