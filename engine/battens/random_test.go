package battens

import (
	"math/rand/v2"
	"slices"

	"lapwright/engine/measure"
)

var mm = measure.MM

func span(lo, hi int64) measure.Span { return measure.Span{Lo: mm(lo), Hi: mm(hi)} }

// between returns a whole number of millimetres in lo..hi.
func between(r *rand.Rand, lo, hi int64) measure.Length { return mm(lo + r.Int64N(hi-lo+1)) }

// randomWall returns a wall of one of several tops, with or without studs,
// zones and a given start, and up to five openings anywhere.
func randomWall(r *rand.Rand) Wall {
	w := Wall{
		Span:  measure.Span{Hi: between(r, 700, 9000)},
		Width: mm(50), Wide: mm(75),
		Left: Edge(r.IntN(2)), Right: Edge(r.IntN(2)),
		Clear: mm([]int64{0, 0, 20}[r.IntN(3)]),
	}
	w.Base = measure.Level(w.Span, mm(140))
	w.Top = randomTop(r, w.Span)
	w.Zones = randomZones(r, w.Span)
	if r.IntN(3) == 0 {
		w.First = measure.Some(between(r, 0, 900))
	}
	for range r.IntN(6) {
		left, sill := between(r, -200, int64(w.Span.Hi/measure.Millimetre)), between(r, 0, 3000)
		w.Voids = append(w.Voids, Void{X: measure.Span{Lo: left, Hi: left + between(r, 100, 2200)}, Z: measure.Span{Lo: sill, Hi: sill + between(r, 100, 1700)}})
	}
	for i := range w.Voids {
		if v := &w.Voids[i]; r.IntN(2) == 0 {
			v.Hold = measure.Span{Lo: v.Z.Lo - between(r, 0, 300), Hi: v.Z.Hi + between(r, 0, 300)}
		}
	}
	return w
}

func randomTop(r *rand.Rand, x measure.Span) measure.Profile {
	a, b := between(r, 2000, 3500), between(r, 2000, 3500)
	switch r.IntN(4) {
	case 0:
		return measure.Profile{{X: x.Lo, Z: a}, {X: x.Hi / 2, Z: a + mm(1500)}, {X: x.Hi, Z: a}}
	case 1:
		return measure.Profile{{X: x.Lo, Z: a}, {X: x.Hi, Z: b}}
	case 2:
		return measure.Profile{{X: x.Lo, Z: a}, {X: x.Hi / 3, Z: a}, {X: x.Hi / 3, Z: b}, {X: x.Hi, Z: b}}
	}
	return measure.Level(x, a)
}

func randomZones(r *rand.Rand, x measure.Span) []Zone {
	out := []Zone{{measure.Span{Lo: x.Lo, Hi: x.Hi}, mm(600)}}
	for _, c := range []int64{450, 300, 400}[:r.IntN(4)] {
		last := &out[len(out)-1]
		if last.X.Length() < mm(200) {
			break
		}
		at := last.X.Lo + measure.Length(r.Int64N(int64(last.X.Length())))
		out = append(out, Zone{measure.Span{Lo: at, Hi: last.X.Hi}, mm(c)})
		out[len(out)-2].X.Hi = at
	}
	r.Shuffle(len(out), func(i, j int) { out[i].Centres, out[j].Centres = out[j].Centres, out[i].Centres })
	return out
}

// apart drops openings until none overlaps another, all lie clear of the
// wall's ends and no pier is narrower than half a batten, as in a survey
// without faults.
func apart(w Wall) Wall {
	var out []Void
	for _, v := range w.Voids {
		hit := func(o Void) bool { return !o.X.And(v.X.Grow(w.Width/2)).Empty() && !o.Z.And(v.Z).Empty() }
		if v.X.Lo > w.Span.Lo && v.X.Hi < w.Span.Hi && !slices.ContainsFunc(out, hit) {
			out = append(out, v)
		}
	}
	w.Voids = out
	return w
}
