package survey

import (
	"slices"
	"strconv"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// parseLengths reads lengths with a semicolon between and puts them in order.
func (r *reader) parseLengths(c book.Cell, f *templates.Field, u unit) (value, []finding) {
	if c.Kind != book.Text {
		return r.oneLength(c, f, u)
	}
	v := value{set: true, text: c.Text}
	for part := range strings.SplitSeq(strings.TrimRight(c.Text, "; "), ";") {
		one, found := r.parseNumeric(book.Cell{Kind: book.Text, Text: part}, lengthField(f), u)
		if !one.set {
			return value{}, found
		}
		v.list = append(v.list, one.length)
	}
	if f.Name != "Centres tried" {
		slices.Sort(v.list)
		v.list = slices.Compact(v.list)
	}
	return v, nil
}

func (r *reader) oneLength(c book.Cell, f *templates.Field, u unit) (value, []finding) {
	one, found := r.parseNumeric(c, lengthField(f), u)
	if one.set {
		one.list = []measure.Length{one.length}
	}
	return one, found
}

// lengthField is the field of a single length in a list.
func lengthField(f *templates.Field) *templates.Field {
	return &templates.Field{Name: f.Name, Type: "number", Unit: f.Unit}
}

// parsePoints reads "x,z; x,z": whole numbers in the field's unit, x never
// falling, at least two points.
func (r *reader) parsePoints(c book.Cell, f *templates.Field, u unit) (value, []finding) {
	text := r.plainText(c)
	v := value{set: true, text: text}
	for part := range strings.SplitSeq(strings.TrimRight(text, "; "), ";") {
		x, z, ok := strings.Cut(part, ",")
		px, found1 := r.parseNumeric(book.Cell{Kind: book.Text, Text: x}, lengthField(f), u)
		pz, found2 := r.parseNumeric(book.Cell{Kind: book.Text, Text: z}, lengthField(f), u)
		if !ok || !px.set || !pz.set || len(found1)+len(found2) > 0 {
			return value{}, stopAt("type-error", strconv.Quote(strings.TrimSpace(part))+" is no point x,z", "Write the points from left to right as x,z; x,z in "+f.Unit)
		}
		v.points = append(v.points, measure.Point{X: px.length, Z: pz.length})
	}
	rising := slices.IsSortedFunc(v.points, func(a, b measure.Point) int { return int(max(-1, min(1, a.X-b.X))) })
	if len(v.points) < 2 || !rising || v.points[0].X == v.points[len(v.points)-1].X {
		return value{}, stopAt("constraint-error", "The points do not run from left to right", "Give at least two points, x never falling")
	}
	return v, nil
}
