package engine

import (
	"slices"
	"strings"

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

// loose is a corner end of a wall of which the survey does not say what it meets.
type loose struct {
	plot string
	kind Edge
	left bool
}

// looseEnd returns what is loose at a side of a wall, if that is a corner, and
// neither its own row nor another wall's says which walls meet there.
func (t *takeoff) looseEnd(f *face, left bool) (loose, bool) {
	kind, named, back := f.wall.Right, f.wall.RightMeets, byte('l')
	if left {
		kind, named, back = f.wall.Left, f.wall.LeftMeets, 'r'
	}
	corner := kind == ExternalCorner || kind == InternalCorner
	return loose{strings.ToLower(f.wall.Plot), kind, left},
		f.covered() && corner && named == "" && len(t.meets[meetOf(f.wall.Plot, f.wall.Name, back)]) == 0
}

// flagLooseCorners asks, once for the job, about loose ends that may be two of one
// corner: the right end of a wall and the left end of another of its plot. Nothing
// says that they are, so that each has the corner's trim.
func (t *takeoff) flagLooseCorners() {
	ends := map[loose][]*face{}
	for _, f := range t.faces {
		for _, left := range []bool{true, false} {
			if end, ok := t.looseEnd(f, left); ok {
				ends[end] = append(ends[end], f)
			}
		}
	}
	twice := func(f *face, left bool) bool {
		end, ok := t.looseEnd(f, left)
		end.left = !left
		return ok && slices.ContainsFunc(ends[end], func(o *face) bool { return !strings.EqualFold(o.wall.Name, f.wall.Name) })
	}
	var first *face
	var names []string
	for _, f := range t.faces {
		if !twice(f, true) && !twice(f, false) {
			continue
		}
		if n := name(f.wall.Plot, f.wall.Name); !slices.Contains(names, n) {
			names = append(names, n)
		}
		if first == nil {
			first = f
		}
	}
	if first == nil {
		return
	}
	header := "Right meets"
	if twice(first, true) {
		header = "Left meets"
	}
	first.flag(first.wall, Check, "corner-unnamed", header,
		"corners that are not said to meet a wall: where two of these walls meet, the corner's trim is counted and ordered twice, and their course lines may differ: "+listed(names),
		"write the name of the wall at that corner into Left meets or Right meets of one of the two; a corner with a wall that is not in the survey stays blank")
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
