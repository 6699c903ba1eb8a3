package boards

import "lapwright/engine/measure"

// Side says which side of an opening a strip lies on.
type Side int

// The sides: below a sill, above a head, or, without an opening, under the top
// of the region, where the last board is ripped.
const (
	Below Side = iota
	Above
	Top
)

// Strip is a part of a run that is thinner than the least strip: Left is the
// height that remains, at its highest. Void is the ID of the opening, -1 at
// the top.
type Strip struct {
	Void int
	Side Side
	X    measure.Span
	Left measure.Length
}

// Run is an unbroken stretch of one course, of one connected board if boards
// were endless.
type Run struct {
	Course  int            // index into the wall's marks
	Span    measure.Span   // its extent along x
	Z       measure.Span   // its extent along z
	Band    measure.Span   // the full board's heights; Z may be less
	Cutouts []Rect         // what openings take out of it, within Span and Z
	Fragile []Strip        // strips thinner than the least
	NoJoint []measure.Span // in these it passes below and above a hole: no joint
	Rip     measure.Length // least width under a level top below the full board; 0: none
	Short   bool           // shorter than the least piece

	cells []cell
	frame *frame
}

// frame holds the wall's outline: a slope n > 0 leads from Top[n-1] to the
// next point, n < 0 from Base[-n-1].
type frame struct{ base, top measure.Profile }

func (f *frame) slope(n int) measure.Segment {
	if n > 0 {
		return measure.Segment{A: f.top[n-1], B: f.top[n]}
	}
	return measure.Segment{A: f.base[-n-1], B: f.base[-n]}
}

// Runs returns the runs of every course, courses from the lowest, runs of a
// course from the left. A part that boards around it cover already is left
// out: the lap of a board hidden behind the next course above a head, the foot
// of a board under a sill that the course below reaches.
func Runs(w Wall) []Run {
	cols, frees := w.columns()
	f := &frame{w.Base, w.Top}
	c := course{wall: &w, cells: make([]cell, 0, 16), gaps: make([]gap, 0, 16)}
	n := len(w.Marks) // one run a course, and one more wherever a void parts it
	for _, v := range w.Voids {
		n += among(w.Marks, v.Z)
	}
	out := make([]Run, 0, n)
	var pool []cell
	for k := range w.Marks {
		c.reset(k)
		for n := range cols {
			if col := &cols[n]; col.holds(k) {
				c.column(n, col.x, frees[col.from:col.to])
			}
		}
		if cap(pool)-len(pool) < len(c.cells) { // the old one stays with its runs
			pool = make([]cell, 0, max(64, len(c.cells)))
		}
		for owner := range c.join() {
			from := len(pool)
			for i := range c.cells {
				if c.cells[i].owner == owner {
					pool = append(pool, c.cells[i])
				}
			}
			own := pool[from:len(pool):len(pool)]
			if c.idle(own) {
				pool = pool[:from]
				continue
			}
			r := Run{Course: k, Band: c.band(), cells: own, frame: f}
			out = append(out, c.finish(r, owner))
		}
	}
	return out
}

// idle reports whether the course below covers all of a run: the tip of a
// slope that ends within its lap.
func (c *course) idle(cells []cell) bool {
	if c.number == 0 {
		return false
	}
	reach := c.wall.top(c.number - 1)
	for i := range cells {
		if !cells[i].hung || cells[i].hi.most() > reach {
			return false
		}
	}
	return true
}

// finish fills in what a run's cells tell.
func (c *course) finish(r Run, owner int) Run {
	r.Span, r.Z = bounds(r.cells)
	r.NoJoint = c.splits(owner)
	r.Short = r.Span.Length() < c.wall.PieceLeast
	for _, g := range c.gaps {
		if c.bites(g, owner) {
			r.Cutouts = cut(r.Cutouts, Rect{g.X, g.Z.And(r.Z)})
		}
	}
	for i, s := range c.strips {
		if c.cells[c.frail[i]].owner == owner {
			r.Fragile = append(r.Fragile, s)
		}
	}
	for _, i := range c.rips {
		if left := c.cells[i].hi.z[0] - c.cells[i].lo.most(); c.cells[i].owner == owner && (r.Rip == 0 || left < r.Rip) {
			r.Rip = left
		}
	}
	return r
}

// bites reports whether the gap is a cut-out of that run: what it lies between
// is all of the run.
func (c *course) bites(g gap, owner int) bool {
	return (g.below < 0 || c.cells[g.below].owner == owner) &&
		(g.above < 0 || c.cells[g.above].owner == owner)
}

// cut adds a cut-out to the list, joined to one it carries on from.
func cut(list []Rect, r Rect) []Rect {
	if r.X.Empty() || r.Z.Empty() {
		return list
	}
	for i := range list {
		if list[i].X.Hi == r.X.Lo && list[i].Z == r.Z {
			list[i].X.Hi = r.X.Hi
			return list
		}
	}
	return append(list, r)
}

// bounds returns the extent of some cells.
func bounds(cells []cell) (x, z measure.Span) {
	x, z = cells[0].x, measure.Span{Lo: cells[0].lo.least(), Hi: cells[0].hi.most()}
	for i := range cells {
		c := &cells[i]
		x = measure.Span{Lo: min(x.Lo, c.x.Lo), Hi: max(x.Hi, c.x.Hi)}
		z = measure.Span{Lo: min(z.Lo, c.lo.least()), Hi: max(z.Hi, c.hi.most())}
	}
	return x, z
}

// Profiles returns the run's lower and upper edge as they would be without
// cut-outs.
func (r *Run) Profiles() (lower, upper measure.Profile) {
	return r.frame.base.Cut(r.Span).Clamp(r.Z.Lo, r.Z.Hi), r.frame.top.Cut(r.Span).Clamp(r.Z.Lo, r.Z.Hi)
}

// At returns the heights of the run's board at x, of both sides where it steps
// there; empty outside it and where it passes below and above a hole.
func (r *Run) At(x measure.Length) measure.Span {
	out := measure.Span{}
	for _, s := range r.NoJoint {
		if s.Holds(x) {
			return out
		}
	}
	for i := range r.cells {
		c := &r.cells[i]
		if !c.x.Holds(x) {
			continue
		}
		z := c.at(x)
		if !out.Empty() {
			z = measure.Span{Lo: min(z.Lo, out.Lo), Hi: max(z.Hi, out.Hi)}
		}
		out = z
	}
	return out
}

// Level returns the heights of the run's board at x, as At does, if both its
// edges are level for more than off to both sides of x; false if they are not,
// or where they step, end or pass a hole there.
func (r *Run) Level(x, off measure.Length) (measure.Span, bool) {
	around := measure.Span{Lo: x - off, Hi: x + off}
	for _, s := range r.NoJoint {
		if s.Lo <= around.Hi && around.Lo <= s.Hi {
			return measure.Span{}, false
		}
	}
	c := r.alone(around)
	if c == nil || c.lo.slope != 0 || c.hi.slope != 0 {
		return measure.Span{}, false
	}
	return measure.Span{Lo: c.lo.z[0], Hi: c.hi.z[0]}, true
}

// Lower returns how far from x, to the right for dir 1 and to the left for dir
// -1, the run's board surely stays lower than tall: it is so at every place
// nearer than that, and both its edges are straight for more than off to both
// sides of such a place. 0 where they are not at x itself, or the board is as
// tall.
func (r *Run) Lower(x, off, tall, dir measure.Length) measure.Length {
	c := r.alone(measure.Span{Lo: x - off, Hi: x + off})
	if c == nil {
		return 0
	}
	end := c.x.Hi - x - off
	if dir < 0 {
		end = x - off - c.x.Lo
	}
	const rounding = 2 * measure.Micrometre // of both edges, here and there
	short := tall - c.at(x).Length() - rounding
	gain := dir * (c.side(1).Length() - c.side(0).Length()) // over the cell's width
	switch {
	case short <= 0:
		return 0
	case gain <= 0:
		return end
	}
	return min(end, short*c.x.Length()/gain)
}

// alone returns the one cell that the span lies inside, nil if there is none or
// another is there too.
func (r *Run) alone(around measure.Span) *cell {
	var at *cell
	for i := range r.cells {
		switch c := &r.cells[i]; {
		case around.Hi < c.x.Lo || c.x.Hi < around.Lo:
		case at != nil || around.Lo <= c.x.Lo || c.x.Hi <= around.Hi:
			return nil
		default:
			at = c
		}
	}
	return at
}

// Ends says what holds the end pieces of a run.
type Ends struct {
	Battens []measure.Length // the centres, rising
	Tall    measure.Length   // a batten counts where the board over its centre is at least so high
	Reach   measure.Length   // beyond this from its end a run may be jointed within a raked cut
}

// Least returns how far from the run's left and right end the first and the
// last joint must stand for the end piece to be held by two battens, the
// joint's own and one more, and to keep some of its short edge beside a raked
// end, unless the slope is so slight that this is out of reach. Where no
// batten will do, it is the run's whole length.
func (r *Run) Least(e Ends) (first, last measure.Length) {
	return r.least(e, 1), r.least(e, -1)
}

// least is Least at the left end for dir 1, at the right for dir -1.
func (r *Run) least(e Ends, dir int) measure.Length {
	from, rake := r.Span.Lo, r.rakeEnd(dir)
	if dir < 0 {
		from = r.Span.Hi
	}
	away := func(x measure.Length) measure.Length { return measure.Length(dir) * (x - from) }
	held, near := 0, r.Span.Length() // near: the first place where two battens hold
	for k := range e.Battens {
		b := e.Battens[k]
		if dir < 0 {
			b = e.Battens[len(e.Battens)-1-k]
		}
		if r.height(b) < e.Tall {
			continue
		}
		if held++; held < 2 {
			continue
		}
		near = min(near, away(b))
		switch d := away(b); {
		case e.Reach > 0 && d > e.Reach:
			return near
		case d > away(rake):
			return d
		}
	}
	if e.Reach > 0 {
		return near
	}
	return r.Span.Length()
}

// height returns how high the run's board stands at x, the lesser side where
// it steps; 0 outside.
func (r *Run) height(x measure.Length) measure.Length {
	left, right := measure.Length(-1), measure.Length(-1)
	for i := range r.cells {
		c := &r.cells[i]
		if !c.x.Holds(x) {
			continue
		}
		tall := c.at(x).Length()
		if x > c.x.Lo {
			left = max(left, tall)
		}
		if x < c.x.Hi {
			right = max(right, tall)
		}
	}
	if left < 0 || right < 0 {
		return max(left, right, 0)
	}
	return min(left, right)
}

// rakeEnd returns where the raked cut at one end of the run stops: at the left
// for dir 1, at the right for dir -1. A board that is all slope has no such
// place; its end is returned.
func (r *Run) rakeEnd(dir int) measure.Length {
	at := r.Span.Lo
	if dir < 0 {
		at = r.Span.Hi
	}
	end := at
	for range r.cells {
		for i := range r.cells {
			c := &r.cells[i]
			near, far, l, r := c.x.Lo, c.x.Hi, 0, 1
			if dir < 0 {
				near, far, l, r = far, near, 1, 0
			}
			if near == end && (c.hi.z[l] < c.hi.z[r] || c.lo.z[l] > c.lo.z[r]) {
				end = far
			}
		}
	}
	if end == r.Span.Lo || end == r.Span.Hi {
		return at
	}
	return end
}
