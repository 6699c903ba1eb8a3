package engine

import (
	"cmp"

	"lapwright/engine/battens"
	"lapwright/engine/boards"
	"lapwright/engine/measure"
)

// face is one surveyed wall on its way through the stages: everything about it
// that does not depend on the dwelling it is built in.
type face struct {
	wall *Wall
	shape
	width measure.Length   // of the board
	level measure.Length   // two heights nearer than this are one
	marks []measure.Length // bottoms of this wall's courses
	first int              // number of marks[0] on its level line, from 1

	base    measure.Profile // of the clad region, stepped on marks
	courses []Course
	targets []TargetResult
	advice  []string
	zones   []Zone
	assumed []string // what of the wind on it was not known
	wind    string   // the basis of the wind's pressure
	lines   []battens.Line
	centres []measure.Length // of the batten lines, rising
	runs    []boards.Run
	off     map[int]bool // runs that may be jointed on battens off the grid, as no layout on the grid covers them
}

// byName orders walls by plot and name, whatever the order of their rows.
func byName(a, b *face) int {
	return cmp.Or(cmp.Compare(a.wall.Plot, b.wall.Plot), cmp.Compare(a.wall.Name, b.wall.Name))
}

// covered reports whether the wall got as far as having courses.
func (f *face) covered() bool { return !f.stopped() && len(f.marks) > 0 }

// setCourses takes the marks this wall needs from those of its level line.
func (f *face) setCourses(line []measure.Length) {
	least, top := f.ground.Least(f.span), f.cladTop.Most(f.span)
	k := 0
	for k < len(line)-1 && (line[k] < least && !f.cutBase() || line[k+1] <= least) {
		k++ // boards that are cut to a roof may begin below it
	}
	n := k + 1
	for n < len(line) && top > line[n-1]+f.width {
		n++
	}
	f.marks, f.first = line[k:n], k+1
	f.courses = make([]Course, 0, n-k)
	for i, bottom := range f.marks {
		c := Course{Number: f.first + i, Bottom: bottom, Top: min(bottom+f.width, top)}
		if i+1 < len(f.marks) {
			c.Gauge = f.marks[i+1] - bottom
			c.Lap = f.width - c.Gauge
		}
		f.courses = append(f.courses, c)
	}
}
