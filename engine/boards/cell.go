package boards

import "lapwright/engine/measure"

// cell is a part of one course with straight upright sides: what its board
// fills of a free stretch, over one column or several in a row.
type cell struct {
	x      measure.Span
	lo, hi line
	last   int  // the column it ends in
	split  bool // another part of the same course stands above or below it
	hung   bool // the course below fills the same free stretch
	slot   bool // beside a void too long to be a hole in one board
	owner  int  // the run it belongs to
}

// gap is what is left out between the cells of one column of a course; below
// and above are the cells it lies between, -1 at the board's own edge.
type gap struct {
	Rect
	below, above int
}

// course gathers the parts of one course.
type course struct {
	wall   *Wall
	number int
	cells  []cell
	gaps   []gap
	strips []Strip
	frail  []int // the cell each strip belongs to
	rips   []int // cells that end at a level top within the board
}

// band returns the heights of the full board.
func (c *course) band() measure.Span {
	return measure.Span{Lo: c.wall.Marks[c.number], Hi: c.wall.top(c.number)}
}

// reset makes ready for the next course and keeps the memory.
func (c *course) reset(k int) {
	*c = course{wall: c.wall, number: k, cells: c.cells[:0], gaps: c.gaps[:0], frail: c.frail[:0], rips: c.rips[:0]}
}

// column adds what the course fills of one column.
func (c *course) column(n int, x measure.Span, frees []free) {
	parts, one := 0, 0
	for i := range frees {
		if frees[i].holds(c.number) {
			parts, one = parts+1, i
		}
	}
	if parts == 0 || parts == 1 && c.goesOn(n, x, &frees[one]) {
		return
	}
	before, band := -1, c.band()
	edge := band.Lo
	for i := range frees {
		f := &frees[i]
		if !f.holds(c.number) {
			continue
		}
		lo, hi := f.low.clamp(band.Lo, band.Hi), f.high.clamp(band.Lo, band.Hi)
		if lo.twice() >= hi.twice() {
			continue
		}
		at := c.add(cell{x: x, lo: lo, hi: hi, last: n, split: parts > 1, hung: f.first < c.number})
		if f.under > 0 && lo.most() > edge {
			c.gaps = append(c.gaps, gap{Rect{x, measure.Span{Lo: edge, Hi: lo.most()}}, before, at})
		}
		before, edge = at, hi.least()
		c.note(at, x, f)
		if f.over == 0 {
			return
		}
	}
	if before >= 0 && edge < band.Hi {
		c.gaps = append(c.gaps, gap{Rect{x, measure.Span{Lo: edge, Hi: band.Hi}}, before, -1})
	}
}

// goesOn deals with the column most walls are made of, one where a full board
// simply carries on, and reports whether this is one.
func (c *course) goesOn(n int, x measure.Span, f *free) bool {
	last := len(c.cells) - 1
	if c.number < f.full || c.number > f.fullLast || last < 0 {
		return false
	}
	p := &c.cells[last]
	if p.last != n-1 || p.split || !c.whole(p) {
		return false
	}
	p.x.Hi, p.last = x.Hi, n
	return true
}

// whole reports whether the cell is as high as the full board.
func (c *course) whole(p *cell) bool {
	band := c.band()
	return p.lo.most() == band.Lo && p.hi.least() == band.Hi
}

// holds reports whether course k fills part of the stretch.
func (f *free) holds(k int) bool { return f.first <= k && k <= f.last }

// add appends the cell or lengthens the one it carries straight on from, and
// returns its index.
func (c *course) add(n cell) int {
	for i := len(c.cells) - 1; i >= 0; i-- {
		p := &c.cells[i]
		if p.x.Hi == n.x.Lo && p.split == n.split && p.hung == n.hung &&
			follows(p.lo, n.lo) && follows(p.hi, n.hi) {
			p.x.Hi, p.lo.z[1], p.hi.z[1], p.last = n.x.Hi, n.lo.z[1], n.hi.z[1], n.last
			return i
		}
	}
	c.cells = append(c.cells, n)
	return len(c.cells) - 1
}

// follows reports whether b is the straight continuation of a.
func follows(a, b line) bool { return a.slope == b.slope && a.z[1] == b.z[0] }

// note records that cell i is a strip left by a void or a ripped top.
func (c *course) note(i int, x measure.Span, f *free) {
	band := c.band()
	short, raised := f.high.least() < band.Hi, f.low.most() > band.Lo
	if !short && !raised {
		return
	}
	hi, lo := f.high.clamp(band.Lo, band.Hi), f.low.clamp(band.Lo, band.Hi)
	left := max(hi.z[0]-lo.z[0], hi.z[1]-lo.z[1])
	if f.over > 0 && short {
		c.strip(i, Strip{Void: c.wall.Voids[f.over-1].ID, Side: Below, X: x, Left: left})
	} else if f.under > 0 && raised {
		c.strip(i, Strip{Void: c.wall.Voids[f.under-1].ID, Side: Above, X: x, Left: left})
	}
	if f.over == 0 && hi.slope == 0 && short {
		c.rips = append(c.rips, i)
		c.strip(i, Strip{Void: -1, Side: Top, X: x, Left: left})
	}
}

// strip records a fragile strip, or lengthens the one it carries on from.
func (c *course) strip(i int, s Strip) {
	if s.Left >= c.wall.StripLeast {
		return
	}
	for j := range c.strips {
		t := &c.strips[j]
		if t.X.Hi == s.X.Lo && t.Void == s.Void && t.Side == s.Side && t.Left == s.Left {
			t.X.Hi = s.X.Hi
			return
		}
	}
	c.strips = append(c.strips, s)
	c.frail = append(c.frail, i)
}
