package drawing

import (
	"cmp"
	"slices"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// mark is a height of the wall's outline, above the datum, and what lies there.
type mark struct {
	z    measure.Length
	name string
}

// outlineMarks returns the heights by which a wall that is no rectangle is set
// out, from the highest: its sides, its apex, its base. The datum itself is drawn.
func outlineMarks(w *engine.WallResult) []mark {
	if len(w.Outline) == 0 || w.Outline.IsRect() {
		return nil
	}
	xs, zs := w.Outline.Bounds()
	names := map[measure.Length]string{}
	for _, c := range w.Outline {
		name := "base"
		switch {
		case !isTop(w.Outline, c, xs):
		case c.X == xs.Lo:
			name = "left"
		case c.X == xs.Hi:
			name = "right"
		case c.Z == zs.Hi:
			name = "apex"
		default:
			name = "top"
		}
		switch had := names[c.Z]; {
		case c.Z == 0 || had == name:
		case had == "" || had == "top":
			names[c.Z] = name
		case had == "left" && name == "right", had == "right" && name == "left":
			names[c.Z] = "sides"
		}
	}
	var out []mark
	for z, name := range names {
		out = append(out, mark{z, name})
	}
	slices.SortFunc(out, func(a, b mark) int { return cmp.Compare(b.z, a.z) })
	return out
}

// isTop reports whether the wall lies below a corner of its outline.
func isTop(outline measure.Polygon, c measure.Point, xs measure.Span) bool {
	const in = measure.Millimetre
	below := measure.Point{X: max(xs.Lo+in, min(xs.Hi-in, c.X)), Z: c.Z - 4*in}
	return outline.Holds(below)
}

// outlineBreaks returns where along a wall its top or its base changes, between
// its edges.
func outlineBreaks(w *engine.WallResult) []measure.Length {
	if len(w.Outline) == 0 {
		return nil
	}
	xs, _ := w.Outline.Bounds()
	var out []measure.Length
	for _, c := range w.Outline {
		if c.X > xs.Lo && c.X < xs.Hi {
			out = append(out, c.X)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// rightOf is how many pixels are kept right of the wall.
func rightOf(w *engine.WallResult) int {
	if len(outlineMarks(w)) > 0 {
		return marginRight + 120
	}
	return marginRight
}

// outlineHeights writes the heights of the outline right of the wall.
func (v *view) outlineHeights() {
	s, marks, x := textSize{24, false}, outlineMarks(v.w), v.right()
	at := make([]float64, len(marks))
	for i, m := range marks {
		at[i] = v.z(m.z)
	}
	texts := apart(at, float64(s.px)+4)
	for i, m := range marks {
		v.ink.level(x+8, x+34, at[i], weightDim, black)
		v.ink.line(point{x + 34, at[i]}, point{x + 60, texts[i]}, weightHidden, black)
		v.text(s, x+64, texts[i], atStart, m.name+" "+m.z.Nearest(measure.Millimetre).String())
	}
}
