package audit

import (
	"math"

	"lapwright/engine/measure"
)

// tenth is what piece lengths are rounded up to.
const tenth = 100 * measure.Micrometre

// shape checks piece i by itself and slices it; false if it has no shape.
func (s *site) shape(i int) bool {
	p, f := &s.w.Pieces[i], &s.faces[i]
	var simple bool
	like := trapezoid{kind: ofPiece, course: p.Course, piece: i}
	s.parts, simple = s.slice(s.parts, p.Outline, like)
	if !simple || !anticlockwise(p.Outline) {
		s.parts = s.parts[:f.from]
		s.r.add(p.Mark, "shape", "its outline is no simple anticlockwise polygon")
		return false
	}
	f.to = len(s.parts)
	f.xs, f.zs = bounds(p.Outline)
	s.cutouts(p, f)
	s.size(p, f)
	s.rakes(p)
	return true
}

func bounds(p measure.Polygon) (xs, zs measure.Span) {
	xs, zs = measure.Span{Lo: p[0].X, Hi: p[0].X}, measure.Span{Lo: p[0].Z, Hi: p[0].Z}
	for _, v := range p {
		xs.Lo, xs.Hi = min(xs.Lo, v.X), max(xs.Hi, v.X)
		zs.Lo, zs.Hi = min(zs.Lo, v.Z), max(zs.Hi, v.Z)
	}
	return xs, zs
}

// anticlockwise tells by the turn at the lowest of the leftmost corners, where
// a simple polygon turns the way it runs.
func anticlockwise(p measure.Polygon) bool {
	at := 0
	for i, v := range p {
		if v.X < p[at].X || (v.X == p[at].X && v.Z < p[at].Z) {
			at = i
		}
	}
	a, b, c := p[(at+len(p)-1)%len(p)], p[at], p[(at+1)%len(p)]
	return (b.X-a.X)*(c.Z-b.Z) > (c.X-b.X)*(b.Z-a.Z)
}

// cutouts checks that each is either a hole within the outline or a notch
// outside it, and takes the holes out of the piece's trapezoids.
func (s *site) cutouts(p *Piece, f *face) {
	for _, c := range p.Cutouts {
		var touched bool
		var within measure.Length
		for _, t := range s.parts[f.from:f.to] {
			xs := t.xs.And(c.X)
			if xs.Empty() {
				continue
			}
			slack := t.lo.play + t.hi.play
			h0, h1 := t.height(xs.Lo, c.Z), t.height(xs.Hi, c.Z)
			touched = touched || max(h0, h1) > slack
			if min(h0, h1) >= c.Z.Length()-slack {
				within += xs.Length()
			}
		}
		inside := c.X.Lo >= f.xs.Lo && c.X.Hi <= f.xs.Hi && c.Z.Lo >= f.zs.Lo && c.Z.Hi <= f.zs.Hi
		whole := c.X.Lo > f.xs.Lo && c.X.Hi < f.xs.Hi && c.Z.Lo > f.zs.Lo && c.Z.Hi < f.zs.Hi
		if c.X.Empty() || c.Z.Empty() || !inside || (touched && (within != c.X.Length() || !whole)) {
			s.r.add(p.Mark, "cut-out", "%v to %v by %v to %v is neither a hole nor a notch of the outline",
				c.X.Lo, c.X.Hi, c.Z.Lo, c.Z.Hi)
		}
		s.parts = pierce(s.parts, f.from, c)
		f.to = len(s.parts)
	}
}

func (s *site) size(p *Piece, f *face) {
	if c := &s.w.Courses[p.Course-1]; f.zs.Lo < c.Bottom || f.zs.Hi > c.Top {
		s.r.add(p.Mark, "band", "it stands from %v to %v, its course from %v to %v",
			f.zs.Lo, f.zs.Hi, c.Bottom, c.Top)
	}
	if !rounds(p.Length, f.xs.Length()) || !rounds(p.Width, f.zs.Length()) || p.Length%tenth != 0 {
		s.r.add(p.Mark, "size", "it is stated as %v by %v, its outline is %v by %v",
			p.Length, p.Width, f.xs.Length(), f.zs.Length())
	}
}

// rounds reports whether stated is exact or rounded up by less than a tenth;
// an exact that is whole in tenths must be stated so.
func rounds(stated, exact measure.Length) bool {
	up := stated - exact
	return up == 0 || (up > 0 && up < tenth && exact%tenth != 0)
}

// rakes checks stated angles. Going round anticlockwise, a sloped edge that
// falls bounds the piece on its left, one that rises on its right. A joint
// may stand under a sloped top, so there a slope need not be stated.
func (s *site) rakes(p *Piece) {
	s.rake(p, "left", -1, p.LeftRake, p.JointLeft)
	s.rake(p, "right", 1, p.RightRake, p.JointRight)
}

func (s *site) rake(p *Piece, side string, sign measure.Length, stated float64, joint bool) {
	sloped, found := false, false
	b := p.Outline[len(p.Outline)-1]
	for _, next := range p.Outline {
		a := b
		b = next
		dx, dz := float64(b.X-a.X), float64((b.Z-a.Z)*sign)
		if dx == 0 || dz <= 0 {
			continue
		}
		sloped = true
		degrees := math.Atan2(math.Abs(dx), dz) * 180 / math.Pi
		// a corner a micrometre off turns a short edge; a stated tenth rounds
		slack := 0.051 + 1.5*180/math.Pi/math.Hypot(dx, dz)
		found = found || math.Abs(degrees-stated) <= slack
	}
	if (stated != 0 && !found) || (stated == 0 && sloped && !joint) {
		s.r.add(p.Mark, "rake", "its %s end is stated as %.1f degrees from square, which no edge there has", side, stated)
	}
}
