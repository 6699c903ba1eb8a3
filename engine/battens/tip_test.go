package battens

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// courses are boards 180 wide under a top, fixed 20 mm from their upper edge,
// at right angles to it, and clear of the board below by 5 mm.
type courses struct {
	top        measure.Profile
	first, lap measure.Length // the lowest board's foot
}

// fixing gives the height of a fixing of the board that starts at foot.
func (c courses) fixing(foot, x measure.Length) (measure.Length, bool) {
	s := c.top.Extent()
	if x <= s.Lo || x >= s.Hi {
		return 0, false
	}
	rise := float64(c.top.At(x+mm(1))-c.top.At(x-mm(1))) / 2000
	under := c.top.At(x) - measure.Length(math.Ceil(20000*math.Hypot(1, rise)))
	z := min(under, foot+mm(160))
	return z, z >= foot+c.lap+mm(5)
}

// tips returns the tips of all boards, from the lowest up.
func (c courses) tips() []Tip {
	var out []Tip
	for foot := c.first; ; foot += mm(180) - c.lap {
		spans := c.top.Above(foot)
		if len(spans) == 0 {
			return out
		}
		fixing := func(x measure.Length) (measure.Length, bool) { return c.fixing(foot, x) }
		lo, hi := spans[0].Lo.UpTo(mm(1)), spans[0].Hi.DownTo(mm(1))
		for ok := false; lo < hi && !ok; lo += mm(1) {
			_, ok = fixing(lo + mm(1))
		}
		for ok := false; hi > lo && !ok; hi -= mm(1) {
			_, ok = fixing(hi - mm(1))
		}
		if lo < hi {
			t := Tip{X: spans[0].Lo, Near: lo, Last: hi, Foot: foot - c.lap, Fixing: fixing}
			if c.top.At(t.X+mm(1)) > c.top.At(t.X) {
				out = append(out, t)
			}
			if t.X, t.Near, t.Last = spans[0].Hi, hi, lo; c.top.At(t.X-mm(1)) > c.top.At(t.X) {
				out = append(out, t)
			}
		}
	}
}

// TestHoldGable: a gable of 40 degrees, 4,000 wide, eaves at 1,500, the apex at
// 3,178: 839 up in 1,000. Boards start at 1,550, 1,700 ... 3,050, 150 apart, lap
// 30. Their tips lie (foot - 1,500)/0.839 from the side, 178.8 farther in each
// time: 59.6, 238.4, 417.2, 595.9, 774.7, 953.5, 1,132.3, 1,311.1, 1,489.9,
// 1,668.7, 1,847.4.
//
// Under the slope a fixing stands 20/cos 40 = 26.1 below it. It clears the lap by
// 5: 61.1 of board, 72.9 from the tip. A short batten, cut square at its outer
// side, ends 25 x 0.839 = 21.0 below the slope at its middle: behind the fixing.
// A grid batten that joints make 75 wide ends 31.5 below: it is behind only
// fixings under a level edge, 160 above the foot: 191.5/0.839 = 228.2 and more
// from the tip. So tips are held by short battens 73 to 300 off and by grid ones
// 229 to 300 off. A short one keeps 37.5 + 50 + 25 = 112.5 from a grid one.
//
// From the left, the grid at 625, 1,225, 1,825:
//
//	59.6: none; at 359. It is 120 from 238.4 and holds that too.
//	417.2: 625 is 208 off, too near; up to 717; clear of 625 at 512.
//	595.9: at 895; also 774.7, 120 off.
//	953.5: 1,225 is 271 off.
//	1,132.3: at 1,432; also 1,311.1.
//	1,489.9: up to 1,789; 1,825 is in the way: at 1,712.
//	1,668.7: at 1,968; also 1,847.4.
//
// From the right, distances from that side, the grid at 375, 975, 1,575:
//
//	59.6: up to 359; 375 is in the way: at 262.
//	238.4: at 538; also 417.2.
//	595.9: up to 895; 975 is in the way: at 862; also 774.7, 87 off.
//	953.5: at 1,253; also 1,132.3.
//	1,311.1: 1,575 is 264 off.
//	1,489.9: at 1,789; also 1,668.7.
//	1,847.4, the last board's: the batten at 1,968 from the left is 184 off.
//
// Each starts 30 below the board it is there for, and ends at the slope 25
// nearer its side: 1,500 + 0.839 x 334 = 1,780.226 for the first.
func TestHoldGable(t *testing.T) {
	x := span(0, 4000)
	w := Wall{
		Span: x, Base: measure.Level(x, mm(140)),
		Top:   measure.Profile{{X: 0, Z: mm(1500)}, {X: mm(2000), Z: mm(3178)}, {X: mm(4000), Z: mm(1500)}},
		Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75),
	}
	lines := w.Lines()
	want := slices.Clone(lines)
	for _, b := range []struct{ centre, foot, off int64 }{
		{359, 1520, 334}, {512, 1820, 487}, {895, 1970, 870}, {1432, 2420, 1407}, {1712, 2720, 1687}, {1968, 2870, 1943},
		{3738, 1520, 237}, {3462, 1670, 513}, {3138, 1970, 837}, {2747, 2270, 1228}, {2211, 2720, 1764},
	} {
		want = append(want, Line{Centre: mm(b.centre), Width: mm(50), Why: AtShort, Bay: -1,
			Spans: []measure.Span{{Lo: mm(b.foot), Hi: mm(1500) + measure.Length(839*b.off)}}})
	}
	slices.SortFunc(want, func(a, b Line) int { return int(a.Centre - b.Centre) })
	same(t, w.Hold(courses{w.Top, mm(1550), mm(30)}.tips(), lines), want)
}

// randomSlopes returns a gable or a mono-pitch of 6 to 60 degrees with up to
// four openings, and its courses.
func randomSlopes(r *rand.Rand) (Wall, courses) {
	w := randomWall(r)
	w.Span.Hi = between(r, 1500, 9000)
	w.Base, w.Zones = measure.Level(w.Span, mm(140)), randomZones(r, w.Span)
	rise := func(run measure.Length) measure.Length { return run * measure.Length(between(r, 105, 1730)) / mm(1000) }
	at := between(r, 0, int64(w.Span.Hi/mm(1)))
	switch e := between(r, 800, 2500); r.IntN(3) {
	case 0:
		w.Top = measure.Profile{{X: 0, Z: e}, {X: w.Span.Hi, Z: e + rise(w.Span.Hi)}}
	case 1:
		w.Top = measure.Profile{{X: 0, Z: e + rise(w.Span.Hi)}, {X: w.Span.Hi, Z: e}}
	default:
		apex := e + rise(max(at, w.Span.Hi-at))
		w.Top = measure.Profile{{X: 0, Z: e}, {X: at.UpTo(mm(1)) + mm(1), Z: apex}, {X: w.Span.Hi + mm(2), Z: e}}
		w.Top[2].X = max(w.Span.Hi, w.Top[1].X+mm(1))
	}
	return apart(w), courses{w.Top, between(r, 700, 900), between(r, 30, 50)}
}

// taken reports whether a batten 50 wide at x, from foot as far as it may go,
// would hold the tip: the plain rules, place by place.
func taken(w Wall, lines []Line, tip Tip, x measure.Length) bool {
	z, ok := tip.Fixing(x)
	box := measure.Span{Lo: x - mm(25), Hi: x + mm(25)}
	if !ok || box.Lo < w.Span.Lo || box.Hi > w.Span.Hi || z+mm(2) >= w.Top.Least(box) || z < w.Base.Most(box) {
		return false
	}
	free := measure.Span{Lo: max(tip.Foot, w.Base.Most(box)), Hi: w.Top.Least(box)}
	for _, v := range w.Voids {
		switch {
		case v.X.And(box).Empty():
		case v.Z.Hi <= z:
			free.Lo = max(free.Lo, v.Z.Hi)
		case v.Z.Lo > z:
			free.Hi = min(free.Hi, v.Z.Lo)
		default:
			return false
		}
	}
	if z+mm(2) >= free.Hi || z-mm(1) < free.Lo || free.Length() < mm(52) { // a stub, cut to whole millimetres
		return false
	}
	return !slices.ContainsFunc(lines, func(l Line) bool {
		if l.Bay >= 0 && l.Why == AtGrid {
			l.Width = w.Wide
		}
		return crosses(l, box, free)
	})
}

// TestNoTipReachesTooFar: a batten that stands behind the board at the fixing's
// height is no farther from the tip than 300 mm, or than 100 beyond the first
// place where the board can be fixed, unless no place up to there has room for one. And
// all that is added are short battens off the grid, clear of the rest.
func TestNoTipReachesTooFar(t *testing.T) {
	held, open := 0, 0
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 3))
		w, c := randomSlopes(r)
		before, tips := w.Lines(), c.tips()
		lines := w.Hold(tips, slices.Clone(before))
		checkShort(t, w, before, lines, tips)
		for _, tip := range tips {
			if nearEnough(w, lines, tip) {
				held++
				continue
			}
			open++
			lo, hi := reach(tip)
			for x := lo.UpTo(mm(1)); x <= hi; x += mm(1) {
				if taken(w, lines, tip, x) {
					t.Errorf("the tip at %v of the board from %v has no batten, with room for one at %v", tip.X, tip.Foot+c.lap, x)
					break
				}
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d\n%s", seed, describe(w))
		}
	}
	if held < 20*open || held < 10000 {
		t.Errorf("%d tips are held and %d are not: the walls are no test", held, open)
	}
}

// reach returns the places where a batten may hold a tip.
func reach(tip Tip) (lo, hi measure.Length) {
	if tip.Near >= tip.X {
		return tip.Near, min(tip.Last, max(tip.Near+mm(100), tip.X+mm(300)))
	}
	return max(tip.Last, min(tip.Near-mm(100), tip.X-mm(300))), tip.Near
}

// nearEnough reports whether a line holds the tip, a grid one even if wide.
func nearEnough(w Wall, lines []Line, tip Tip) bool {
	far := max(mm(300), mm(100)+max(tip.Near-tip.X, tip.X-tip.Near))
	return slices.ContainsFunc(lines, func(l Line) bool {
		if max(l.Centre-tip.X, tip.X-l.Centre) > far {
			return false
		}
		z, ok := tip.Fixing(l.Centre)
		if l.Bay >= 0 && l.Why == AtGrid {
			l.Width = w.Wide
		}
		return ok && z < w.Top.Least(l.X()) && slices.ContainsFunc(l.Spans, func(s measure.Span) bool { return s.Lo <= z && z < s.Hi })
	})
}

// checkShort finds what is wrong with the lines added to those before.
func checkShort(t *testing.T, w Wall, before, lines []Line, tips []Tip) {
	t.Helper()
	var kept []Line
	for i, l := range lines {
		if l.Why != AtShort {
			kept = append(kept, l)
			continue
		}
		z, x := l.Spans[0], l.X()
		if len(l.Spans) != 1 || l.Bay != -1 || l.Width != w.Width || z.Length() < mm(50) || x.Lo < w.Span.Lo || x.Hi > w.Span.Hi || z.Hi > w.Top.Least(x) {
			t.Errorf("no short batten: %v", l)
		}
		blocked := z.Lo == w.Base.Most(x)
		for _, v := range w.Voids {
			blocked = blocked || z.Lo == v.Z.Hi
			if crosses(l, v.X, v.Z) {
				t.Errorf("%v enters the opening %v", l, v)
			}
		}
		if !blocked && !slices.ContainsFunc(tips, func(p Tip) bool { return p.Foot == z.Lo }) {
			t.Errorf("%v starts a lap below no board", l)
		}
		for j, o := range lines {
			if j != i && crosses(o, x, z) {
				t.Errorf("%v stands in %v", l, o)
			}
		}
	}
	same(t, kept, before)
}

// TestFarthestPlace: the batten added for one tip stands where trying every
// millimetre from the farthest on first finds room, 50 mm clear of the others or,
// where there is none, hard by them. (What makes room is tested above.)
func TestFarthestPlace(t *testing.T) {
	added, beside := 0, 0
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 4))
		w, c := randomSlopes(r)
		lines := w.Lines()
		for _, tip := range c.tips() {
			if w.Held(&tip, lines) {
				continue
			}
			before := slices.Clone(lines)
			lines = w.Hold([]Tip{tip}, lines)
			want, ok := farthest(w, before, tip, mm(50))
			if !ok {
				want, ok = farthest(w, before, tip, 0)
				beside++
			}
			if ok {
				added++
				before = append(before, want)
				slices.SortStableFunc(before, func(a, b Line) int { return int(a.Centre - b.Centre) })
			}
			if same(t, lines, before); t.Failed() {
				t.Fatalf("seed %d, tip at %v from %v\n%s", seed, tip.X, tip.Foot, describe(w))
			}
		}
	}
	if added < 2000 || beside < 100 {
		t.Errorf("%d battens added, %d places looked for hard by others: the walls are no test", added, beside)
	}
}

// A short batten may start above a void or a step of the base that lies between
// its foot and its fixing, over the head of a batten that ends below. The tip at 0
// of a level board is fixed at 1,100 and reaches 300 mm; a batten from 800 would
// stand in the way of the one at 290, which ends at 900. From 950 on there is room.
func TestShortAboveAnother(t *testing.T) {
	x := span(-500, 3000)
	other := Line{Centre: mm(290), Width: mm(50), Why: AtGrid, Bay: 1, Spans: []measure.Span{span(140, 900)}}
	tip := Tip{X: 0, Near: mm(50), Last: mm(2900), Foot: mm(800), Fixing: func(measure.Length) (measure.Length, bool) { return mm(1100), true }}
	for _, c := range []struct {
		name  string
		base  measure.Profile
		voids []Void
		at    int64
		foot  int64
	}{
		{"nothing between", measure.Level(x, 0), nil, 290 - 37 - 1 - 50 - 25, 800},
		{"a void", measure.Level(x, 0), []Void{{X: span(200, 400), Z: span(850, 950)}}, 300, 950},
		{"a step", measure.Profile{{X: x.Lo}, {X: mm(200)}, {X: mm(200), Z: mm(950)}, {X: x.Hi, Z: mm(950)}}, nil, 300, 950},
		{"a void at the foot", measure.Level(x, 0), []Void{{X: span(200, 400), Z: span(700, 800)}}, 290 - 37 - 1 - 50 - 25, 800},
	} {
		w := Wall{Span: x, Base: c.base, Top: measure.Level(x, mm(1500)), Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75), Voids: c.voids}
		lines := w.Hold([]Tip{tip}, []Line{other})
		i := slices.IndexFunc(lines, func(l Line) bool { return l.Why == AtShort })
		if i < 0 || lines[i].Centre != mm(c.at) || lines[i].Spans[0] != span(c.foot, 1500) {
			t.Errorf("%s: got %v, want a batten at %d from %d", c.name, lines, c.at, c.foot)
		}
	}
}

// farthest returns the batten farthest from the tip, within its reach, that holds
// it with that gap to the others.
func farthest(w Wall, lines []Line, tip Tip, gap measure.Length) (Line, bool) {
	lo, hi := reach(tip)
	for x := lo.UpTo(mm(1)); x <= hi; x += mm(1) {
		at := x
		if tip.Near >= tip.X {
			at = hi.DownTo(mm(1)) - (x - lo.UpTo(mm(1)))
		}
		l := Line{Centre: at, Width: w.Width, Why: AtShort, Bay: -1}
		z, ok := tip.Fixing(at)
		for _, s := range w.spans(l.X(), measure.Span{Lo: tip.Foot, Hi: mm(1e6)}, w.rising()) {
			if l.Spans = []measure.Span{s}; ok && s.Holds(z) && s.Hi.DownTo(mm(1))-s.Lo.UpTo(mm(1)) >= mm(50) && w.Behind(&l, z) && w.fits(&l, lines, gap) {
				return l, true
			}
		}
	}
	return Line{}, false
}
