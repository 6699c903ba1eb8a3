package cutting

// shrink moves patterns to cheaper bars that hold them, as far as stock goes
// after base bars of each kind are taken.
func (in *instance) shrink(ps []pattern, base []int64) []pattern {
	used := make([]int64, len(in.bars))
	copy(used, base)
	for _, p := range ps {
		used[p.bar] += p.count
	}
	out := make([]pattern, 0, len(ps))
	for _, p := range ps {
		size := in.size(p.cuts)
		for p.count > 0 {
			k, n := in.cheaper(p, size, used)
			if k < 0 {
				out = append(out, p)
				break
			}
			used[p.bar] -= n
			used[k] += n
			p.count -= n
			out = append(out, pattern{bar: k, count: n, cuts: p.cuts})
		}
	}
	return out
}

func (in *instance) size(cuts []cut) int64 {
	s := int64(0)
	for _, c := range cuts {
		s += in.w[c.item] * int64(c.n)
	}
	return s
}

// cheaper finds the cheapest kind that holds size, costs less than p's and is
// left, with the number of p's bars it can replace; -1 if there is none.
func (in *instance) cheaper(p pattern, size int64, used []int64) (int, int64) {
	best, n := -1, int64(0)
	price := in.bars[p.bar].price
	for k, b := range in.bars {
		if b.cap < size || b.price >= price {
			continue
		}
		left := p.count
		if b.limit >= 0 {
			left = min(left, b.limit-used[k])
		}
		if left > 0 {
			best, n, price = k, left, b.price
		}
	}
	return best, n
}
