package layout

import "math/big"

// proof is a dual solution in whole numbers: values of the piece lengths and
// tolls on the joints of each type, with the limits the tolls come from.
type proof struct {
	values []int64 // by length number
	covers []cover
	tolls  []int64 // by cover
}

// proofScale is the whole number that stands for one board of the best kind.
const proofScale = int64(1) << 30

// proof rounds the duals of the master's best bound. Any values and tolls >= 0 make a valid
// bound, so how they are rounded only matters for how good it is.
func (a *master) proof() proof {
	a.settle()
	p := proof{values: make([]int64, len(a.m.lens)), covers: a.active[:len(a.active):len(a.active)]}
	for i := range p.values {
		p.values[i] = int64(min(2, a.price[i]) * float64(proofScale))
	}
	for i := range a.active {
		p.tolls = append(p.tolls, int64(min(4, a.toll[i])*float64(proofScale)))
	}
	return p
}

// prove returns the number of boards to buy and the cost that no layout
// undercuts. It is exact: with best(c) the most that pieces on a length c can
// be worth, best is superadditive, so every length may be valued at best of
// itself; a board of kind k holds at most best(cap k); each run is worth at
// least its cheapest path; joints pay tolls, which give back no more than
// toll times limit; and boards on hand, free of cost, take away at most their
// own worth.
func (a *master) prove(p proof) (boards int, cost int64) {
	var t table[int64]
	a.work += t.fill(a.m.lens, p.values, a.m.most)
	values := make([]int64, len(a.m.lens))
	for i, l := range a.m.lens {
		values[i] = t.best(l)
	}
	tolls := make([][]int64, len(a.types))
	for i := range a.types {
		tolls[i] = make([]int64, a.types[i].shape.n)
	}
	sum := new(big.Int)
	for i, c := range p.covers {
		for _, tk := range c.points {
			tolls[tk[0]][tk[1]] += p.tolls[i]
		}
		sum.Sub(sum, product(p.tolls[i], c.rhs))
	}
	for i := range a.types {
		c, _ := cheapest(a.types[i].shape, values, tolls[i])
		sum.Add(sum, product(c, a.types[i].qty))
	}
	for _, k := range a.m.kinds {
		if k.hand >= 0 {
			sum.Sub(sum, product(t.best(k.cap), int64(k.hand)))
		}
	}
	return a.m.share(sum, &t)
}

func product(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }

// share turns a total worth into boards and cost: no board bought is worth
// more than the best of any kind, and a cost unit buys at most the best ratio.
func (m *model) share(sum *big.Int, t *table[int64]) (boards int, cost int64) {
	if sum.Sign() <= 0 {
		return 0, 0
	}
	most := int64(0)
	for _, k := range m.kinds {
		if k.hand >= 0 {
			continue
		}
		best := t.best(k.cap)
		most = max(most, best)
		if best > 0 {
			c := ceilBig(new(big.Int).Mul(sum, big.NewInt(k.cost)), best)
			if cost == 0 || c < cost {
				cost = c
			}
		}
	}
	if most == 0 {
		return 0, 0
	}
	boards = int(ceilBig(new(big.Int).Set(sum), most))
	if n, c := m.onlyKind(); n == 1 {
		cost = int64(boards) * c
	}
	return boards, m.payable(cost)
}

// payable is the least that boards can cost from cost on: a multiple of what
// divides all prices.
func (m *model) payable(cost int64) int64 { return ceilDiv(cost, m.grain()) * m.grain() }

// grain is the greatest divisor of all prices.
func (m *model) grain() int64 {
	g := int64(0)
	for _, k := range m.kinds {
		g = gcd(g, k.cost)
	}
	return g
}

// onlyKind returns how many kinds can be bought, and the cost of the last.
func (m *model) onlyKind() (n int, cost int64) {
	for _, k := range m.kinds {
		if k.hand < 0 {
			n++
			cost = k.cost
		}
	}
	return n, cost
}

func ceilBig(a *big.Int, b int64) int64 {
	q, r := new(big.Int).QuoRem(a, big.NewInt(b), new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}
