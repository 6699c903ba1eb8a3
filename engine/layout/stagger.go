package layout

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// class gathers walls that are built alike: one set of variables serves them
// all in the linear master.
type class struct {
	walls []int
	qty   int64
	types []int // of the class, rising
}

// kindOfRun is a set of runs of a class that can be laid in the same ways.
type kindOfRun struct {
	class int
	runs  []int32 // of the first wall of the class
	qty   int64   // runs in the whole pool
	shape *shape
	sites []int
}

// cover is a limit on joints: over all runs of some types of a class, at most
// rhs joints stand in a window of bays.
type cover struct {
	points [][2]int // type, point
	rhs    int64
}

// classify sorts walls into classes and runs into types; of holds, for each
// wall, the types of its runs in order, -1 for one that cannot be laid.
func (m *model) classify() (classes []class, types []kindOfRun, of [][]int) {
	known := map[string]int{}
	of = make([][]int, len(m.walls))
	for w, order := range m.walls {
		key := m.wallKey(w)
		c, ok := known[key]
		qty := int64(max(1, m.p.Walls[w].Quantity))
		if ok {
			classes[c].walls = append(classes[c].walls, w)
			classes[c].qty += qty
			of[w] = of[classes[c].walls[0]]
			for _, t := range classes[c].types {
				types[t].qty += qty * int64(len(types[t].runs))
			}
			continue
		}
		c = len(classes)
		known[key] = c
		classes = append(classes, class{walls: []int{w}, qty: qty})
		for _, r := range order {
			ru := &m.runs[r]
			if ru.shape.dead {
				of[w] = append(of[w], -1)
				continue
			}
			sites := m.p.Walls[w].Runs[ru.index].Sites
			at := slices.IndexFunc(classes[c].types, func(t int) bool {
				return types[t].shape == ru.shape && slices.Equal(types[t].sites, sites)
			})
			if at < 0 {
				at = len(classes[c].types)
				classes[c].types = append(classes[c].types, len(types))
				types = append(types, kindOfRun{class: c, shape: ru.shape, sites: sites})
			}
			of[w] = append(of[w], classes[c].types[at])
			t := &types[classes[c].types[at]]
			t.runs = append(t.runs, r)
			t.qty += qty
		}
	}
	return classes, types, of
}

// wallKey is equal for walls that are alike but for their quantity.
func (m *model) wallKey(w int) string {
	var b []byte
	put := func(v int64) { b = binary.LittleEndian.AppendUint64(b, uint64(v)) }
	wall := m.p.Walls[w]
	put(int64(wall.PieceLeast))
	for _, s := range wall.Sites {
		put(int64(s.X))
		put(int64(s.Bay))
	}
	for _, r := range m.walls[w] {
		x := wall.Runs[m.runs[r].index]
		put(int64(x.Course))
		put(int64(x.Span.Lo))
		put(int64(x.Span.Hi))
		put(int64(x.FirstLeast))
		put(int64(x.LastLeast))
		put(-int64(len(x.Sites)))
		for _, s := range x.Sites {
			put(int64(s))
		}
	}
	return string(b)
}

// weighted is a course and the most joints it may have in a window.
type weighted struct {
	course int
	most   int64
}

// covers lists the limits for a class: for every window of bays, over all its
// types, over each type alone and over each pair. In a window of StaggerBays
// bays joints stand at most in every second course, in one bay at most in
// every Repeat-th.
func (m *model) covers(c *class, types []kindOfRun) []cover {
	var out []cover
	one := m.p.Repeat
	if m.p.StaggerBays > 0 {
		one = max(one, 2)
	}
	for _, b := range m.bays(c) {
		if one > 1 {
			out = c.limits(out, m.windows(c, types, b, 1), one)
		}
		if m.p.StaggerBays > 1 {
			out = c.limits(out, m.windows(c, types, b, m.p.StaggerBays), 2)
		}
	}
	return out
}

func (m *model) bays(c *class) []int {
	var out []int
	for _, s := range m.p.Walls[c.walls[0]].Sites {
		out = append(out, s.Bay)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// window is what a type of run has in a window of bays.
type window struct {
	points  [][2]int   // type, point
	courses []weighted // of its runs
	free    int64      // joints without a limit
}

// windows lists the types that have joints in a window of wide bays from first.
func (m *model) windows(c *class, types []kindOfRun, first, wide int) []window {
	var out []window
	for _, t := range c.types {
		ty := &types[t]
		var w window
		for k, s := range ty.sites {
			if b := m.p.Walls[c.walls[0]].Sites[s].Bay; b >= first && b < first+wide {
				w.points = append(w.points, [2]int{t, k + 1})
			}
		}
		if len(w.points) == 0 {
			continue
		}
		most := ty.shape.most(w.points)
		w.courses = make([]weighted, 0, len(ty.runs))
		for _, r := range ty.runs {
			w.courses = append(w.courses, weighted{m.runs[r].course, most})
		}
		w.free = most * int64(len(ty.runs))
		out = append(out, w)
	}
	return out
}

// limits appends the covers of one window, but for those that say nothing.
func (c *class) limits(out []cover, ws []window, apart int) []cover {
	var buf []weighted
	add := func(set ...window) {
		var points [][2]int
		free := int64(0)
		buf = buf[:0]
		for _, w := range set {
			buf = append(buf, w.courses...)
			free += w.free
		}
		rhs := spaced(buf, apart)
		if rhs >= free {
			return
		}
		for _, w := range set {
			points = append(points, w.points...)
		}
		out = append(out, cover{points, rhs * c.qty})
	}
	if len(ws) > 1 {
		add(ws...)
	}
	for i, w := range ws {
		add(w)
		for _, v := range ws[:i] {
			if len(ws) > 2 {
				add(v, w)
			}
		}
	}
	return out
}

// most is the greatest number of the points that one layout of the shape can
// joint.
func (sh *shape) most(points [][2]int) int64 {
	if len(points) == 1 {
		return 1
	}
	in, n := make([]bool, sh.n), make([]int64, sh.n)
	for _, p := range points {
		in[p[1]] = true
	}
	for j := 1; j < sh.n; j++ {
		n[j] = -far
		for i := range j {
			if sh.seg[i*sh.n+j] != none && n[i] > -far {
				n[j] = max(n[j], n[i])
			}
		}
		if in[j] && n[j] > -far {
			n[j]++
		}
	}
	return max(0, n[sh.n-1])
}

// spaced is the most joints on courses of which any two that carry joints are
// at least apart courses away from each other. It sorts cs.
func spaced(cs []weighted, apart int) int64 {
	slices.SortFunc(cs, func(a, b weighted) int { return cmp.Compare(a.course, b.course) })
	var few [64]int64
	best := append(few[:0], 0)
	k := 0
	for i := 0; i < len(cs); {
		course, most := cs[i].course, int64(0)
		for ; i < len(cs) && cs[i].course == course; i++ {
			most += cs[i].most
		}
		for k < len(best)-1 && cs[k].course <= course-apart {
			k++
		}
		cs[len(best)-1] = weighted{course, most} // merged in place
		best = append(best, max(best[len(best)-1], best[k]+most))
	}
	return best[len(best)-1]
}
