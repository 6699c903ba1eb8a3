package cutting

import (
	"cmp"
	"slices"
)

// expander hands the pieces of merged lengths back to the items they came
// from, item by item.
type expander struct {
	p    Problem
	in   *instance
	at   []int   // current position in ref, by merged length
	left []int64 // what the item at that position still wants
	out  []Pattern
}

// expand turns patterns over merged lengths into patterns over the problem's
// items. Surplus pieces are dropped, so demands are met exactly.
func expand(p Problem, in *instance, ps []pattern) []Pattern {
	e := &expander{p: p, in: in, at: make([]int, len(in.w)), left: make([]int64, len(in.w)),
		out: make([]Pattern, 0, len(ps)+len(p.Items))}
	for i := range in.w {
		e.left[i] = int64(p.Items[in.ref[i][0]].Demand)
	}
	slices.SortStableFunc(ps, func(a, b pattern) int {
		return cmp.Or(cmp.Compare(a.bar, b.bar), compareCuts(a.cuts, b.cuts))
	})
	for _, pt := range ps {
		for n := pt.count; n > 0; {
			n -= e.emit(pt, n)
		}
	}
	return mergePatterns(e.out)
}

// compareCuts puts long pieces and many of them first.
func compareCuts(a, b []cut) int {
	return slices.CompareFunc(a, b, func(x, y cut) int {
		return cmp.Or(cmp.Compare(x.item, y.item), cmp.Compare(y.n, x.n))
	})
}

// emit writes one pattern for as many of at most n bars as take their pieces
// from the same items, and returns that number.
func (e *expander) emit(pt pattern, n int64) int64 {
	run := n
	for _, c := range pt.cuts {
		if c.n > 0 {
			run = min(run, e.left[c.item]/int64(c.n))
		}
	}
	run = max(run, 1)
	cuts := make([]Cut, 0, len(pt.cuts))
	for _, c := range pt.cuts {
		cuts = e.take(cuts, c, run)
	}
	if len(cuts) == 0 {
		return run
	}
	slices.SortFunc(cuts, func(a, b Cut) int { return cmp.Compare(a.Item, b.Item) })
	e.out = append(e.out, Pattern{Stock: e.in.bars[pt.bar].origin, Cuts: cuts, Count: int(run)})
	return run
}

// take appends c.n pieces a bar for run bars; run > 1 only if one item gives all.
func (e *expander) take(cuts []Cut, c cut, run int64) []Cut {
	ref := e.in.ref[c.item]
	for need := int64(c.n); need > 0; {
		if e.left[c.item] == 0 {
			if e.at[c.item]++; e.at[c.item] >= len(ref) {
				e.at[c.item]--
				return cuts // surplus
			}
			e.left[c.item] = int64(e.p.Items[ref[e.at[c.item]]].Demand)
		}
		n := min(need, e.left[c.item]/run)
		cuts = append(cuts, Cut{Item: ref[e.at[c.item]], Count: int(n)})
		e.left[c.item] -= n * run
		need -= n
	}
	return cuts
}

func comparePatterns(a, b Pattern) int {
	return cmp.Or(cmp.Compare(a.Stock, b.Stock), slices.CompareFunc(a.Cuts, b.Cuts, func(x, y Cut) int {
		return cmp.Or(cmp.Compare(x.Item, y.Item), cmp.Compare(y.Count, x.Count))
	}))
}

// mergePatterns sorts, and adds the counts of patterns that are alike.
func mergePatterns(ps []Pattern) []Pattern {
	slices.SortFunc(ps, func(a, b Pattern) int {
		return cmp.Or(comparePatterns(a, b), cmp.Compare(b.Count, a.Count))
	})
	out := ps[:0]
	for _, p := range ps {
		if n := len(out); n > 0 && comparePatterns(out[n-1], p) == 0 {
			out[n-1].Count += p.Count
			continue
		}
		out = append(out, p)
	}
	return out
}
