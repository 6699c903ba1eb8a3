package cutting

// gate tells which patterns a plan of at most K bars may still use. Under piece
// values u let T be the value of all pieces and V an upper bound on any
// pattern. A plan of K bars has T <= (K-1)*V + value(q) for each of its
// patterns q, so every one of them is worth at least T - (K-1)*V. This is
// reduced-cost fixing, in integers; the gate holds for all subproblems below.
type gate struct {
	u     []int64 // by length
	room  []int64 // most value that fits in a room, by room >> shift
	shift uint
	least int64
}

const maxGates = 3

// addGate derives a gate from the last pricing round for plans of at most k
// bars, forbids pairs of lengths that cannot share a bar, and takes columns
// out that do not pass. It reports whether anything was excluded.
func (g *master) addGate(k int64) bool {
	if g.top > 2*g.scale {
		return false // far from converged; nor could the product below overflow
	}
	total := int64(0)
	for i, n := range g.d {
		total += g.u[i] * n
	}
	for _, q := range g.odds {
		if total -= q.price * q.most; total <= 0 {
			return false
		}
	}
	least := total - (k-1)*g.top
	if least <= g.top/4 {
		return false
	}
	n := &gate{u: append([]int64(nil), g.u...), room: g.p.rooms(), shift: g.p.shift, least: least}
	hit := g.forbidPairs(n)
	g.p.addGate(n)
	for x := range g.t.cols {
		c := &g.t.cols[x]
		if !c.off && !g.p.passes(c.cuts) {
			c.off = true
			hit = hit || c.at >= 0
		}
	}
	return hit
}

func (g *master) forbidPairs(n *gate) bool {
	hit := false
	if g.p.clash == nil {
		g.p.clash = cloneSets(nil, len(g.w))
	}
	c := g.bars[0].cap
	for i := range g.w {
		for j := i; j < len(g.w); j++ {
			if g.p.clash[i].has(j) {
				continue
			}
			if i == j && g.p.limit[i] < 2 {
				continue
			}
			room := c - g.w[i] - g.w[j]
			if room < 0 || n.u[i]+n.u[j]+n.room[room>>n.shift] < n.least {
				g.forbid(i, j)
				hit = hit || room >= 0
			}
		}
	}
	return hit
}

func (p *pricer) addGate(n *gate) {
	if len(p.gates) >= maxGates { // keep the first, which is the root's
		p.gates = append(append([]*gate(nil), p.gates[0]), p.gates[2:]...)
	}
	p.gates = append(p.gates[:len(p.gates):len(p.gates)], n)
}

// passes reports whether a pattern satisfies conflicts and gates.
func (p *pricer) passes(cuts []cut) bool {
	for _, n := range p.gates {
		v := int64(0)
		for _, c := range cuts {
			v += n.u[c.item] * int64(c.n)
		}
		if v < n.least {
			return false
		}
	}
	if p.clash == nil {
		return true
	}
	for a, x := range cuts {
		if x.n > 1 && p.clash[x.item].has(x.item) {
			return false
		}
		for _, y := range cuts[a+1:] {
			if p.clash[x.item].has(y.item) {
				return false
			}
		}
	}
	return true
}

// extend gives gates the value of a new length joined from i and j.
func (p *pricer) extend(i, j int) {
	out := make([]*gate, len(p.gates))
	for k, n := range p.gates {
		c := *n
		c.u = append(append(make([]int64, 0, len(n.u)+1), n.u...), n.u[i]+n.u[j])
		out[k] = &c
	}
	p.gates = out
}

// open reports whether t copies of length i into the room c may still pass.
func (p *pricer) open(i, t int, c int64) bool {
	for k, n := range p.gates {
		if p.worth[k]+int64(t)*n.u[i]+n.room[(c-int64(t)*p.w[i])>>n.shift] < n.least {
			return false
		}
	}
	return true
}

func (p *pricer) passed() bool {
	for k, n := range p.gates {
		if p.worth[k] < n.least {
			return false
		}
	}
	return true
}
