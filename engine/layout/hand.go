package layout

import (
	"cmp"
	"math/rand/v2"
)

// The methods a careful person uses on a scaffold, each kept to the stagger
// rules. They are the baseline a search must beat, and its start.
const (
	handOffcut = "offcut of the last course starts the next"
	handPile   = "pile of offcuts"
	handFull   = "full boards, then first-fit decreasing"
)

// cutBoard is a board, cut count times alike.
type cutBoard struct {
	kind  int
	parts []int32
	count int
}

// solution is a layout and the boards it is cut from.
type solution struct {
	name   string
	cuts   [][]int32
	boards []cutBoard
	cost   int64
	bought int
	joints int
	broken int // breaches of the rules
}

func (m *model) tally(s *solution) {
	s.cost, s.bought, s.joints = 0, 0, 0
	for r, cuts := range s.cuts {
		s.joints += len(cuts) * int(m.runs[r].qty)
	}
	for _, b := range s.boards {
		if m.kinds[b.kind].hand < 0 {
			s.bought += b.count
			s.cost += int64(b.count) * m.kinds[b.kind].cost
		}
	}
}

// better reports whether a breaks fewer rules than b, or as many at less
// cost, or at the same cost with fewer boards or then with fewer joints.
func (a *solution) better(b *solution) bool {
	if a.broken != b.broken {
		return a.broken < b.broken
	}
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.bought, b.bought), cmp.Compare(a.joints, b.joints)) < 0
}

// hand returns the solutions of the hand methods.
func (m *model) hand(rng *rand.Rand) []*solution {
	return []*solution{m.byHand(handOffcut, rng), m.byHand(handPile, rng), m.byHand(handFull, rng)}
}

// byHand lays and cuts by one method. Where its greedy way meets a dead end
// the layout is repaired and its pieces are packed by falling length instead.
func (m *model) byHand(method string, rng *rand.Rand) *solution {
	h := &hander{m: m, s: newState(m), used: make([]int, len(m.kinds)), method: method}
	for _, order := range m.walls {
		for i, r := range order {
			h.lay(r, i%2 == 1)
		}
	}
	out := &solution{name: method, boards: h.boards}
	if h.stuck || method == handFull {
		h.s.fill(m.fullFirst(), rng)
		out.boards = m.packed(h.s.cuts, newShelf(m))
	}
	out.cuts = h.s.cuts
	for w := range m.walls {
		out.broken += h.s.wallBreaches(w)
	}
	m.tally(out)
	return out
}

// fullFirst prices pieces so that the fewest are used.
func (m *model) fullFirst() []int64 {
	p := make([]int64, len(m.lens))
	for i := range p {
		p[i] = 1 << 20
	}
	return p
}

// demand counts the pieces of a layout by length number.
func (m *model) demand(cuts [][]int32) []int32 {
	d := make([]int32, len(m.lens))
	var buf []int32
	for r := range m.runs {
		if m.runs[r].shape.dead {
			continue
		}
		buf = m.piecesOf(int32(r), cuts[r], buf[:0])
		for _, id := range buf {
			d[id] += m.runs[r].qty
		}
	}
	return d
}

func (m *model) packed(cuts [][]int32, s *shelf) []cutBoard {
	s.pack(m.demand(cuts))
	return s.list()
}

// mostOffcuts is how many offcuts a person keeps an eye on.
const mostOffcuts = 200

// hander is a person at work: a layout so far, the boards cut so far, and
// those with an offcut worth keeping.
type hander struct {
	m      *model
	s      *state
	method string
	boards []cutBoard
	free   []int64
	pile   []int // boards with an offcut, oldest first
	goals  []goal
	used   []int
	qty    int32
	stuck  bool
}

// lay lays one run from its left end (full boards: from either end in turn).
func (h *hander) lay(r int32, reverse bool) {
	ru := &h.m.runs[r]
	if ru.shape.dead {
		return
	}
	if ru.qty != h.qty {
		h.pile, h.qty = h.pile[:0], ru.qty
	}
	ok := h.ahead(r)
	if !ok[0] {
		h.stuck = true
		return
	}
	if h.method == handFull {
		h.s.put(r, h.full(r, reverse))
		return
	}
	var cuts []int32
	for at := 0; at < ru.shape.n-1; {
		at = h.cut(ru.shape, ok, at)
		if at < ru.shape.n-1 {
			cuts = append(cuts, int32(at))
		}
	}
	h.s.put(r, cuts)
	if h.method == handOffcut && len(h.pile) > 1 {
		h.pile = append(h.pile[:0], h.pile[len(h.pile)-1])
	}
}

// ahead tells from which points the rest of the run can be laid by the rules.
func (h *hander) ahead(r int32) []bool {
	ru := &h.m.runs[r]
	sh := ru.shape
	ok := make([]bool, sh.n)
	ok[sh.n-1] = true
	for i := sh.n - 2; i >= 0; i-- {
		if i > 0 && h.s.block[ru.base+int32(i)] > 0 {
			continue
		}
		for j := i + 1; j < sh.n && !ok[i]; j++ {
			ok[i] = ok[j] && sh.seg[i*sh.n+j] != none && !sh.short[i*sh.n+j]
		}
	}
	return ok
}

// farthest is the last point a piece of at most length w can reach from at, or
// at itself.
func (h *hander) farthest(sh *shape, ok []bool, at int, w int64) int {
	for j := sh.n - 1; j > at; j-- {
		if id := sh.seg[at*sh.n+j]; ok[j] && id != none && !sh.short[at*sh.n+j] && h.m.lens[id] <= w {
			return j
		}
	}
	return at
}

// cut takes one piece from an offcut if it starts or ends the run, else from a
// fresh board, and returns where it ends.
func (h *hander) cut(sh *shape, ok []bool, at int) int {
	k := h.fresh()
	full := h.farthest(sh, ok, at, h.m.kinds[k].cap)
	if at == 0 || full == sh.n-1 {
		if b, to := h.offcut(sh, ok, at, full); b >= 0 {
			h.saw(h.pile[b], sh.seg[at*sh.n+to])
			h.drop(b)
			return to
		}
	}
	if full == at {
		full = h.farthest(sh, ok, at, h.m.most)
		k = h.m.buy(h.m.lens[sh.seg[at*sh.n+full]])
	}
	h.used[k] += int(h.qty)
	h.boards = append(h.boards, cutBoard{kind: k, count: int(h.qty)})
	h.free = append(h.free, h.m.kinds[k].cap)
	b := len(h.boards) - 1
	h.saw(b, sh.seg[at*sh.n+full])
	if h.free[b] > 0 {
		h.pile = append(h.pile, b)
		h.pile = h.pile[max(0, len(h.pile)-mostOffcuts):]
	}
	return full
}

// fresh is the kind of the next board: on hand while there are any.
func (h *hander) fresh() int {
	for k, x := range h.m.kinds {
		if x.hand >= 0 && h.used[k]+int(h.qty) <= x.hand {
			return k
		}
	}
	return h.m.best
}

// offcut finds the offcut of the pile that is used with the least waste; at a
// run's end it must reach the end.
func (h *hander) offcut(sh *shape, ok []bool, at, full int) (b, to int) {
	b = -1
	waste := int64(0)
	h.goals = h.goals[:0] // where a piece may end, farthest first
	for j := full; j > at && (j == full || full < sh.n-1); j-- {
		if e := at*sh.n + j; ok[j] && sh.seg[e] != none && !sh.short[e] {
			h.goals = append(h.goals, goal{j, h.m.lens[sh.seg[e]]})
		}
	}
	for i, x := range h.pile {
		free := h.free[x]
		for _, g := range h.goals {
			if g.length > free {
				continue
			}
			if w := free - g.length; b < 0 || w < waste {
				b, to, waste = i, g.point, w
			}
			break
		}
	}
	return b, to
}

// goal is a point where a piece may end, and the length it takes.
type goal struct {
	point  int
	length int64
}

func (h *hander) saw(b int, id int32) {
	h.boards[b].parts = append(h.boards[b].parts, id)
	h.free[b] -= h.m.lens[id]
}

// drop takes a used offcut from the pile; what is left of it goes back only
// where there is a pile.
func (h *hander) drop(i int) {
	b := h.pile[i]
	h.pile = append(h.pile[:i], h.pile[i+1:]...)
	if h.method == handPile && h.free[b] > 0 {
		h.pile = append(h.pile, b)
	}
}

// full lays the longest pieces that go, from the left or from the right.
func (h *hander) full(r int32, reverse bool) []int32 {
	ru := &h.m.runs[r]
	sh := ru.shape
	var cuts []int32
	if !reverse {
		ok := h.ahead(r)
		for at := h.farthest(sh, ok, 0, h.m.most); at < sh.n-1; at = h.farthest(sh, ok, at, h.m.most) {
			cuts = append(cuts, int32(at))
		}
		return cuts
	}
	ok := h.behind(r)
	for at := sh.n - 1; ; {
		j := 0
		for sh.seg[j*sh.n+at] == none || sh.short[j*sh.n+at] || !ok[j] {
			j++
		}
		if at = j; at == 0 {
			break
		}
		cuts = append(cuts, int32(at))
	}
	for i, j := 0, len(cuts)-1; i < j; i, j = i+1, j-1 {
		cuts[i], cuts[j] = cuts[j], cuts[i]
	}
	return cuts
}

// behind tells to which points the run can be laid from its start.
func (h *hander) behind(r int32) []bool {
	ru := &h.m.runs[r]
	sh := ru.shape
	ok := make([]bool, sh.n)
	ok[0] = true
	for j := 1; j < sh.n; j++ {
		if j < sh.n-1 && h.s.block[ru.base+int32(j)] > 0 {
			continue
		}
		for i := 0; i < j && !ok[j]; i++ {
			ok[j] = ok[i] && sh.seg[i*sh.n+j] != none && !sh.short[i*sh.n+j]
		}
	}
	return ok
}
