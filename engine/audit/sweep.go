package audit

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// far lies beyond everything on a wall.
const far = measure.Length(1) << 40

// sweep goes over a wall in bands, each from one course's lower mark up to the
// next, and over a band in upright slabs, between one x at which anything begins
// or ends and the next. Inside a slab every edge is one straight line, so what
// holds at its two sides holds all over it. A band meets its own course and what
// reaches into it from below, so that its slabs are few and low.
type sweep struct {
	boxes []trapezoid  // voids, then joint gaps course by course
	all   []*trapezoid // what stands in the band, by xs.Lo
	over  []bar        // those over the slab at hand, upwards
	voids []int        // those of them that are voids

	course    int // whose band it is; 0 where there are none
	band      measure.Span
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
	sw.boxes, sw.bare = sw.boxes[:0], sw.bare[:0]
	for _, v := range s.w.Voids {
		sw.boxes = append(sw.boxes, box(v, ofVoid, 0))
	}
	for i, g := range s.gaps {
		sw.boxes = append(sw.boxes, box(g, ofGap, s.joints[i].course))
	}
	n := len(s.w.Courses)
	for c := min(1, n); c <= n; c++ {
		sw.course, sw.band = c, measure.Span{Lo: -far, Hi: far}
		if c > 1 {
			sw.band.Lo = s.w.Courses[c-1].Bottom
		}
		if c < n {
			sw.band.Hi = s.w.Courses[c].Bottom
		}
		s.collect()
		s.along()
	}
	for _, b := range sw.bare {
		s.r.add("", "uncovered", "nothing covers x %v to %v, z %v to %v", b.xs.Lo, b.xs.Hi, b.zs.Lo, b.zs.Hi)
	}
}

// collect gathers what stands in the band: the pieces of its course and of those
// that reach into it from below, the gaps of their joints, and the voids that
// the band or a piece of its course meets.
func (s *site) collect() {
	sw := &s.sweep
	sw.all = sw.all[:0]
	lowest, zs := sw.course, sw.band
	for lowest > 1 && (lowest == sw.course || s.w.Courses[lowest-2].Top > sw.band.Lo) {
		lowest--
	}
	for c := max(1, lowest); c <= sw.course; c++ {
		for _, i := range s.byCourse[c] {
			if f := &s.faces[i]; c == sw.course {
				zs = measure.Span{Lo: min(zs.Lo, f.zs.Lo), Hi: max(zs.Hi, f.zs.Hi)}
			}
			for k := range s.of(i) {
				sw.add(&s.of(i)[k])
			}
		}
	}
	voids, gaps := sw.boxes[:len(s.w.Voids)], sw.boxes[len(s.w.Voids):]
	for i := range voids {
		if v := &voids[i]; v.lo.a.Z <= zs.Hi && v.hi.a.Z >= zs.Lo {
			sw.add(v)
		}
	}
	from, _ := slices.BinarySearchFunc(gaps, lowest, func(g trapezoid, c int) int { return cmp.Compare(g.course, c) })
	for i := from; i < len(gaps) && gaps[i].course <= sw.course; i++ {
		sw.add(&gaps[i])
	}
}

// add keeps what is gathered in the order in which it begins.
func (sw *sweep) add(t *trapezoid) {
	sw.all = append(sw.all, t)
	for i := len(sw.all) - 1; i > 0 && t.xs.Lo < sw.all[i-1].xs.Lo; i-- {
		sw.all[i], sw.all[i-1] = sw.all[i-1], t
	}
}

// along goes over the band slab by slab.
func (s *site) along() {
	sw := &s.sweep
	sw.over = sw.over[:0]
	sw.slab.Hi = s.base[0].a.X
	if len(sw.all) > 0 {
		sw.slab.Hi = min(sw.slab.Hi, sw.all[0].xs.Lo)
	}
	for next, nb, nt := 0, 0, 0; ; {
		sw.slab.Lo = sw.slab.Hi
		next = sw.enter(next)
		for nb < len(s.base)-1 && s.base[nb].b.X <= sw.slab.Lo {
			nb++
		}
		for nt < len(s.top)-1 && s.top[nt].b.X <= sw.slab.Lo {
			nt++
		}
		base, top := &s.base[nb], &s.top[nt]
		if sw.slab.Hi = sw.end(next, base, top); sw.slab.Hi == far {
			return
		}
		sw.raise()
		if !s.beside() {
			sw.base, sw.top = sw.at(base), sw.at(top)
			s.checkSlab()
		}
	}
}

// enter drops what ended before the slab and adds what begins at it, from index
// next of all.
func (sw *sweep) enter(next int) int {
	n := 0
	for i := range sw.over {
		if sw.over[i].xs.Hi > sw.slab.Lo {
			sw.over[n] = sw.over[i]
			n++
		}
	}
	sw.over = sw.over[:n]
	for ; next < len(sw.all) && sw.all[next].xs.Lo <= sw.slab.Lo; next++ {
		if t := sw.all[next]; t.xs.Hi > sw.slab.Lo {
			sw.over = append(sw.over, bar{trapezoid: t})
		}
	}
	return next
}

// end returns the first x beyond the slab's left side at which anything begins
// or ends, a line of the region or what it leaves of the band included; far if
// nothing does.
func (sw *sweep) end(next int, base, top *line) measure.Length {
	to := far
	if next < len(sw.all) {
		to = sw.all[next].xs.Lo
	}
	for i := range sw.over {
		to = min(to, sw.over[i].xs.Hi)
	}
	for _, l := range [2]*line{base, top} {
		to = sw.next(to, l.a.X)
		to = sw.next(to, l.b.X)
		if l.play > 0 {
			to = sw.next(to, l.cross(sw.band.Lo))
			to = sw.next(to, l.cross(sw.band.Hi))
		}
	}
	return to
}

// next returns the nearer of two x beyond the slab's left side, the first of
// which is.
func (sw *sweep) next(to, x measure.Length) measure.Length {
	if sw.slab.Lo < x && x < to {
		return x
	}
	return to
}

func (sw *sweep) at(l *line) rim {
	return rim{l.at(sw.slab.Lo), l.at(sw.slab.Hi), l.play}
}

// raise finds the heights of the bars in the slab and puts them in order
// upwards.
func (sw *sweep) raise() {
	sw.voids = sw.voids[:0]
	for i := range sw.over {
		b := &sw.over[i]
		b.lo0, b.lo1 = b.lo.at(sw.slab.Lo), b.lo.at(sw.slab.Hi)
		b.hi0, b.hi1 = b.hi.at(sw.slab.Lo), b.hi.at(sw.slab.Hi)
		for j := i; j > 0 && sw.over[j].under(&sw.over[j-1]); j-- {
			sw.over[j], sw.over[j-1] = sw.over[j-1], sw.over[j]
		}
	}
	for i := range sw.over {
		if sw.over[i].kind == ofVoid {
			sw.voids = append(sw.voids, i)
		}
	}
}

func (b *bar) under(c *bar) bool { return b.lo0+b.lo1 < c.lo0+c.lo1 }

// beside handles a slab outside the region's span: no piece belongs there.
func (s *site) beside() bool {
	whole := extent(s.base)
	if whole.Lo <= s.sweep.slab.Lo && s.sweep.slab.Hi <= whole.Hi {
		return false
	}
	for i := range s.sweep.over {
		if b := &s.sweep.over[i]; s.own(b) {
			s.outside(b)
		}
	}
	return true
}

// own reports whether a bar is of a piece of the band's own course: that is
// where it is checked.
func (s *site) own(b *bar) bool { return b.kind == ofPiece && b.course == s.sweep.course }

func (s *site) outside(b *bar) {
	s.r.once(s.w.Pieces[b.piece].Mark, "outside", "it leaves the clad region at x %v to %v",
		s.sweep.slab.Lo, s.sweep.slab.Hi)
}

// checkSlab checks one slab inside the region's span.
func (s *site) checkSlab() {
	sw := &s.sweep
	for i := range sw.over {
		b := &sw.over[i]
		if !s.own(b) {
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
