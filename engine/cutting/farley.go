package cutting

import (
	"math"
	"math/bits"
)

// farley turns integer piece values u, and upper bounds on the value of a bar of
// each kind, into a lower bound on the cost: A. A. Farley, A note on bounding a
// class of linear programming problems, including cutting stock problems,
// Operations Research 38 (1990) 922-923. All in integers.
func (g *master) farley(tops []int64) int64 {
	total := int64(0)
	for i, n := range g.d {
		total += g.u[i] * n
	}
	for _, q := range g.odds {
		if total -= q.price * q.most; total <= 0 {
			return 0
		}
	}
	if total <= 0 {
		return 0
	}
	num, den := int64(1), int64(0) // least of price*scale/top over unlimited kinds
	limited := false
	for k, b := range g.bars {
		if b.limit >= 0 {
			limited = true
			continue
		}
		if tops[k] > 0 && (den == 0 || ratioLess(b.price, tops[k], num, den)) {
			num, den = b.price, tops[k]
		}
	}
	if !limited {
		if den == 0 {
			return 0
		}
		return mulDivCeil(total, num, den)
	}
	return g.limitedBound(tops, num, den)
}

// limitedBound scales the values by num*scale/den if that is below one, then
// charges each limited kind what its bars are worth beyond their price.
func (g *master) limitedBound(tops []int64, num, den int64) int64 {
	shrink := den > 0 && num < math.MaxInt64/g.scale && num*g.scale < den
	value := func(v int64) int64 {
		if shrink {
			return mulDivFloor(v, num*g.scale, den)
		}
		return v
	}
	total := int64(0)
	for i, n := range g.d {
		total += value(g.u[i]) * n
	}
	for k, b := range g.bars {
		if b.limit < 0 {
			continue
		}
		if over := value(tops[k]) + 1 - b.price*g.scale; over > 0 {
			if over > math.MaxInt64/2/max(g.limits[k], 1) {
				return 0
			}
			total -= min(over*g.limits[k], total)
		}
	}
	return ceilDiv(total, g.scale)
}

// ratioLess reports a/b < c/d for positive numbers.
func ratioLess(a, b, c, d int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(d))
	h2, l2 := bits.Mul64(uint64(c), uint64(b))
	return h1 < h2 || (h1 == h2 && l1 < l2)
}

// mulDivFloor is floor(a*b/c) for a, b >= 0 and a*b/c below 2^63.
func mulDivFloor(a, b, c int64) int64 {
	h, l := bits.Mul64(uint64(a), uint64(b))
	if h >= uint64(c) {
		return math.MaxInt64
	}
	q, _ := bits.Div64(h, l, uint64(c))
	return int64(q)
}

func mulDivCeil(a, b, c int64) int64 {
	h, l := bits.Mul64(uint64(a), uint64(b))
	if h >= uint64(c) {
		return math.MaxInt64
	}
	q, r := bits.Div64(h, l, uint64(c))
	if r > 0 {
		q++
	}
	return int64(q)
}
