package layout

import (
	"context"
)

// annealer moves joints and pieces at once, so as to gather what is left free
// on few boards: the energy of a board with capacity C and f free is its cost
// times 1-(f/C)^2.
type annealer struct {
	*walker
	ctx   context.Context
	sh    *shelf
	fixed []float64 // by kind: cost of a full board, the best bought one 1
	curve []float64 // by kind: what a free length squared gives back

	best    *solution
	paid    int64
	bought  int
	joints  int
	target  int64 // a cost that cannot be undercut
	removed []change
	added   []change
}

// change is a piece put on or taken off a board.
type change struct{ piece, board, id, kind int32 }

func newAnnealer(ctx context.Context, m *model, start *solution, seed uint64) *annealer {
	a := &annealer{walker: newWalker(m, start.cuts, seed), sh: newShelf(m), ctx: ctx,
		best: start, paid: start.cost, bought: start.bought, joints: start.joints}
	unit := float64(m.kinds[m.best].cost)
	for _, k := range m.kinds {
		c := float64(k.cost) / unit
		if k.hand >= 0 {
			c = 0.02 // free, but not to be littered
		}
		a.fixed = append(a.fixed, c)
		a.curve = append(a.curve, c/float64(k.cap)/float64(k.cap))
	}
	a.sh.load(start.boards)
	return a
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
		a.paid += int64(by) * a.m.kinds[k].cost
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

// change lays one to three pieces of a run anew.
func (a *annealer) change() {
	s := a.stretchOf(8)
	a.removed, a.added = a.removed[:0], a.added[:0]
	d := a.lift(s, s.between)
	cuts, ok := a.path(s, func(id int32) float64 { return s.quantity * a.gain(a.m.lens[id]) }, 0)
	if !ok {
		a.undo()
		return
	}
	d += a.toll(s, cuts) - a.toll(s, s.between)
	d += a.saw(s, cuts)
	if !a.accept(d) {
		a.undo()
		return
	}
	if !equal(cuts, s.between) {
		a.joints += int(s.run.qty) * (len(cuts) - len(s.between))
		a.relay(s, cuts)
	}
	a.note()
}

// push lays a stretch anew and others out of its way.
func (a *annealer) push() {
	if !a.eject(func(id int32) float64 { return a.gain(a.m.lens[id]) }) {
		return
	}
	a.removed, a.added = a.removed[:0], a.added[:0]
	if a.twice() {
		a.restore()
		return
	}
	d, joints := 0.0, 0
	for i := range a.moved {
		x := &a.moved[i]
		d += a.toll(x.stretch, x.now) - a.toll(x.stretch, x.old)
		joints += int(x.run.qty) * (len(x.now) - len(x.old))
		d += a.lift(x.stretch, x.old)
	}
	for i := range a.moved {
		x := &a.moved[i]
		d += a.saw(x.stretch, x.now)
	}
	if !a.accept(d) {
		a.undo()
		a.restore()
		return
	}
	a.joints += joints
	a.note()
}

// twice reports whether some run moved more than once: its pieces in between
// were never cut.
func (a *annealer) twice() bool {
	for i := range a.moved {
		for k := range i {
			if a.moved[i].r == a.moved[k].r {
				return true
			}
		}
	}
	return false
}

// toll is what the joints of a stretch cost.
func (a *annealer) toll(s stretch, cuts []int32) float64 {
	d := 0.0
	for _, k := range cuts {
		d += s.quantity * a.joint[s.run.base+k]
	}
	return d
}

// lift takes the pieces of a stretch, jointed at cuts, off their boards, saw
// cuts them; both return the change of energy.
func (a *annealer) lift(s stretch, cuts []int32) float64 {
	d := 0.0
	s.ids(cuts, func(id int32) {
		for range s.run.qty {
			h := a.sh.having[id]
			d += a.drop(h[a.below(len(h))])
		}
	})
	return d
}

func (a *annealer) saw(s stretch, cuts []int32) float64 {
	d := 0.0
	s.ids(cuts, func(id int32) {
		for range s.run.qty {
			d += a.set(a.sh.tightest(id), id)
		}
	})
	return d
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
	now := solution{cost: a.paid, bought: a.bought, joints: a.joints, broken: a.best.broken}
	if now.better(a.best) {
		a.best = a.solution()
	}
}

func (a *annealer) solution() *solution {
	s := &solution{cuts: a.layout(), boards: a.sh.list(), broken: a.best.broken, name: "search"}
	a.m.tally(s)
	return s
}

// anneal makes the given number of moves while heat falls from hot to cold.
func (a *annealer) anneal(moves int, hot, cold float64) {
	for i := 0; i < moves && len(a.runs) > 0; i++ {
		if i&255 == 0 {
			if a.best.cost < a.target || a.ctx.Err() != nil {
				return
			}
			a.cool(i, moves, hot, cold)
		}
		switch a.below(10) {
		case 8, 9:
			a.push()
		case 0:
			a.exchange()
		case 1:
			a.shift()
		case 2, 3:
			a.trade()
		default:
			a.change()
		}
	}
}

// thin removes joints: each has a price, a little more the fewer share its bay,
// so that the battens that must be wide stay few too. A plan of more boards is
// never kept.
func (a *annealer) thin(moves int) {
	const least, alone = 0.2, 0.02 // boards; at half a board the walk freezes
	used := make(map[[2]int]int)
	bay := func(j int32) [2]int {
		ru := &a.m.runs[a.m.owner[j]]
		wall := &a.m.p.Walls[ru.wall]
		return [2]int{ru.wall, wall.Sites[wall.Runs[ru.index].Sites[j-ru.base-1]].Bay}
	}
	a.eachJoint(func(j int32) { used[bay(j)]++ })
	for _, r := range a.runs {
		ru := &a.m.runs[r]
		for k := int32(1); k < int32(ru.shape.n-1); k++ {
			a.joint[ru.base+k] = least + alone/float64(1+used[bay(ru.base+k)])
		}
	}
	a.target = 0
	a.anneal(moves, 0.004, 0.001)
}

// eachJoint calls do for every joint that stands.
func (a *annealer) eachJoint(do func(j int32)) {
	for r, cuts := range a.st.cuts {
		for _, k := range cuts {
			do(a.m.runs[r].base + k)
		}
	}
}
