package boards

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// A wall is worked in columns: stretches of x over which its base and top are
// straight, no opening begins or ends, and no slope crosses a height that
// matters. In a column the openings leave some upright stretches free, and
// each of them is filled by a few courses.

// column is one stretch of x; its free stretches are rows from..to of the list.
// No course below first or above last fills any of them.
type column struct {
	x           measure.Span
	from, to    int
	first, last int
}

// holds reports whether course k may fill part of the column.
func (c *column) holds(k int) bool { return c.first <= k && k <= c.last }

// line is a straight boundary across a column, z[0] at its left and z[1] at
// its right. slope numbers the sloped part of the wall's outline it lies on,
// see [frame]; 0 means level.
type line struct {
	z     [2]measure.Length
	slope int
}

func level(z measure.Length) line { return line{z: [2]measure.Length{z, z}} }

func (l line) twice() measure.Length { return l.z[0] + l.z[1] }
func (l line) least() measure.Length { return min(l.z[0], l.z[1]) }
func (l line) most() measure.Length  { return max(l.z[0], l.z[1]) }

// clamp returns the line held between lo and hi. In a column a slope never
// crosses either, so the result is straight again.
func (l line) clamp(lo, hi measure.Length) line {
	if l.slope == 0 {
		return level(min(max(l.z[0], lo), hi))
	}
	z := [2]measure.Length{min(max(l.z[0], lo), hi), min(max(l.z[1], lo), hi)}
	if z[0] == z[1] {
		return level(z[0])
	}
	return line{z, l.slope}
}

// free is an upright stretch of a column that boards fill, from low to high.
// under and over are the voids that bound it, as index + 1; 0 where the
// region's own edge does. Courses first..last fill it, full..fullLast of them
// with their whole board.
type free struct {
	low, high      line
	under, over    int
	first, last    int
	full, fullLast int
}

// knot is a point of a profile with the number of the slope that leads to the
// next point.
type knot struct {
	measure.Point
	slope int
}

// refine returns the profile with a knot wherever a slope crosses one of the
// heights. sign tells the slopes of the top (1) from those of the base (-1).
func refine(p measure.Profile, heights []measure.Length, sign int) []knot {
	out := make([]knot, 0, len(p)+8)
	for i, a := range p {
		if i == len(p)-1 || a.X == p[i+1].X || a.Z == p[i+1].Z {
			out = append(out, knot{a, 0})
			continue
		}
		s, id := measure.Segment{A: a, B: p[i+1]}, sign*(i+1)
		out = append(out, knot{a, id})
		from, _ := slices.BinarySearch(heights, min(s.A.Z, s.B.Z)+1)
		to, _ := slices.BinarySearch(heights, max(s.A.Z, s.B.Z))
		for n := range to - from {
			z := heights[from+n]
			if s.A.Z > s.B.Z {
				z = heights[to-1-n]
			}
			out = append(out, knot{measure.Point{X: s.Cross(z), Z: z}, id})
		}
	}
	return out
}

// heights returns every height at which a slope changes what it bounds: the
// bottoms and tops of boards, the sills and heads of voids.
func (w *Wall) heights() []measure.Length {
	out := make([]measure.Length, 0, 2*(len(w.Marks)+len(w.Voids)))
	for _, m := range w.Marks {
		out = append(out, m, m+w.Width)
	}
	for _, v := range w.Voids {
		out = append(out, v.Z.Lo, v.Z.Hi)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// walk reads a refined profile from left to right.
type walk struct {
	knots []knot
	at    int
}

// over returns the profile's line over x, which no knot interrupts. Columns
// are asked for from left to right.
func (w *walk) over(x measure.Span) line {
	for w.at+2 < len(w.knots) && w.knots[w.at+1].X <= x.Lo {
		w.at++
	}
	a, b := w.knots[w.at], w.knots[w.at+1]
	if a.slope == 0 {
		return level(a.Z)
	}
	s := measure.Segment{A: a.Point, B: b.Point}
	l := line{[2]measure.Length{s.At(x.Lo), s.At(x.Hi)}, a.slope}
	if l.z[0] == l.z[1] {
		return level(l.z[0])
	}
	return l
}

// columns cuts the wall into columns and lists their free stretches, lowest
// first.
func (w *Wall) columns() ([]column, []free) {
	heights := w.heights()
	base := walk{knots: refine(w.Base, heights, -1)}
	top := walk{knots: refine(w.Top, heights, 1)}
	xs := w.edges(base.knots, top.knots)
	voids := w.rising()
	cols := make([]column, 0, len(xs))
	n := len(xs)
	for _, v := range w.Voids {
		n += among(xs, v.X)
	}
	frees := make([]free, 0, n)
	for i := 1; i < len(xs); i++ {
		c := column{x: measure.Span{Lo: xs[i-1], Hi: xs[i]}, from: len(frees), first: len(w.Marks), last: -1}
		frees = w.gaps(frees, voids, c.x, [2]line{base.over(c.x), top.over(c.x)})
		c.to = len(frees)
		for _, f := range frees[c.from:] {
			c.first, c.last = min(c.first, f.first), max(c.last, f.last)
		}
		cols = append(cols, c)
	}
	return cols, frees
}

// edges returns the sides of the columns, from left to right.
func (w *Wall) edges(base, top []knot) []measure.Length {
	span := w.span()
	xs := make([]measure.Length, 0, len(base)+len(top)+2*len(w.Voids))
	add := func(x measure.Length) {
		if span.Holds(x) {
			xs = append(xs, x)
		}
	}
	for _, k := range base {
		add(k.X)
	}
	for _, k := range top {
		add(k.X)
	}
	for _, v := range w.Voids {
		add(v.X.Lo)
		add(v.X.Hi)
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// rising returns the indexes of the voids that hold anything, by sill.
func (w *Wall) rising() []int {
	out := make([]int, 0, len(w.Voids))
	for i, v := range w.Voids {
		if !v.X.Empty() && !v.Z.Empty() {
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		return cmp.Or(cmp.Compare(w.Voids[a].Z.Lo, w.Voids[b].Z.Lo), cmp.Compare(a, b))
	})
	return out
}

// gaps appends the free stretches of one column, given its base and top. Knots
// stand wherever a slope passes a sill or a head, so each void lies wholly on
// one side of a slope; doubled middles compare them past the rounding.
func (w *Wall) gaps(out []free, voids []int, x measure.Span, region [2]line) []free {
	low, top, under := region[0], region[1], 0
	for _, i := range voids {
		v := w.Voids[i]
		if v.X.Lo > x.Lo || v.X.Hi < x.Hi || 2*v.Z.Hi <= low.twice() {
			continue
		}
		if 2*v.Z.Lo >= top.twice() {
			break
		}
		if 2*v.Z.Lo > low.twice() {
			out = append(out, w.fill(free{low: low, high: level(v.Z.Lo), under: under, over: i + 1}))
		}
		low, under = level(v.Z.Hi), i+1
	}
	if top.twice() > low.twice() {
		out = append(out, w.fill(free{low: low, high: top, under: under}))
	}
	return out
}

// fill says which courses fill a free stretch. The lowest is the last whose
// board starts at or below it, the highest the first that reaches its upper
// edge; on a slope, boards run on to where the slope cuts them to nothing, so
// that one straight cut makes the end.
func (w *Wall) fill(f free) free {
	n := len(w.Marks)
	if f.low.slope == 0 {
		f.first = max(0, sortedBelow(w.Marks, f.low.z[0]+1)-1)
	} else {
		f.first = min(n-1, sortedBelow(w.Marks, f.low.least()-w.Width+1))
	}
	if f.high.slope == 0 {
		f.last = min(n-1, sortedBelow(w.Marks, f.high.z[0]-w.Width))
	} else {
		f.last = max(0, sortedBelow(w.Marks, f.high.most())-1)
	}
	// A stretch that lies wholly in one lap could hang on either board; the
	// lower one is fixed first.
	f.first = min(f.first, f.last)
	f.full = max(f.first, sortedBelow(w.Marks, f.low.most()))
	f.fullLast = min(f.last, sortedBelow(w.Marks, f.high.least()-w.Width+1)-1)
	return f
}

// among returns how many of the rising lengths lie in a span, its upper end left
// out.
func among(rising []measure.Length, s measure.Span) int {
	return max(0, sortedBelow(rising, s.Hi)-sortedBelow(rising, s.Lo))
}

// sortedBelow returns how many of the rising lengths lie below z.
func sortedBelow(rising []measure.Length, z measure.Length) int {
	n, _ := slices.BinarySearch(rising, z)
	return n
}
