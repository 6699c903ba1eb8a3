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
	held   int  // columns kept for open nodes
	lost   bool // a node could not be branched on: an empty queue proves nothing
}

func (t *tree) expand(g *master, apart, depth int) {
	i, j, ok := g.pair(t.prove)
	if !ok {
		t.lost = true
		return
	}
	t.held += len(g.t.cols) + g.t.m
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
	for n := 0; len(t.open) > 0 && n < most && t.held < maxHeld && !s.meter.stopped(); n++ {
		b := heap.Pop(&t.open).(*branchNode)
		if !b.together { // popped after its twin
			t.held -= len(b.parent.t.cols) + b.parent.t.m
		}
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
		c.t.lu = factors{}
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
		if (&tree{s: s, prove: true}).run(root, mixedNodes) {
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

// mixedNodes is how many subproblems are tried with several kinds of bar, where
// costs lie so close together that a proof is often out of reach.
const mixedNodes = 20

// maxHeld is how many columns open nodes may keep, some hundred megabytes.
const maxHeld = 3_000_000

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
