package battens

import (
	"slices"

	"lapwright/engine/measure"
)

// shorten lets the batten of a jamb or a step run no farther than it is wanted,
// upwards and downwards each, unless some bay beyond would then be too wide.
func (w *Wall) shorten(lines []Line, i int) {
	l := &lines[i]
	if l.hold.Empty() || l.Bay >= 0 || w.clearOf(l.hold) {
		return
	}
	above := measure.Span{Lo: l.hold.Hi, Hi: always().Hi}
	below := measure.Span{Lo: always().Lo, Hi: l.hold.Lo}
	for _, beyond := range []measure.Span{below, above} {
		if !w.spared(lines, i, beyond) {
			continue
		}
		l.Spans = measure.Less(l.Spans, []measure.Span{beyond})
	}
}

// clearOf reports whether no part of the wall lies beyond the heights.
func (w *Wall) clearOf(hold measure.Span) bool {
	return hold.Lo <= w.Base.Least(w.Span) && hold.Hi >= w.Top.Most(w.Span)
}

// spared reports whether the battens next to line i keep the centres without
// what it has beyond a height, all the way: slab by slab, as the next ones end.
func (w *Wall) spared(lines []Line, i int, beyond measure.Span) bool {
	for _, s := range lines[i].Spans {
		s = s.And(beyond)
		if s.Empty() {
			continue
		}
		cuts := []measure.Length{s.Lo, s.Hi}
		for j := range lines {
			for _, o := range lines[j].Spans {
				for _, z := range []measure.Length{o.Lo, o.Hi} {
					if s.Lo < z && z < s.Hi {
						cuts = append(cuts, z)
					}
				}
			}
		}
		slices.Sort(cuts)
		for k := 1; k < len(cuts); k++ {
			slab := measure.Span{Lo: cuts[k-1], Hi: cuts[k]}
			if !slab.Empty() && !w.bayHolds(lines, i, slab) {
				return false
			}
		}
	}
	return true
}

// bayHolds reports whether the battens left and right of line i that stand at a
// slab's heights are near enough to each other. One that goes up to a slope counts
// above it too: no board reaches farther out there than it stands.
func (w *Wall) bayHolds(lines []Line, i int, slab measure.Span) bool {
	there := func(l Line) bool {
		return slices.ContainsFunc(l.Spans, func(s measure.Span) bool {
			return s.Lo <= slab.Lo && (slab.Hi <= s.Hi || s.Hi == w.Top.Least(l.X()))
		})
	}
	left, right := i-1, i+1
	for left >= 0 && !there(lines[left]) {
		left--
	}
	for right < len(lines) && !there(lines[right]) {
		right++
	}
	return left >= 0 && right < len(lines) && lines[right].Centre <= w.next(lines[left].Centre)
}
