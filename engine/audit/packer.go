package audit

import (
	"maps"
	"math"
	"slices"

	"lapwright/engine/measure"
)

// packings checks that packers stand where boards are off their battens and
// nowhere else, how thick they are, how long the screws through them are, and
// recounts what goes through or pins them.
func (s *site) packings() {
	gaps, must := s.packedPlaces()
	through := map[string]int{}
	for i := range s.w.Packings {
		k := &s.w.Packings[i]
		through[k.Fixing]++
		at := packedPlace{k.Piece, k.Batten, k.Foot}
		off, ok := gaps[at]
		if !ok {
			s.r.add("", "packer", "packers %v mm thick stand where nothing asks for them, at piece %d, batten %d", k.Thick, k.Piece+1, k.Batten+1)
			continue
		}
		delete(gaps, at)
		s.packing(k, off)
	}
	for _, p := range must {
		if off, ok := gaps[p]; ok {
			s.r.add(s.w.Pieces[p.piece].Mark, "packer", "it stands %v mm off batten %s with no packers", off/10, s.w.Battens[p.batten].Mark)
		}
	}
	for _, f := range s.w.Fixings {
		if f.Packed {
			through[f.Code] -= f.Count
		}
	}
	for _, code := range slices.Sorted(maps.Keys(through)) {
		if n := through[code]; n != 0 {
			s.r.add(code, "fixing-count", "%d at packers more than are stated", n)
		}
	}
}

// packedPlace is where a piece crosses a batten.
type packedPlace struct {
	piece, batten int
	foot          bool
}

// slack is what two ways to a point on a slope may differ by, in tenths of a
// micrometre.
const slack = 30

// packedPlaces returns the gaps that may be packed, in tenths of a micrometre, and
// those places of them that must be.
func (s *site) packedPlaces() (gaps map[packedPlace]measure.Length, must []packedPlace) {
	gaps = map[packedPlace]measure.Length{}
	add := func(p packedPlace, off measure.Length, sure bool) {
		least := 10 * s.w.Limits.PackerLeast
		if off >= least-slack {
			gaps[p] = off
		}
		if off >= least+slack && sure {
			must = append(must, p)
		}
	}
	if s.w.Limits.Thickness == 0 {
		return gaps, nil
	}
	for i := range s.w.Screws {
		if c := &s.w.Screws[i]; s.cutAbove(c) {
			add(packedPlace{c.Piece, c.Batten, false}, s.off(c.Piece, c.Z), true)
		}
	}
	for i := range s.w.Pieces {
		for j := range s.w.Battens {
			if z, sure, ok := s.foot(i, &s.w.Battens[j]); ok {
				add(packedPlace{i, j, true}, s.off(i, z), sure)
			}
		}
	}
	return gaps, must
}

// cutAbove reports whether a screw stays in sight and hangs lower than it would
// from the upper edge of a full board.
func (s *site) cutAbove(c *Screw) bool {
	if !c.Visible || c.Piece < 0 || c.Piece >= len(s.w.Pieces) || c.Batten < 0 || c.Batten >= len(s.w.Battens) || s.w.Pieces[c.Piece].Course == 0 {
		return false
	}
	return c.Z+s.w.Limits.EdgeLeast < s.course(c.Piece).Bottom+s.w.Limits.Width
}

// off returns how far a piece stands off the wall's battens at a height, in tenths
// of a micrometre: it leans from the top of the board below, one thickness out, to
// nothing at its own full top.
func (s *site) off(piece int, z measure.Length) measure.Length {
	n, lim := s.w.Pieces[piece].Course, &s.w.Limits
	rise := s.w.Courses[n-1].Gauge
	if n > 1 {
		rise = s.w.Courses[n-1].Bottom - s.w.Courses[n-2].Bottom
	}
	if rise <= 0 {
		rise = lim.GaugeUnder
	}
	return 10 * lim.Thickness * (s.w.Courses[n-1].Bottom + lim.Width - z) / rise
}

// foot returns how high a piece's own lower edge is where it crosses a batten, if
// that slopes, the batten is behind it and the board below is not. It is not sure
// right at a corner or at the top of the board below.
func (s *site) foot(piece int, b *Batten) (z measure.Length, sure, ok bool) {
	if x := s.faces[piece].xs; !s.w.Limits.CutFeet || b.Centre <= x.Lo || b.Centre >= x.Hi {
		return 0, false, false
	}
	parts := s.of(piece)
	for i := range parts {
		t := &parts[i]
		if !t.xs.Holds(b.Centre) || t.lo.play == 0 {
			continue
		}
		z, sure = t.lo.at(b.Centre), t.xs.Lo < b.Centre && b.Centre < t.xs.Hi
		if n := s.w.Pieces[piece].Course; n > 1 {
			above := 10 * (z - s.w.Courses[n-2].Top)
			if above < -slack {
				return 0, false, false
			}
			sure = sure && above > slack
		}
		return z, sure, b.Z.Hi > z && b.Z.Lo < s.faces[piece].zs.Hi
	}
	return 0, false, false
}

// packing checks one packing against the gap it fills.
func (s *site) packing(k *Packing, off measure.Length) {
	mark, lim := s.w.Pieces[k.Piece].Mark, &s.w.Limits
	sum, known := measure.Length(0), true
	for _, p := range k.Packers {
		sum += p.Thickness
		known = known && p.Thickness > 0
	}
	if miss := max(10*k.Thick-off, off-10*k.Thick); known {
		if best := s.nearest(off); sum != k.Thick || miss > best+slack {
			s.r.add(mark, "packer-thick", "packers of %v mm together, stated %v, fill a gap of %v mm", sum, k.Thick, off/10)
		}
		if miss >= 10*lim.PackerLeast+slack && !k.Flagged {
			s.r.add(mark, "packer-thick", "packers of %v mm leave %v mm of their gap", k.Thick, miss/10)
		}
	}
	if in := k.Length - lim.Thickness - lim.Behind - k.Thick; !k.Foot && k.Length > 0 && k.Reach > 0 && (in < k.Reach || in+lim.Behind > lim.Depth) {
		s.r.add(mark, "packer-screw", "a screw of %v mm through %v mm of packers goes %v mm into its batten, not %v to %v", k.Length, k.Thick, in, k.Reach, lim.Depth-lim.Behind)
	}
}

// nearest returns how near packers laid one on another come to a gap, in tenths of
// a micrometre, by trying every sum; one packer at least.
func (s *site) nearest(off measure.Length) measure.Length {
	best := measure.Length(math.MaxInt64 / 2)
	seen, sums := map[measure.Length]bool{}, []measure.Length{0}
	for i := 0; i < len(sums); i++ {
		for _, p := range s.packers {
			sum := sums[i] + p
			if p <= 0 || seen[sum] {
				continue
			}
			seen[sum] = true
			best = min(best, max(10*sum-off, off-10*sum))
			if 10*sum < off {
				sums = append(sums, sum)
			}
		}
	}
	return best
}
