package battens

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// Lines returns the wall's battens, from the left. Neighbours are never
// farther apart than the centres allow, but for studs, see [Wall.Over].
func (w Wall) Lines() []Line {
	posts := w.posts()
	ends := w.ends(posts)
	grid := w.grid(posts)
	placed := w.fit(grid, posts)
	cuts := w.rising()
	out := make([]Line, 0, len(posts)+len(placed))
	for _, p := range posts {
		l := Line{Centre: p.x.Lo + p.x.Length()/2, Width: p.x.Length(), Why: p.why, Bay: -1, hold: p.hold}
		if p.part() { // it gave up heights where it may serve another's opening
			l.hold = always()
		}
		if p.edge() && p.faces > 0 && len(grid) > 0 && grid[0] == ends.Lo {
			l.Bay = 0
		}
		out = w.stand(out, l, p.limit, cuts)
	}
	for _, g := range placed {
		l := Line{Centre: g.at, Width: w.Width, Why: AtGrid, Bay: g.bay}
		if len(w.Studs) > 0 {
			l.Why = AtStud
		}
		out = w.stand(out, l, always(), cuts)
	}
	slices.SortStableFunc(out, func(a, b Line) int { return cmp.Compare(a.Centre, b.Centre) })
	for i := range out {
		w.shorten(out, i)
	}
	out = slices.DeleteFunc(out, func(l Line) bool { return len(l.Spans) == 0 })
	for i := range out {
		switch l := &out[i]; {
		case l.jointed():
			l.wide = w.free(l.Centre, w.Wide, cuts)
		case l.Bay < 0 && l.Width >= w.Wide:
			l.wide = l.Spans
		}
	}
	return out
}

// jointed reports whether boards may butt on the line.
func (l *Line) jointed() bool { return l.Bay >= 0 && l.Why != AtEdge && l.Why != AtCorner }

// free returns the heights at which a batten of that width may stand.
func (w *Wall) free(centre, width measure.Length, cuts []Void) []measure.Span {
	l := Line{Centre: centre, Width: width}
	return w.spans(l.X(), always(), cuts)
}

// rising returns the voids by sill.
func (w *Wall) rising() []Void {
	out := slices.Clone(w.Voids)
	slices.SortStableFunc(out, func(a, b Void) int { return cmp.Compare(a.Z.Lo, b.Z.Lo) })
	return out
}

// stand adds the line with the spans that are free within the limit, if any.
func (w *Wall) stand(out []Line, l Line, limit measure.Span, cuts []Void) []Line {
	if l.Spans = w.spans(l.X(), limit, cuts); len(l.Spans) > 0 {
		out = append(out, l)
	}
	return out
}

// spans returns the heights within the limit at which a batten over x may stand.
func (w *Wall) spans(x, limit measure.Span, cuts []Void) []measure.Span {
	z := measure.Span{Lo: most(w.Base, x), Hi: w.Top.Least(x)}.And(limit)
	var buffer [8]measure.Span
	cut := buffer[:0]
	for _, v := range cuts {
		if !v.X.And(x).Empty() && !v.Z.Empty() {
			cut = append(cut, v.Z)
		}
	}
	return measure.Less([]measure.Span{z}, cut)
}

// most returns the greatest height of the base across a batten. A batten that
// ends flush with a step stands on its own side of it.
func most(base measure.Profile, x measure.Span) measure.Length {
	for i := 1; i < len(base); i++ {
		if at := base[i].X; at == base[i-1].X && base[i].Z != base[i-1].Z {
			if at == x.Lo {
				x.Lo++
			}
			if at == x.Hi {
				x.Hi--
			}
		}
	}
	return base.Most(x)
}

// Short returns a batten over those heights as far as it may stand there, to
// hold a board that too few battens pass behind; false if there is no room for
// it among the lines. Shorter than 150 mm it starts farther down, by deep, if there
// is room.
func (w Wall) Short(centre measure.Length, z measure.Span, deep measure.Length, lines []Line) (Line, bool) {
	l, cuts := Line{Centre: centre, Width: w.Width, Why: AtShort, Bay: -1}, w.rising()
	l.Spans = w.spans(l.X(), z, cuts)
	if len(l.Spans) != 1 || Stub(l.Spans[0]) || !w.fits(&l, lines, 0) {
		return l, false
	}
	return w.deepened(l, deep, lines, cuts, 0), true
}

// Over returns the stretches between neighbouring battens, centre to centre,
// that are longer than their zone's centres allow. Only given studs lead to
// any, or an end without an edge batten; battens between the outermost that stand on
// none of them do not count.
func (w Wall) Over(lines []Line) []measure.Span {
	var out []measure.Span
	var last *Line
	for i := range lines {
		if 0 < i && i < len(lines)-1 && !w.OnStud(lines[i].X()) {
			continue
		}
		if last != nil {
			if s := (measure.Span{Lo: last.Centre, Hi: lines[i].Centre}); s.Hi > w.next(s.Lo) {
				out = append(out, s)
			}
		}
		last = &lines[i]
	}
	return out
}

// OnStud reports whether the middle of a given stud lies behind a batten over x, so
// that a fixing through the batten finds it (common practice); true where no studs
// are given.
func (w *Wall) OnStud(x measure.Span) bool {
	return len(w.Studs) == 0 || slices.ContainsFunc(w.Studs, x.Holds)
}

// aboveLeast is the least length of a normal batten on top of a wide one: room
// for two fixings to the wall (common practice).
const aboveLeast = 150 * measure.Millimetre

// Widen returns a batten as it stands once boards butt on it over the heights of
// butts: the spans that hold one of them become wide, for a joint,
// over their whole length; the others stay a line of their own. Cut square under
// a slope, a wide batten ends lower than a normal one: where that would cost a
// board's fixing, at one of the heights given, a normal batten goes on above the
// highest joint.
func (w Wall) Widen(l Line, butts []measure.Span, fixings []measure.Length) []Line {
	joint, rest := l, l
	joint.Width, joint.Why = w.Wide, AtJoint
	joint.Spans, rest.Spans = nil, nil
	for _, s := range l.Spans {
		top, ok := highest(butts, s)
		if !ok {
			rest.Spans = append(rest.Spans, s)
			continue
		}
		for _, t := range l.wide {
			t = t.And(s)
			if top < t.Hi && s.Hi-top >= aboveLeast && slices.ContainsFunc(fixings, func(z measure.Length) bool { return t.Lo <= z && !w.under(z, t.Hi) && w.under(z, s.Hi) }) {
				rest.Spans = append(rest.Spans, measure.Span{Lo: top, Hi: s.Hi})
				t.Hi = top
			}
			if !t.Empty() {
				joint.Spans = append(joint.Spans, t)
			}
		}
	}
	return slices.DeleteFunc([]Line{joint, rest}, func(l Line) bool { return len(l.Spans) == 0 })
}

// Narrow returns the wide batten of a jamb or a step as it stands where boards
// want fixings, at the heights given, higher than it reaches under a slope: above
// the heights it is wide for, it goes on as a normal one.
func (w Wall) Narrow(l Line, fixings []measure.Length) []Line {
	top := l.hold.Hi.UpTo(measure.Millimetre)
	if l.hold.Empty() || l.Width <= w.Width {
		return []Line{l}
	}
	thin := l
	thin.Width, thin.Why, thin.Spans = w.Width, AtGrid, nil
	spans := slices.Clone(l.Spans)
	for i, s := range spans {
		for _, n := range w.free(l.Centre, w.Width, w.rising()) {
			lost := func(z measure.Length) bool { return s.Lo <= z && !w.under(z, s.Hi) && w.under(z, n.Hi) }
			if !n.And(s).Empty() && s.Lo < top && top < s.Hi && n.Hi-top >= aboveLeast && slices.ContainsFunc(fixings, lost) {
				spans[i].Hi = top
				thin.Spans = append(thin.Spans, measure.Span{Lo: top, Hi: n.Hi})
			}
		}
	}
	if l.Spans = spans; len(thin.Spans) == 0 {
		return []Line{l}
	}
	return []Line{l, thin}
}

// highest returns the top, in whole millimetres, of the highest of the boards
// that butt on the span.
func highest(butts []measure.Span, s measure.Span) (measure.Length, bool) {
	top, ok := s.Lo, false
	for _, b := range butts {
		if s.Holds((b.Lo + b.Hi) / 2) {
			top, ok = max(top, b.Hi.UpTo(measure.Millimetre)), true
		}
	}
	return top, ok
}

// under reports whether a fixing at z, which may come to lie a millimetre
// higher, is below a batten's head, cut to whole millimetres, and far enough.
func (w *Wall) under(z, head measure.Length) bool {
	head = head.DownTo(measure.Millimetre)
	return z+measure.Millimetre < head && z.DownTo(measure.Millimetre)+w.End <= head
}

// Bar takes the place of a joint from every grid batten that, made wide for it,
// would stand in a short one.
func Bar(lines []Line, wide measure.Length) {
	for i := range lines {
		l := &lines[i]
		if !l.jointed() {
			continue
		}
		x := Line{Centre: l.Centre, Width: wide}.X()
		for k := range lines {
			if s := &lines[k]; s.Why == AtShort && !s.X().And(x).Empty() {
				l.wide = slices.DeleteFunc(l.wide, func(z measure.Span) bool {
					return slices.ContainsFunc(s.Spans, func(o measure.Span) bool { return !o.And(z).Empty() })
				})
			}
		}
	}
}

// Sites returns the indexes of the lines on which a joint of a board may fall:
// grid battens, not at the wall's ends, where one batten, wide for the joint,
// stands behind all of it. board gives the heights of the board at a place
// along the wall, empty where there is none; the batten may stop short of its
// edges by as much as short, as it does under a slope, where it is cut square,
// but stands behind half of its height at least.
func Sites(lines []Line, board func(x measure.Length) measure.Span, short measure.Length) []int {
	return backing(lines, board, short, (*Line).jointed)
}

// OffSites returns the indexes of the lines off the grid, of a jamb or a step, on
// which a joint could fall as on one of [Sites]: for a board that no grid batten
// within its reach stands behind.
func OffSites(lines []Line, board func(x measure.Length) measure.Span, short measure.Length) []int {
	return backing(lines, board, short, func(l *Line) bool { return l.Why == AtJamb || l.Why == AtStep })
}

// backing returns the indexes of the lines of a kind that stand, wide, behind the
// board.
func backing(lines []Line, board func(x measure.Length) measure.Span, short measure.Length, kind func(*Line) bool) []int {
	var out []int
	for i := range lines {
		l := &lines[i]
		if !kind(l) {
			continue
		}
		z := board(l.Centre)
		if !z.Empty() && slices.ContainsFunc(l.wide, func(s measure.Span) bool {
			return s.Lo <= z.Lo+short && z.Hi-short <= s.Hi && 2*s.And(z).Length() >= z.Length()
		}) {
			out = append(out, i)
		}
	}
	return out
}

// lengthLeast is the least length of a batten: as long as a normal one is wide.
// A shorter stub splits on its fixing (common practice).
const lengthLeast = 50 * measure.Millimetre

// Stub reports whether a batten over the span, cut to whole millimetres, is too
// short to be one. Lines have stubs between openings all the same: a joint may have
// no other place.
func Stub(s measure.Span) bool {
	return s.Hi.DownTo(measure.Millimetre)-s.Lo.UpTo(measure.Millimetre) < lengthLeast
}

// Splices says where a batten may be spliced.
type Splices struct {
	Least   measure.Length   // of a part
	Fixings []measure.Length // heights that a splice keeps clear of
	Clear   measure.Length   // by so much
	Evenly  bool             // a rest shorter than Least shares evenly with the length below, not just as much as makes it that long
}

// Split returns the parts a batten is spliced from where it is longer than the
// stock: whole lengths from the bottom and the rest on top. A rest shorter than the
// least shares with the length below it, to the millimetre. A splice lies clear of
// the fixings where a lower place is, with no more parts and none shorter than the
// least. Stock of 0 has no end.
func Split(batten measure.Span, stock measure.Length, at Splices) []measure.Span {
	var out []measure.Span
	for stock > 0 && batten.Length() > stock {
		cut := batten.Lo + stock
		if rest := batten.Hi - cut; rest < at.Least && rest < stock {
			cut = batten.Lo + ((stock + rest) / 2).DownTo(measure.Millimetre)
			if whole := batten.Lo + (stock + rest - at.Least).DownTo(measure.Millimetre); !at.Evenly {
				cut = max(cut, whole)
			}
		}
		after := (batten.Length()+stock-1)/stock - 1
		cut = clearOf(cut, max(batten.Lo+at.Least, batten.Hi-after*stock), at.Fixings, at.Clear)
		out = append(out, measure.Span{Lo: batten.Lo, Hi: cut})
		batten.Lo = cut
	}
	return append(out, batten)
}

// Shares reports whether a batten, cut to whole lengths of stock, leaves a rest
// shorter than the least.
func Shares(length, stock, least measure.Length) bool {
	return 0 < stock && stock < length && length%stock > 0 && length%stock < least
}

// clearOf returns the highest place from cut down to lowest, in whole millimetres
// from cut, that is clear of all fixings by that distance; cut if none is.
func clearOf(cut, lowest measure.Length, fixings []measure.Length, clear measure.Length) measure.Length {
	at := cut
	for moved := true; moved; {
		moved = false
		for _, z := range fixings {
			if at > z-clear && at < z+clear {
				at, moved = cut-(cut-z+clear).UpTo(measure.Millimetre), true
			}
		}
	}
	if at < lowest {
		return cut
	}
	return at
}
