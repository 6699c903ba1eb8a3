package engine

import (
	"cmp"
	"context"
	"maps"
	"math"
	"runtime"
	"slices"

	"lapwright/engine/battens"
	"lapwright/engine/fixing"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// splicesTried is how many lengths of battens of one pool are spliced one way and
// the other, to see which takes less. Quick effort compares all of them one way with
// all of them the other alone.
const splicesTried = 8

// splice chooses how battens are spliced that are longer than stock by less than a
// part may be short. With the least part on top nearly whole lengths stay below, and
// the short ones come from what others leave; but now and then two even parts fit
// better beside what else is cut. What is cut together is tried both ways, and never
// costs more than with even parts throughout.
func (t *takeoff) splice(ctx context.Context) {
	type key struct{ pool, drop string }
	at := map[key]int{}
	var groups [][]*stand
	for _, s := range t.stands {
		k := key{s.pool, s.drop}
		if _, ok := at[k]; !ok {
			at[k] = len(groups)
			groups = append(groups, nil)
		}
		groups[at[k]] = append(groups[at[k]], s)
	}
	groups = slices.DeleteFunc(groups, func(g []*stand) bool { return !slices.ContainsFunc(g, t.long) })
	cores := make([]*takeoff, runtime.GOMAXPROCS(0))
	parallel.Each(len(groups), func(core, i int) {
		if cores[core] == nil {
			own := *t
			own.catalogue = t.catalogue.copied() // what it lacks is noted when the battens are written
			cores[core] = &own
		}
		cores[core].spliceGroup(ctx, groups[i])
	})
}

// long reports whether some batten of a wall is longer than stock.
func (t *takeoff) long(s *stand) bool {
	stock := min(t.battenProduct(t.rules.BattenWidth).Length, t.battenProduct(t.rules.WideBattenWidth).Length) // 0: every one is looked at
	return slices.ContainsFunc(s.face.lines, func(l battens.Line) bool {
		return slices.ContainsFunc(l.Spans, func(z measure.Span) bool { return z.Length() > stock })
	})
}

// spliceCost is what a way to splice takes. Without prices, lengths and fixings are
// compared one after the other.
type spliceCost struct {
	money         float64
	bars, fixings int
}

func (a spliceCost) compare(b spliceCost) int {
	return cmp.Or(cmp.Compare(a.money, b.money), cmp.Compare(a.bars, b.bars), cmp.Compare(a.fixings, b.fixings))
}

// spliceGroup chooses for walls that are cut together.
func (t *takeoff) spliceGroup(ctx context.Context, group []*stand) {
	butts := t.allButts(group)
	lengths := t.shared(group, butts)
	if len(lengths) == 0 {
		return
	}
	all := map[measure.Length]bool{}
	for _, l := range lengths {
		all[l] = true
	}
	best, least := map[measure.Length]bool{}, t.costSpliced(ctx, group, butts, nil)
	if cost := t.costSpliced(ctx, group, butts, all); cost.compare(least) < 0 {
		best, least = all, cost
	}
	if t.effort() == EffortQuick {
		lengths = nil
	}
	for _, l := range lengths[:min(len(lengths), splicesTried)] {
		other := maps.Clone(best)
		other[l] = !other[l]
		if cost := t.costSpliced(ctx, group, butts, other); cost.compare(least) < 0 {
			best, least = other, cost
		}
	}
	for _, s := range group {
		s.evenly = best
	}
}

// allButts returns for each of some walls where boards butt on its lines, however
// its battens are spliced.
func (t *takeoff) allButts(group []*stand) [][][]measure.Span {
	out := make([][][]measure.Span, len(group))
	for i, s := range group {
		out[i] = t.buttsOf(s)
	}
	return out
}

// shared returns the lengths of the battens that leave too short a rest, the most
// frequent first.
func (t *takeoff) shared(group []*stand, butts [][][]measure.Span) []measure.Length {
	times := map[measure.Length]int{}
	for i, s := range group {
		t.eachBatten(s, butts[i], func(_ int, _ battens.Line, p Product, z measure.Span) {
			if battens.Shares(z.Length(), p.Length, spliceLeast) {
				times[z.Length()] += s.each
			}
		})
	}
	return slices.SortedFunc(maps.Keys(times), func(a, b measure.Length) int {
		return cmp.Or(cmp.Compare(times[b], times[a]), cmp.Compare(a, b))
	})
}

// costSpliced returns what the battens of walls take if those of some lengths are
// spliced of even parts.
func (t *takeoff) costSpliced(ctx context.Context, group []*stand, butts [][][]measure.Span, evenly map[measure.Length]bool) spliceCost {
	var out spliceCost
	cut := batches{at: map[batchKey]int{}}
	for i, s := range group {
		own := *s
		own.evenly = evenly
		var w WallResult
		t.battenWall(&own, &w, butts[i])
		for i := range w.Battens {
			b := &w.Battens[i]
			p := t.battenProduct(b.Width)
			cut.add(s, &p, wanted{length: b.Z.Length(), count: s.each})
			if n, err := fixing.Along(b.Z.Length(), t.rules.BattenFixing); err == nil {
				out.fixings += n * s.each
			}
		}
	}
	list := slices.DeleteFunc(cut.list, func(b batch) bool { return b.product.Length <= 0 })
	plans, err := planBatches(ctx, list, t.rules.Kerf)
	if err != nil { // the plan ends with it
		return spliceCost{money: math.Inf(1)}
	}
	priced := true
	for i, p := range plans {
		out.bars += p.Bars
		out.money += float64(p.Bars) * list[i].product.Price
		priced = priced && list[i].product.Price > 0
	}
	if !priced {
		out.money = 0
		return out
	}
	out.money += float64(out.fixings) * t.catalogue.pick(RoleBattenFixing, "").Price
	return out
}
