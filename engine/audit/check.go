package audit

import (
	"maps"
	"runtime"
	"slices"
	"sync"

	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// Check returns every fault of the job, in the order walls (geometry, joints,
// fixings), cutting plan, order, pools, totals; none if the job is right. It
// changes nothing. Its work grows with the number of walls times, for each, its
// courses times the pieces, voids and battens of one. It holds no more than what
// one part has to find on its boards.
func Check(job Job) []Fault {
	var faults []Fault
	want := map[product]float64{}
	k := newStock(&job, want, &report{})
	sites := make([]site, runtime.GOMAXPROCS(0))
	for i := range sites {
		sites[i].packers = job.Packers
	}
	for part := range job.parts() {
		k.begin(part.Cuts)
		faults = append(faults, checkWalls(part, sites, func(w *Wall) {
			k.gather(w)
			recount(want, w)
		})...)
		k.check(part.Boards)
	}
	k.hand()
	checkOrder(&job, want, k.r)
	checkPools(&job, k.lots, k.r)
	checkTotals(job.Totals, k.r)
	return append(faults, k.r.faults...)
}

// checkWalls checks every wall of a part by itself, on all cores, and returns their
// faults in the order of the walls, which are also shown to see, one after
// another in that order. No more of them are held than there are cores.
func checkWalls(part *Part, sites []site, see func(*Wall)) []Fault {
	var mu sync.Mutex
	n := 0
	take := func(own *Wall) int {
		mu.Lock()
		defer mu.Unlock()
		if !part.Next(own) {
			return 0
		}
		see(own)
		n++
		return n
	}
	found := map[int][]Fault{}
	parallel.Workers(len(sites), func(worker int) {
		s := &sites[worker]
		for i := take(&s.wall); i > 0; i = take(&s.wall) {
			var r report
			r.start(s.wall.Name)
			if s.check(&s.wall, &r); len(r.faults) > 0 {
				mu.Lock()
				found[i] = r.faults
				mu.Unlock()
			}
		}
	})
	var out []Fault
	for _, i := range slices.Sorted(maps.Keys(found)) {
		out = append(out, found[i]...)
	}
	return out
}

// site is one wall under audit, with the working space that is kept from wall
// to wall.
type site struct {
	wall Wall // written over by the next
	w    *Wall
	r    *report
	slicer

	faces     []face
	parts     []trapezoid // of all pieces
	byCourse  [][]int     // piece indices; course 0 is left empty
	base, top []line
	joints    []joint
	gaps      []Rect // parallel to joints

	sweep    sweep
	rows     []int // scratch: batten lines
	spans    []measure.Span
	fromLeft []int            // battens by their centres
	centres  []measure.Length // parallel to fromLeft
	widest   measure.Length   // of the battens
	lines    []measure.Length // distinct batten centres, rising
	grid     []measure.Length // those of them on the grid
	lineOf   []int            // of each batten
	held     []bool           // piece by line: a screw stands there
	screws   []int            // of each piece
	reach    []measure.Span   // of each piece, from its first screw to its last
	packers  []measure.Length // thicknesses there are
}

// face is where a piece is: its bounds and its trapezoids, parts[from:to].
type face struct {
	xs, zs   measure.Span
	from, to int
}

func (s *site) check(w *Wall, r *report) {
	s.w, s.r = w, r
	s.faces, s.parts, s.joints, s.gaps = s.faces[:0], s.parts[:0], s.joints[:0], s.gaps[:0]
	if !s.region() || !s.courses() {
		return // nothing else could be measured against them
	}
	s.pieces()
	s.battenLines()
	s.standing()
	s.pairJoints()
	s.cover()
	s.checkJoints()
	s.fixings()
	s.packings()
	s.trims()
}

// of returns the trapezoids of piece i.
func (s *site) of(i int) []trapezoid { return s.parts[s.faces[i].from:s.faces[i].to] }

// course returns the course of a piece that has one.
func (s *site) course(i int) *Course { return &s.w.Courses[s.w.Pieces[i].Course-1] }

// region reads the two profiles; it reports whether they bound a region.
func (s *site) region() bool {
	var ok1, ok2 bool
	s.base, ok1 = profileLines(s.base[:0], s.w.Base)
	s.top, ok2 = profileLines(s.top[:0], s.w.Top)
	if !ok1 || !ok2 || extent(s.base) != extent(s.top) {
		s.r.add("", "region", "base and top are not two lines over one span")
		return false
	}
	return true
}

func profileLines(out []line, p measure.Profile) ([]line, bool) {
	for i := 1; i < len(p); i++ {
		switch {
		case p[i-1].X > p[i].X:
			return nil, false
		case p[i-1].X < p[i].X:
			out = append(out, newLine(p[i-1], p[i]))
		}
	}
	return out, len(out) > 0
}

func extent(ls []line) measure.Span {
	return measure.Span{Lo: ls[0].a.X, Hi: ls[len(ls)-1].b.X}
}

// extremes returns the least and the greatest height of lines over xs, for
// xs inside their extent.
func extremes(ls []line, xs measure.Span) (lo, hi measure.Length) {
	first := true
	for i := range ls {
		over := xs.And(measure.Span{Lo: ls[i].a.X, Hi: ls[i].b.X})
		if over.Lo > over.Hi {
			continue
		}
		p, q := ls[i].at(over.Lo), ls[i].at(over.Hi)
		if first {
			lo, hi, first = p, p, false
		}
		lo, hi = min(lo, p, q), max(hi, p, q)
	}
	return lo, hi
}

// courses checks the storey rod: numbers, widths, gauges and laps. It reports
// false where courses do not even rise.
func (s *site) courses() bool {
	cs, lim := s.w.Courses, &s.w.Limits
	for i := range cs {
		c := &cs[i]
		last := i == len(cs)-1
		if c.Number != i+1 || c.Top <= c.Bottom || (!last && cs[i+1].Bottom <= c.Bottom) {
			s.r.add("", "course", "course %d (row %d) does not rise from %v to %v", c.Number, i+1, c.Bottom, c.Top)
			return false
		}
		if w := c.Top - c.Bottom; w > lim.Width || (!last && w < lim.Width) {
			s.r.add("", "course", "course %d is %v wide, a board %v", c.Number, w, lim.Width)
		}
		var gauge, lap measure.Length
		if !last {
			gauge, lap = cs[i+1].Bottom-c.Bottom, c.Top-cs[i+1].Bottom
			if lap < lim.LapLeast || lap > lim.LapMost {
				s.r.add("", "lap", "course %d is lapped %v, not %v to %v", c.Number, lap, lim.LapLeast, lim.LapMost)
			}
		}
		if c.Gauge != gauge || c.Lap != lap {
			s.r.add("", "course", "course %d states gauge %v and lap %v, its marks make %v and %v",
				c.Number, c.Gauge, c.Lap, gauge, lap)
		}
	}
	return true
}

// pieces slices every piece, sorts them by course and checks each by itself.
func (s *site) pieces() {
	for len(s.byCourse) <= len(s.w.Courses) {
		s.byCourse = append(s.byCourse, nil)
	}
	for i := range s.byCourse {
		s.byCourse[i] = s.byCourse[i][:0]
	}
	for i := range s.w.Pieces {
		s.faces = append(s.faces, face{from: len(s.parts), to: len(s.parts)})
		p := &s.w.Pieces[i]
		if p.Quantity != s.w.Quantity {
			s.r.add(p.Mark, "quantity", "stated %d times for %d walls", p.Quantity, s.w.Quantity)
		}
		if p.Course == 0 && len(p.Outline) == 0 {
			continue
		}
		if p.Course < 1 || p.Course > len(s.w.Courses) {
			s.r.add(p.Mark, "band", "there is no course %d", p.Course)
			continue
		}
		if s.shape(i) {
			s.byCourse[p.Course] = append(s.byCourse[p.Course], i)
		}
	}
	for _, list := range s.byCourse {
		slices.SortStableFunc(list, func(a, b int) int { return int(s.faces[a].xs.Lo - s.faces[b].xs.Lo) })
	}
}
