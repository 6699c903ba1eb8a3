package boards

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/measure"
)

// The oracle knows nothing of runs and cells. It slices the wall upright at
// every corner of anything; between two slices every edge is straight and none
// crosses another, so a length measured half way, times the distance, is the
// exact area. Heights are float64 micrometres: exact where all is level.

// stretch is an upright stretch.
type stretch struct{ lo, hi float64 }

// uprights returns where the upright line at x lies inside the polygon.
func uprights(p measure.Polygon, x float64) []stretch {
	zs := make([]float64, 0, 4)
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (float64(a.X) < x) == (float64(b.X) < x) {
			continue
		}
		t := (x - float64(a.X)) / float64(b.X-a.X)
		zs = append(zs, float64(a.Z)+t*float64(b.Z-a.Z))
	}
	slices.Sort(zs)
	var out []stretch
	for i := 0; i+1 < len(zs); i += 2 {
		out = append(out, stretch{zs[i], zs[i+1]})
	}
	return out
}

// without takes one stretch out of others.
func without(list []stretch, cut stretch) []stretch {
	if !slices.ContainsFunc(list, func(s stretch) bool { return s.lo < cut.hi && cut.lo < s.hi }) {
		return list
	}
	var out []stretch
	for _, s := range list {
		if lo := (stretch{s.lo, min(s.hi, cut.lo)}); lo.lo < lo.hi {
			out = append(out, lo)
		}
		if hi := (stretch{max(s.lo, cut.hi), s.hi}); hi.lo < hi.hi {
			out = append(out, hi)
		}
	}
	return out
}

// stretches returns the piece's own at x, holes taken out.
func (p Piece) stretches(x float64) []stretch {
	out := uprights(p.Outline, x)
	for _, h := range p.Holes {
		if float64(h.X.Lo) < x && x < float64(h.X.Hi) {
			out = without(out, stretch{float64(h.Z.Lo), float64(h.Z.Hi)})
		}
	}
	return out
}

// clad returns the region to be clad at x: between base and top, outside the
// voids.
func (w Wall) clad(x float64) []stretch {
	out := uprights(measure.Between(w.Base, w.Top), x)
	for _, v := range w.Voids {
		if float64(v.X.Lo) < x && x < float64(v.X.Hi) {
			out = without(out, stretch{float64(v.Z.Lo), float64(v.Z.Hi)})
		}
	}
	return out
}

// depth returns how much length lies in exactly one, exactly two and more of
// the stretches.
func depth(list []stretch) (one, two, more float64) {
	type event struct {
		z    float64
		step int
	}
	var events []event
	for _, s := range list {
		events = append(events, event{s.lo, 1}, event{s.hi, -1})
	}
	slices.SortFunc(events, func(a, b event) int { return cmp.Or(cmp.Compare(a.z, b.z), a.step-b.step) })
	n := 0
	for i, e := range events {
		if i > 0 {
			switch l := e.z - events[i-1].z; {
			case n == 1:
				one += l
			case n == 2:
				two += l
			case n > 2:
				more += l
			}
		}
		n += e.step
	}
	return one, two, more
}

// total is the length of stretches that do not overlap.
func total(list []stretch) (sum float64) {
	for _, s := range list {
		sum += s.hi - s.lo
	}
	return sum
}

// covered is what the oracle measures, in square micrometres, but for alone,
// in micrometres.
type covered struct {
	clad, boards     float64 // the region, the sum of the pieces
	union, lap, more float64 // covered at all, twice, more often
	bare, outside    float64 // region without a board, board outside the region
	own              []float64
	alone            []float64 // of each piece, the greatest height no other piece covers
}

// corners returns the x of every corner.
func corners(w Wall, pieces []Piece) []measure.Length {
	var xs []measure.Length
	for _, p := range [2]measure.Profile{w.Base, w.Top} {
		for _, v := range p {
			xs = append(xs, v.X)
		}
	}
	for _, v := range w.Voids {
		xs = append(xs, v.X.Lo, v.X.Hi)
	}
	for _, p := range pieces {
		for _, v := range p.Outline {
			xs = append(xs, v.X)
		}
		for _, h := range p.Holes {
			xs = append(xs, h.X.Lo, h.X.Hi)
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// measured applies the oracle to the pieces of a wall.
func measured(w Wall, pieces []Piece) covered {
	c := covered{own: make([]float64, len(pieces)), alone: make([]float64, len(pieces))}
	xs := corners(w, pieces)
	for i := 1; i < len(xs); i++ {
		wide, x := float64(xs[i]-xs[i-1]), (float64(xs[i])+float64(xs[i-1]))/2
		want := w.clad(x)
		var all []stretch
		owner := []int{}
		for n, p := range pieces {
			for _, s := range p.stretches(x) {
				all, owner = append(all, s), append(owner, n)
				c.own[n] += wide * (s.hi - s.lo)
			}
		}
		one, two, more := depth(all)
		c.union += wide * (one + two + more)
		c.lap += wide * two
		c.more += wide * more
		c.boards += wide * total(all)
		c.clad += wide * total(want)
		bare, free := want, slices.Clone(all)
		for _, s := range all {
			bare = without(bare, s)
		}
		for _, s := range want {
			free = without(free, s)
		}
		c.bare += wide * total(bare)
		c.outside += wide * total(free)
		for j, s := range all {
			c.alone[owner[j]] = max(c.alone[owner[j]], single(s, all, j))
		}
	}
	return c
}

// single returns how much of stretch j no other covers.
func single(s stretch, all []stretch, j int) float64 {
	only := []stretch{s}
	for k, t := range all {
		if k != j && t.lo < s.hi && s.lo < t.hi {
			only = without(only, t)
		}
	}
	return total(only)
}

// tolerance is the area, in square micrometres, by which boards may miss the
// region. A corner on a slope is off by less than a micrometre along x, which
// is less than the slope's rise per run of a micrometre along z; a cut at a
// given x is off by less than a micrometre along z; an edge between two such
// corners and one that repeats the rounding by no more than twice that. So
// along a slope that runs X and rises Z the error is below 2 (X + Z) square
// micrometres a micrometre; level walls must be exact.
func tolerance(w Wall) float64 {
	sum := 0.0
	for _, p := range [2]measure.Profile{w.Base, w.Top} {
		for i := 1; i < len(p); i++ {
			if p[i].Z != p[i-1].Z && p[i].X != p[i-1].X {
				sum += 2 * (float64(p[i].X-p[i-1].X) + math.Abs(float64(p[i].Z-p[i-1].Z)))
			}
		}
	}
	return sum
}
