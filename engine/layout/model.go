package layout

import (
	"cmp"
	"encoding/binary"
	"slices"

	"lapwright/engine/measure"
)

// The solver's own form of a problem. Every board and every piece has the kerf
// added, so that pieces fit a board when their sum does; lengths are divided by
// their common divisor and numbered by falling length.

// kind is a sort of board.
type kind struct {
	cap   int64
	cost  int64
	hand  int // boards on hand, -1: bought
	stock int // index into Problem.Stocks
}

// shape is the geometry that equal runs share. Points are the run's start, its
// sites, and its end; a segment joins two points.
type shape struct {
	n     int
	seg   []int32 // n*n: number of the piece from i to j; none where i >= j or it is too long
	short []bool  // n*n: shorter than the rules allow
	bound bool    // the rules leave no layout: short pieces are admitted
	dead  bool    // no layout at all
	first []int32 // by point: where the longest piece that ends there begins
	last  []int32 // and the shortest; last < first where none does
}

const none = int32(-1)

// run is a run of the problem: qty copies, all laid alike.
type run struct {
	wall, index int
	course      int
	qty         int32
	base        int32 // number of the joint at point 0
	shape       *shape
}

// model is a problem made ready for search.
type model struct {
	p      Problem
	kerf   measure.Length
	unit   int64
	kinds  []kind // by falling capacity
	best   int    // kind bought where nothing else is said: cheapest by length, then longest
	lens   []int64
	runs   []run
	shapes []*shape
	walls  [][]int32 // wall -> runs by course and place
	conf   [][]int32 // joint -> joints that exclude it
	owner  []int32   // joint -> run
	keys   []int32   // joint -> its place: site, or a negative number for an end
	places []measure.Length
	most   int64 // longest capacity
}

func newModel(p Problem) *model {
	m := &model{p: p, kerf: p.Kerf.UpTo(measure.Tenth)}
	raw := m.collect()
	m.number(raw)
	m.addKinds()
	for _, s := range m.shapes {
		s.judge()
	}
	m.link()
	m.mark()
	return m
}

// collect builds runs and shapes with lengths in micrometres, and returns the
// length of every segment by shape.
func (m *model) collect() [][]int64 {
	longest := measure.Length(0)
	for _, s := range m.p.Stocks {
		if s.OnHand == 0 {
			longest = max(longest, s.Length)
		}
	}
	known := map[string]*shape{}
	var raw [][]int64
	joints := int32(0)
	for w, wall := range m.p.Walls {
		var order []int32
		for i, r := range wall.Runs {
			key := shapeKey(wall, r)
			sh, ok := known[key]
			if !ok {
				var lens []int64
				sh, lens = newShape(wall, r, m.p.Gap, longest, m.kerf)
				known[key] = sh
				m.shapes = append(m.shapes, sh)
				raw = append(raw, lens)
			}
			order = append(order, int32(len(m.runs)))
			m.runs = append(m.runs, run{w, i, r.Course, int32(max(1, wall.Quantity)), joints, sh})
			joints += int32(sh.n)
		}
		slices.SortFunc(order, func(a, b int32) int {
			ra, rb := wall.Runs[m.runs[a].index], wall.Runs[m.runs[b].index]
			return cmp.Or(cmp.Compare(ra.Course, rb.Course), cmp.Compare(ra.Span.Lo, rb.Span.Lo), cmp.Compare(a, b))
		})
		m.walls = append(m.walls, order)
	}
	m.owner = make([]int32, joints)
	m.conf = make([][]int32, joints)
	return raw
}

// shapeKey is equal for runs whose pieces can be the same.
func shapeKey(w Wall, r Run) string {
	b := make([]byte, 0, 8*(len(r.Sites)+5))
	put := func(l measure.Length) { b = binary.LittleEndian.AppendUint64(b, uint64(l)) }
	put(r.Span.Length())
	put(r.FirstLeast)
	put(r.LastLeast)
	put(w.PieceLeast)
	// The gap's rounding is relative to the site, so offsets say everything.
	for _, s := range r.Sites {
		put(w.Sites[s].X - r.Span.Lo)
	}
	return string(b)
}

func newShape(w Wall, r Run, gap, longest, kerf measure.Length) (*shape, []int64) {
	n := len(r.Sites) + 2
	s := &shape{n: n, seg: make([]int32, n*n), short: make([]bool, n*n)}
	lens := make([]int64, n*n)
	lo, hi := make([]measure.Length, n), make([]measure.Length, n) // where a piece starts, ends at a point
	lo[0], hi[n-1] = r.Span.Lo, r.Span.Hi
	for k, site := range r.Sites {
		hi[k+1] = leftEnd(w.Sites[site].X, gap)
		lo[k+1] = hi[k+1] + gap
	}
	for i := range n {
		for j := range n {
			s.seg[i*n+j] = none
			if i >= j || (j == n-1 && i == n-1) {
				continue
			}
			l := hi[j] - lo[i]
			if l <= 0 || l.UpTo(measure.Tenth) > longest {
				continue
			}
			s.seg[i*n+j] = 0
			lens[i*n+j] = int64(l.UpTo(measure.Tenth) + kerf)
			s.short[i*n+j] = l < least(w, r, i == 0, j == n-1)
		}
	}
	return s, lens
}

// least is the shortest piece the rules allow at this place of a run.
func least(w Wall, r Run, first, last bool) measure.Length {
	if first && last {
		return 0
	}
	l := w.PieceLeast
	if first {
		l = max(l, r.FirstLeast)
	}
	if last {
		l = max(l, r.LastLeast)
	}
	return l
}

// number gives every length its number and unit.
func (m *model) number(raw [][]int64) {
	var all []int64
	for k, s := range m.shapes {
		for i, id := range s.seg {
			if id != none {
				all = append(all, raw[k][i])
			}
		}
	}
	slices.SortFunc(all, func(a, b int64) int { return cmp.Compare(b, a) })
	all = slices.Compact(all)
	g := int64(0)
	id := make(map[int64]int32, len(all))
	for i, l := range all {
		g = gcd(g, l)
		id[l] = int32(i)
	}
	m.unit = max(g, 1)
	for k, s := range m.shapes {
		for i := range s.seg {
			if s.seg[i] != none {
				s.seg[i] = id[raw[k][i]]
			}
		}
	}
	for i := range all {
		all[i] /= m.unit
	}
	m.lens = all
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (m *model) addKinds() {
	for i, s := range m.p.Stocks {
		k := kind{cap: int64(s.Length+m.kerf) / m.unit, cost: price(s), hand: -1, stock: i}
		if s.OnHand > 0 {
			k.hand, k.cost = s.OnHand, 0
		}
		m.kinds = append(m.kinds, k)
	}
	slices.SortStableFunc(m.kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.cap, a.cap), cmp.Compare(a.cost, b.cost))
	})
	m.most = m.kinds[0].cap
	m.best = -1
	for i, k := range m.kinds {
		if k.hand < 0 && (m.best < 0 || k.cost*m.kinds[m.best].cap < m.kinds[m.best].cost*k.cap) {
			m.best = i
		}
	}
}

func price(s Stock) int64 {
	if s.Price > 0 {
		return s.Price
	}
	return int64(s.Length.UpTo(measure.Millimetre) / measure.Millimetre)
}

// judge bars short pieces unless the run cannot do without them.
func (s *shape) judge() {
	s.dead = !s.passable(true)
	s.bound = !s.dead && !s.passable(false)
	for i := range s.seg {
		if s.short[i] && !s.bound {
			s.seg[i] = none
		}
	}
	s.first, s.last = make([]int32, s.n), make([]int32, s.n)
	for j := range s.n {
		s.first[j], s.last[j] = int32(s.n), none
		for i := range j {
			if s.seg[i*s.n+j] != none {
				s.first[j], s.last[j] = min(s.first[j], int32(i)), int32(i)
			}
		}
	}
}

// passable reports whether pieces can cover the run, short ones or not.
func (s *shape) passable(short bool) bool {
	ok := make([]bool, s.n)
	ok[0] = true
	for i := range s.n {
		for j := i + 1; j < s.n && ok[i]; j++ {
			if e := i*s.n + j; s.seg[e] != none && (short || !s.short[e]) {
				ok[j] = true
			}
		}
	}
	return ok[s.n-1]
}

// link finds which joints exclude each other.
func (m *model) link() {
	reach := max(m.p.Repeat-1, min(m.p.StaggerBays, 1))
	var all []int32 // shared by the lists
	for w, order := range m.walls {
		wall := &m.p.Walls[w]
		for i, r := range order {
			ru := &m.runs[r]
			for k := range ru.shape.n {
				m.owner[ru.base+int32(k)] = r
			}
			near := m.near(order, i, reach)
			for k, s := range wall.Runs[ru.index].Sites {
				first := len(all)
				for _, q := range near {
					o := &m.runs[q]
					for l, t := range wall.Runs[o.index].Sites {
						if m.excludes(wall, o.course-ru.course, &wall.Sites[s], &wall.Sites[t]) {
							all = append(all, o.base+int32(l)+1)
						}
					}
				}
				m.conf[ru.base+int32(k)+1] = all[first:len(all):len(all)]
			}
		}
	}
}

// near lists the runs on other courses at most reach away from that of the
// i-th, by course.
func (m *model) near(order []int32, i, reach int) []int32 {
	course := m.runs[order[i]].course
	lo, hi := i, i
	for lo > 0 && m.runs[order[lo-1]].course >= course-reach {
		lo--
	}
	for hi < len(order) && m.runs[order[hi]].course <= course+reach {
		hi++
	}
	var out []int32
	for _, r := range order[lo:hi] {
		if m.runs[r].course != course {
			out = append(out, r)
		}
	}
	return out
}

// mark numbers the places of a wall: sites by index, ends of runs by their x.
func (m *model) mark() {
	m.keys, m.places = make([]int32, len(m.conf)), make([]measure.Length, len(m.conf))
	for w, order := range m.walls {
		ends := map[measure.Length]int32{}
		end := func(x measure.Length) int32 {
			if _, ok := ends[x]; !ok {
				ends[x] = -1 - int32(len(ends))
			}
			return ends[x]
		}
		for _, r := range order {
			ru := &m.runs[r]
			wr := m.p.Walls[w].Runs[ru.index]
			last := ru.base + int32(ru.shape.n) - 1
			m.keys[ru.base], m.places[ru.base] = end(wr.Span.Lo), wr.Span.Lo
			m.keys[last], m.places[last] = end(wr.Span.Hi), wr.Span.Hi
			for k, s := range wr.Sites {
				m.keys[ru.base+int32(k)+1], m.places[ru.base+int32(k)+1] = int32(s), m.p.Walls[w].Sites[s].X
			}
		}
	}
}

func (m *model) key(r, k int32) int32 { return m.keys[m.runs[r].base+k] }

// at is the i-th joint of a list of cuts, or the run's end after the last.
func (m *model) at(r int32, cuts []int32, i int) int32 {
	if i == len(cuts) {
		return m.runs[r].base + int32(m.runs[r].shape.n) - 1
	}
	return m.runs[r].base + cuts[i]
}

func (m *model) keyAt(r int32, cuts []int32, i int) int32 { return m.keys[m.at(r, cuts, i)] }

func (m *model) placeAt(r int32, cuts []int32, i int) measure.Length {
	return m.places[m.at(r, cuts, i)]
}

// point is the point of run r at the site, or -1.
func (m *model) point(r, site int32) int32 {
	ru := &m.runs[r]
	if site < 0 {
		return -1
	}
	sites, all := m.p.Walls[ru.wall].Runs[ru.index].Sites, m.p.Walls[ru.wall].Sites
	lo, hi := 0, len(sites)
	for lo < hi {
		if mid := (lo + hi) / 2; all[sites[mid]].X < all[site].X {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(sites) && sites[lo] == int(site) {
		return int32(lo) + 1
	}
	return -1
}

// excludes reports whether joints at two sites so many courses apart cannot both
// stand. Courses differ.
func (m *model) excludes(w *Wall, courses int, a, b *Site) bool {
	courses = max(courses, -courses)
	off := max(a.X-b.X, b.X-a.X)
	if a.Off || b.Off {
		return (courses == 1 && off < w.Apart) || (off == 0 && courses < m.p.Repeat)
	}
	bays := max(a.Bay-b.Bay, b.Bay-a.Bay)
	return (courses == 1 && (bays < m.p.StaggerBays || off < w.Near)) || (bays == 0 && courses < m.p.Repeat)
}
