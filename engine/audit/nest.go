package audit

import (
	"math"

	"lapwright/engine/measure"
)

// mostTurned is how many sloped pieces a board may hold and still have every
// way to turn them tried.
const mostTurned = 12

// shared lays the pieces of a board side by side in the order sawn, each as it
// is or turned end for end, as close as their shapes and the saw allow, and
// checks that what is said to be saved can be, on a board of that length, and
// by cuts that are parallel to the ends of both pieces they part.
func (k *stock) shared(b *Board) {
	if b.Shared < 0 || !b.Turns {
		k.r.add(b.Name, "shared", "%v is stated as saved by shared cuts; boards turn: %v", b.Shared, b.Turns)
		return
	}
	shapes := make([]shape, len(b.Cuts))
	var sum, parallel measure.Length
	var sloped []int
	for i, c := range b.Cuts {
		shapes[i] = boxShape(c.Length)
		if p := k.single(c); p != nil {
			shapes[i] = shapeOf(k.outlines[p.mark], p.length, b.Width)
		}
		if shapes[i].slope != [2]float64{} {
			sloped = append(sloped, i)
		}
		sum += c.Length + k.job.Kerf
		if i > 0 {
			parallel += k.bestShare(b.Cuts[i-1], c)
		}
	}
	if len(sloped) > mostTurned {
		k.r.add(b.Name, "shared", "%d sloped pieces on one board are more than can be checked", len(sloped))
		return
	}
	lie := closest(shapes, sloped, k.job.Kerf)
	if most := min(sum-k.job.Kerf-lie, parallel); b.Shared > most || lie > b.Stock {
		k.r.add(b.Name, "shared", "%v is stated as saved by shared cuts, %v could be: the pieces lie on %v of %v", b.Shared, most, lie, b.Stock)
	}
}

// shape is a piece on the board: where it begins and ends, from the left of its
// box, at heights that rise from the board's lower edge to its upper one.
type shape struct {
	z, lo, hi []measure.Length
	length    measure.Length
	slope     [2]float64 // of its left and right end, along the board over up; 0: none
}

func boxShape(length measure.Length) shape {
	return shape{z: []measure.Length{0}, lo: []measure.Length{0}, hi: []measure.Length{length}, length: length}
}

// shapeOf reads a piece's outline. One narrower than the board may lie anywhere
// across it and counts as its box.
func shapeOf(p measure.Polygon, length, width measure.Length) shape {
	if len(p) < 3 {
		return boxShape(length)
	}
	xs, zs := bounds(p)
	if zs.Length() != width {
		return boxShape(max(length, xs.Length()))
	}
	s := shape{length: xs.Length()}
	for _, at := range p {
		lo, hi := crossed(p, at.Z)
		s.z, s.lo, s.hi = append(s.z, at.Z-zs.Lo), append(s.lo, lo-xs.Lo), append(s.hi, hi-xs.Lo)
	}
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X != b.X && a.Z != b.Z {
			end := 0 // anticlockwise: the left end falls
			if b.Z > a.Z {
				end = 1
			}
			s.slope[end] = max(s.slope[end], math.Abs(float64(b.X-a.X)/float64(b.Z-a.Z)))
		}
	}
	return s
}

// crossed is how far left and right an outline reaches at a height; rounded
// outwards.
func crossed(p measure.Polygon, z measure.Length) (lo, hi measure.Length) {
	lo, hi = math.MaxInt64, math.MinInt64
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if min(a.Z, b.Z) > z || max(a.Z, b.Z) < z {
			continue
		}
		if a.Z == b.Z {
			lo, hi = min(lo, a.X, b.X), max(hi, a.X, b.X)
			continue
		}
		x := float64(a.X) + float64(b.X-a.X)*(float64(z-a.Z)/float64(b.Z-a.Z))
		lo, hi = min(lo, measure.Length(math.Floor(x))), max(hi, measure.Length(math.Ceil(x)))
	}
	return lo, hi
}

// turned is the shape turned end for end on a board of that width.
func (s shape) turned(width measure.Length) shape {
	t := shape{length: s.length, slope: [2]float64{s.slope[1], s.slope[0]}}
	for i := range s.z {
		t.z = append(t.z, width-s.z[i])
		t.lo, t.hi = append(t.lo, s.length-s.hi[i]), append(t.hi, s.length-s.lo[i])
	}
	return t
}

// at is how far the shape reaches at a height between those it lists.
func (s shape) at(z measure.Length) (lo, hi float64) {
	below, above := -1, -1
	for i, v := range s.z {
		if v <= z && (below < 0 || v > s.z[below]) {
			below = i
		}
		if v >= z && (above < 0 || v < s.z[above]) {
			above = i
		}
	}
	if below < 0 || above < 0 { // a box lists one height for all
		return float64(s.lo[0]), float64(s.hi[0])
	}
	f := 0.0
	if s.z[above] > s.z[below] {
		f = float64(z-s.z[below]) / float64(s.z[above]-s.z[below])
	}
	mix := func(v []measure.Length) float64 { return float64(v[below]) + f*float64(v[above]-v[below]) }
	return mix(s.lo), mix(s.hi)
}

// after is how far right of a's box b's box may start at the earliest, with a
// kerf between: where two slopes meet, measured square to the steeper; where
// one of the ends is square, that one is sawn first, and its kerf is enough.
func after(a, b shape, kerf measure.Length) measure.Length {
	need := math.Inf(-1)
	for _, z := range append(append([]measure.Length(nil), a.z...), b.z...) {
		_, hi := a.at(z)
		lo, _ := b.at(z)
		need = max(need, hi-lo)
	}
	m := 0.0
	if a.slope[1] > 0 && b.slope[0] > 0 {
		m = max(a.slope[1], b.slope[0])
	}
	return measure.Length(math.Ceil(need + float64(kerf)*math.Sqrt(1+m*m)))
}

// closest is the least length of board on which the shapes fit in that order,
// over every way to turn the sloped ones.
func closest(shapes []shape, sloped []int, kerf measure.Length) measure.Length {
	width := measure.Length(0)
	for _, i := range sloped {
		for _, z := range shapes[i].z {
			width = max(width, z)
		}
	}
	best := measure.Length(math.MaxInt64)
	laid := append([]shape(nil), shapes...)
	for mask := range 1 << len(sloped) {
		for bit, i := range sloped {
			laid[i] = shapes[i]
			if mask>>bit&1 != 0 {
				laid[i] = shapes[i].turned(width)
			}
		}
		best = min(best, reach(laid, kerf))
	}
	return best
}

// reach lays the shapes from the left, each clear of all before it.
func reach(laid []shape, kerf measure.Length) measure.Length {
	at := make([]measure.Length, len(laid))
	end := measure.Length(0)
	for i, s := range laid {
		for j := range i {
			at[i] = max(at[i], at[j]+after(laid[j], s, kerf))
		}
		end = max(end, at[i]+s.length)
	}
	return end
}

// slope is one sloped end: how far it runs along the board and how high.
type slope struct{ run, rise measure.Length }

// bestShare is the most that one straight cut between two neighbours saves: the
// shorter run, where ends of both are of one slope.
func (k *stock) bestShare(c, d Cut) measure.Length {
	var best measure.Length
	p, q := k.single(c), k.single(d)
	if p == nil || q == nil {
		return 0
	}
	for _, a := range ends(k.outlines[p.mark]) {
		for _, b := range ends(k.outlines[q.mark]) {
			// corners to the micrometre: the two products may differ by as much as a point moves them
			d, slack := a.run*b.rise-b.run*a.rise, 2*(a.run+b.run+a.rise+b.rise)
			if max(d, -d) <= slack {
				best = max(best, min(a.run, b.run))
			}
		}
	}
	return best
}

func ends(p measure.Polygon) [2]slope {
	var out [2]slope
	for i, a := range p {
		b := p[(i+1)%len(p)]
		dx, dz := max(b.X-a.X, a.X-b.X), b.Z-a.Z
		switch {
		case dx > 0 && dz < 0:
			out[0].run, out[0].rise = out[0].run+dx, out[0].rise-dz
		case dx > 0 && dz > 0:
			out[1].run, out[1].rise = out[1].run+dx, out[1].rise+dz
		}
	}
	return out
}
