package cutting

import "slices"

// fork is a copy of g at the same point, with factors of its own.
func (g *master) fork() *master {
	c := *g
	c.tops = slices.Clone(g.tops)
	c.u = slices.Clone(g.u)
	c.smooth, c.center = 0, nil
	c.limits = slices.Clone(g.limits)
	c.d, c.t = slices.Clone(g.d), g.t.clone()
	p := *g.p
	p.limit, p.space = slices.Clone(g.p.limit), new([]int64)
	c.p = &p
	c.t.factor()
	return &c
}

// child builds the programme of node n from its parent's, which it leaves as
// it is.
func (g *master) child(n *branchNode) *master {
	c := &master{tops: make([]int64, len(g.bars)), trueLP: g.trueLP, w: g.w, d: slices.Clone(g.d), bars: g.bars, row: g.row, parts: g.parts, caprow: g.caprow,
		limits: g.limits, odds: slices.Clone(g.odds), scale: g.scale, dear: g.dear, meter: g.meter, width: g.width, u: make([]int64, len(g.w)+1)}
	c.t = g.t.clone()
	c.p = &pricer{clash: cloneSets(g.p.clash, len(g.w)+1), limit: slices.Clone(g.p.limit), meter: g.meter, space: g.p.space, gates: g.p.gates, of: g.p.of}
	if n.together {
		return c.join(n.i, n.j)
	}
	return c.part(n.i, n.j)
}

func cloneSets(old []lengthSet, n int) []lengthSet {
	words := (n + 63) / 64
	all := make(lengthSet, n*words)
	out := make([]lengthSet, n)
	for i := range out {
		out[i] = all[i*words : (i+1)*words]
		if i < len(old) {
			copy(out[i], old[i])
		}
	}
	return out
}

func (c *master) forbid(i, j int) {
	c.p.clash[i][j>>6] |= 1 << (j & 63)
	c.p.clash[j][i>>6] |= 1 << (i & 63)
	if i == j {
		c.p.limit[i] = min(c.p.limit[i], 1)
	}
}

// setPricer renews what the pricer derives from lengths.
func (c *master) setPricer() {
	p := newPricer(c.w, c.p.limit, c.meter)
	p.clash, p.space, p.gates = c.p.clash[:len(c.w)], c.p.space, c.p.gates
	p.of, p.odds, p.count = c.p.of, c.odds, make([]int, len(c.odds))
	c.p = p
	c.u = make([]int64, len(c.w))
}

// part forbids lengths i and j to share a bar.
func (c *master) part(i, j int) *master {
	c.forbid(i, j)
	c.setPricer()
	for k := range c.t.cols {
		if has(c.t.cols[k].cuts, i, j) {
			c.t.cols[k].off = true
		}
	}
	c.t.factor()
	return c
}

// has reports whether a pattern holds a piece of i and another of j.
func has(cuts []cut, i, j int) bool {
	a, b := 0, 0
	for _, x := range cuts {
		if x.item == i {
			a = x.n
		}
		if x.item == j {
			b = x.n
		}
	}
	if i == j {
		return a >= 2
	}
	return a > 0 && b > 0
}

// join makes one piece of i and one of j a new length with a row of its own.
// Patterns that hold both get a twin with the new length. Its own pattern
// starts as cheap as the duals of i and j, which keeps the basis dual feasible.
func (c *master) join(i, j int) *master {
	k := len(c.w)
	c.merge(i, j)
	c.p.limit = append(c.p.limit, 1)
	c.p.extend(i, j)
	if c.p.of != nil {
		c.p.of = append(slices.Clip(c.p.of), append(slices.Clone(c.p.of[i]), c.p.of[j]...))
	}
	for x := range k {
		if c.p.clash[i].has(x) || c.p.clash[j].has(x) {
			c.forbid(x, k)
		}
	}
	pi, pj := c.t.pi[c.row[i]], c.t.pi[c.row[j]]
	row := c.t.grow(1)
	c.row = append(slices.Clip(c.row), row)
	c.d[i]--
	c.d[j]--
	c.t.truth[c.row[i]]--
	c.t.truth[c.row[j]]--
	c.p.limit[i] = min(c.p.limit[i], c.d[i])
	c.p.limit[j] = min(c.p.limit[j], c.d[j])
	c.setPricer()
	for x, n := 0, len(c.t.cols); x < n; x++ {
		if col := &c.t.cols[x]; !col.off && has(col.cuts, i, j) {
			c.add(col.bar, twin(col.cuts, i, j, k))
		}
	}
	own := c.single(k)
	cost := c.t.cols[own].cost
	c.t.cols[own].cost = min(cost, pi+pj)
	c.t.basis[row] = own
	c.t.perturb()
	c.t.factor()
	if !c.t.dual() {
		c.t.restart()
	}
	c.t.cols[own].cost = cost
	for x := range c.t.cols {
		col := &c.t.cols[x]
		col.off = col.off || !fits(col.cuts, c.d) || !c.p.passes(col.cuts)
	}
	c.t.refresh()
	return c
}

// merge appends the length of i plus j.
func (c *master) merge(i, j int) {
	var p []cut
	for _, x := range []int{i, j} {
		if c.parts[x] == nil {
			p = append(p, cut{x, 1})
		} else {
			p = append(p, c.parts[x]...)
		}
	}
	c.w = append(slices.Clip(c.w), c.w[i]+c.w[j])
	c.d = append(c.d, 1)
	c.parts = append(slices.Clip(c.parts), p)
}

func twin(cuts []cut, i, j, k int) []cut {
	out := make([]cut, 0, len(cuts))
	for _, x := range cuts {
		if x.item == i {
			x.n--
		}
		if x.item == j {
			x.n--
		}
		if x.n > 0 {
			out = append(out, x)
		}
	}
	return append(out, cut{k, 1})
}

// clone copies the programme without its factors; factor makes it usable.
func (t *tableau) clone() *tableau {
	c := &tableau{m: t.m, meter: t.meter, seed: t.seed, cols: make([]column, 0, len(t.cols)+len(t.cols)/4+8), rhs: slices.Clone(t.rhs), truth: slices.Clone(t.truth),
		pi: slices.Clone(t.pi), x: make([]float64, t.m), alpha: make([]float64, t.m), rho: make([]float64, t.m), weight: make([]float64, t.m)}
	number := make([]int, len(t.cols))
	for j, col := range t.cols {
		if col.off && col.at < 0 {
			continue
		}
		number[j] = len(c.cols)
		c.cols = append(c.cols, col)
	}
	for _, j := range t.basis {
		if j >= 0 {
			j = number[j]
		}
		c.basis = append(c.basis, j)
	}
	return c
}

// grow adds n rows with right side one and returns the first of them.
func (t *tableau) grow(n int) int {
	m := t.m
	t.m += n
	for range n {
		t.truth = append(t.truth, 1)
		t.rhs = append(t.rhs, 1)
		t.basis = append(t.basis, -1-len(t.basis))
	}
	t.pi, t.x, t.alpha = make([]float64, t.m), make([]float64, t.m), make([]float64, t.m)
	t.rho, t.weight = make([]float64, t.m), make([]float64, t.m)
	return m
}
