package courses_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// The exhaustive search: every subset of wished heights, every way of meeting
// them, every number of gauges, every tail. It shares no code with the
// package: whole plans are built first and priced as a whole afterwards, in
// whole millimetres.

type brute struct {
	p      courses.Problem
	lo, hi int
	start  int
	end    int
	nodes  []int
	best   courses.Cost
	found  bool
	tried  int
	strips int // fragile strips and ripped tops of the plan being priced
	twice  bool
	weak   bool // the best plan has one
}

func inMM(l measure.Length) int { return int(l / measure.Millimetre) }

func exhaust(p courses.Problem) *brute {
	b := &brute{p: p, lo: inMM(p.Width - p.LapMost), hi: inMM(p.Width - p.LapLeast), start: inMM(p.Start), end: inMM(p.End)}
	w := inMM(p.Width)
	for _, t := range p.Targets {
		at := inMM(t.At)
		switch t.Kind {
		case courses.Top, courses.Apex:
			b.nodes = append(b.nodes, at-w)
			b.end = max(b.end, at)
		case courses.Sill:
			b.nodes = append(b.nodes, at, at-w)
		default:
			b.nodes = append(b.nodes, at)
		}
	}
	b.all()
	if !b.weak {
		return b
	}
	// The best plan has a fragile strip or rips a top: marks where a strip just
	// holds count as wished heights too.
	for _, t := range p.Targets {
		at, strip := inMM(t.At), inMM(p.StripLeast)
		switch t.Kind {
		case courses.Sill, courses.Top:
			b.nodes = append(b.nodes, at-strip)
		case courses.Head:
			b.nodes = append(b.nodes, at-w+strip)
		case courses.Apex:
			b.nodes = append(b.nodes, at-inMM(t.Least))
		}
	}
	b.twice = true
	b.all()
	return b
}

func (b *brute) all() {
	slices.Sort(b.nodes)
	b.nodes = slices.Compact(b.nodes)
	b.walk([]int{b.start}, nil)
}

// walk extends a partial plan by every stretch and every tail. gauges holds
// the gauge of each stretch in micrometres.
func (b *brute) walk(marks, gauges []int) {
	here := marks[len(marks)-1]
	if here+inMM(b.p.Width) >= b.end {
		b.price(marks, gauges)
		return
	}
	for g := b.lo; g <= b.hi; g++ {
		out := slices.Clone(marks)
		for out[len(out)-1]+inMM(b.p.Width) < b.end {
			out = append(out, out[len(out)-1]+g)
		}
		b.price(out, append(slices.Clone(gauges), g*1000))
	}
	for _, node := range b.nodes {
		for m := 1; m < 60 && node > here; m++ {
			d := node - here
			if d < m*b.lo || d > m*b.hi {
				continue
			}
			out := slices.Clone(marks)
			for q := 1; q <= m; q++ {
				out = append(out, here+int(float64(q)*float64(d)/float64(m)+0.5+1e-9))
			}
			if out[len(out)-2]+inMM(b.p.Width) >= b.end {
				continue // the course at the node would not be needed
			}
			b.walk(out, append(slices.Clone(gauges), int(float64(d)/float64(m)*1000+0.5+1e-7)))
		}
	}
}

func (b *brute) price(marks, gauges []int) {
	b.tried++
	c := b.whole(marks, gauges)
	if !b.found || c.Compare(b.best) < 0 {
		b.best, b.found, b.weak = c, true, b.strips > 0
	}
}

// whole prices a plan by the rules as written down for the set-out.
func (b *brute) whole(marks, gauges []int) courses.Cost {
	b.strips = 0
	c := courses.Cost{Courses: len(marks)}
	for i := 1; i < len(gauges); i++ {
		d := measure.Length(max(gauges[i]-gauges[i-1], gauges[i-1]-gauges[i]))
		c.Step += d
		if most := b.p.GaugeStepMost; most > 0 {
			c.OverStep += max(0, d-most)
		}
	}
	for _, t := range b.p.Targets {
		var d courses.Cost
		if t.Kind == courses.Sill || t.Kind == courses.Head {
			d = b.opening(t, marks)
		} else {
			d = b.level(t, marks)
		}
		c.Pins, c.Fragile, c.Work = c.Pins+d.Pins, c.Fragile+d.Fragile, c.Work+d.Work
	}
	return c
}

// level prices a target that wants one mark or one board top.
func (b *brute) level(t courses.Target, marks []int) (c courses.Cost) {
	at, n := inMM(t.At), max(1, t.Count)
	last := marks[0] // the last board of a wall that ends at the target
	for _, m := range marks[1:] {
		if last+inMM(b.p.Width) < at {
			last = m
		}
	}
	left := at - last
	met := slices.Contains(marks, at)
	switch t.Kind {
	case courses.Pin:
		if !met {
			c.Pins = n
		}
	case courses.Eaves, courses.Base:
		if met {
			return c
		}
		gap := 0
		if k := slices.IndexFunc(marks, func(m int) bool { return m > at }); k >= 0 && t.Kind == courses.Base {
			gap = marks[k] - at
		}
		c.Work = measure.MM(int64(n * (5000 + gap)))
	case courses.Apex:
		if left > 0 && left < inMM(t.Least) {
			c.Fragile = n
			b.strips++
		}
	case courses.Top:
		if left > 0 && left < inMM(b.p.Width) {
			c.Fragile, c.Work = n, measure.Length(n)*t.Sawing
			b.strips++
			if left < inMM(b.p.StripLeast) {
				c.Fragile += n
			}
		}
	}
	return c
}

// opening prices a sill or a head by looking at the boards of its wall: which
// of them the opening's edge cuts, and what is left of them.
func (b *brute) opening(t courses.Target, marks []int) (c courses.Cost) {
	type board struct{ bottom, top int }
	var wall []board
	limit := 1 << 40
	if t.Limit > 0 {
		limit = inMM(t.Limit)
	}
	for _, m := range marks {
		if m >= inMM(t.Floor) && (len(wall) == 0 || wall[len(wall)-1].top < limit) {
			wall = append(wall, board{m, min(m+inMM(b.p.Width), limit)})
		}
	}
	at, n := inMM(t.At), max(1, t.Count)
	if len(wall) == 0 || at < wall[0].bottom || at >= wall[len(wall)-1].top && t.Kind == courses.Head {
		return c
	}
	k := len(wall) - 1 // the board whose face the edge stands in
	for wall[k].bottom > at {
		k--
	}
	notch := func(depth, strip, extra int) {
		c.Work = measure.MM(int64(n*(2*depth+extra))) + measure.Length(n)*t.Sawing
		if strip < inMM(b.p.StripLeast) {
			c.Fragile = n
			b.strips++
		}
	}
	if t.Kind == courses.Head {
		if at > wall[k].bottom {
			notch(at-wall[k].bottom, wall[k].top-at, 5000)
		}
		return c
	}
	covered := -1 << 40 // top of the board behind
	if k > 0 {
		covered = wall[k-1].top
	}
	switch {
	case at > wall[k].top:
	case at == covered || at == wall[k].top:
		c.Work = measure.MM(int64(300 * n))
	case at == wall[k].bottom && k > 0:
		notch(covered-at, 1<<30, 0)
	case at == wall[k].bottom:
	case at < covered:
		notch(covered-at, 1<<30, 1500)
	default:
		notch(wall[k].top-at, at-wall[k].bottom, 5000)
	}
	return c
}

// smallProblem returns a random line short enough to exhaust.
func smallProblem(r *rand.Rand) courses.Problem {
	mm := func(n int) measure.Length { return measure.MM(int64(n)) }
	width := 120 + r.IntN(100)
	p := courses.Problem{
		Width: mm(width), LapLeast: mm(20 + r.IntN(15)), GaugeStepMost: mm(r.IntN(4) * 4),
		StripLeast: mm(40 + r.IntN(30)), Start: mm(r.IntN(300)),
	}
	p.LapMost = p.LapLeast + mm(r.IntN(26))
	height := inMM(p.Start) + 300 + r.IntN(1900)
	at := func() measure.Length { return mm(inMM(p.Start) + 10 + r.IntN(height-inMM(p.Start))) }
	for range 1 + r.IntN(5) {
		t := courses.Target{At: at(), Count: r.IntN(3), Sawing: mm(r.IntN(3000))}
		switch r.IntN(8) {
		case 0:
			t.Kind, t.At = courses.Base, p.Start+mm(r.IntN(400)-20)
		case 1, 2, 3:
			t.Kind = courses.Sill
			if r.IntN(3) == 0 {
				t.Floor = t.At - mm(r.IntN(400)-50)
			}
		case 4, 5:
			t.Kind = courses.Head
			if r.IntN(3) == 0 {
				t.Limit = t.At + mm(r.IntN(250))
			} else if r.IntN(3) == 0 {
				t.Floor = t.At - mm(r.IntN(400)-50)
			}
		case 6:
			t.Kind = courses.Eaves
		case 7:
			t.Kind = courses.Pin
		}
		p.Targets = append(p.Targets, t)
	}
	switch top := (courses.Target{At: mm(height), Sawing: mm(r.IntN(6000))}); r.IntN(4) {
	case 0:
		p.End = top.At
	case 1:
		top.Kind, top.Least = courses.Apex, mm(90)
		p.Targets = append(p.Targets, top)
	default:
		top.Kind = courses.Top
		p.Targets = append(p.Targets, top)
	}
	if r.IntN(2) == 0 {
		coarsen(&p)
	}
	return p
}

// coarsen brings all heights to multiples of 5 mm, so that marks, laps and
// targets often fall together.
func coarsen(p *courses.Problem) {
	for _, l := range []*measure.Length{&p.Width, &p.LapLeast, &p.LapMost, &p.StripLeast, &p.Start, &p.End} {
		*l = l.DownTo(measure.MM(5))
	}
	for i := range p.Targets {
		t := &p.Targets[i]
		t.At, t.Limit, t.Floor = t.At.DownTo(measure.MM(5)), t.Limit.DownTo(measure.MM(5)), t.Floor.DownTo(measure.MM(5))
	}
}

// Narrower limits of the lap, which no advice tries, have no better plan, all of
// them searched; but where a strip is too thin within them and none within the
// given ones, more heights are searched there, and what is found keeps the given
// limits as well.
func TestNoNarrowerLapIsBetter(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	searched, more := 0, 0
	for n := range 400 {
		p := smallProblem(r)
		given := exhaust(p)
		for _, narrow := range []func(*courses.Problem){
			func(q *courses.Problem) { q.LapLeast += measure.MM(1 + r.Int64N(10)) },
			func(q *courses.Problem) { q.LapMost -= measure.MM(1 + r.Int64N(10)) },
		} {
			q := p
			if narrow(&q); q.LapLeast > q.LapMost {
				continue
			}
			narrower := exhaust(q)
			if narrower.twice && !given.twice {
				more++
				continue
			}
			searched++
			if narrower.best.Compare(given.best) < 0 {
				t.Errorf("problem %d %+v: %+v within laps of %v to %v, else %+v", n, p, narrower.best, q.LapLeast, q.LapMost, given.best)
			}
		}
	}
	if searched < 300 || more > searched/5 {
		t.Errorf("%d narrower limits searched, %d with more heights", searched, more)
	}
}

// The chosen plan costs what the best of all plans costs.
func TestShortestPathIsExhaustive(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	tried, second := 0, 0
	for n := range 4000 {
		p := smallProblem(r)
		want := exhaust(p)
		got, err := courses.SetOut(p)
		if err != nil {
			t.Fatalf("problem %d %+v: %v", n, p, err)
		}
		if got.Cost != want.best {
			t.Fatalf("problem %d %+v:\ngot  %+v\nwant %+v\nmarks %v", n, p, got.Cost, want.best, got.Marks)
		}
		tried += want.tried
		if want.twice {
			second++
		}
	}
	t.Logf("%d plans priced, %d problems with marks that meet nothing", tried, second)
}
