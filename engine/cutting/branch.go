package cutting

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
)

// branchNode is a subproblem still to be looked at: the parent's programme and
// one decision about two lengths. Either one piece of each is cut from the same
// bar, and they become one longer piece; or no bar has both. That is the rule
// of D. M. Ryan and B. A. Foster (1981), extended to demands above one by R. F.
// F. da Silva and R. C. S. Schouery, Solving cutting stock problems via an
// extended Ryan-Foster scheme and fast column generation (2023).
type branchNode struct {
	parent   *master
	i, j     int
	together bool
	apart    int // "no bar has both" decisions above, this one included
	depth    int
	serial   int
}

// nodeQueue pops the fewest apart-decisions first, then the deepest: dives of
// limited discrepancy that end as a complete search.
type nodeQueue []*branchNode

func (q nodeQueue) Len() int { return len(q) }
func (q nodeQueue) Less(a, b int) bool {
	return cmp.Or(cmp.Compare(q[a].apart, q[b].apart), cmp.Compare(q[b].depth, q[a].depth),
		cmp.Compare(q[a].serial, q[b].serial)) < 0
}
func (q nodeQueue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }
func (q *nodeQueue) Push(x any)   { *q = append(*q, x.(*branchNode)) }
func (q *nodeQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// tree is one search over branchNodes.
type tree struct {
	s      *search
	open   nodeQueue
	serial int
	prove  bool // choose pairs that change much; else pairs nearly together, to dive
	lost   bool // a node could not be branched on: an empty queue proves nothing
}

func (t *tree) expand(g *master, apart, depth int) {
	i, j, ok := g.pair(t.prove)
	if !ok {
		t.lost = true
		return
	}
	for k := range 2 {
		t.serial++
		heap.Push(&t.open, &branchNode{parent: g, i: i, j: j, together: k == 0, apart: apart + k, depth: depth + 1, serial: t.serial})
	}
}

// run looks at most nodes subproblems below g for a plan cheaper than s.cost.
// It reports whether it has shown that there is none.
func (t *tree) run(g *master, most int) bool {
	s := t.s
	t.expand(g, 0, 0)
	for n := 0; len(t.open) > 0 && n < most && !s.meter.stopped(); n++ {
		b := heap.Pop(&t.open).(*branchNode)
		c := b.parent.child(b)
		s.nodes++
		if !s.bind(c) {
			return false
		}
		if c.bound >= s.cost {
			continue
		}
		s.roundNode(c)
		if s.done() {
			return false
		}
		t.expand(c, b.apart, b.depth)
		c.t.inv = nil
	}
	return len(t.open) == 0 && !t.lost && !s.meter.stopped()
}

// branch settles whether there is a plan cheaper than s.cost: by cuts alone,
// by a short search that dives for a plan, then by ones that look for a proof.
// If there is none the bound becomes the cost.
func (s *search) branch(root *master) {
	root.trueLP = true
	if !s.bind(root) {
		return
	}
	if !s.in.uniform() {
		if (&tree{s: s, prove: true}).run(root, math.MaxInt) {
			s.bound = s.cost
		}
		return
	}
	cuts := root.fork()
	if !s.cutRoot(cuts, cutWork) {
		return
	}
	none := root.bound >= s.cost || cuts.bound >= s.cost
	if !none {
		none = (&tree{s: s}).run(root, diveNodes)
	}
	if !none && !s.done() && !s.meter.stopped() {
		if !s.cutRoot(cuts, 20*cutWork) {
			return
		}
		none = cuts.bound >= s.cost
		if !none {
			none = (&tree{s: s, prove: true}).run(root, proofNodes)
		}
		if !none && !s.done() && !s.meter.stopped() {
			none = (&tree{s: s, prove: true}).run(cuts, math.MaxInt)
		}
	}
	if none && !s.meter.stopped() {
		s.bound = s.cost
	}
}

// cutWork is the work for cuts before the dive.
const cutWork = 15_000_000

// proofNodes is how many subproblems the proof without cuts may take, which is
// the quicker one when cuts do little.
const proofNodes = 5000

// diveNodes is how many subproblems the search for a plan may take.
const diveNodes = 200

// bind solves the programme of c, and again while gates change it. It reports
// false when effort ran out.
func (s *search) bind(c *master) bool {
	for range 5 {
		if !c.generate(s.cost, 1000) && s.meter.stopped() {
			return false
		}
		if c.bound >= s.cost || !s.in.uniform() || !c.addGate(s.cost-1) {
			break
		}
		c.t.refresh()
	}
	return true
}

// roundNode tries to finish the plan of g: whole bars kept, the rest by the
// simple heuristics.
func (s *search) roundNode(g *master) {
	q := &partial{d: slices.Clone(s.in.d)}
	for r, x := range g.t.values() {
		if j := g.t.basis[r]; j >= 0 && x > 1-1e-6 && g.t.cols[j].bar >= 0 {
			c := g.t.cols[j]
			c.cuts = g.flat(c.cuts)
			q.use(s.in, &c, int64(x+1e-6))
		}
	}
	s.greedy(q.fixed, q.d, 300)
}

// flat replaces merged lengths by what they stand for.
func (g *master) flat(cuts []cut) []cut {
	var out []cut
	for _, c := range cuts {
		if g.parts[c.item] == nil {
			out = append(out, c)
			continue
		}
		for _, p := range g.parts[c.item] {
			out = append(out, cut{p.item, p.n * c.n})
		}
	}
	slices.SortFunc(out, func(a, b cut) int { return cmp.Compare(a.item, b.item) })
	k := 0
	for i := 1; i < len(out); i++ {
		if out[i].item == out[k].item {
			out[k].n += out[i].n
			continue
		}
		k++
		out[k] = out[i]
	}
	return out[:min(k+1, len(out))]
}

// pairWeight is how much half a bar of length counts against being half
// together; found by trial on random instances.
const pairWeight = 0.3

// pair chooses two lengths that the fractional plan puts together in part,
// to prove, long ones and those near one half: either branch then changes much;
// else those together most.
func (g *master) pair(prove bool) (int, int, bool) {
	n := len(g.w)
	together := make([]float64, n*n)
	for r, x := range g.t.values() {
		j := g.t.basis[r]
		f := x - math.Floor(x+1e-6)
		if j < 0 || f < 1e-5 {
			continue
		}
		cuts := g.t.cols[j].cuts
		for a, ca := range cuts {
			if ca.n >= 2 {
				together[ca.item*n+ca.item] += f
			}
			for _, cb := range cuts[a+1:] {
				together[min(ca.item, cb.item)*n+max(ca.item, cb.item)] += f
			}
		}
	}
	bi, bj, best := -1, -1, 0.0
	for i := range n {
		for j := i; j < n; j++ {
			v := together[i*n+j]
			if v < 1e-5 || (v > 1-1e-5 && g.d[i] == 1 && g.d[j] == 1) {
				continue
			}
			size := float64(g.w[i]+g.w[j]) / float64(g.bars[0].cap)
			if prove {
				v = 0.5 - math.Abs(min(v, 1)-0.5) + float64(pairWeight*size)
			} else {
				v = min(v, 1) + float64(0.001*size)
			}
			if v > best+1e-9 {
				bi, bj, best = i, j, v
			}
		}
	}
	return bi, bj, bi >= 0
}

// fork is a copy of g at the same point, without an inverse.
func (g *master) fork() *master {
	c := *g
	c.tops = slices.Clone(g.tops)
	c.u = slices.Clone(g.u)
	c.smooth, c.center = 0, nil
	c.limits = slices.Clone(g.limits)
	c.d, c.t = slices.Clone(g.d), g.t.clone()
	p := *g.p
	p.limit, p.f = slices.Clone(g.p.limit), nil
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
	c.p = &pricer{clash: cloneSets(g.p.clash, len(g.w)+1), limit: slices.Clone(g.p.limit), meter: g.meter, f: g.p.f, gates: g.p.gates, of: g.p.of}
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
	p.clash, p.f, p.gates = c.p.clash[:len(c.w)], c.p.f, c.p.gates
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

// clone copies the programme without its inverse; factor makes it usable.
func (t *tableau) clone() *tableau {
	c := &tableau{m: t.m, meter: t.meter, seed: t.seed, cols: make([]column, 0, len(t.cols)+len(t.cols)/4+8), rhs: slices.Clone(t.rhs), truth: slices.Clone(t.truth),
		pi: slices.Clone(t.pi), x: make([]float64, t.m), alpha: make([]float64, t.m)}
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
	c.inv = make([]float64, t.m*t.m)
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
	t.inv = make([]float64, t.m*t.m)
	return m
}
