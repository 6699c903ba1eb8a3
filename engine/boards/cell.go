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
	parts := 0
	for i := range frees {
		if frees[i].holds(c.number) {
			parts++
		}
	}
	if parts == 0 {
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

// join finds which cells hang together and returns how many runs there are;
// each cell's owner is its run, numbered from the left.
func (c *course) join() int {
	if c.wall.HoleMost > 0 {
		c.slots()
	}
	for i := range c.cells {
		c.cells[i].owner = i
	}
	for j := range c.cells {
		for i := range j {
			if touch(&c.cells[i], &c.cells[j]) {
				c.unite(c.cells[i].owner, c.cells[j].owner)
			}
		}
	}
	return c.renumber()
}

// touch reports whether two cells share a stretch of an upright side.
func touch(a, b *cell) bool {
	if a.x.Hi == b.x.Lo {
		return a.slot == b.slot && min(a.hi.z[1], b.hi.z[0]) > max(a.lo.z[1], b.lo.z[0])
	}
	return b.x.Hi == a.x.Lo && touch(b, a)
}

// unite gives all cells of two owners the smaller of them.
func (c *course) unite(a, b int) {
	if a == b {
		return
	}
	for i := range c.cells {
		if o := c.cells[i].owner; o == a || o == b {
			c.cells[i].owner = min(a, b)
		}
	}
}

// renumber makes the owners 0, 1, 2 in the order of their first cells.
func (c *course) renumber() int {
	n := 0
	for i := range c.cells {
		if c.cells[i].owner == i {
			for j := i; j < len(c.cells); j++ {
				if c.cells[j].owner == i {
					c.cells[j].owner = ^n
				}
			}
			n++
		}
	}
	for i := range c.cells {
		c.cells[i].owner = ^c.cells[i].owner
	}
	return n
}

// slots marks the cells beside voids that are too long for a hole.
func (c *course) slots() {
	long := func(x measure.Span) bool {
		for _, s := range c.splits(-1) {
			if s.Lo <= x.Lo && x.Hi <= s.Hi && s.Length() > c.wall.HoleMost {
				return true
			}
		}
		return false
	}
	for i := range c.cells {
		c.cells[i].slot = c.cells[i].split && long(c.cells[i].x)
	}
}

// splits returns the stretches of x in which cells of the owner, or of any
// where owner < 0, stand one above the other; touching ones are joined.
func (c *course) splits(owner int) []measure.Span {
	var out []measure.Span
	for i := range c.cells {
		a := &c.cells[i]
		if !a.split || (owner >= 0 && a.owner != owner) {
			continue
		}
		for j := range i {
			b := &c.cells[j]
			x := a.x.And(b.x)
			if b.split && (owner < 0 || b.owner == owner) && !x.Empty() {
				out = merge(out, x)
			}
		}
	}
	return out
}

// merge adds a span to a list of spans that neither touch nor overlap.
func merge(list []measure.Span, s measure.Span) []measure.Span {
	out := list[:0:0]
	for _, t := range list {
		if t.Hi < s.Lo || s.Hi < t.Lo {
			out = append(out, t)
			continue
		}
		s = measure.Span{Lo: min(s.Lo, t.Lo), Hi: max(s.Hi, t.Hi)}
	}
	at := 0
	for at < len(out) && out[at].Lo < s.Lo {
		at++
	}
	out = append(out, measure.Span{})
	copy(out[at+1:], out[at:])
	out[at] = s
	return out
}
