package audit

import (
	"slices"

	"lapwright/engine/measure"
)

// joint is where two pieces of a course face each other.
type joint struct {
	course      int
	left, right int            // pieces
	twice       measure.Length // its middle, doubled to stay whole
	line        measure.Length // its batten's centre; its middle if it has none
}

// pairJoints finds the partner of every end that says joint, and ends that
// butt without saying so.
func (s *site) pairJoints() {
	for c, list := range s.byCourse {
		for _, i := range list {
			if p := &s.w.Pieces[i]; p.JointRight {
				s.pairRight(c, i)
			}
			if p := &s.w.Pieces[i]; p.JointLeft && !s.hasPartner(list, i) {
				s.noPartner(i, "left")
			}
			if j := s.butts(list, i); j >= 0 {
				s.r.add(s.w.Pieces[i].Mark, "joint-gap", "it butts %s without a joint", s.w.Pieces[j].Mark)
			}
		}
	}
}

func (s *site) noPartner(i int, side string) {
	s.r.add(s.w.Pieces[i].Mark, "joint-gap", "no upright end faces its %s joint across %v",
		side, s.w.Limits.JointGap)
}

func (s *site) pairRight(course, i int) {
	for _, j := range s.byCourse[course] {
		if s.w.Pieces[j].JointLeft && s.facing(i, j) {
			a, b := s.faces[i].xs.Hi, s.faces[j].xs.Lo
			c := &s.w.Courses[course-1]
			s.joints = append(s.joints, joint{course: course, left: i, right: j, twice: a + b, line: (a + b) / 2})
			s.gaps = append(s.gaps, Rect{measure.Span{Lo: a, Hi: b}, measure.Span{Lo: c.Bottom, Hi: c.Top}})
			return
		}
	}
	s.noPartner(i, "right")
}

func (s *site) hasPartner(list []int, j int) bool {
	return slices.ContainsFunc(list, func(i int) bool { return s.w.Pieces[i].JointRight && s.facing(i, j) })
}

// facing reports whether the right end of i and the left end of j are upright,
// stand the joint gap apart and overlap in height.
func (s *site) facing(i, j int) bool {
	if s.faces[j].xs.Lo-s.faces[i].xs.Hi != s.w.Limits.JointGap {
		return false
	}
	return !s.end(i, s.faces[i].xs.Hi).And(s.end(j, s.faces[j].xs.Lo)).Empty()
}

// butts returns a piece of the list that begins where piece i ends, at the
// same height; -1 if there is none, or where a joint has no gap and is stated.
func (s *site) butts(list []int, i int) int {
	for _, j := range list {
		if s.faces[j].xs.Lo != s.faces[i].xs.Hi || (s.w.Pieces[i].JointRight && s.facing(i, j)) {
			continue
		}
		if !s.end(i, s.faces[i].xs.Hi).And(s.end(j, s.faces[j].xs.Lo)).Empty() {
			return j
		}
	}
	return -1
}

// end returns the height over which piece i ends upright at x, one of its
// bounds.
func (s *site) end(i int, x measure.Length) measure.Span {
	var out measure.Span
	parts := s.of(i)
	for k := range parts {
		t := &parts[k]
		if t.xs.Lo != x && t.xs.Hi != x {
			continue
		}
		if zs := (measure.Span{Lo: t.lo.at(x), Hi: t.hi.at(x)}); out.Empty() {
			out = zs
		} else {
			out = measure.Span{Lo: min(out.Lo, zs.Lo), Hi: max(out.Hi, zs.Hi)}
		}
	}
	return out
}

// checkJoints checks battens behind joints, stagger, repeat and short pieces.
func (s *site) checkJoints() {
	for i := range s.joints {
		j := &s.joints[i]
		if !s.backed(j) {
			s.r.add(s.w.Pieces[j.left].Mark, "joint-batten", "no batten of at least %v stands behind its whole joint with %s at x %v",
				s.w.Limits.WideWidth, s.w.Pieces[j.right].Mark, j.twice/2)
		}
	}
	for i := range s.joints {
		for k := i + 1; k < len(s.joints) && s.joints[k].course-s.joints[i].course < max(2, s.w.Limits.Repeat); k++ {
			s.stagger(&s.joints[i], &s.joints[k])
		}
	}
	for i := range s.w.Pieces {
		p := &s.w.Pieces[i]
		short := p.Length < s.w.Limits.PieceLeast
		if (short && !p.Short && (p.JointLeft || p.JointRight)) || (p.Short && !short) {
			s.r.add(p.Mark, "short", "it is %v long, the least is %v; flagged: %v", p.Length, s.w.Limits.PieceLeast, p.Short)
		}
	}
}

// backed reports whether one wide batten, or several end to end, stand behind
// a joint over its height, and sets the joint's line.
func (s *site) backed(j *joint) bool {
	lim := &s.w.Limits
	a, b := s.end(j.left, s.faces[j.left].xs.Hi), s.end(j.right, s.faces[j.right].xs.Lo)
	need := measure.Span{Lo: min(a.Lo, b.Lo) + lim.BattenShort, Hi: max(a.Hi, b.Hi) - lim.BattenShort}
	s.spans = s.spans[:0]
	middle := j.twice / 2
	for _, i := range s.near(measure.Span{Lo: middle, Hi: middle + 1}.Grow(lim.JointOff)) {
		t := &s.w.Battens[i]
		if off := 2*t.Centre - j.twice; max(off, -off) > 2*lim.JointOff || t.Width < lim.WideWidth {
			continue
		}
		j.line = t.Centre
		s.spans = append(s.spans, t.Z)
		need = need.And(s.upright(t))
	}
	slices.SortFunc(s.spans, func(a, b measure.Span) int { return int(a.Lo - b.Lo) })
	for _, z := range s.spans {
		if z.Lo <= need.Lo {
			need.Lo = max(need.Lo, z.Hi)
		}
	}
	return len(s.spans) > 0 && need.Lo >= need.Hi
}

// upright returns the height a batten cut square can have inside the region:
// under a slope it stops at its lower side.
func (s *site) upright(t *Batten) measure.Span {
	xs := measure.Span{Lo: t.Centre - t.Width/2, Hi: t.Centre + t.Width/2}.And(extent(s.base))
	_, lo := extremes(s.base, xs)
	hi, _ := extremes(s.top, xs)
	return measure.Span{Lo: lo, Hi: hi}
}

// stagger checks two joints, the first in the lower course or the same.
func (s *site) stagger(a, b *joint) {
	lim, courses := &s.w.Limits, b.course-a.course
	if courses == 0 {
		return
	}
	for _, i := range [4]int{a.left, a.right, b.left, b.right} {
		if s.w.Pieces[i].Stagger {
			return
		}
	}
	apart := max(a.twice-b.twice, b.twice-a.twice) // doubled, as twice is
	mark, other := s.w.Pieces[b.left].Mark, s.w.Pieces[a.left].Mark
	switch {
	case courses == 1 && apart < 2*lim.StaggerLeast:
		s.r.add(mark, "stagger", "its joint at x %v is not %v from the joint of %s below", b.twice/2, lim.StaggerLeast, other)
	case courses == 1 && s.bays(a.line, b.line) < lim.StaggerBays:
		s.r.add(mark, "stagger", "its joint at x %v is not %d bays from the joint of %s below", b.twice/2, lim.StaggerBays, other)
	case courses < lim.Repeat && a.line == b.line:
		s.r.add(mark, "repeat", "its joint at x %v is on the batten that joints %s, %d courses below", b.twice/2, other, courses)
	}
}

// bays returns how many bays of the grid two batten lines are apart.
func (s *site) bays(a, b measure.Length) int {
	from, _ := slices.BinarySearch(s.grid, min(a, b))
	to, _ := slices.BinarySearch(s.grid, max(a, b))
	return to - from
}
