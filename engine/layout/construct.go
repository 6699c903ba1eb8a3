package layout

import "math"

// constructor lays the pool after the shares of the linear master, leaving
// boards aside: the energy of a layout is what its pieces and joints are worth
// under the master's duals, plus a price on every piece more or less of a
// length than the master cuts. Where both are small, the master's patterns fit
// the layout almost as they are.
type constructor struct {
	*walker
	worth []float64 // by length number
	off   []float64 // by length number: pieces more than the master cuts
}

// deviation is the price of a piece more or less than the master cuts, as a
// share of its worth.
const deviation = 0.05

func newConstructor(w *walker, g *master) *constructor {
	c := &constructor{walker: w, off: make([]float64, len(g.m.lens))}
	g.settle()
	c.worth = append(c.worth, g.price...)
	tolls := g.tolls()
	for wall := range g.m.walls {
		for i, r := range g.m.walls[wall] {
			if g.m.runs[r].shape.dead {
				continue
			}
			for k, z := range tolls[g.typeOf[wall][i]] {
				c.joint[g.m.runs[r].base+int32(k)] = z
			}
		}
	}
	x := g.values()
	var buf []int32
	for _, s := range g.segs {
		buf = g.m.piecesOf(g.types[s.typ].runs[0], s.cuts, buf[:0])
		for _, id := range buf {
			c.off[id] -= x[s.col]
		}
	}
	for id, n := range g.m.demand(w.st.cuts) {
		c.off[id] += float64(n)
	}
	return c
}

// step is the cost of q more pieces of a length.
func (c *constructor) step(id int32, q float64) float64 {
	o := c.off[id]
	return c.worth[id] * (q + deviation*(math.Abs(o+q)-math.Abs(o)))
}

func (c *constructor) anneal(moves int, hot, cold float64) {
	for i := 0; i < moves && len(c.runs) > 0; i++ {
		if i&255 == 0 {
			c.cool(i, moves, hot, cold)
		}
		switch c.below(4) {
		case 0:
			c.exchange()
		case 1:
			c.push()
		default:
			c.change()
		}
	}
	clear(c.joint)
}

// change lays a stretch anew.
func (c *constructor) change() {
	s := c.stretchOf(3)
	d := c.count(s, s.between, -s.quantity)
	cuts, ok := c.path(s, func(id int32) float64 { return c.step(id, s.quantity) }, 0)
	if !ok || equal(cuts, s.between) {
		c.count(s, s.between, s.quantity)
		return
	}
	if d += c.count(s, cuts, s.quantity); !c.accept(d) {
		c.count(s, cuts, -s.quantity)
		c.count(s, s.between, s.quantity)
		return
	}
	c.relay(s, cuts)
}

// push lays a stretch anew and others out of its way.
func (c *constructor) push() {
	if !c.eject(func(id int32) float64 { return c.step(id, 1) }) {
		return
	}
	d := 0.0
	for i := range c.moved {
		x := &c.moved[i]
		d += c.count(x.stretch, x.old, -x.quantity)
		d += c.count(x.stretch, x.now, x.quantity)
	}
	if c.accept(d) {
		return
	}
	for i := range c.moved {
		x := &c.moved[i]
		c.count(x.stretch, x.now, -x.quantity)
		c.count(x.stretch, x.old, x.quantity)
	}
	c.restore()
}

// count adds q of every piece of the stretch, jointed at cuts, and returns what
// that costs.
func (c *constructor) count(s stretch, cuts []int32, q float64) float64 {
	d := 0.0
	for _, k := range cuts {
		d += q * c.joint[s.run.base+k]
	}
	s.ids(cuts, func(id int32) {
		d += c.step(id, q)
		c.off[id] += q
	})
	return d
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
