package cutting

import "slices"

// residualFrom is how many lengths make a problem large, residualWork what one
// residual problem may take.
const (
	residualFrom = 200
	residualWork = 300_000_000
)

// residuals fills bars one by one until few pieces are left, and cuts those by
// column generation: G. Scheithauer and J. Terno, Theoretical investigations on
// the modified integer round-up property for the one-dimensional cutting stock
// problem, Operations Research Letters 20 (1997) 93-100, solve such residual
// problems too. Filling loses little while there is much to choose from; the
// last bars it would waste.
func (s *search) residuals() {
	if s.part || len(s.in.w) < residualFrom || !s.in.uniform() || s.in.bars[0].limit >= 0 {
		return
	}
	s.fill.base = nil
	for _, nodes := range [...]int{20_000, 2000} { // of the search for a bar
		filled := slices.Clone(s.fill.run(s.in.d, nodes, 1<<62))
		s.better(nil, filled)
		for _, most := range [...]int64{60, 120, 240, 480} {
			if s.done() || s.meter.stopped() {
				return
			}
			s.residual(filled, most)
		}
	}
}

// residual keeps the first of the bars filled, so many that at most so many
// pieces are left, and solves for those.
func (s *search) residual(filled []pattern, most int64) {
	r := s.in.head(filled, most)
	if r == nil {
		return
	}
	price := r.bars * s.in.bars[0].price
	low := fastBound(r.rest.w, r.rest.d, r.rest.bars[0].cap) * r.rest.bars[0].price
	if low+price >= s.cost {
		return
	}
	m := *s.meter
	m.limit = min(m.limit, m.work+residualWork)
	rest := &search{in: r.rest, meter: &m, fit: newFitter(r.rest), cost: s.cost - price, seed: s.seed, part: true}
	rest.bound = low
	rest.greedy(nil, r.rest.d, 0)
	if !rest.done() {
		rest.full(Options{})
	}
	s.meter.work, s.meter.next, s.meter.dead = m.work, m.next, m.dead
	if rest.best != nil {
		s.better(nil, r.whole(rest.best))
	}
}

// head sets the first of the bars filled aside; nil if that would leave no piece
// or be no great part of the whole.
func (in *instance) head(filled []pattern, most int64) *reduction {
	d := slices.Clone(in.d)
	left := int64(0)
	for _, n := range d {
		left += n
	}
	if left < 3*most {
		return nil
	}
	k, bars := 0, int64(0)
	for ; k < len(filled) && left > most; k++ {
		for _, c := range filled[k].cuts {
			d[c.item] -= int64(c.n) * filled[k].count
			left -= int64(c.n) * filled[k].count
		}
		bars += filled[k].count
	}
	if left == 0 {
		return nil
	}
	r := &reduction{rest: &instance{bars: slices.Clone(in.bars), money: in.money}, fixed: filled[:k], bars: bars}
	r.keep(in, d)
	return r
}
