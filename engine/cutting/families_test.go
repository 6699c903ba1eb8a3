package cutting

import (
	"math/rand/v2"
	"slices"
)

// family is a named kind of random instance; make(i) gives its i-th.
type family struct {
	name string
	make func(i int) Problem
}

func oneStock(c int64, lengths []int64) Problem {
	p := Problem{Stocks: []Stock{{Length: c, Price: 1}}}
	slices.Sort(lengths)
	for i, w := range lengths {
		if i > 0 && w == lengths[i-1] {
			p.Items[len(p.Items)-1].Demand++
			continue
		}
		p.Items = append(p.Items, Item{w, 1})
	}
	return p
}

func uniformFamily(name string, n int, c, lo, hi int64) family {
	return family{name, func(i int) Problem {
		r := rand.New(rand.NewPCG(uint64(n), uint64(c)+uint64(lo)*7+uint64(hi)*13+uint64(i)*7919))
		ws := make([]int64, n)
		for k := range ws {
			ws[k] = lo + r.Int64N(hi-lo+1)
		}
		return oneStock(c, ws)
	}}
}

// triplets builds n/3 bars of 1000 cut into three without waste, after E.
// Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of
// Heuristics 2 (1996) 5-30: the first piece in [380, 490], the second in
// [250, half of the rest], the third the rest.
func triplets(n int) family {
	return family{"triplets", func(i int) Problem {
		r := rand.New(rand.NewPCG(uint64(n), uint64(i)))
		var ws []int64
		for range n / 3 {
			a := 380 + r.Int64N(111)
			b := 250 + r.Int64N((1000-a)/2-250+1)
			ws = append(ws, a, b, 1000-a-b)
		}
		return oneStock(1000, ws)
	}}
}

// sized draws m distinct lengths with demands.
func sized(name string, m int, c, lo, hi int64, demand int) family {
	return family{name, func(i int) Problem {
		r := rand.New(rand.NewPCG(uint64(m)*31+uint64(demand), uint64(c)+uint64(lo)+uint64(hi)+uint64(i)*104729))
		p := Problem{Stocks: []Stock{{Length: c, Price: 1}}}
		for range m {
			p.Items = append(p.Items, Item{lo + r.Int64N(hi-lo+1), 1 + r.IntN(demand)})
		}
		return p
	}}
}

// tight cuts bars of c wholly into pieces drawn from [lo, hi], so that the
// material bound is the optimum or just below it.
func tight(name string, bars int, c, lo, hi, loss int64) family {
	return family{name, func(i int) Problem {
		r := rand.New(rand.NewPCG(uint64(bars)*17+uint64(hi), uint64(c)+uint64(lo)+uint64(i)*15485863))
		var ws []int64
		for range bars {
			room := c
			for room >= 2*lo {
				w := lo + r.Int64N(min(hi, room-lo)-lo+1)
				ws = append(ws, w)
				room -= w
			}
			if room = min(room, hi) - r.Int64N(loss+1); room > 0 {
				ws = append(ws, room)
			}
		}
		return oneStock(c, ws)
	}}
}

// families look like the sets used in print, from their descriptions (from
// memory): Falkenauer 1996; A. Scholl, R. Klein and C. Juergens, Computers &
// Operations Research 24 (1997) 627-645; P. Schwerin and G. Waescher,
// International Transactions in Operational Research 4 (1997) 377-389; G.
// Waescher and T. Gau, OR Spektrum 18 (1996) 131-144; J. Schoenfield 2002
// ("hard28"); T. Gschwind and S. Irnich, INFORMS Journal on Computing 28 (2016)
// 175-194.
var families = []family{
	uniformFamily("uniform250", 250, 150, 20, 100),
	uniformFamily("uniform1000", 1000, 150, 20, 100),
	triplets(120),
	triplets(501),
	uniformFamily("scholl1", 200, 100, 30, 100),
	uniformFamily("scholl1b", 500, 120, 1, 100),
	uniformFamily("scholl2", 500, 1000, 114, 286),
	uniformFamily("scholl2b", 500, 1000, 180, 220),
	uniformFamily("scholl2c", 200, 1000, 72, 216),
	uniformFamily("scholl3", 200, 100000, 20000, 35000),
	uniformFamily("schwerin", 120, 1000, 150, 200),
	sized("waescher", 40, 10000, 1, 7000, 4),
	sized("waescherb", 50, 10000, 1, 2500, 3),
	uniformFamily("wide800", 180, 1000, 1, 800),
	tight("hard", 65, 1000, 5, 800, 1),
	tight("hardb", 70, 1000, 30, 750, 2),
	tight("hardc", 60, 1000, 100, 700, 0),
	sized("large125", 125, 500000, 15000, 250000, 20),
	sized("large250", 250, 1000000, 50000, 400000, 10),
	sized("large500", 500, 1500000, 100000, 700000, 3),
	hard,
	sized("bulk", 12, 6000, 300, 2500, 300000),
}
