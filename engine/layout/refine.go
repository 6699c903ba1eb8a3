package layout

import (
	"context"
	"math"
)

// refiner searches for the layout whose pieces are cheapest to cut, patterns
// taken as divisible. That cost F of the numbers of pieces d is convex; each
// linear program solved for some layout gives values u with F(d) >= u d for
// every d, and the energy of a layout is the greatest of those collected so
// far (cutting planes: J. E. Kelley, J. SIAM 8 (1960) 703-712, on a domain
// that only a local search can walk).
type refiner struct {
	*walker
	planes [][]float64 // values by length number
	level  []float64   // value of each plane at the layout
	shift  []float64   // by which a move changes it
	mean   []float64   // planes weighted by how near they are to the greatest
	pool   []cuttingColumn
	table  *table[float64]
}

// mostPlanes is how many planes are kept; the oldest go first.
const mostPlanes = 24

func newRefiner(w *walker, g *master) *refiner {
	r := &refiner{walker: w, pool: g.pats[:len(g.pats):len(g.pats)], mean: make([]float64, len(w.m.lens)), table: g.table}
	g.settle()
	r.plane(g.price)
	return r
}

// plane adds a plane.
func (r *refiner) plane(values []float64) {
	v := 0.0
	for id, n := range r.m.demand(r.st.cuts) {
		v += float64(n) * values[id]
	}
	if len(r.planes) == mostPlanes {
		r.planes, r.level = r.planes[1:], r.level[1:]
	}
	r.planes = append(r.planes, append([]float64(nil), values...))
	r.level = append(r.level, v)
	r.shift = make([]float64, len(r.level))
}

// relax solves the linear program for the present layout, adds its plane and
// returns it.
func (r *refiner) relax(ctx context.Context, limit int64) *master {
	a := fixedMaster(r.m, r.m.demand(r.st.cuts), r.table)
	for _, p := range r.pool {
		a.addPattern(p.kind, p.parts)
	}
	old := len(a.pats)
	a.generate(ctx, limit)
	r.pool = append(r.pool, a.pats[old:]...)
	a.settle()
	r.plane(a.price)
	return a
}

// top is the energy, with the shifts of a move.
func (r *refiner) top() float64 {
	t := math.Inf(-1)
	for k, v := range r.level {
		t = max(t, v+r.shift[k])
	}
	return t
}

// weigh sets the mean plane that prices pieces while a run is laid.
func (r *refiner) weigh() {
	const near = 0.3 // boards
	t := r.top()
	clear(r.mean)
	sum := 0.0
	for k, v := range r.level {
		w := math.Exp((v - t) / near)
		sum += w
		for id, u := range r.planes[k] {
			r.mean[id] += w * u
		}
	}
	for id := range r.mean {
		r.mean[id] /= sum
	}
}

// anneal makes the moves while heat falls from hot to cold.
func (r *refiner) anneal(moves int, hot, cold float64) {
	for i := 0; i < moves && len(r.runs) > 0; i++ {
		if i&255 == 0 {
			r.cool(i, moves, hot, cold)
			r.weigh()
		}
		switch r.below(4) {
		case 0:
			r.exchange()
		case 1:
			r.push()
		default:
			r.change()
		}
	}
}

// change lays a stretch anew.
func (r *refiner) change() {
	s := r.stretchOf(3)
	cuts, ok := r.path(s, func(id int32) float64 { return s.quantity * r.mean[id] }, 0)
	if !ok || equal(cuts, s.between) {
		return
	}
	before := r.top()
	r.count(s, s.between, -s.quantity)
	r.count(s, cuts, s.quantity)
	if !r.accept(r.top() - before) {
		clear(r.shift)
		return
	}
	for k := range r.level {
		r.level[k] += r.shift[k]
	}
	clear(r.shift)
	r.relay(s, cuts)
}

// push lays a stretch anew and others out of its way.
func (r *refiner) push() {
	if !r.eject(func(id int32) float64 { return r.mean[id] }) {
		return
	}
	before := r.top()
	for i := range r.moved {
		x := &r.moved[i]
		r.count(x.stretch, x.old, -x.quantity)
		r.count(x.stretch, x.now, x.quantity)
	}
	if r.accept(r.top() - before) {
		for k := range r.level {
			r.level[k] += r.shift[k]
		}
	} else {
		r.restore()
	}
	clear(r.shift)
}

func (r *refiner) count(s stretch, cuts []int32, q float64) {
	s.ids(cuts, func(id int32) {
		for k, p := range r.planes {
			r.shift[k] += q * p[id]
		}
	})
}
