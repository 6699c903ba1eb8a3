package layout

import (
	"context"
	"math"
	"math/rand/v2"
)

// annealer moves joints and pieces at once, so as to gather what is left free
// on few boards: the energy of a board with capacity C and f free is its cost
// times 1-(f/C)^2. (Simulated annealing: S. Kirkpatrick, C. D. Gelatt and M. P.
// Vecchi, Science 220 (1983) 671-680.)
type annealer struct {
	m     *model
	st    *state
	sh    *shelf
	rng   *rand.PCG
	ctx   context.Context
	fixed []float64 // by kind: cost of a full board, the best bought one 1
	curve []float64 // by kind: what a free length squared gives back
	runs  []int32   // runs that may be re-laid
	idle  []bool
	heat  float64
	toll  float64   // cost of a joint
	worth []float64 // by length number: what the master's duals add to a piece
	joint []float64 // by joint: what they add to a joint

	best     *solution
	cost     int64
	bought   int
	target   int64 // a cost that cannot be undercut
	removed  []change
	added    []change
	cost2    []float64
	from     []int32
	cuts     []int32
	noise    []float64
	changing []int32
}

// change is a piece put on or taken off a board.
type change struct{ piece, board, id, kind int32 }

func newAnnealer(ctx context.Context, m *model, start *solution, seed uint64) *annealer {
	a := &annealer{m: m, st: newState(m), sh: newShelf(m), rng: rand.NewPCG(seed, 1), ctx: ctx}
	unit := float64(m.kinds[m.best].cost)
	for _, k := range m.kinds {
		c := float64(k.cost) / unit
		if k.hand >= 0 {
			c = 0.02
		}
		a.fixed = append(a.fixed, c)
		a.curve = append(a.curve, c/float64(k.cap)/float64(k.cap))
	}
	n := 0
	for _, s := range m.shapes {
		n = max(n, s.n)
	}
	a.cost2, a.from = make([]float64, n), make([]int32, n)
	a.worth, a.joint = make([]float64, len(m.lens)), make([]float64, len(m.conf))
	a.noise = make([]float64, 1024)
	for i := range a.noise {
		a.noise[i] = -math.Log(a.float())
	}
	a.load(start)
	return a
}

// load starts from a solution. Runs that break a rule stay as they are.
func (a *annealer) load(s *solution) {
	for r := range a.m.runs {
		if !a.m.runs[r].shape.dead {
			a.st.lift(int32(r))
		}
	}
	for r := range a.m.runs {
		if !a.m.runs[r].shape.dead {
			a.st.put(int32(r), append(make([]int32, 0, len(s.cuts[r])+4), s.cuts[r]...))
		}
	}
	a.runs = a.runs[:0]
	a.idle = make([]bool, len(a.m.runs))
	for r := range a.m.runs {
		a.idle[r] = !a.m.runs[r].shape.dead && a.st.breaches(int32(r)) > 0
	}
	for r := range a.m.runs {
		if sh := a.m.runs[r].shape; !sh.dead && sh.n > 2 && a.st.breaches(int32(r)) == 0 {
			a.runs = append(a.runs, int32(r))
		}
	}
	a.sh.load(s.boards)
	a.best, a.cost, a.bought = s, s.cost, s.bought
}

func (a *annealer) float() float64 { return (float64(a.rng.Uint64()>>11) + 0.5) / (1 << 53) }
func (a *annealer) below(n int) int {
	return int((a.rng.Uint64() >> 32) * uint64(n) >> 32)
}

// energy of a board of kind k with f free.
func (a *annealer) energy(k int32, f int64) float64 {
	return a.fixed[k] - a.curve[k]*float64(f)*float64(f)
}

// gain is what a piece of length w costs where it fits tightest.
func (a *annealer) gain(w int64) float64 {
	if f := a.sh.least(w); f >= 0 {
		k := a.sh.boards[a.sh.head[f]].kind
		return a.curve[k] * float64(w) * float64(2*f-w)
	}
	k := a.sh.kindFor(w)
	return a.energy(int32(k), a.m.kinds[k].cap-w)
}

// drop takes a piece off and returns the change of energy.
func (a *annealer) drop(p int32) float64 {
	x := a.sh.pieces[p]
	b := &a.sh.boards[x.board]
	d := -a.energy(b.kind, b.free)
	if len(b.parts) > 1 {
		d += a.energy(b.kind, b.free+a.m.lens[x.id])
	} else {
		a.account(b.kind, -1)
	}
	a.removed = append(a.removed, change{p, x.board, x.id, b.kind})
	a.sh.take(p)
	return d
}

// set puts a piece on board b and returns the change of energy.
func (a *annealer) set(b, id int32) float64 {
	x := &a.sh.boards[b]
	d := 0.0
	if len(x.parts) > 0 {
		d -= a.energy(x.kind, x.free)
	} else {
		a.account(x.kind, 1)
	}
	p := a.sh.add(b, id)
	x = &a.sh.boards[b]
	a.added = append(a.added, change{p, b, id, x.kind})
	return d + a.energy(x.kind, x.free)
}

func (a *annealer) account(k int32, by int) {
	if a.m.kinds[k].hand < 0 {
		a.bought += by
		a.cost += int64(by) * a.m.kinds[k].cost
	}
}

// undo takes back the changes of a move: first what was added, then what was
// removed, each in reverse, which also brings emptied boards back.
func (a *annealer) undo() {
	for i := len(a.added) - 1; i >= 0; i-- {
		c := a.added[i]
		if b := &a.sh.boards[c.board]; len(b.parts) == 1 {
			a.account(b.kind, -1)
		}
		a.sh.take(c.piece)
	}
	for i := len(a.removed) - 1; i >= 0; i-- {
		c := a.removed[i]
		if b := &a.sh.boards[c.board]; len(b.parts) == 0 {
			b.kind = c.kind
			a.account(b.kind, 1)
		}
		a.sh.add(c.board, c.id)
	}
}

func (a *annealer) accept(d float64) bool {
	return d <= 0 || (a.heat > 0 && d < 16*a.heat && a.float() < math.Exp(-d/a.heat))
}

// relay lays one to three pieces of a run anew.
func (a *annealer) relay() {
	r := a.runs[a.below(len(a.runs))]
	ru := &a.m.runs[r]
	old := a.st.cuts[r]
	n := len(old) + 1
	wide := min(n, 1+a.below(3))
	if n > 1 && wide == 1 {
		wide = 2
	}
	i := a.below(n - wide + 1) // first piece of the window
	lo, hi := int32(0), int32(ru.shape.n-1)
	if i > 0 {
		lo = old[i-1]
	}
	if i+wide < n {
		hi = old[i+wide-1]
	}
	a.removed, a.added = a.removed[:0], a.added[:0]
	inner := old[i : i+wide-1]
	d := a.clear(ru, lo, hi, inner)
	cuts, ok := a.path(r, lo, hi)
	if !ok || equal(cuts, inner) && wide > 0 && a.heat == 0 {
		a.undo()
		return
	}
	d += float64(ru.qty) * (a.price(ru, lo, hi, cuts) - a.price(ru, lo, hi, inner))
	at := lo
	for k := 0; k <= len(cuts); k++ {
		to := hi
		if k < len(cuts) {
			to = cuts[k]
		}
		id := ru.shape.seg[int(at)*ru.shape.n+int(to)]
		for range ru.qty {
			d += a.set(a.sh.tightest(id), id)
		}
		at = to
	}
	if !a.accept(d) {
		a.undo()
		return
	}
	if equal(cuts, inner) {
		return
	}
	a.st.lift(r)
	a.changing = append(a.changing[:0], old[:i]...)
	a.changing = append(a.changing, cuts...)
	a.changing = append(a.changing, old[i+wide-1:]...)
	a.st.put(r, append(old[:0], a.changing...))
	a.note()
}

// price is what tolls and duals add to the pieces between the points lo and hi.
func (a *annealer) price(ru *run, lo, hi int32, inner []int32) float64 {
	p := a.toll * float64(len(inner))
	for _, k := range inner {
		p += a.joint[ru.base+k] + a.worth[ru.shape.seg[int(lo)*ru.shape.n+int(k)]]
		lo = k
	}
	return p + a.worth[ru.shape.seg[int(lo)*ru.shape.n+int(hi)]]
}

// guide adds the master's duals to the energy, times weight.
func (a *annealer) guide(g *master, weight float64) {
	g.settle()
	for i := range a.worth {
		a.worth[i] = weight * g.price[i]
	}
	tolls := g.tolls()
	for w := range a.m.walls {
		for i, r := range a.m.walls[w] {
			t := g.typeOf(w, i)
			if t < 0 {
				continue
			}
			for k, z := range tolls[t] {
				a.joint[a.m.runs[r].base+int32(k)] = weight * z
			}
		}
	}
}

func equal(x, y []int32) bool {
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i] != y[i] {
			return false
		}
	}
	return true
}

// clear takes off the pieces between the points lo and hi.
func (a *annealer) clear(ru *run, lo, hi int32, inner []int32) float64 {
	d := 0.0
	for k := 0; k <= len(inner); k++ {
		to := hi
		if k < len(inner) {
			to = inner[k]
		}
		id := ru.shape.seg[int(lo)*ru.shape.n+int(to)]
		for range ru.qty {
			h := a.sh.having[id]
			d += a.drop(h[a.below(len(h))])
		}
		lo = to
	}
	return d
}

// path finds cheap joints between lo and hi, pieces priced where they fit
// tightest, with noise that grows with heat.
func (a *annealer) path(r, lo, hi int32) ([]int32, bool) {
	ru := &a.m.runs[r]
	sh := ru.shape
	n := int32(sh.n)
	cost, from := a.cost2, a.from
	cost[lo] = 0
	block := a.st.block[ru.base : ru.base+n]
	dice := int(a.rng.Uint64() & 1023)
	q := float64(ru.qty)
	for j := lo + 1; j <= hi; j++ {
		cost[j], from[j] = math.Inf(1), none
		if j < hi && block[j] > 0 {
			continue
		}
		for i := j - 1; i >= lo; i-- {
			id := sh.seg[i*n+j]
			if id == none {
				if i > 0 && sh.seg[(i-1)*n+j] == none && i < j-1 {
					break
				}
				continue
			}
			if i > lo && from[i] == none {
				continue
			}
			dice++
			c := cost[i] + q*(a.gain(a.m.lens[id])+a.worth[id]) + a.heat*a.noise[dice&1023]
			if c < cost[j] {
				cost[j], from[j] = c, i
			}
		}
		if j < hi {
			cost[j] += q * (a.toll + a.joint[ru.base+j])
		}
	}
	if from[hi] == none {
		return nil, false
	}
	a.cuts = a.cuts[:0]
	for k := from[hi]; k > lo; k = from[k] {
		a.cuts = append(a.cuts, k)
	}
	for i, j := 0, len(a.cuts)-1; i < j; i, j = i+1, j-1 {
		a.cuts[i], a.cuts[j] = a.cuts[j], a.cuts[i]
	}
	return a.cuts, true
}

// trade swaps a piece for a longer one that the free length of its board
// admits.
func (a *annealer) trade() {
	p := a.anyPiece()
	x := a.sh.pieces[p]
	f := a.sh.boards[x.board].free
	if f == 0 {
		return
	}
	// Numbers fall with length: candidates are [first, x.id).
	most := a.m.lens[x.id] + f
	first := x.id
	for first > 0 && a.m.lens[first-1] <= most {
		first--
	}
	if first == x.id {
		return
	}
	id := first + int32(a.below(int(x.id-first)))
	h := a.sh.having[id]
	if len(h) == 0 {
		return
	}
	q := h[a.below(len(h))]
	y := a.sh.pieces[q]
	if y.board == x.board {
		return
	}
	w := a.m.lens[id] - a.m.lens[x.id]
	bx, by := &a.sh.boards[x.board], &a.sh.boards[y.board]
	d := a.energy(bx.kind, bx.free-w) - a.energy(bx.kind, bx.free) + a.energy(by.kind, by.free+w) - a.energy(by.kind, by.free)
	if !a.accept(d) {
		return
	}
	a.sh.swap(p, q)
}

// swap exchanges two pieces on different boards.
func (s *shelf) swap(p, q int32) {
	x, y := &s.pieces[p], &s.pieces[q]
	s.unlink(x.board)
	s.unlink(y.board)
	w := s.m.lens[x.id] - s.m.lens[y.id]
	s.boards[x.board].free += w
	s.boards[y.board].free -= w
	s.boards[x.board].parts[x.slot], s.boards[y.board].parts[y.slot] = q, p
	x.board, y.board, x.slot, y.slot = y.board, x.board, y.slot, x.slot
	s.link(x.board)
	s.link(y.board)
}

// anyPiece returns some piece in use.
func (a *annealer) anyPiece() int32 {
	for {
		b := &a.sh.boards[a.below(len(a.sh.boards))]
		if len(b.parts) > 0 {
			return b.parts[a.below(len(b.parts))]
		}
	}
}

// shift moves a piece to another board with room for it.
func (a *annealer) shift() {
	p := a.anyPiece()
	x := a.sh.pieces[p]
	w := a.m.lens[x.id]
	f := a.sh.least(w)
	if f < 0 {
		return
	}
	// Look past the tightest now and then.
	for a.below(2) == 0 {
		g := a.sh.least(f + 1)
		if g < 0 {
			break
		}
		f = g
	}
	b := a.sh.head[f]
	if b == x.board {
		return
	}
	a.removed, a.added = a.removed[:0], a.added[:0]
	d := a.drop(p)
	d += a.set(b, x.id)
	if !a.accept(d) {
		a.undo()
		return
	}
	a.note()
}

// note keeps the solution if it is the best so far.
func (a *annealer) note() {
	if a.cost < a.best.cost || (a.cost == a.best.cost && a.bought < a.best.bought) {
		a.best = a.solution()
	}
}

func (a *annealer) solution() *solution {
	s := &solution{cuts: make([][]int32, len(a.m.runs)), boards: a.sh.list(), broken: a.best.broken, name: "search"}
	for r := range s.cuts {
		s.cuts[r] = append([]int32(nil), a.st.cuts[r]...)
	}
	a.m.tally(s)
	return s
}

// cool makes the given number of moves while heat falls from hot to cold.
func (a *annealer) cool(moves int, hot, cold float64) {
	if len(a.runs) == 0 {
		return
	}
	for i := range moves {
		if i&1023 == 0 {
			if a.best.cost <= a.target || a.ctx.Err() != nil {
				return
			}
			a.heat = hot * math.Pow(cold/hot, float64(i)/float64(moves))
		}
		switch a.below(4) {
		case 0:
			if a.below(2) == 0 {
				a.exchange()
				continue
			}
			a.shift()
		case 1:
			a.trade()
		default:
			a.relay()
		}
	}
}

// exchange lets two runs of a wall swap the joints they have between two
// places where both begin, end or are jointed, where the rules allow: no piece
// changes, but the layout moves on.
func (a *annealer) exchange() {
	r := a.runs[a.below(len(a.runs))]
	w := a.m.walls[a.m.runs[r].wall]
	o := w[a.below(len(w))]
	if o == r || a.m.runs[o].shape.n == 2 || a.frozen(o) {
		return
	}
	p, q, ok := a.common(r, o)
	if !ok {
		return
	}
	x, y := a.st.cuts[r], a.st.cuts[o]
	nx := a.splice(r, x, p, o, y[q[0]:q[1]])
	ny := a.splice(o, y, q, r, x[p[0]:p[1]])
	if nx == nil || ny == nil {
		return
	}
	a.st.lift(r)
	a.st.lift(o)
	a.st.put(r, nx)
	if a.st.breaches(r) == 0 {
		a.st.put(o, ny)
		if a.st.breaches(o) == 0 {
			return
		}
		a.st.lift(o)
	}
	a.st.lift(r)
	a.st.put(r, x)
	a.st.put(o, y)
}

// common finds two neighbouring places that the joints or ends of both runs
// share, with unequal joints between, and returns the joints between as ranges
// of indices.
func (a *annealer) common(r, o int32) (p, q [2]int, ok bool) {
	x, y := a.st.cuts[r], a.st.cuts[o]
	i, j := 0, 0 // next to look at; the place before is shared if open
	open := a.m.key(r, 0) == a.m.key(o, 0)
	pi, pj := 0, 0
	n := 0
	for i <= len(x) && j <= len(y) {
		kx, ky := a.m.keyAt(r, x, i), a.m.keyAt(o, y, j)
		px, py := a.m.placeAt(r, x, i), a.m.placeAt(o, y, j)
		switch {
		case kx == ky:
			if open && !(i-pi == 0 && j-pj == 0) {
				// Reservoir sampling: each window is as likely.
				if n++; a.below(n) == 0 {
					p, q, ok = [2]int{pi, i}, [2]int{pj, j}, true
				}
			}
			open = true
			i, j = i+1, j+1
			pi, pj = i, j
		case px < py || px == py && i < len(x):
			i++
		default:
			j++
		}
	}
	return p, q, ok
}

// splice returns run r's joints x with those in the range p replaced by the
// places of o's joints, or nil if r may not be jointed there.
func (a *annealer) splice(r int32, x []int32, p [2]int, o int32, with []int32) []int32 {
	ru := &a.m.runs[r]
	out := make([]int32, 0, len(x)+len(with)+1)
	out = append(out, x[:p[0]]...)
	last := int32(0)
	if p[0] > 0 {
		last = x[p[0]-1]
	}
	for _, k := range with {
		at := a.m.point(r, a.m.key(o, k))
		if at < 0 || ru.shape.seg[int(last)*ru.shape.n+int(at)] == none {
			return nil
		}
		out = append(out, at)
		last = at
	}
	to := int32(ru.shape.n - 1)
	if p[1] < len(x) {
		to = x[p[1]]
	}
	if ru.shape.seg[int(last)*ru.shape.n+int(to)] == none {
		return nil
	}
	return append(out, x[p[1]:]...)
}

func (a *annealer) frozen(r int32) bool { return a.idle != nil && a.idle[r] }
