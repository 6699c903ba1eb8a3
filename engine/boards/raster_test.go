package boards

import (
	"fmt"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// The raster knows two things: a course fills its band, less the voids and what
// is left by the region's edge; and a course covers what no other does. It looks
// at the middles of cells of a lattice on which all sides lie, and tells inside
// from outside by counting crossings to the right.

// lattice is a grid of cells cell wide and step high, from (0, low) on.
type lattice struct {
	cols, rows      int
	cell, step, low measure.Length
}

func (l lattice) at(c, r int) measure.Point {
	return measure.Point{X: measure.Length(c)*l.cell + l.cell/2, Z: l.low + measure.Length(r)*l.step + l.step/2}
}

func inside(p measure.Polygon, at measure.Point) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.Z > at.Z) != (b.Z > at.Z) && a.X == b.X && a.X > at.X {
			in = !in
		}
	}
	return in
}

func within(x, z measure.Span, at measure.Point) bool {
	return x.Lo < at.X && at.X < x.Hi && z.Lo < at.Z && at.Z < z.Hi
}

func (p Piece) covers(at measure.Point) bool {
	return inside(p.Outline, at) && !slices.ContainsFunc(p.Holes, func(h Rect) bool { return within(h.X, h.Z, at) })
}

// owners returns, cell by cell, which of the pieces covers it; -1 for none. Two
// pieces of one list never overlap.
func (l lattice) owners(t *testing.T, pieces []Piece) []int {
	out := make([]int, l.cols*l.rows)
	for i := range out {
		out[i] = -1
		for n, p := range pieces {
			if p.covers(l.at(i%l.cols, i/l.cols)) {
				if out[i] >= 0 {
					t.Errorf("pieces %d and %d of one course overlap", out[i], n)
				}
				out[i] = n
			}
		}
	}
	return out
}

// rasterWalls are three courses of 180 at gauges of 140 on a wall 500 wide, all of
// it on a lattice of 100 by 20: level, and with a base that steps up to the second
// mark at 300 under a top that steps down to 400 at 200.
func rasterWalls(voids ...Void) ([]Wall, lattice) {
	x := span(0, 500)
	level := Wall{Base: measure.Level(x, 0), Top: measure.Level(x, mm(460)), Marks: marks(0, 140, 2), Width: mm(180), Voids: voids}
	stepped := level
	stepped.Base = measure.Profile{{X: 0}, {X: mm(300)}, {X: mm(300), Z: mm(140)}, {X: mm(500), Z: mm(140)}}
	stepped.Top = measure.Profile{{X: 0, Z: mm(460)}, {X: mm(200), Z: mm(460)}, {X: mm(200), Z: mm(400)}, {X: mm(500), Z: mm(400)}}
	return []Wall{level, stepped}, lattice{5, 23, mm(100), mm(20), 0}
}

// TestEveryOpening tries every opening of the lattice, in and through every edge,
// in three courses.
func TestEveryOpening(t *testing.T) {
	for x0 := int64(-1); x0 < 6; x0++ {
		for x1 := x0 + 1; x1 <= 6; x1++ {
			for z0 := int64(-1); z0 < 23; z0++ {
				for z1 := z0 + 1; z1 <= 24; z1++ {
					rasterCheck(t, Void{1, span(100*x0, 100*x1), span(20*z0, 20*z1)})
				}
			}
		}
	}
}

// TestEveryTwoOpenings tries every two of the openings whose sills and heads lie
// at a mark, at a board's top, in a lap or in the field of a course.
func TestEveryTwoOpenings(t *testing.T) {
	heights := []int64{-20, 60, 140, 160, 180, 240, 340}
	var voids []Void
	for x0 := range int64(5) {
		for x1 := x0 + 1; x1 <= 5; x1++ {
			for i, z0 := range heights {
				for _, z1 := range heights[i+1:] {
					voids = append(voids, Void{len(voids), span(100*x0, 100*x1), span(z0, z1)})
				}
			}
		}
	}
	for i := range voids {
		for j := i % 7; j < i; j += 7 { // every seventh pair, each opening in many of them
			rasterCheck(t, voids[i], voids[j])
		}
	}
}

// rasterCheck holds the walls with these openings against the raster.
func rasterCheck(t *testing.T, voids ...Void) {
	t.Helper()
	walls, l := rasterWalls(voids...)
	for _, w := range walls {
		l.check(t, w)
	}
}

func (l lattice) check(t *testing.T, w Wall) {
	t.Helper()
	courses := make([][]Piece, len(w.Marks))
	for _, r := range Runs(w) {
		courses[r.Course] = append(courses[r.Course], r.Piece(r.Span))
	}
	layers := make([][]int, len(courses))
	for k := range courses {
		layers[k] = l.owners(t, courses[k])
	}
	for i := range l.cols * l.rows {
		if what := l.wrong(w, layers, i); what != "" {
			t.Errorf("cell %d, %d: %s", i%l.cols, i/l.cols, what)
		}
	}
	for k := range courses {
		for n, p := range courses[k] {
			cells := l.flood(layers[k], n)
			if want := 2 * int64(cells) * int64(l.cell) * int64(l.step); cells == 0 || p.Area2() != want {
				t.Errorf("piece %d of course %d: area %d, its connected cells make %d", n, k, p.Area2(), want)
			}
			if !alone(layers, k, n) {
				t.Errorf("piece %d of course %d covers nothing that another does not", n, k)
			}
		}
	}
	if t.Failed() {
		t.Fatal(describe(w))
	}
}

// wrong says what is wrong with a cell: covered by a course beyond its band or
// in an opening, not covered, left out of a course that goes on beside it, or
// parted from its neighbour in one course.
func (l lattice) wrong(w Wall, layers [][]int, i int) string {
	at := l.at(i%l.cols, i/l.cols)
	void := at.Z < w.Base.At(at.X) || at.Z > w.Top.At(at.X) || slices.ContainsFunc(w.Voids, func(v Void) bool { return within(v.X, v.Z, at) })
	n := 0
	for k, layer := range layers {
		if layer[i] < 0 {
			continue
		}
		n++
		if at.Z < w.Marks[k] || at.Z > w.Marks[k]+w.Width {
			return fmt.Sprintf("course %d leaves its band", k)
		}
		if right := i + 1; right%l.cols != 0 && layer[right] >= 0 && layer[right] != layer[i] {
			return fmt.Sprintf("course %d is parted where nothing parts it", k)
		}
	}
	lap := slices.ContainsFunc(w.Marks[1:], func(m measure.Length) bool { return m < at.Z && at.Z < m+mm(40) })
	switch {
	case void && n > 0:
		return "board in an opening or beyond the wall"
	case !void && n == 0:
		return "bare wall"
	case !void && !lap && n > 1:
		return "two boards off the laps"
	}
	return ""
}

// alone reports whether a piece of course k is the only one on some cell.
func alone(layers [][]int, k, n int) bool {
	for i, owner := range layers[k] {
		if owner == n && !slices.ContainsFunc(layers, func(l []int) bool { return &l[0] != &layers[k][0] && l[i] >= 0 }) {
			return true
		}
	}
	return false
}

// flood counts the cells of piece n that hang together with its first one.
func (l lattice) flood(layer []int, n int) int {
	first := slices.Index(layer, n)
	if first < 0 {
		return 0
	}
	seen := make([]bool, len(layer))
	stack, cells := []int{first}, 0
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[i] || layer[i] != n {
			continue
		}
		seen[i] = true
		cells++
		if i%l.cols > 0 {
			stack = append(stack, i-1)
		}
		if i%l.cols < l.cols-1 {
			stack = append(stack, i+1)
		}
		if i >= l.cols {
			stack = append(stack, i-l.cols)
		}
		if i+l.cols < len(layer) {
			stack = append(stack, i+l.cols)
		}
	}
	return cells
}
