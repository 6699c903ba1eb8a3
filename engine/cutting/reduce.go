package cutting

import (
	"cmp"
	"slices"
)

// reduction is an instance with the bars left out that some best plan has.
type reduction struct {
	rest  *instance
	fixed []pattern // in lengths of the whole instance
	bars  int64     // sum of their counts
	kept  []int     // length of the whole instance, by length of rest
}

// reduce sets bars aside for one kind of bar without limit: S. Martello and P. Toth, Lower
// bounds and reduction procedures for the bin packing problem, Discrete Applied
// Mathematics 28 (1990) 59-70, in its two cheapest forms. A piece i goes with
// the longest piece j that fits beside it
//
//   - if both fill the bar: whatever else lies beside i in a plan is no longer
//     than j, and can take its place;
//   - if no two pieces fit beside i: what lies beside it is then one piece, no
//     longer than j, or none.
//
// It returns nil if nothing is to be set aside.
func (in *instance) reduce() *reduction {
	r := &reduction{rest: &instance{bars: slices.Clone(in.bars), money: in.money}}
	d := slices.Clone(in.d)
	for i := range d {
		for d[i] > 0 && r.setAside(in, d, i) {
		}
	}
	if len(r.fixed) == 0 {
		return nil
	}
	r.keep(in, d)
	return r
}

// keep makes rest of the demands d that are left.
func (r *reduction) keep(in *instance, d []int64) {
	for i, n := range d {
		if n > 0 {
			r.kept = append(r.kept, i)
			r.rest.w = append(r.rest.w, in.w[i])
			r.rest.d = append(r.rest.d, n)
		}
	}
}

// setAside fixes the bars of length i, as many as are alike, and reports
// whether there were any.
func (r *reduction) setAside(in *instance, d []int64, i int) bool {
	d[i]--
	room := in.bars[0].cap - in.w[i]
	j, _ := slices.BinarySearchFunc(in.w, room, func(w, room int64) int { return cmp.Compare(room, w) })
	for j < len(d) && d[j] == 0 {
		j++
	}
	d[i]++
	if j == len(d) {
		r.fix(d[i], cut{i, 1})
		d[i] = 0
		return true
	}
	if in.w[j] < room && room >= shortestTwo(in.w, d) {
		return false
	}
	if i == j {
		r.fix(d[i]/2, cut{i, 2})
		d[i] %= 2
		return true
	}
	n := min(d[i], d[j])
	r.fix(n, cut{min(i, j), 1}, cut{max(i, j), 1})
	d[i] -= n
	d[j] -= n
	return true
}

// shortestTwo is the summed length of the two shortest pieces.
func shortestTwo(w, d []int64) int64 {
	sum, n := int64(0), int64(0)
	for i := len(d) - 1; i >= 0 && n < 2; i-- {
		take := min(d[i], 2-n)
		sum += take * w[i]
		n += take
	}
	return sum
}

func (r *reduction) fix(n int64, cuts ...cut) {
	r.fixed = append(r.fixed, pattern{count: n, cuts: cuts})
	r.bars += n
}

// whole adds the bars set aside to a plan of the rest.
func (r *reduction) whole(rest []pattern) []pattern {
	out := slices.Clone(r.fixed)
	for _, p := range rest {
		cuts := make([]cut, len(p.cuts))
		for k, c := range p.cuts {
			cuts[k] = cut{r.kept[c.item], c.n}
		}
		out = append(out, pattern{bar: p.bar, count: p.count, cuts: cuts})
	}
	return out
}
