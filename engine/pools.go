package engine

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"math"
	"slices"

	"lapwright/engine/battens"
	"lapwright/engine/boards"
	"lapwright/engine/layout"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// pool is the walls whose boards are cut together: one pool name and colour.
type pool struct {
	name, drop, colour string
	pools              int
	built              int // walls built in it and in all pools equal to it
	stands             []*stand
	products           []Product // the product of each stock
	onHand             []bool
	problem            layout.Problem
	digest             [sha256.Size]byte // of the problem
	plan               layout.Plan
	err                error
	same               *pool // an equal pool planned before, or nil
}

// poolsOf groups stands into pools, in the order first met.
func poolsOf(stands []*stand) []*pool {
	type key struct{ name, drop, colour string }
	at := map[key]*pool{}
	var out []*pool
	for _, s := range stands {
		k := key{s.pool, s.drop, s.colour}
		p := at[k]
		if p == nil {
			p = &pool{name: s.pool, drop: s.drop, colour: s.colour, pools: s.pools}
			at[k] = p
			out = append(out, p)
		}
		p.stands = append(p.stands, s)
	}
	for _, p := range out { // the order of the survey's rows must not show in the plan
		slices.SortStableFunc(p.stands, func(a, b *stand) int { return byName(a.face, b.face) })
	}
	return out
}

// state writes down the layout problem of a pool, but for its walls.
func (t *takeoff) state(p *pool) {
	r := t.rules
	p.problem = layout.Problem{Kerf: r.Kerf, Gap: r.JointGap, StaggerBays: r.StaggerBays, Repeat: r.JointRepeat}
	p.products, p.onHand = nil, nil
	for _, b := range t.catalogue.boards(t.board, t.job.Board != "", p.colour) {
		p.addStock(b, b.Length, 0)
		for i := range t.onHand {
			o := &t.onHand[i]
			if n := o.Count / p.pools; o.serves(b.Code, p.colour) && n > 0 {
				p.addStock(b, o.Length, n)
			}
		}
	}
	if !p.priced() { // else a length without a price would stand beside prices
		for i := range p.problem.Stocks {
			p.problem.Stocks[i].Price = 0
		}
	}
}

// stateWalls adds the walls of a pool to its layout problem.
func (t *takeoff) stateWalls(p *pool) {
	p.problem.Walls = make([]layout.Wall, len(p.stands))
	for i, s := range p.stands {
		p.problem.Walls[i] = t.layoutWall(s)
	}
}

// serves reports whether stock on hand may be cut for walls of that colour in
// place of the product of that code; stock of no stated colour serves any.
func (o *Offcut) serves(code, colour string) bool {
	return o.Code == code && (o.Colour == "" || o.Colour == colour)
}

// mixed reports whether boards of several lengths may be bought for the pool.
func (p *pool) mixed() bool {
	n := 0
	for _, had := range p.onHand {
		if !had {
			n++
		}
	}
	return n > 1
}

// priced reports whether every board of the pool has a price. Where one has
// none, the least length is looked for in place of the least cost.
func (p *pool) priced() bool {
	return !slices.ContainsFunc(p.products, func(b Product) bool { return b.Price == 0 })
}

// cost is what a cost of the layout comes to in the pool's dwellings, 0 where
// boards have no price.
func (p *pool) cost(c int64) float64 {
	if !p.priced() {
		return 0
	}
	return float64(c) / 100 * float64(p.pools)
}

func (p *pool) addStock(b Product, length measure.Length, onHand int) {
	p.products = append(p.products, b)
	p.onHand = append(p.onHand, onHand > 0)
	p.problem.Stocks = append(p.problem.Stocks, layout.Stock{Length: length, Price: int64(math.Round(b.Price * 100)), OnHand: onHand})
}

// layoutWall states one wall for the layout of its boards. Up to half a board
// from a raked end joints keep off the raked cut.
func (t *takeoff) layoutWall(s *stand) layout.Wall {
	f, r, reach := s.face, t.rules, t.board.Length/2
	w := layout.Wall{Quantity: s.each, PieceLeast: r.PieceLeastFor(f.bay()), Near: f.near(r.StaggerBays), Sites: f.sites()}
	at := make([]int, len(f.lines)) // batten line -> site
	for site, i := range f.siteLines() {
		at[i] = site
	}
	if len(f.off) > 0 && r.StaggerBays > 0 {
		w.Apart = f.staggerLeast(r.StaggerBays)
	}
	ends := boards.Ends{Battens: f.centres, Tall: r.EdgeDistance + r.StripLeast/2, Reach: reach}
	runs := t.runsOf(f)
	for k := range runs { // battens end on whole millimetres, so one may stop short by one more
		run := &runs[k]
		lr := layout.Run{Course: run.Course, Span: run.Span}
		lr.FirstLeast, lr.LastLeast = run.Least(ends)
		if r.WholeCourses && run.Span.Length() <= 2*reach {
			w.Runs = append(w.Runs, lr)
			continue
		}
		for _, i := range f.whole(run, f.joinable(run, f.off[k], r.VentilationGap-measure.Millimetre), 2*reach) {
			lr.Sites = append(lr.Sites, at[i])
		}
		w.Runs = append(w.Runs, lr)
	}
	return w
}

// sites states the batten lines on which boards may butt.
func (f *face) sites() []layout.Site {
	lines := f.siteLines()
	out := make([]layout.Site, len(lines))
	for site, i := range lines {
		out[site] = siteOf(&f.lines[i], site)
	}
	return out
}

// siteOf states a batten line as the place of a joint. One off the grid gets a
// number in the grid that is far from all others.
func siteOf(l *battens.Line, number int) layout.Site {
	if l.Bay >= 0 {
		return layout.Site{X: l.Centre, Bay: l.Bay}
	}
	return layout.Site{X: l.Centre, Bay: -1000 * (number + 1), Off: true}
}

// planPools lays out and cuts every pool. Equal pools are planned once; the
// rest are shared among the processor's cores. Each plan is a function of its
// pool alone, so the order in which they finish does not show.
func (t *takeoff) planPools(ctx context.Context) {
	for _, p := range t.pools {
		t.state(p)
		t.takeOnHand(p)
	}
	parallel.Each(len(t.pools), func(_, i int) {
		p := t.pools[i]
		t.stateWalls(p)
		p.digest = p.sum()
		t.letGoRuns(p)
	})
	known := map[[sha256.Size]byte]*pool{}
	var fresh []*pool
	for _, p := range t.pools {
		if p.same = known[p.digest]; p.same == nil {
			known[p.digest] = p
			fresh = append(fresh, p)
		} else {
			t.letGoWalls(p)
		}
		known[p.digest].built += p.size()
	}
	favours := t.favours()
	parallel.Each(len(fresh), func(_, i int) {
		p := fresh[i]
		p.plan, p.err = t.layouts.solve(ctx, p.digest, p.problem, t.layoutEffort(p, favours))
		t.letGoWalls(p)
	})
	for _, p := range t.pools {
		if p.same != nil {
			p.plan, p.err = p.same.plan, p.same.err
		}
	}
}

// takeOnHand sets aside the stock on hand a pool may use, so that two pools
// are never promised the same board.
func (t *takeoff) takeOnHand(p *pool) {
	for i, s := range p.problem.Stocks {
		if !p.onHand[i] {
			continue
		}
		for k := range t.onHand {
			o := &t.onHand[k]
			if o.serves(p.products[i].Code, p.colour) && o.Length == s.Length {
				o.Count -= s.OnHand * p.pools
				break
			}
		}
	}
}

// sum is equal for equal problems.
func (p *pool) sum() (out [sha256.Size]byte) {
	h, b := sha256.New(), make([]byte, 0, 1024)
	put := func(vs ...int64) {
		for _, v := range vs {
			if len(b)+8 > cap(b) {
				h.Write(b)
				b = b[:0]
			}
			b = binary.LittleEndian.AppendUint64(b, uint64(v))
		}
	}
	put(int64(p.problem.Kerf), int64(p.problem.Gap), int64(p.problem.StaggerBays), int64(p.problem.Repeat))
	for _, s := range p.problem.Stocks {
		put(int64(s.Length), s.Price, int64(s.OnHand))
	}
	for _, w := range p.problem.Walls {
		put(-1, int64(w.Quantity), int64(w.PieceLeast), int64(w.Near), int64(w.Apart), int64(len(w.Sites)))
		for _, s := range w.Sites {
			put(int64(s.X), int64(s.Bay))
		}
		for _, r := range w.Runs {
			put(-2, int64(r.Course), int64(r.Span.Lo), int64(r.Span.Hi), int64(r.FirstLeast), int64(r.LastLeast))
			for _, s := range r.Sites {
				put(int64(s))
			}
		}
	}
	h.Write(b)
	h.Sum(out[:0])
	return out
}

// manyWalls is how many different walls a job may have and still get normal
// effort of itself; beyond, minutes would turn into hours. A part of a survey has
// the effort of the whole, as its other parts take their time too.
const manyWalls = 90

func (t *takeoff) effort() Effort {
	switch {
	case t.job.Effort != EffortAuto:
		return t.job.Effort
	case max(len(t.stands), t.job.Whole) > manyWalls:
		return EffortQuick
	default:
		return EffortNormal
	}
}

// oftenBuilt is how many times over its walls a pool is built for normal effort
// to cost less, a wall built, than quick effort spends on a pool built once.
const oftenBuilt = 30

// oftenMost is how many different walls a job may have, of which drops are cut
// together, and still have pools that are built often planned with normal effort: an
// eighth of a second a wall, so a minute for all of them.
const oftenMost = 400

// favours reports whether pools that are built often get normal effort in a job of
// quick effort.
func (t *takeoff) favours() bool {
	return t.job.byDwelling() || max(t.job.Different(), t.job.Whole) <= oftenMost
}

// size returns how many walls are built in the pool and its equals.
func (p *pool) size() int {
	n := 0
	for _, s := range p.stands {
		n += s.quantity()
	}
	return n
}

// layoutEffort is the effort for one pool. What is planned once and built many
// times over is worth more of it, where the job favours that: each board saved is
// saved every time.
func (t *takeoff) layoutEffort(p *pool, favours bool) layout.Effort {
	switch t.effort() {
	case EffortQuick:
		if favours && p.built >= oftenBuilt*len(p.stands) {
			return layout.Normal
		}
		return layout.Quick
	case EffortThorough:
		return layout.Thorough
	default:
		return layout.Normal
	}
}
