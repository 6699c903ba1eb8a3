package boards

import "lapwright/engine/measure"

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
