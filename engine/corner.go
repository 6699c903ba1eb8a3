package engine

import (
	"slices"

	"lapwright/engine/measure"
)

// flagCorners says where two walls that meet start at different heights, and
// whether their course lines are level round the corner all the same.
func (t *takeoff) flagCorners() {
	for _, f := range t.faces {
		if !f.covered() {
			continue
		}
		o := t.neighbour(f, true)
		if o == nil {
			continue
		}
		here, there := f.sideHeight(true).Lo, o.sideHeight(false).Lo
		what := "boards start at " + here.String() + " mm at the left corner and at " + there.String() + " mm on " + o.wall.Name + ", which it meets there"
		switch {
		case !f.levelWith(o):
			f.flag(f.wall, Check, "corner-lines", "Base mm", what+": their course lines are not level round the corner",
				"check both bases, or give both walls one level line")
		case here != there:
			f.flag(f.wall, Note, "corner-bases", "Base mm", what+": their course lines are level, and one has courses below the other",
				"see that the ground steps at the corner, and that the corner trim starts at the lower one")
		}
	}
}

// levelWith reports whether the courses of two walls, as far as both have them,
// stand at the same heights.
func (f *face) levelWith(o *face) bool {
	from := max(f.marks[0], o.marks[0])
	above := func(marks []measure.Length) []measure.Length {
		i, _ := slices.BinarySearch(marks, from)
		return marks[i:]
	}
	a, b := above(f.marks), above(o.marks)
	n := min(len(a), len(b))
	return n == 0 || slices.Equal(a[:n], b[:n])
}
