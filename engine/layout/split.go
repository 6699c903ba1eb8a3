package layout

// A pool too large for one master is laid in groups of walls. Each group gives
// a layout, values for the lengths and tolls for its joints; the pieces of all
// groups are then cut together, and values and tolls together prove a bound
// for the whole pool.

// mostPieces is the size, in pieces with each wall once, beyond which a pool
// is laid in groups.
func (e budget) mostPieces() int {
	if e.tries > 1 {
		return 1400
	}
	return 600
}

// large reports whether the pool is to be laid in groups.
func (s *solver) large() bool { return s.size > s.e.mostPieces() && len(s.m.walls) > 1 }

// split lays the pool in groups.
func (s *solver) split() {
	joined := &solution{name: "search", cuts: make([][]int32, len(s.m.runs)), broken: s.hand.broken}
	b := newProver(s.m)
	stocks := append([]Stock(nil), s.m.p.Stocks...)
	for _, walls := range s.groups() {
		p := s.m.p
		p.Stocks, p.Walls = stocks, nil
		for _, w := range walls {
			p.Walls = append(p.Walls, s.m.p.Walls[w])
		}
		g := &solver{ctx: s.ctx, m: newModel(p), seed: s.seed, e: s.e, effort: s.effort}
		if len(g.m.lens) == 0 {
			continue
		}
		g.begin()
		g.search()
		b.hear(g, walls)
		s.join(joined, g, walls)
		stocks = g.left(stocks)
	}
	s.m.tally(joined)
	if joined.better(s.best) {
		s.best = joined
	}
	boards, cost := b.a.prove(b.proof(s.best))
	s.boards, s.cost = max(s.boards, int64(boards)), max(s.cost, cost)
	switch {
	case s.done():
	case s.e.cutting > 0:
		s.e.cutting /= 8 // the groups are cut well already
		s.try(joined.cuts)
	default: // what the groups left over meets here
		s.polish(func(a *annealer) { a.anneal(s.e.join*s.size, polishHot, polishCold) })
	}
}

// groups deals the walls out in their order.
func (s *solver) groups() [][]int {
	var out [][]int
	size := s.e.mostPieces()
	for w, order := range s.m.walls {
		n := 0
		for _, r := range order {
			n += len(s.hand.cuts[r]) + 1
		}
		if size += n; size > s.e.mostPieces() {
			out = append(out, nil)
			size = n
		}
		out[len(out)-1] = append(out[len(out)-1], w)
	}
	return out
}

// join adds a group's plan to the pool's.
func (s *solver) join(to *solution, g *solver, walls []int) {
	for i, w := range walls {
		for k, r := range g.m.walls[i] {
			to.cuts[s.m.walls[w][k]] = g.best.cuts[r]
		}
	}
	number := make(map[int64]int32, len(s.m.lens))
	for id, l := range s.m.lens {
		number[l*s.m.unit] = int32(id)
	}
	kinds := make([]int, len(g.m.p.Stocks))
	for k, x := range s.m.kinds {
		kinds[x.stock] = k
	}
	for _, b := range g.best.boards {
		c := cutBoard{kind: kinds[g.m.kinds[b.kind].stock], count: b.count}
		for _, id := range b.parts {
			c.parts = append(c.parts, number[g.m.lens[id]*g.m.unit])
		}
		to.boards = append(to.boards, c)
	}
}

// left is the stock after the group took what it needed from that on hand. A
// stock used up stays in place, too short for any piece.
func (s *solver) left(stocks []Stock) []Stock {
	out := append([]Stock(nil), stocks...)
	for _, b := range s.best.boards {
		k := &out[s.m.kinds[b.kind].stock]
		if k.OnHand == 0 || s.m.kinds[b.kind].hand < 0 {
			continue
		}
		if k.OnHand -= b.count; k.OnHand == 0 {
			k.OnHand, k.Length = 1, 1
		}
	}
	return out
}

// prover collects what the groups' masters found.
type prover struct {
	a      *master // the pool's types; it has no columns
	sum    []float64
	groups float64
	covers []cover
	tolls  []float64
	walls  [][]int // cover -> the wall it is of
}

func newProver(m *model) *prover {
	b := &prover{a: &master{m: m}, sum: make([]float64, len(m.lens))}
	b.a.classes, b.a.types, b.a.typeOf = m.classify()
	return b
}

// hear takes over the duals of a group's master.
func (b *prover) hear(g *solver, walls []int) {
	if g.g == nil {
		return
	}
	a := g.g
	a.settle()
	var t table[float64]
	t.fill(g.m.lens, a.price, g.m.most)
	b.groups++
	for id, l := range b.a.m.lens {
		b.sum[id] += t.best(min(l*b.a.m.unit/g.m.unit, g.m.most))
	}
	for i, c := range a.active {
		if a.toll[i] <= 0 {
			continue
		}
		class := a.classes[a.types[c.points[0][0]].class]
		first := class.walls[0]
		whole := b.a.classes[b.a.types[b.typeAt(walls[first])].class]
		up := cover{rhs: c.rhs / class.qty * whole.qty}
		for _, tk := range c.points {
			up.points = append(up.points, [2]int{b.translate(a, tk[0], first, walls[first]), tk[1]})
		}
		b.covers, b.tolls, b.walls = append(b.covers, up), append(b.tolls, a.toll[i]), append(b.walls, whole.walls)
	}
}

// typeAt is some type of a wall of the pool.
func (b *prover) typeAt(w int) int {
	for _, t := range b.a.typeOf[w] {
		if t >= 0 {
			return t
		}
	}
	return 0
}

// translate finds the pool's type for type t of a group, by a wall of both.
func (b *prover) translate(a *master, t, inGroup, inPool int) int {
	for i, u := range a.typeOf[inGroup] {
		if u == t {
			return b.a.typeOf[inPool][i]
		}
	}
	return 0
}

// proof averages the values; walls in which the plan breaks a rule pay no
// tolls.
func (b *prover) proof(s *solution) proof {
	broken := map[int]bool{}
	for _, r := range b.a.m.relaxed(s) {
		broken[r.Wall] = true
	}
	p := proof{values: make([]int64, len(b.sum))}
	for id, v := range b.sum {
		p.values[id] = int64(min(2, v/max(1, b.groups)) * float64(proofScale))
	}
	for i, c := range b.covers {
		free := true
		for _, w := range b.walls[i] {
			free = free && !broken[w]
		}
		if free {
			p.covers = append(p.covers, c)
			p.tolls = append(p.tolls, int64(min(4, b.tolls[i])*float64(proofScale)))
		}
	}
	return p
}
