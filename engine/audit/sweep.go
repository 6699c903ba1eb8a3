package audit

import (
	"slices"

	"lapwright/engine/measure"
)

// sweep goes over a wall in upright slabs, between one x at which anything
// begins or ends and the next. Inside a slab every edge is one straight line,
// so what holds at its two sides holds all over it.
type sweep struct {
	others []trapezoid  // voids and joint gaps
	all    []*trapezoid // with the pieces', by xs.Lo
	xs     []measure.Length
	over   []bar // those over the slab at hand, upwards
	voids  []int // those of them that are voids

	slab      measure.Span
	base, top rim
	bare      []patch
}

// rim is the region's lower or upper edge at the slab's two sides.
type rim struct{ z0, z1, play measure.Length }

// bar is a trapezoid within one slab: its heights at the slab's two sides.
type bar struct {
	*trapezoid
	lo0, lo1, hi0, hi1 measure.Length
}

// patch is a part of the region that nothing covers.
type patch struct{ xs, zs measure.Span }

func (b *bar) lowPlay() measure.Length  { return b.trapezoid.lo.play }
func (b *bar) highPlay() measure.Length { return b.trapezoid.hi.play }

// cover runs the sweep: region, voids, overlaps, edges, laps and cover.
func (s *site) cover() {
	sw := &s.sweep
	s.collect()
	sw.over, sw.bare = sw.over[:0], sw.bare[:0]
	next, nb, nt := 0, 0, 0
	for i := 1; i < len(sw.xs); i++ {
		sw.slab = measure.Span{Lo: sw.xs[i-1], Hi: sw.xs[i]}
		next = sw.enter(next)
		for nb < len(s.base)-1 && s.base[nb].b.X <= sw.slab.Lo {
			nb++
		}
		for nt < len(s.top)-1 && s.top[nt].b.X <= sw.slab.Lo {
			nt++
		}
		if !s.beside() {
			sw.base, sw.top = sw.at(&s.base[nb]), sw.at(&s.top[nt])
			s.slab()
		}
	}
	for _, b := range sw.bare {
		s.r.add("", "uncovered", "nothing covers x %v to %v, z %v to %v", b.xs.Lo, b.xs.Hi, b.zs.Lo, b.zs.Hi)
	}
}

// collect gathers all trapezoids and all x of the wall.
func (s *site) collect() {
	sw := &s.sweep
	sw.others, sw.all, sw.xs = sw.others[:0], sw.all[:0], sw.xs[:0]
	for _, v := range s.w.Voids {
		sw.others = append(sw.others, box(v, ofVoid, 0))
	}
	for i, g := range s.gaps {
		sw.others = append(sw.others, box(g, ofGap, s.joints[i].course))
	}
	for _, list := range [2][]trapezoid{s.parts, sw.others} {
		for i := range list {
			sw.all = append(sw.all, &list[i])
			sw.xs = append(sw.xs, list[i].xs.Lo, list[i].xs.Hi)
		}
	}
	slices.SortStableFunc(sw.all, func(a, b *trapezoid) int { return int(a.xs.Lo - b.xs.Lo) })
	for _, ls := range [2][]line{s.base, s.top} {
		for i := range ls {
			sw.xs = append(sw.xs, ls[i].a.X, ls[i].b.X)
		}
	}
	slices.Sort(sw.xs)
	sw.xs = slices.Compact(sw.xs)
}

func (sw *sweep) at(l *line) rim {
	return rim{l.at(sw.slab.Lo), l.at(sw.slab.Hi), l.play}
}

// enter drops what ended before the slab, adds what begins at it, from index
// next of all, and puts the bars in order upwards.
func (sw *sweep) enter(next int) int {
	sw.over = slices.DeleteFunc(sw.over, func(b bar) bool { return b.xs.Hi <= sw.slab.Lo })
	for ; next < len(sw.all) && sw.all[next].xs.Lo <= sw.slab.Lo; next++ {
		if t := sw.all[next]; t.xs.Hi > sw.slab.Lo {
			sw.over = append(sw.over, bar{trapezoid: t})
		}
	}
	for i := range sw.over {
		b := &sw.over[i]
		b.lo0, b.lo1 = b.lo.at(sw.slab.Lo), b.lo.at(sw.slab.Hi)
		b.hi0, b.hi1 = b.hi.at(sw.slab.Lo), b.hi.at(sw.slab.Hi)
		for j := i; j > 0 && sw.over[j].under(&sw.over[j-1]); j-- {
			sw.over[j], sw.over[j-1] = sw.over[j-1], sw.over[j]
		}
	}
	sw.voids = sw.voids[:0]
	for i := range sw.over {
		if sw.over[i].kind == ofVoid {
			sw.voids = append(sw.voids, i)
		}
	}
	return next
}

func (b *bar) under(c *bar) bool { return b.lo0+b.lo1 < c.lo0+c.lo1 }

// beside handles a slab outside the region's span: no piece belongs there.
func (s *site) beside() bool {
	whole := extent(s.base)
	if whole.Lo <= s.sweep.slab.Lo && s.sweep.slab.Hi <= whole.Hi {
		return false
	}
	for i := range s.sweep.over {
		if b := &s.sweep.over[i]; b.kind == ofPiece {
			s.outside(b)
		}
	}
	return true
}

func (s *site) outside(b *bar) {
	s.r.once(s.w.Pieces[b.piece].Mark, "outside", "it leaves the clad region at x %v to %v",
		s.sweep.slab.Lo, s.sweep.slab.Hi)
}

// slab checks one slab inside the region's span.
func (s *site) slab() {
	sw := &s.sweep
	for i := range sw.over {
		b := &sw.over[i]
		if b.kind != ofPiece {
			continue
		}
		s.within(b)
		s.apart(i)
		s.edges(b)
		s.lap(i)
	}
	s.climb()
}

// within checks a piece against the region and the voids.
func (s *site) within(b *bar) {
	sw := &s.sweep
	low, high := b.lowPlay()+sw.base.play, b.highPlay()+sw.top.play
	if b.lo0 < sw.base.z0-low || b.lo1 < sw.base.z1-low ||
		b.hi0 > sw.top.z0+high || b.hi1 > sw.top.z1+high {
		s.outside(b)
	}
	for _, i := range sw.voids {
		if v := &sw.over[i]; v.meets(b) {
			s.r.once(s.w.Pieces[b.piece].Mark, "void", "it enters the void over x %v to %v, z %v to %v",
				v.xs.Lo, v.xs.Hi, v.lo0, v.hi0)
		}
	}
}

// apart checks a piece against the next one below of its own course. Where
// any two of a course overlap, two that follow each other upwards do.
func (s *site) apart(i int) {
	b := &s.sweep.over[i]
	for j := i - 1; j >= 0; j-- {
		c := &s.sweep.over[j]
		if c.course != b.course || c.kind == ofVoid {
			continue
		}
		if c.kind == ofPiece && c.piece != b.piece && b.meets(c) {
			s.r.once(s.w.Pieces[b.piece].Mark, "overlap", "it overlaps %s from x %v to %v",
				s.w.Pieces[c.piece].Mark, s.sweep.slab.Lo, s.sweep.slab.Hi)
		}
		return
	}
}

// meets reports whether two bars share more than an edge anywhere in the
// slab: whether, at some x, each one's lower edge is below the other's upper.
func (b *bar) meets(c *bar) bool {
	p, q := c.highPlay()+b.lowPlay(), b.highPlay()+c.lowPlay()
	return bothAbove([2]measure.Length{c.hi0 - b.lo0 - p, c.hi1 - b.lo1 - p},
		[2]measure.Length{b.hi0 - c.lo0 - q, b.hi1 - c.lo1 - q})
}

// bothAbove reports whether two linear functions, given by their values at the
// ends of one stretch, are both above 0 at one place of it.
func bothAbove(f, g [2]measure.Length) bool {
	switch {
	case f[0] > 0 && g[0] > 0, f[1] > 0 && g[1] > 0:
		return true
	case f[0] > 0 && g[1] > 0: // f above 0 up to f0/(f0-f1), g from -g0/(g1-g0)
		return f[0]*(g[1]-g[0]) > -g[0]*(f[0]-f[1])
	case f[1] > 0 && g[0] > 0:
		return g[0]*(f[1]-f[0]) > -f[0]*(g[0]-g[1])
	}
	return false
}
