package battens

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/measure"
)

// post is a batten that must stand where it stands: at an edge or a jamb.
type post struct {
	x     measure.Span
	own   measure.Span // the heights it is there for
	limit measure.Span // the heights it may take
	hold  measure.Span // the heights at which it is wanted whether it keeps a bay or not
	faces int          // -1: its right side is flush with a jamb or edge, 1: its left side, 0: neither
	why   Why
}

// always is a span of heights without limits.
func always() measure.Span {
	return measure.Span{Lo: math.MinInt64 / 4, Hi: math.MaxInt64 / 4}
}

func (p post) centre() measure.Length { return p.x.Lo + p.x.Length()/2 }

// edge reports whether the post stands at an end of the wall.
func (p post) edge() bool { return p.why == AtEdge || p.why == AtCorner }

// part reports whether the post gave up some heights to another.
func (p post) part() bool { return p.limit != always() }

// posts returns the edge and jamb battens, from the left, none in another's
// way.
func (w *Wall) posts() []post {
	out := make([]post, 0, 2+2*len(w.Voids))
	if width := w.edgeWidth(w.Left); width > 0 {
		x := measure.Span{Lo: w.Span.Lo, Hi: w.Span.Lo + width}
		out = append(out, post{x, always(), always(), always(), 1, why(w.Left)})
	}
	if width := w.edgeWidth(w.Right); width > 0 {
		x := measure.Span{Lo: w.Span.Hi - width, Hi: w.Span.Hi}
		out = append(out, post{x, always(), always(), always(), -1, why(w.Right)})
	}
	for _, v := range w.Voids {
		if v.X.Empty() || v.Z.Empty() {
			continue
		}
		if left := (measure.Span{Lo: v.X.Lo - w.Wide, Hi: v.X.Lo}); v.X.Lo > w.Span.Lo && v.X.Lo <= w.Span.Hi {
			out = append(out, post{left, v.Z, always(), wanted(v.Hold), -1, AtJamb})
		}
		if right := (measure.Span{Lo: v.X.Hi, Hi: v.X.Hi + w.Wide}); v.X.Hi < w.Span.Hi && v.X.Hi >= w.Span.Lo {
			out = append(out, post{right, v.Z, always(), wanted(v.Hold), 1, AtJamb})
		}
	}
	for _, s := range w.Steps {
		p := post{measure.Span{Lo: s.X - w.Wide, Hi: s.X}, s.Z, always(), wanted(s.Hold), -1, AtStep}
		if s.Left {
			p.x, p.faces = measure.Span{Lo: s.X, Hi: s.X + w.Wide}, 1
		}
		out = append(out, p)
	}
	return w.settle(out)
}

// wanted returns the heights a post holds; where none are given, all.
func wanted(hold measure.Span) measure.Span {
	if hold == (measure.Span{}) {
		return always()
	}
	return hold
}

func (w *Wall) edgeWidth(e Edge) measure.Length {
	switch e {
	case PlainEdge:
		return w.Width
	case CornerEdge:
		return w.Wide
	}
	return 0
}

func why(e Edge) Why {
	if e == CornerEdge {
		return AtCorner
	}
	return AtEdge
}

// settle resolves posts that are in each other's way, two at a time. Every
// step removes a post, narrows it or shortens it, so that it ends.
func (w *Wall) settle(list []post) []post {
	order := func(a, b post) int {
		return cmp.Or(cmp.Compare(a.x.Lo, b.x.Lo), cmp.Compare(a.x.Hi, b.x.Hi), cmp.Compare(a.own.Lo, b.own.Lo))
	}
	edges := slices.Clone(list)
	for settled := false; !settled; {
		settled = true
		slices.SortStableFunc(list, order)
		for i := 0; i < len(list) && settled; i++ {
			for j := i + 1; j < len(list) && settled; j++ {
				if w.clash(list[i], list[j]) {
					list = w.resolve(list, i, j)
					settled = false
				}
			}
		}
	}
	for i := range list {
		list[i].x = list[i].x.And(w.Span)
		if moved := !slices.ContainsFunc(edges, func(e post) bool { return e.x == list[i].x }); moved {
			list[i].x = within(list[i].x, list[i].x.Length())
		}
	}
	list = slices.DeleteFunc(list, func(p post) bool { return p.x.Empty() })
	return w.serve(list, edges)
}

// clash reports whether two posts need one place at one height.
func (w *Wall) clash(a, b post) bool {
	return !a.limit.And(b.limit).Empty() && !a.x.And(b.x).Empty()
}

// facing reports whether a pier lies between the two faces the posts stand at.
func facing(a, b post) bool {
	return a.faces*b.faces < 0 && !pier(a, b).Empty()
}

// pier returns what lies between the faces of two posts of opposite hand.
func pier(a, b post) measure.Span {
	if a.faces < 0 {
		a, b = b, a
	}
	return measure.Span{Lo: a.x.Lo, Hi: b.x.Hi}
}

// level reports whether the two posts are there for some height in common.
func level(a, b post) bool { return a.own.Lo < b.own.Hi && b.own.Lo < a.own.Hi }

// resolve settles one clash.
func (w *Wall) resolve(list []post, i, j int) []post {
	a, b := &list[i], &list[j]
	hold := hull(a.hold, b.hold)
	switch {
	case bears(*a, *b):
		a.hold = hold
		return slices.Delete(list, j, j+1)
	case bears(*b, *a):
		b.hold = hold
		return slices.Delete(list, i, i+1)
	case a.x == b.x:
		a.own, a.limit, a.hold = hull(a.own, b.own), hull(a.limit, b.limit), hold
	case level(*a, *b) && facing(*a, *b) && (a.edge() || b.edge()):
		return w.atEdge(list, i, j)
	case level(*a, *b) && facing(*a, *b) && pier(*a, *b).Length() < w.Width/2:
		// Too narrow to hold anything: they stand where only one opening is,
		// and above and below both, side by side.
		if a.faces < 0 {
			a, b = b, a
		}
		b.x.Hi = a.x.Lo
		return list
	case level(*a, *b) && facing(*a, *b):
		*a = w.one(*a, *b)
	case a.faces == b.faces && (a.edge() || b.edge()):
		beside(a, b)
		return list
	case a.faces == b.faces && a.own.Lo <= b.own.Hi && b.own.Lo <= a.own.Hi, level(*a, *b):
		// One opening with a wider sill, or openings that overlap: the batten
		// of the taller one serves, cut round the other.
		if !a.edge() && (b.edge() || b.own.Length() > a.own.Length()) {
			*a = *b
		}
		a.hold = hold
	case !a.edge() && !b.edge() && !a.part() && !b.part() && straight(*a, *b):
		*a = w.through(*a, *b)
	default:
		share(a, b)
		return list
	}
	return slices.Delete(list, j, j+1)
}

// straightMost is how far the middles of two battens, one above the other, may
// be apart for a single straight one to serve in place of both (common
// practice: what the flange of a trim makes up for).
const straightMost = 10 * measure.Millimetre

// straight reports whether one batten can pass both openings, one above the
// other, that the posts are there for.
func straight(a, b post) bool {
	off := a.centre() - b.centre()
	return a.faces*b.faces != 0 && max(off, -off) <= straightMost
}

// through returns the batten that passes both: on one side of the two, flush
// with the opening that reaches farther out; between them, in the middle of what
// they leave, no wider than that.
func (w *Wall) through(a, b post) post {
	if a.faces != b.faces {
		return w.one(a, b)
	}
	out := a
	if (b.x.Lo-a.x.Lo)*measure.Length(a.faces) > 0 {
		out.x = b.x
	}
	out.own, out.hold = hull(a.own, b.own), hull(a.hold, b.hold)
	return out
}

// bears reports whether post a, which b clashes with, serves the boards that
// end at the step b stands for too: they reach less than a batten beyond it.
func bears(a, b post) bool { return b.why == AtStep && a.why != AtStep && !a.part() }

// one returns the single batten of a pier: as wide as the pier up to a wide
// batten, in its middle.
func (w *Wall) one(a, b post) post {
	return post{within(pier(a, b), w.Wide), hull(a.own, b.own), a.limit.And(b.limit), hull(a.hold, b.hold), 0, AtJamb}
}

// within returns the widest batten of at most that width that fits x, nearest to
// its middle, of those whole millimetres wide with their own middle on a whole
// one: finer marks are not set out with a tape.
func within(x measure.Span, width measure.Length) measure.Span {
	for width = min(width, x.Length()).DownTo(measure.Millimetre); width > 0; width -= measure.Millimetre {
		first, last := (x.Lo + width/2).UpTo(measure.Millimetre), (x.Hi - width/2).DownTo(measure.Millimetre)
		if first <= last {
			middle := (x.Lo + x.Length()/2).DownTo(measure.Millimetre)
			left := min(max(middle, first), last) - width/2
			return measure.Span{Lo: left, Hi: left + width}
		}
	}
	return measure.Span{}
}

// atEdge settles a jamb close to an end of the wall, or a wall too narrow for
// both its edges: the edge batten stays, the other takes what is left if that
// is half a batten at least. On a pier narrower than the edge batten, that is
// ripped to fit.
func (w *Wall) atEdge(list []post, i, j int) []post {
	if !list[i].edge() {
		i, j = j, i
	}
	a, b := &list[i], &list[j]
	p := pier(*a, *b)
	rest := p.Length() - a.x.Length()
	switch {
	case rest >= w.Width/2 && b.faces < 0:
		b.x.Lo = a.x.Hi
		return list
	case rest >= w.Width/2:
		b.x.Hi = a.x.Lo
		return list
	case rest < 0 && p.Length() >= w.Width/2:
		a.x = p
	}
	return slices.Delete(list, j, j+1)
}

// hull returns the span from the lower to the higher end of two.
func hull(a, b measure.Span) measure.Span {
	return measure.Span{Lo: min(a.Lo, b.Lo), Hi: max(a.Hi, b.Hi)}
}

// share gives each of two posts the heights on its own side of the middle
// between the openings they belong to.
func share(a, b *post) {
	if a.own.Lo > b.own.Lo {
		a, b = b, a
	}
	middle := a.own.Hi + (b.own.Lo-a.own.Hi)/2
	a.limit.Hi = min(a.limit.Hi, middle)
	b.limit.Lo = max(b.limit.Lo, middle)
}

// beside moves the jamb of an opening that passes the wall's end clear of the
// edge batten, which stands above and below that opening only.
func beside(a, b *post) {
	if b.edge() {
		a, b = b, a
	}
	width := b.x.Length()
	if b.faces > 0 {
		b.x = measure.Span{Lo: a.x.Hi, Hi: a.x.Hi + width}
	} else {
		b.x = measure.Span{Lo: a.x.Lo - width, Hi: a.x.Lo}
	}
}
