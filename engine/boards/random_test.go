package boards

import (
	"math/rand/v2"
	"slices"

	"lapwright/engine/measure"
)

var mm = measure.MM

func span(lo, hi int64) measure.Span { return measure.Span{Lo: mm(lo), Hi: mm(hi)} }

// between returns a whole number of millimetres in lo..hi.
func between(r *rand.Rand, lo, hi int64) measure.Length { return mm(lo + r.Int64N(hi-lo+1)) }

// marks returns n+1 course marks from first on.
func marks(first, gauge int64, n int) []measure.Length {
	out := make([]measure.Length, n+1)
	for k := range out {
		out[k] = mm(first + int64(k)*gauge)
	}
	return out
}

// shapes are the ways a wall can end at its top, by name.
var shapes = []struct {
	name string
	top  func(r *rand.Rand, width measure.Length) measure.Profile
}{
	{"level", func(r *rand.Rand, w measure.Length) measure.Profile {
		return measure.Level(measure.Span{Hi: w}, between(r, 900, 4000))
	}},
	{"gable", func(r *rand.Rand, w measure.Length) measure.Profile {
		z := between(r, 600, 3000)
		return measure.Profile{{X: 0, Z: z}, {X: w / 2, Z: z + w/2}, {X: w, Z: z}}
	}},
	{"uneven gable", func(r *rand.Rand, w measure.Length) measure.Profile {
		apex := w/10 + measure.Length(r.Int64N(int64(w*8/10)))
		return measure.Profile{{X: 0, Z: between(r, 600, 2500)}, {X: apex, Z: between(r, 2600, 4500)}, {X: w, Z: between(r, 600, 2500)}}
	}},
	{"mono-pitch", func(r *rand.Rand, w measure.Length) measure.Profile {
		return measure.Profile{{X: 0, Z: between(r, 700, 4000)}, {X: w, Z: between(r, 700, 4000)}}
	}},
	{"steps", func(r *rand.Rand, w measure.Length) measure.Profile {
		a, b := w/3, w*2/3
		z := [3]measure.Length{between(r, 700, 4000), between(r, 700, 4000), between(r, 700, 4000)}
		return measure.Profile{{X: 0, Z: z[0]}, {X: a, Z: z[0]}, {X: a, Z: z[1]}, {X: b, Z: z[1]}, {X: b, Z: z[2]}, {X: w, Z: z[2]}}
	}},
	{"anything", func(r *rand.Rand, w measure.Length) measure.Profile {
		out := measure.Profile{{X: 0, Z: between(r, 700, 4000)}}
		for x := measure.Length(0); x < w; {
			last := out[len(out)-1]
			switch r.IntN(3) {
			case 0:
				out = append(out, measure.Point{X: x, Z: between(r, 700, 4000)})
			case 1:
				x = min(w, x+between(r, 200, 2500))
				out = append(out, measure.Point{X: x, Z: last.Z})
			default:
				x = min(w, x+between(r, 200, 2500))
				out = append(out, measure.Point{X: x, Z: between(r, 700, 4000)})
			}
		}
		return out
	}},
}

// randomWall returns a wall of the given shape: ground level, stepped or
// sloping, up to six openings anywhere, some of them through an edge, some
// touching or over each other, some at a course mark or a board's top.
func randomWall(r *rand.Rand, shape int) Wall {
	width := between(r, 800, 9000)
	gauge := r.Int64N(21) + 120
	w := Wall{
		Top: shapes[shape].top(r, width), Width: mm(gauge + 30 + r.Int64N(21)),
		StripLeast: mm(50), PieceLeast: mm(600),
	}
	w.Marks = marks(150, gauge, 1)
	for highest := w.Top.Most(measure.Span{Hi: width}); w.Marks[len(w.Marks)-1]+w.Width < highest; {
		w.Marks = append(w.Marks, w.Marks[len(w.Marks)-1]+mm(gauge+r.Int64N(3)))
	}
	w.Base = randomBase(r, w)
	for range r.IntN(7) {
		w.Voids = append(w.Voids, randomVoid(r, w))
	}
	return w
}

// randomBase returns a stair below the top.
func randomBase(r *rand.Rand, w Wall) measure.Profile {
	x := w.Top.Extent()
	ground := measure.Level(x, 0)
	switch r.IntN(3) {
	case 1:
		at := x.Lo + measure.Length(r.Int64N(int64(x.Length())))
		ground = measure.Profile{{X: x.Lo}, {X: at}, {X: at, Z: between(r, 1, 400)}, {X: x.Hi, Z: between(r, 1, 400)}}
	case 2:
		ground = measure.Profile{{X: x.Lo, Z: between(r, -300, 400)}, {X: x.Hi, Z: between(r, -300, 400)}}
	}
	return Stair(ground, w.Marks, mm(100), x, nil)
}

func randomVoid(r *rand.Rand, w Wall) Void {
	x := w.Top.Extent()
	left := between(r, -300, int64(x.Hi/measure.Millimetre))
	sill := between(r, -100, 3500)
	v := Void{ID: r.IntN(9), X: measure.Span{Lo: left, Hi: left + between(r, 30, 2200)}, Z: measure.Span{Lo: sill, Hi: sill + between(r, 20, 1800)}}
	if n := len(w.Voids); n > 0 && r.IntN(3) == 0 {
		v.X = v.X.Grow(0)
		shift := w.Voids[n-1].X.Hi - v.X.Lo + mm([]int64{0, 40, -25}[r.IntN(3)])
		v.X = measure.Span{Lo: v.X.Lo + shift, Hi: v.X.Hi + shift}
	}
	switch r.IntN(4) {
	case 0:
		v.Z.Lo = w.Marks[r.IntN(len(w.Marks))]
	case 1:
		v.Z.Lo = w.Marks[r.IntN(len(w.Marks))] + w.Width
	}
	v.Z.Hi = max(v.Z.Hi, v.Z.Lo+mm(15))
	if r.IntN(4) == 0 {
		if m := w.Marks[r.IntN(len(w.Marks))]; m > v.Z.Lo {
			v.Z.Hi = m
		}
	}
	return v
}

// joint returns places to cut a run, in order, none over a hole.
func joints(r *rand.Rand, run Run) []measure.Length {
	var out []measure.Length
	for range r.IntN(4) {
		x := run.Span.Lo + measure.Length(r.Int64N(int64(run.Span.Length())))
		over := func(s measure.Span) bool { return s.Holds(x) }
		if x > run.Span.Lo && !slices.ContainsFunc(run.NoJoint, over) {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sawn returns every board of the wall, runs cut at random places.
func sawn(r *rand.Rand, runs []Run) []Piece {
	var out []Piece
	for _, run := range runs {
		at := run.Span.Lo
		for _, x := range append(joints(r, run), run.Span.Hi) {
			out = append(out, run.Piece(measure.Span{Lo: at, Hi: x}))
			at = x
		}
	}
	return out
}
