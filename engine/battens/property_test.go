package battens

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// each runs a check on many random walls.
func each(t *testing.T, check func(t *testing.T, r *rand.Rand, w Wall)) {
	for seed := range 4000 {
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		w := randomWall(r)
		if check(t, r, w); t.Failed() {
			t.Fatalf("seed %d\n%s", seed, describe(w))
		}
	}
}

func describe(w Wall) string {
	s := fmt.Sprintf("span %v top %v left %d right %d zones %v first %v clear %v\nvoids %v\n", w.Span, measure.Points(w.Top), w.Left, w.Right, w.Zones, w.First, w.Clear, w.Voids)
	for _, l := range w.Lines() {
		s += fmt.Sprintln(l.Centre, l.Width, l.Why, l.Bay, l.Spans)
	}
	return s
}

// TestNoBattenInAnotherOrInAnOpening: battens lie side by side, inside the
// wall, outside every opening, between base and top.
func TestNoBattenInAnotherOrInAnOpening(t *testing.T) {
	each(t, func(t *testing.T, _ *rand.Rand, w Wall) {
		lines := w.Lines()
		for i, l := range lines {
			if x := l.X(); x.Lo < w.Span.Lo || x.Hi > w.Span.Hi {
				t.Errorf("line at %v, %v wide, leaves the wall", l.Centre, l.Width)
			}
			for n, s := range l.Spans {
				if s.Empty() || s.Lo < w.Base.Most(l.X()) || s.Hi > w.Top.Least(l.X()) || (n > 0 && l.Spans[n-1].Hi > s.Lo) {
					t.Errorf("line at %v: bad span %v of %v", l.Centre, s, l.Spans)
				}
			}
			for _, v := range w.Voids {
				if crosses(l, v.X, v.Z) {
					t.Errorf("line at %v enters the opening %v", l.Centre, v)
				}
			}
			for _, o := range lines[:i] {
				for _, s := range o.Spans {
					if crosses(l, o.X(), s) {
						t.Errorf("lines at %v (%s) and %v (%s) overlap", o.Centre, o.Why, l.Centre, l.Why)
					}
				}
			}
		}
	})
}

func crosses(l Line, x, z measure.Span) bool {
	return !l.X().And(x).Empty() && slices.ContainsFunc(l.Spans, func(s measure.Span) bool { return !s.And(z).Empty() })
}

// TestCentresHold: at any height, two battens that stand there with no opening
// between them are no farther apart than the centres of every zone between
// them allow.
func TestCentresHold(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand, w Wall) {
		w = apart(w)
		lines := w.Lines()
		for range 10 {
			z := between(r, 150, 1900)
			checkCentres(t, w, lines, z)
		}
	})
}

func checkCentres(t *testing.T, w Wall, lines []Line, z measure.Length) {
	last := measure.Length(-1)
	for _, l := range lines {
		if !slices.ContainsFunc(l.Spans, func(s measure.Span) bool { return s.Lo <= z && z <= s.Hi }) {
			continue
		}
		bay := measure.Span{Lo: last, Hi: l.Centre}
		last = l.Centre
		open := func(v Void) bool { return v.Z.Lo <= z && z <= v.Z.Hi && !v.X.And(bay).Empty() }
		if bay.Lo < 0 || slices.ContainsFunc(w.Voids, open) {
			continue
		}
		for i, zone := range w.Zones {
			if x := zone.X.And(bay); (!x.Empty() || len(w.Zones) == 1) && bay.Length() > zone.Centres {
				t.Errorf("at height %v: battens at %v and %v, zone %d allows %v", z, bay.Lo, bay.Hi, i, zone.Centres)
			}
		}
	}
}

// TestJambsHold: beside each opening, over its whole height inside the wall,
// a batten stands at the face, at most a wide batten from it, unless another
// opening or the wall's end does.
func TestJambsHold(t *testing.T) {
	each(t, func(t *testing.T, _ *rand.Rand, w Wall) {
		w = apart(w)
		lines := w.Lines()
		for _, v := range w.Voids {
			for _, face := range []measure.Span{{Lo: v.X.Lo - w.Wide, Hi: v.X.Lo}, {Lo: v.X.Hi, Hi: v.X.Hi + w.Wide}} {
				z := v.Z.And(measure.Span{Lo: w.Base.Most(face), Hi: w.Top.Least(face.Grow(w.Wide))})
				for h := z.Lo + 1; h < z.Hi; h += mm(97) {
					if !held(w, lines, face, h) {
						t.Errorf("opening %v: no batten beside it at %v in %v", v, h, face)
						break
					}
				}
			}
		}
	})
}

func held(w Wall, lines []Line, face measure.Span, z measure.Length) bool {
	at := measure.Span{Lo: z, Hi: z + 1}
	for _, l := range lines {
		if crosses(l, face, at) {
			return true
		}
	}
	near := func(v Void) bool { return !v.X.And(face).Empty() && !v.Z.And(at).Empty() }
	return slices.ContainsFunc(w.Voids, near) || face.Lo < w.Span.Lo || face.Hi > w.Span.Hi
}

// TestJambsGoNoFartherThanWanted: an end of a jamb batten beyond the heights it is
// wanted for stands there because at some height beyond, found by looking at each
// millimetre, the two battens beside it are too far apart or one is missing.
func TestJambsGoNoFartherThanWanted(t *testing.T) {
	stopped, kept := 0, 0
	each(t, func(t *testing.T, _ *rand.Rand, w Wall) {
		w = apart(w)
		lines := w.Lines()
		for i, l := range lines {
			if l.Why != AtJamb || l.hold == always() || l.hold.Empty() {
				continue
			}
			for _, beyond := range []measure.Span{{Lo: l.hold.Hi, Hi: mm(6000)}, {Lo: 0, Hi: l.hold.Lo}} {
				over := measure.Less(l.Spans, measure.Less([]measure.Span{{Lo: 0, Hi: mm(6000)}}, []measure.Span{beyond}))
				if len(over) == 0 {
					stopped++
					continue
				}
				kept++
				if !slices.ContainsFunc(over, func(s measure.Span) bool { return someBayTooWide(w, lines, i, s) }) {
					t.Errorf("jamb batten at %v, wanted over %v, goes on over %v where nothing needs it", l.Centre, l.hold, over)
				}
			}
		}
	})
	if stopped < 1000 || kept < 1000 {
		t.Errorf("%d ends stop, %d go on: the walls are no test", stopped, kept)
	}
}

// someBayTooWide looks at the battens beside line i over a span, millimetre by
// millimetre.
func someBayTooWide(w Wall, lines []Line, i int, s measure.Span) bool {
	for z := s.Lo + 1; z < s.Hi; z += mm(1) {
		beside := [2]measure.Length{-1, -1}
		for j, l := range lines {
			if j == i || !slices.ContainsFunc(l.Spans, func(o measure.Span) bool {
				return o.Lo <= z && (z <= o.Hi || o.Hi == w.Top.Least(l.X())) // above a slope no board reaches out to it
			}) {
				continue
			}
			if j < i {
				beside[0] = l.Centre
			} else if beside[1] < 0 {
				beside[1] = l.Centre
			}
		}
		if beside[0] < 0 || beside[1] < 0 {
			return true
		}
		for _, zone := range w.Zones {
			x := zone.X.And(measure.Span{Lo: beside[0], Hi: beside[1]})
			if (!x.Empty() || len(w.Zones) == 1) && beside[1]-beside[0] > zone.Centres {
				return true
			}
		}
	}
	return false
}

// TestBaysCount: grid battens keep their number however many are left out:
// numbers rise from the left by no less than the places between them ask.
func TestBaysCount(t *testing.T) {
	each(t, func(t *testing.T, _ *rand.Rand, w Wall) {
		last := Line{Bay: -1}
		for _, l := range w.Lines() {
			if l.Bay < 0 {
				continue
			}
			if l.Bay <= last.Bay && last.Bay >= 0 {
				t.Errorf("bay %d at %v comes after bay %d", l.Bay, l.Centre, last.Bay)
			}
			last = l
		}
	})
}

// TestWiden: a grid batten made wide for a joint keeps clear of its
// neighbours and of openings, and loses nothing of its length.
func TestWiden(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand, w Wall) {
		w = apart(w)
		lines := w.Lines()
		for _, i := range Sites(lines, board(700, 875), 0) {
			got := w.Widen(lines[i], []measure.Span{span(700, 875)}, nil)
			if len(got) == 0 || got[0].Width != w.Wide || got[0].Why != AtJoint || got[0].Centre != lines[i].Centre || got[0].Bay != lines[i].Bay {
				t.Fatalf("line at %v widened: got %v", lines[i].Centre, got)
			}
			if a, b := height(lines[i]), height(got...); b > a || a-b > slack(w, lines[i]) {
				t.Errorf("line at %v: %v long, widened %v", lines[i].Centre, a, b)
			}
			for j, l := range lines {
				for _, s := range l.Spans {
					if j != i && crosses(got[0], l.X(), s) {
						t.Errorf("line at %v widened overlaps the %s batten at %v", lines[i].Centre, l.Why, l.Centre)
					}
				}
			}
		}
	})
}

func height(lines ...Line) (sum measure.Length) {
	for _, l := range lines {
		for _, s := range l.Spans {
			sum += s.Length()
		}
	}
	return sum
}

// slack is what a wider batten may lose at a sloped or stepped top.
func slack(w Wall, l Line) measure.Length {
	x := l.X()
	return w.Top.Least(x) - w.Top.Least(x.Grow((w.Wide-w.Width+1)/2))
}

// TestStuds: every grid batten stands on a stud; where the studs keep the
// centres, so do the battens, but for what one stud too close to the edge
// batten and one too close to another stud leave.
func TestStuds(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand, w Wall) {
		w.Voids = nil
		for x := mm(20); x < w.Span.Hi; x += between(r, 38, 600) {
			w.Studs = append(w.Studs, x)
		}
		w.Zones = []Zone{{w.Span, mm(600)}}
		lines := w.Lines()
		for _, l := range lines {
			if l.Why == AtGrid || (l.Why == AtStud && !slices.Contains(w.Studs, l.Centre)) {
				t.Errorf("%s batten at %v is on no stud", l.Why, l.Centre)
			}
		}
		for _, s := range w.Over(lines) {
			if s.Length() > mm(600)+2*(w.Wide+w.Clear) {
				t.Errorf("battens at %v and %v, studs 600 apart at most", s.Lo, s.Hi)
			}
		}
	})
}

// TestSplit: the parts make up the batten, none is longer than the stock, and
// as few as can be, and all cuts are whole millimetres from the foot. A cut that is
// not clear of the fixings has no clear place below it that keeps to that.
func TestSplit(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	moved, stayed := 0, 0
	for range 5000 {
		b := measure.Span{Lo: between(r, -100, 200)}
		b.Hi = b.Lo + between(r, 1, 9000)
		stock, least, clear := between(r, 1800, 4800), between(r, 0, 600), between(r, 0, 90)
		var fixings []measure.Length
		for z := b.Lo; z < b.Hi; z += between(r, 90, 160) {
			fixings = append(fixings, z)
		}
		near := func(cut measure.Length) bool {
			return slices.ContainsFunc(fixings, func(z measure.Length) bool { return max(z-cut, cut-z) < clear })
		}
		evenly := r.IntN(2) == 0
		parts, plain := Split(b, stock, Splices{least, fixings, clear, evenly}), Split(b, stock, Splices{least, nil, 0, evenly})
		if want := int((b.Length() + stock - 1) / stock); len(parts) != want || len(plain) != want {
			t.Fatalf("%v from %v: got %d and %d parts, want %d", b, stock, len(parts), len(plain), want)
		}
		for i := 0; i+2 < len(plain); i++ { // but for the last two, all are whole
			if plain[i].Length() != stock {
				t.Fatalf("%v from %v: got %v", b, stock, plain)
			}
		}
		if len(parts) > 1 && parts[0].Hi != plain[0].Hi {
			moved++
		}
		at := b.Lo
		for i, p := range parts {
			if p.Lo != at || p.Length() > stock || (len(parts) > 1 && p.Length() < least) || (p.Lo-b.Lo)%mm(1) != 0 {
				t.Fatalf("%v from %v, least %v: got %v", b, stock, least, parts)
			}
			if at = p.Hi; at == b.Hi || !near(at) {
				continue
			}
			stayed++
			after := measure.Length(len(parts) - 1 - i)
			for cut := at - mm(1); cut >= p.Lo+least && b.Hi-cut <= after*stock; cut -= mm(1) {
				if !near(cut) {
					t.Fatalf("%v from %v: cut at %v, clear at %v", b, stock, at, cut)
				}
			}
		}
		if at != b.Hi {
			t.Fatalf("%v from %v: got %v", b, stock, parts)
		}
	}
	if moved < 1000 || stayed < 100 {
		t.Errorf("%d cuts moved, %d could not: no test", moved, stayed)
	}
}
