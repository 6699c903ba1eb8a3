package battens

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

func besidePier(a, b Void) Wall {
	x := span(0, 2000)
	return Wall{Span: x, Base: measure.Level(x, 0), Top: measure.Level(x, mm(2800)), Zones: []Zone{{x, mm(5000)}},
		Width: mm(50), Wide: mm(75), Voids: []Void{a, b}}
}

// jambs lists the jamb battens between 900 and 1,300 as "middle width: spans".
func jambs(w Wall) []string {
	var out []string
	for _, l := range w.Lines() {
		if l.Why == AtJamb && l.Centre > mm(900) && l.Centre < mm(1300) {
			out = append(out, fmt.Sprintf("%v %v: %v", l.Centre, l.Width, l.Spans))
		}
	}
	return out
}

// TestThreeWayClash: left of a pier of 169 a window ends at 1,000, its horns at
// 1,050; right of it a taller one begins at 1,169, its horns at 1,114. Both jambs
// have room for a batten of 75, 1,000..1,075 and 1,094..1,169, and between the
// horns 64 are left. The right one stops at its own horn, at 1,000, and goes on
// from 1,120. The left one is wanted over its window, 1,000..2,000, and stands
// from 1,070 on, where its horn ends.
func TestThreeWayClash(t *testing.T) {
	w := besidePier(Void{X: span(400, 1000), Z: span(1000, 2000)}, Void{X: span(1169, 1600), Z: span(1000, 2500)})
	w.Voids = append(w.Voids, Void{X: span(350, 1050), Z: span(1000, 1070)}, Void{X: span(1114, 1655), Z: span(1000, 1120)})
	want := []string{"1037.5 75: [{1070 2000}]", "1131.5 75: [{0 1000} {1120 2800}]"}
	if got := jambs(w); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestStraightBatten: two windows one above the other, 500..1,200 up and
// 1,700..2,300, where a jamb of each is near one line.
//
//	both end on the left, at 1,000 and 1,004: one batten from 1,004, middle 1,041.5
//	1,010: the same from 1,010, middle 1,047.5; 1,011: two, split half way at 1,450
//	one ends at 1,000, the other begins at 1,079: 79 between, one of 75 in the
//	middle, 1,039.5, to the millimetre; at 1,070 one ripped to 70, its middle 1,035; at 1,086,
//	where the middles are 11 apart, two
func TestStraightBatten(t *testing.T) {
	lower, two := Void{X: span(400, 1000), Z: span(500, 1200)}, func(lo, hi string) []string { return []string{lo, hi} }
	for _, test := range []struct {
		upper measure.Span
		want  []string
	}{
		{span(300, 1004), []string{"1041.5 75: [{0 2800}]"}},
		{span(300, 1010), []string{"1047.5 75: [{0 2800}]"}},
		{span(300, 1011), two("1037.5 75: [{0 1450}]", "1048.5 75: [{1450 2800}]")},
		{span(300, 990), []string{"1037.5 75: [{0 2800}]"}},
		{span(1079, 1600), []string{"1039 75: [{0 2800}]"}},
		{span(1070, 1600), []string{"1035 70: [{0 2800}]"}},
		{span(1086, 1600), two("1037.5 75: [{0 1450}]", "1048.5 75: [{1450 2800}]")},
	} {
		w := besidePier(lower, Void{X: test.upper, Z: span(1700, 2300)})
		if got := jambs(w); !slices.Equal(got, test.want) {
			t.Errorf("upper window %v: got %v, want %v", test.upper, got, test.want)
		}
		for _, l := range w.Lines() { // none in an opening, however near
			for _, v := range w.Voids {
				if crosses(l, v.X, v.Z) {
					t.Errorf("upper window %v: the batten at %v enters %v", test.upper, l.Centre, v)
				}
			}
		}
	}
}

// crowded returns a level wall of two or three rows of openings close together,
// half of them with horns.
func crowded(r *rand.Rand) Wall {
	w := Wall{Span: measure.Span{Hi: between(r, 1500, 5000)}, Width: mm(50), Wide: mm(75), Left: Edge(r.IntN(2)), Right: Edge(r.IntN(2))}
	w.Base, w.Top, w.Zones = measure.Level(w.Span, 0), measure.Level(w.Span, between(r, 2000, 4500)), []Zone{{w.Span, mm(600)}}
	for z := between(r, 0, 800); z < w.Top[0].Z; z += between(r, 700, 1500) {
		for x := between(r, 20, 600); ; {
			v := Void{X: measure.Span{Lo: x, Hi: x + between(r, 200, 1000)}, Z: measure.Span{Lo: z + between(r, 0, 250)}}
			v.Z.Hi = v.Z.Lo + between(r, 200, 900)
			if v.X.Hi > w.Span.Hi {
				break
			}
			w.Voids = append(w.Voids, v)
			if horn := between(r, 10, 120); r.IntN(2) == 0 {
				w.Voids = append(w.Voids, Void{X: v.X.Grow(horn), Z: measure.Span{Lo: v.Z.Lo, Hi: v.Z.Lo + between(r, 40, 160)}})
			}
			x = v.X.Hi + between(r, 15, 350)
		}
	}
	return w
}

// TestEveryJambIsServed: on crowded walls, where nothing stands within a wide
// batten's width of an opening's face over 150 mm and more of its height, there
// is no room for half a normal batten: found by trying every half millimetre.
// Where the horns of its own sill or another opening stand before its face, that
// one's face is looked at.
func TestEveryJambIsServed(t *testing.T) {
	looked := 0
	for seed := range 500 {
		w := crowded(rand.New(rand.NewPCG(uint64(seed), 7)))
		lines := w.Lines()
		for _, v := range w.Voids {
			for _, face := range []measure.Span{{Lo: v.X.Lo - w.Wide, Hi: v.X.Lo}, {Lo: v.X.Hi, Hi: v.X.Hi + w.Wide}} {
				looked++
				for _, z := range unserved(w, lines, face, v.Z.And(measure.Span{Hi: w.Top[0].Z})) {
					if free := widest(w, lines, face.And(w.Span), z); free >= w.Width/2 {
						t.Fatalf("seed %d: beside %v nothing stands over %v, where %v are free\n%s", seed, v, z, free, describe(w))
					}
				}
			}
		}
	}
	if looked < 5000 {
		t.Errorf("only %d faces: the walls are no test", looked)
	}
}

// unserved returns the stretches of at least 150 mm, found at each millimetre,
// over which no line stands in a face.
func unserved(w Wall, lines []Line, face, z measure.Span) []measure.Span {
	var near []Line
	for _, l := range lines {
		if !l.X().And(face).Empty() {
			near = append(near, l)
		}
	}
	var out []measure.Span
	from := z.Lo
	for h := z.Lo; h <= z.Hi; h += mm(1) {
		at := measure.Span{Lo: h, Hi: h + mm(1)}
		if h < z.Hi && !blind(w, face, at) && !slices.ContainsFunc(near, func(l Line) bool { return crosses(l, face, at) }) {
			continue
		}
		if h-from >= mm(150) {
			out = append(out, measure.Span{Lo: from, Hi: h})
		}
		from = h + mm(1)
	}
	return out
}

// blind reports whether an opening stands within half a normal batten of the side
// of the face that is flush with an opening.
func blind(w Wall, face, z measure.Span) bool {
	near := measure.Span{Lo: face.Lo, Hi: face.Lo + w.Width/2}
	if slices.ContainsFunc(w.Voids, func(v Void) bool { return v.X.Lo == face.Hi }) {
		near = measure.Span{Lo: face.Hi - w.Width/2, Hi: face.Hi}
	}
	return near.And(w.Span) != near || slices.ContainsFunc(w.Voids, func(v Void) bool { return !v.X.And(near).Empty() && !v.Z.And(z).Empty() })
}

// widest returns the widest strip of a face that no line and no opening touches
// over the heights.
func widest(w Wall, lines []Line, face, z measure.Span) (most measure.Length) {
	run := measure.Length(0)
	for x := face.Lo; x < face.Hi; x += mm(1) / 2 {
		at := measure.Span{Lo: x, Hi: x + mm(1)/2}
		taken := slices.ContainsFunc(lines, func(l Line) bool { return crosses(l, at, z) }) ||
			slices.ContainsFunc(w.Voids, func(v Void) bool { return !v.X.And(at).Empty() && !v.Z.And(z).Empty() })
		if run += mm(1) / 2; taken {
			run = 0
		}
		most = max(most, run)
	}
	return most
}
