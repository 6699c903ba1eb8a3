package audit

import "lapwright/engine/measure"

// edges checks that a piece is as high as its course everywhere but where a
// void or the region's own edge cuts it: each edge has a reason.
func (s *site) edges(b *bar) {
	c, sw := s.course(b.piece), &s.sweep
	low := b.lo0 == c.Bottom && b.lo1 == c.Bottom
	low = low || near(b.lo0-sw.base.z0, b.lo1-sw.base.z1, b.lowPlay()+sw.base.play)
	high := b.hi0 == c.Top && b.hi1 == c.Top
	high = high || near(b.hi0-sw.top.z0, b.hi1-sw.top.z1, b.highPlay()+sw.top.play)
	for i := 0; i < len(sw.over) && !(low && high); i++ {
		if v := &sw.over[i]; v.kind == ofVoid {
			low = low || near(b.lo0-v.hi0, b.lo1-v.hi1, 0)
			high = high || near(b.hi0-v.lo0, b.hi1-v.lo1, 0)
		}
	}
	if !low || !high {
		s.r.once(s.w.Pieces[b.piece].Mark, "edge", "at x %v to %v it is cut to z %v to %v for no reason",
			sw.slab.Lo, sw.slab.Hi, b.lo0, b.hi0)
	}
}

func near(d0, d1, slack measure.Length) bool {
	return max(d0, -d0, d1, -d1) <= slack
}

// lap checks that, where a piece starts at its course's mark and wall goes on
// below, the course below reaches up behind it by the least lap, or as high
// as the piece itself where that is cut lower. Over a head and at the region's
// own base no board is wanted below.
func (s *site) lap(i int) {
	b, sw := &s.sweep.over[i], &s.sweep
	mark := s.course(b.piece).Bottom
	if b.course == 1 || b.lo0 != mark || b.lo1 != mark || s.bottomEdge(mark) {
		return
	}
	want0 := min(mark+s.w.Limits.LapLeast, b.hi0) - b.highPlay()
	want1 := min(mark+s.w.Limits.LapLeast, b.hi1) - b.highPlay()
	for j := len(sw.over) - 1; j >= 0; j-- {
		c := &sw.over[j]
		if c.kind == ofVoid && c.lo0 < mark && c.hi0 >= mark {
			return
		}
		if c.kind != ofVoid && c.course == b.course-1 && max(c.lo0, c.lo1) <= mark+c.lowPlay() &&
			c.hi0+c.highPlay() >= want0 && c.hi1+c.highPlay() >= want1 {
			return
		}
	}
	s.r.once(s.w.Pieces[b.piece].Mark, "lap", "at x %v to %v no board stands %v behind its lower edge",
		sw.slab.Lo, sw.slab.Hi, s.w.Limits.LapLeast)
}

// bottomEdge reports whether the region ends at or above z all over the slab.
func (s *site) bottomEdge(z measure.Length) bool {
	b := &s.sweep.base
	return max(z-b.z0, z-b.z1) <= b.play
}

// climb goes up the slab, within the band, from the region's base to its top and
// notes what neither a piece, nor a void, nor a joint's gap covers.
func (s *site) climb() {
	sw := &s.sweep
	reach, ceiling := s.floor(), sw.ceiling()
	for i := range sw.over {
		b := &sw.over[i]
		// Of two that cross inside the slab the later may be the one to step on.
		for j := i + 1; j < len(sw.over) && !reach.meets(b); j++ {
			if c := &sw.over[j]; reach.meets(c) {
				reach = reach.higher(c)
			}
		}
		if reach.meets(b) && b.hi0+b.highPlay()+ceiling.play >= ceiling.z0 && b.hi1+b.highPlay()+ceiling.play >= ceiling.z1 {
			return // from here on nothing is left to cover
		}
		sw.note(reach, rim{b.lo0, b.lo1, b.lowPlay()}, ceiling)
		reach = reach.higher(b)
	}
	sw.note(reach, ceiling, ceiling)
}

// floor returns where the band begins, or the region's base where that is
// higher. Marks being whole millimetres, the first may stand by less than one
// above a base that is not.
func (s *site) floor() rim {
	sw, r := &s.sweep, s.sweep.base
	switch {
	case sw.course > 1 && max(r.z0, r.z1) <= sw.band.Lo:
		return rim{sw.band.Lo, sw.band.Lo, 0}
	case sw.course > 1:
		r.z0, r.z1 = max(r.z0, sw.band.Lo), max(r.z1, sw.band.Lo)
	case sw.course == 1:
		if first := s.w.Courses[0].Bottom; min(r.z0, r.z1) > first-measure.Millimetre {
			r.z0, r.z1 = max(r.z0, first), max(r.z1, first)
		}
	}
	return r
}

// ceiling returns where the band ends, or the region's top where that is lower.
func (sw *sweep) ceiling() rim {
	r := sw.top
	if min(r.z0, r.z1) >= sw.band.Hi {
		return rim{sw.band.Hi, sw.band.Hi, 0}
	}
	r.z0, r.z1 = min(r.z0, sw.band.Hi), min(r.z1, sw.band.Hi)
	return r
}

// meets reports whether a bar starts at or below the rim all over the slab.
func (r rim) meets(b *bar) bool {
	play := r.play + b.lowPlay()
	return b.lo0 <= r.z0+play && b.lo1 <= r.z1+play
}

// higher returns the rim or the bar's upper edge. Where the two cross inside
// the slab, neither is reached all over it; but all below the one that is
// higher in the middle is covered.
func (r rim) higher(b *bar) rim {
	if b.hi0+b.hi1 > r.z0+r.z1 {
		return rim{b.hi0, b.hi1, b.highPlay()}
	}
	return r
}

// note records what lies between reach and next and below the ceiling. What
// touches a patch noted before is one with it.
func (sw *sweep) note(reach, next, ceiling rim) {
	low, high := reach.play+next.play, reach.play+ceiling.play
	if !bothAbove([2]measure.Length{next.z0 - reach.z0 - low, next.z1 - reach.z1 - low},
		[2]measure.Length{ceiling.z0 - reach.z0 - high, ceiling.z1 - reach.z1 - high}) {
		return
	}
	p := patch{sw.slab, measure.Span{Lo: min(reach.z0, reach.z1),
		Hi: max(min(next.z0, ceiling.z0), min(next.z1, ceiling.z1))}}
	for i := range sw.bare {
		if q := &sw.bare[i]; touch(q.xs, p.xs) && touch(q.zs, p.zs) {
			*q = patch{hull(q.xs, p.xs), hull(q.zs, p.zs)}
			return
		}
	}
	sw.bare = append(sw.bare, p)
}

func touch(a, b measure.Span) bool { return a.Lo <= b.Hi && b.Lo <= a.Hi }

func hull(a, b measure.Span) measure.Span {
	return measure.Span{Lo: min(a.Lo, b.Lo), Hi: max(a.Hi, b.Hi)}
}
