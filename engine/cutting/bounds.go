package cutting

// Lower bounds on the number of bars for one kind of bar. Each is the material
// bound ceil(sum f(w)/f(C)) under a dual-feasible function f, so each holds for
// every plan:
//
//   - identity: the material bound L1;
//   - the threshold functions of L2: S. Martello and P. Toth, Lower bounds and
//     reduction procedures for the bin packing problem, Discrete Applied
//     Mathematics 28 (1990) 59-70;
//   - u^(k) : S. P. Fekete and J. Schepers, New classes of fast lower bounds for
//     bin packing problems, Mathematical Programming 91 (2001) 11-31.

func ceilDiv(a, b int64) int64 {
	if a <= 0 {
		return 0
	}
	return (a-1)/b + 1
}

// fastBound is the best of the bounds above, for demands d.
func fastBound(w, d []int64, c int64) int64 {
	total, pieces := int64(0), int64(0)
	for i, n := range d {
		total += w[i] * n
		pieces += n
	}
	if pieces == 0 {
		return 0
	}
	best := max(ceilDiv(total, c), thresholdBound(w, d, c))
	for k := int64(2); k <= 16; k++ {
		best = max(best, stepBound(w, d, c, k))
	}
	return best
}

// thresholdBound is L2. For a threshold a <= C/2, pieces above C-a stand
// alone, those above C/2 share no bar with each other, those in [a, C/2] fill
// what is left; w falls, so three cursors do it in one sweep.
func thresholdBound(w, d []int64, c int64) int64 {
	m := len(w)
	big, bigSize, half := int64(0), int64(0), 0
	for half < m && 2*w[half] > c {
		big += d[half]
		bigSize += w[half] * d[half]
		half++
	}
	best := big
	alone, aloneSize, k := int64(0), int64(0), 0 // pieces above C-a
	for k < half {
		alone += d[k]
		aloneSize += w[k] * d[k]
		k++
	}
	small := int64(0)
	for i := half; i < m; i++ { // a = w[i], falling threshold
		small += w[i] * d[i]
		for k > 0 && w[k-1] <= c-w[i] {
			k--
			alone -= d[k]
			aloneSize -= w[k] * d[k]
		}
		room := (big-alone)*c - (bigSize - aloneSize)
		best = max(best, big+ceilDiv(small-room, c))
	}
	return best
}

// stepBound is the bound under u^(k): x -> x when (k+1)x/C is whole, else
// floor((k+1)x/C)/k; scaled by k*C to stay whole.
func stepBound(w, d []int64, c, k int64) int64 {
	total := int64(0) // sum of k*u^(k)(x) in units of 1, whole parts and rests
	rest := int64(0)
	for i, x := range w {
		q, r := mulDiv(k+1, x, c)
		if r == 0 {
			// k*x/C = k*q/(k+1): keep exact by carrying (k+1)ths.
			rest += k * q * d[i]
			continue
		}
		total += q * d[i]
	}
	// bound = ceil((total + rest/(k+1)) / k)
	return ceilDiv(total*(k+1)+rest, k*(k+1))
}

// mulDiv returns quotient and remainder of k*x/c for small k.
func mulDiv(k, x, c int64) (q, r int64) {
	q, r = x/c*k, x%c*k
	return q + r/c, r % c
}
