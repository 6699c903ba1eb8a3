package cutting

import (
	"context"
	"math/rand/v2"
	"testing"
)

// knap is an exhaustive search over patterns, sharing nothing with the pricer.
type knap struct {
	w, n, u []int64
	clash   []lengthSet
	gate    *gate
	sets    [][]int // odd sets
	price   []int64
	take    []int64
	best    int64
}

func (k *knap) search(i int, room int64) {
	if i == len(k.w) {
		k.score()
		return
	}
	for t := int64(0); t <= k.n[i] && t*k.w[i] <= room; t++ {
		k.take[i] = t
		k.search(i+1, room-t*k.w[i])
	}
	k.take[i] = 0
}

func (k *knap) score() {
	v, g := int64(0), int64(0)
	for i, t := range k.take {
		v += t * k.u[i]
		if k.gate != nil {
			g += t * k.gate.u[i]
		}
		for j := range i {
			if t > 0 && k.take[j] > 0 && k.clash != nil && k.clash[i].has(j) {
				return
			}
		}
	}
	if k.gate != nil && g < k.gate.least {
		return
	}
	for q, s := range k.sets {
		n := int64(0)
		for _, i := range s {
			n += k.take[i]
		}
		v -= n / 2 * k.price[q]
	}
	k.best = max(k.best, v)
}

// priceAll is the pricer's best value over all first pieces, above floor.
func priceAll(p *pricer, floor int64) int64 {
	best := floor
	for _, l := range p.leads(floor) {
		f, upper := p.lookup(l, floor, 1<<30)
		if f.cuts != nil {
			best = max(best, f.value)
		}
		if upper < f.value {
			return -1
		}
	}
	return best
}

func TestPricerAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for n := range 600 {
		m := 3 + n%5
		unit := [4]int64{1, 1_000_003, 1000, 1_000_003}[n%4] // so large that the table is coarse, or has columns for sums only
		c := (20 + r.Int64N(40)) * unit
		k := &knap{w: make([]int64, m), n: make([]int64, m), u: make([]int64, m), take: make([]int64, m)}
		for i := range m {
			k.w[i] = (3+r.Int64N(25))*unit + r.Int64N(unit)
			k.n[i] = 1 + r.Int64N(3)
			k.u[i] = r.Int64N(1000)
		}
		p := newPricer(k.w, k.n, &meter{ctx: context.Background(), limit: 1 << 60})
		if n%3 == 1 {
			k.clash = cloneSets(nil, m)
			for i := range m {
				if j := r.IntN(m); j != i {
					k.clash[i][0] |= 1 << j
					k.clash[j][0] |= 1 << i
				}
			}
			p.clash = k.clash
		}
		if n%4 >= 2 {
			k.sets, k.price = [][]int{{0, 1, 2}}, []int64{r.Int64N(500)}
			p.odds, p.count, p.of = []odd{{price: k.price[0]}}, make([]int, 1), make([][]int, m)
			p.of[0], p.of[1], p.of[2] = []int{0}, []int{0}, []int{0}
		}
		if n%5 == 0 {
			p.prepare(k.u, c)
			k.gate = &gate{u: k.u, room: p.rooms(), shift: p.shift, least: p.top() / 2}
			p.addGate(k.gate)
			for i := range m {
				k.u = append([]int64(nil), k.u...)
				k.u[i] = r.Int64N(1000)
			}
		}
		k.search(0, c)
		p.prepare(k.u, c)
		if got := priceAll(p, 0); got != k.best {
			t.Fatalf("case %d: pricer %d, exhaustive search %d (shift %d)", n, got, k.best, p.shift)
		}
		if p.top() < k.best {
			t.Fatalf("case %d: table bound %d below %d", n, p.top(), k.best)
		}
	}
}
