package cutting

// node is a cell of an immutable list of cuts; lists share tails, so that
// splitting a group of bars copies nothing.
type node struct {
	cut
	next int // index + 1, 0 at the end
}

// group is a number of open bars cut alike.
type group struct {
	bar  int
	rem  int64
	n    int64
	head int // index + 1 into fitter.nodes
}

// fitter places pieces into groups of open bars. It keeps its buffers.
type fitter struct {
	in     *instance
	groups []group
	spare  []group
	nodes  []node
	base   []int64 // bars taken before, by kind; nil for none
	used   []int64 // bars taken, by kind
	short  bool    // the stock on hand ran out
}

func newFitter(in *instance) *fitter {
	return &fitter{in: in, used: make([]int64, len(in.bars)),
		groups: make([]group, 0, len(in.w)+8), spare: make([]group, 0, len(in.w)+8), nodes: make([]node, 0, 2*len(in.w)+8)}
}

func (f *fitter) reset() {
	f.groups, f.nodes, f.short = f.groups[:0], f.nodes[:0], false
	clear(f.used)
	copy(f.used, f.base)
}

// firstFit opens bars for demands d in the order of the lengths given
// (falling length in the instance, so this is first-fit decreasing): D. S.
// Johnson, Near-optimal bin packing algorithms, MIT 1973.
func (f *fitter) firstFit(d []int64) {
	f.reset()
	for i, want := range d {
		if want > 0 {
			f.open(i, f.first(i, want))
		}
	}
}

// first puts pieces of length i into the first bars they fit; it returns how
// many are left over.
func (f *fitter) first(i int, want int64) int64 {
	w := f.in.w[i]
	out := f.spare[:0]
	for k, g := range f.groups {
		if want == 0 {
			out = append(out, f.groups[k:]...)
			break
		}
		t := g.rem / w
		if t == 0 {
			out = append(out, g)
			continue
		}
		if full := min(g.n, want/t); full > 0 {
			out = append(out, f.load(g, i, t, full))
			want -= full * t
			g.n -= full
		}
		if g.n > 0 && want > 0 {
			out = append(out, f.load(g, i, want, 1))
			want = 0
			g.n--
		}
		if g.n > 0 {
			out = append(out, g)
		}
	}
	f.groups, f.spare = out, f.groups
	return want
}

// load returns n bars of g with t more pieces of length i on each.
func (f *fitter) load(g group, i int, t, n int64) group {
	f.nodes = append(f.nodes, node{cut{i, int(t)}, g.head})
	return group{bar: g.bar, rem: g.rem - t*f.in.w[i], n: n, head: len(f.nodes)}
}

// open starts new bars for want pieces of length i.
func (f *fitter) open(i int, want int64) {
	for want > 0 {
		k := f.kind(f.in.w[i])
		if k < 0 {
			f.short = true
			return
		}
		b := f.in.bars[k]
		t := b.cap / f.in.w[i]
		n := want / t
		if n == 0 {
			n, t = 1, want
		}
		if b.limit >= 0 {
			n = min(n, b.limit-f.used[k])
		}
		f.used[k] += n
		f.groups = append(f.groups, f.load(group{bar: k, rem: b.cap}, i, t, n))
		want -= n * t
	}
}

// kind chooses the bar to open for a piece of length w: the cheapest by length
// among those that hold it and are left.
func (f *fitter) kind(w int64) int {
	best := -1
	for k, b := range f.in.bars {
		if b.cap < w {
			break
		}
		if b.limit >= 0 && f.used[k] >= b.limit {
			continue
		}
		if best < 0 || float64(b.price)*float64(f.in.bars[best].cap) < float64(f.in.bars[best].price)*float64(b.cap) {
			best = k
		}
	}
	return best
}

// bestFit is best-fit decreasing: the fullest bar that still takes the piece.
func (f *fitter) bestFit(d []int64) {
	f.reset()
	for i, want := range d {
		for want > 0 {
			k := f.tightest(f.in.w[i])
			if k < 0 {
				f.open(i, want)
				break
			}
			want -= f.fill(k, i, want)
		}
	}
}

func (f *fitter) tightest(w int64) int {
	best := -1
	for k, g := range f.groups {
		if g.rem >= w && (best < 0 || g.rem < f.groups[best].rem) {
			best = k
		}
	}
	return best
}

// fill puts as many of want pieces of length i as fit on bars of group k.
func (f *fitter) fill(k, i int, want int64) int64 {
	g := f.groups[k]
	t := min(g.rem/f.in.w[i], want)
	n := min(g.n, want/t)
	loaded := f.load(g, i, t, n)
	if g.n -= n; g.n == 0 {
		f.groups[k] = loaded
	} else {
		f.groups[k] = g
		f.groups = append(f.groups, loaded)
	}
	return n * t
}

// count returns the bars open.
func (f *fitter) count() int64 {
	n := int64(0)
	for _, g := range f.groups {
		n += g.n
	}
	return n
}

// patterns returns the groups as patterns, each on the cheapest bar left that
// holds it.
func (f *fitter) patterns() []pattern {
	ps := make([]pattern, 0, len(f.groups))
	total := 0
	for _, g := range f.groups {
		for h := g.head; h > 0; h = f.nodes[h-1].next {
			total++
		}
	}
	all := make([]cut, 0, total)
	for _, g := range f.groups {
		start := len(all)
		for h := g.head; h > 0; h = f.nodes[h-1].next {
			all = append(all, f.nodes[h-1].cut)
		}
		cuts := all[start:len(all):len(all)]
		reverse(cuts)
		ps = append(ps, pattern{bar: g.bar, count: g.n, cuts: cuts})
	}
	if !f.in.uniform() {
		ps = f.in.shrink(ps, f.base)
	}
	return ps
}

// reverse turns a list built by falling item into one by rising item.
func reverse(c []cut) {
	for i, j := 0, len(c)-1; i < j; i, j = i+1, j-1 {
		c[i], c[j] = c[j], c[i]
	}
}
