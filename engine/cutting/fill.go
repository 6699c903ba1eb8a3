package cutting

import (
	"cmp"
	"slices"
)

// filler builds plans bar by bar, each as full as a short search can make it
// around the longest piece left: the minimum-bin-slack heuristic of J. N. D.
// Gupta and J. C. Ho, Production Planning & Control 10 (1999) 598-603, in the
// form of K. Fleszar and K. S. Hindi, Computers & Operations Research 29 (2002)
// 821-839, where the longest piece left is always on the bar.
type filler struct {
	in    *instance
	d     []int64
	act   []int   // lengths wanted from the one the bar starts with on
	w     []int64 // of act
	n     []int64 // pieces of act that may still be taken
	tail  []int64 // total length of the pieces of act from here on
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
	return &filler{in: in, d: make([]int64, len(in.w)), used: make([]int64, len(in.bars)), meter: m}
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
	f.start(i)
	f.nodes, f.slack = nodes, b.cap+1
	f.take[0] = 1
	f.search(0, b.cap-f.in.w[i])
	f.meter.spend(16*(nodes-f.nodes) + 4*(len(f.d)-i))
	return f.commit(k)
}

// start lists what may lie beside a first piece of length i.
func (f *filler) start(i int) {
	f.act, f.w, f.n = f.act[:0], f.w[:0], f.n[:0]
	for j := i; j < len(f.d); j++ {
		if f.d[j] > 0 {
			f.act = append(f.act, j)
			f.w = append(f.w, f.in.w[j])
			f.n = append(f.n, f.d[j])
		}
	}
	f.n[0]--
	m := len(f.act)
	f.take = append(f.take[:0], make([]int, m)...)
	f.best = append(f.best[:0], f.take...)
	f.tail = append(f.tail[:0], make([]int64, m+1)...)
	for k := m - 1; k >= 0; k-- {
		f.tail[k] = f.tail[k+1] + f.w[k]*f.n[k]
	}
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
	if j < len(f.w) && f.w[j] > room {
		j, _ = slices.BinarySearchFunc(f.w, room, func(w, room int64) int { return cmp.Compare(room, w) })
	}
	for ; j < len(f.w); j++ {
		if f.slack == 0 || f.nodes <= 0 || room-f.tail[j] >= f.slack {
			return
		}
		n, w := f.n[j], f.w[j]
		if n*w > room {
			n = room / w
		}
		if n <= 0 {
			continue
		}
		had := f.take[j]
		for t := n; t >= 1; t-- {
			f.nodes--
			f.take[j] = had + int(t)
			f.search(j+1, room-t*w)
			if f.slack == 0 || f.nodes <= 0 {
				break
			}
		}
		f.take[j] = had
		if room < 2*f.w[len(f.w)-1] {
			return // one piece more is all that fits, and this is the longest
		}
	}
}

func (f *filler) commit(k int) int64 {
	times := int64(1) << 62
	var cuts []cut
	for q, n := range f.best {
		if n > 0 {
			j := f.act[q]
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
