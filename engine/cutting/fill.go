package cutting

// filler builds plans bar by bar, each as full as a short search can make it
// around the longest piece left: the minimum-bin-slack heuristic of J. N. D.
// Gupta and J. C. Ho, Production Planning & Control 10 (1999) 598-603, in the
// form of K. Fleszar and K. S. Hindi, Computers & Operations Research 29 (2002)
// 821-839, where the longest piece left is always on the bar.
type filler struct {
	in    *instance
	d     []int64
	tail  []int64 // total length of the pieces from here on
	take  []int
	best  []int
	slack int64
	nodes int
	base  []int64 // bars taken before, by kind; nil for none
	used  []int64
	out   []pattern
	meter *meter
}

func newFiller(in *instance, m *meter) *filler {
	n := len(in.w)
	return &filler{in: in, d: make([]int64, n), tail: make([]int64, n+1), take: make([]int, n),
		best: make([]int, n), used: make([]int64, len(in.bars)), meter: m}
}

// run packs demands d; nodes limits the search for one bar, most the bars (it
// gives up beyond). It returns nil if it gave up.
func (f *filler) run(d []int64, nodes int, most int64) []pattern {
	copy(f.d, d)
	clear(f.used)
	copy(f.used, f.base)
	f.out = f.out[:0]
	bars := int64(0)
	for i := 0; i < len(f.d); {
		if f.d[i] == 0 {
			i++
			continue
		}
		n := f.bar(i, nodes)
		if bars += n; n == 0 || bars > most {
			return nil
		}
	}
	return f.out
}

// bar cuts bars around a piece of length i and returns how many alike.
func (f *filler) bar(i, nodes int) int64 {
	k := f.kind(i)
	if k < 0 {
		return 0
	}
	b := f.in.bars[k]
	f.tail[len(f.d)] = 0
	for j := len(f.d) - 1; j >= i; j-- {
		f.tail[j] = f.tail[j+1] + f.in.w[j]*f.d[j]
	}
	f.nodes, f.slack = nodes, b.cap+1
	clear(f.take)
	f.take[i] = 1
	f.d[i]--
	f.tail[i] -= f.in.w[i]
	f.search(i, b.cap-f.in.w[i])
	f.d[i]++
	f.meter.spend(4*(nodes-f.nodes) + len(f.d))
	return f.commit(k)
}

// kind chooses the bar for length i: the cheapest by length that is left.
func (f *filler) kind(i int) int {
	best := -1
	for k, b := range f.in.bars {
		if b.cap < f.in.w[i] || (b.limit >= 0 && f.used[k] >= b.limit) {
			continue
		}
		if best < 0 || float64(b.price)*float64(f.in.bars[best].cap) < float64(f.in.bars[best].price)*float64(b.cap) {
			best = k
		}
	}
	return best
}

// search fills the room with pieces from j on, keeping the least slack.
func (f *filler) search(j int, room int64) {
	if room < f.slack {
		f.slack = room
		copy(f.best, f.take)
	}
	for ; j < len(f.d); j++ {
		if f.slack == 0 || f.nodes <= 0 || room-f.tail[j] >= f.slack {
			return
		}
		n := min(f.d[j]-int64(f.take[j])+f.started(j), room/f.in.w[j])
		if n <= 0 {
			continue
		}
		had := f.take[j]
		for t := n; t >= 1; t-- {
			f.nodes--
			f.take[j] = had + int(t)
			f.search(j+1, room-t*f.in.w[j])
			if f.slack == 0 || f.nodes <= 0 {
				break
			}
		}
		f.take[j] = had
	}
}

// started is 1 for the piece the bar began with, whose demand was already
// lowered when its first copy was taken.
func (f *filler) started(j int) int64 {
	if f.take[j] > 0 {
		return 1
	}
	return 0
}

func (f *filler) commit(k int) int64 {
	times := int64(1) << 62
	var cuts []cut
	for j, n := range f.best {
		if n > 0 {
			cuts = append(cuts, cut{j, n})
			times = min(times, f.d[j]/int64(n))
		}
	}
	if b := f.in.bars[k]; b.limit >= 0 {
		times = min(times, b.limit-f.used[k])
	}
	for _, c := range cuts {
		f.d[c.item] -= int64(c.n) * times
	}
	f.used[k] += times
	f.out = append(f.out, pattern{bar: k, count: times, cuts: cuts})
	return times
}
