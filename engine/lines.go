package engine

import (
	"errors"
	"slices"

	"lapwright/engine/boards"
	"lapwright/engine/courses"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// setOut gives the walls of every level line their course marks.
func (t *takeoff) setOut() {
	lines := levelLines(t.faces)
	parallel.Each(len(lines), func(_, i int) { t.setOutLine(lines[i]) })
}

// levelLines groups the walls that share course lines: those of one plot with
// the same level line text, and where that is blank those that meet.
func levelLines(faces []*face) [][]*face {
	parent := make([]int, len(faces))
	for i := range parent {
		parent[i] = i
	}
	var root func(int) int
	root = func(i int) int {
		if parent[i] != i {
			parent[i] = root(parent[i])
		}
		return parent[i]
	}
	join := func(i, j int) { // the earlier stays the root
		a, b := root(i), root(j)
		parent[max(a, b)] = min(a, b)
	}
	type key struct{ plot, name string }
	walls, texts := map[key]int{}, map[key]int{}
	for i, f := range faces {
		if f.wall.LevelLine == "" {
			walls[key{f.wall.Plot, f.wall.Name}] = i
		} else if j, ok := texts[key{f.wall.Plot, f.wall.LevelLine}]; ok {
			join(i, j)
		} else {
			texts[key{f.wall.Plot, f.wall.LevelLine}] = i
		}
	}
	for i, f := range faces {
		for _, other := range []string{f.wall.LeftMeets, f.wall.RightMeets} {
			if j, ok := walls[key{f.wall.Plot, other}]; ok && f.wall.LevelLine == "" {
				join(i, j)
			}
		}
	}
	at := map[int]int{}
	var out [][]*face
	for i, f := range faces {
		r := root(i)
		if _, ok := at[r]; !ok {
			at[r] = len(out)
			out = append(out, nil)
		}
		out[at[r]] = append(out[at[r]], f)
	}
	return out
}

// setOutLine sets out one level line.
func (t *takeoff) setOutLine(line []*face) {
	line = slices.DeleteFunc(slices.Clone(line), func(f *face) bool { return f.stopped() })
	if len(line) == 0 {
		return
	}
	slices.SortStableFunc(line, byName)
	t.rules.flagPins(line)
	wishes := make([]wish, len(line))
	for i, f := range line {
		wishes[i] = t.wishOf(f)
	}
	p, aims := t.lineProblem(wishes)
	plan, err := courses.SetOut(p)
	if err != nil {
		do := "check the board and the lap limits"
		if !errors.Is(err, courses.ErrLimits) {
			do = "check the heights of the walls on this level line"
		}
		for _, f := range line {
			f.flag(f.wall, Stop, "set-out", "Height mm", err.Error(), do)
		}
		return
	}
	for _, f := range line {
		f.setCourses(plan.Marks)
	}
	for _, o := range plan.Outcomes {
		aims[o.ID].face.settle(aims[o.ID].opening, o)
	}
	explain(line, p, plan)
	if !t.figures {
		advise(line, aims, courses.Advise(p, plan))
		t.adviseApart(wishes, aims, plan)
	}
}

// lineProblem states what the walls of a line would like to meet.
func (t *takeoff) lineProblem(line []wish) (courses.Problem, []aim) {
	r := t.rules
	p := courses.Problem{
		Width: t.board.Width, LapLeast: r.LapLeast, LapMost: r.LapMost,
		GaugeStepMost: r.GaugeStepMost, StripLeast: r.StripLeast, Start: line[0].start,
	}
	n := 0
	for _, w := range line {
		p.Start, p.End, n = min(p.Start, w.start), max(p.End, w.end), n+len(w.targets)
	}
	if by := r.pinnedBy(line); by != nil {
		p.PinGauge = by.wall.PinGauge.Value
	}
	p.Targets = make([]courses.Target, 0, n)
	aims := make([]aim, 0, n)
	for _, w := range line {
		for k, c := range w.targets {
			if c.Kind == courses.Base && c.At <= p.Start {
				continue // the line starts there
			}
			c.ID = len(aims)
			aims = append(aims, aim{w.face, w.openings[k]})
			p.Targets = append(p.Targets, c)
		}
	}
	return p, aims
}

// start returns the whole millimetre at which a wall's first board starts if
// nothing else governs: no lower than its base, unless boards are cut to that,
// and over sloping ground no lower than its lowest tread.
func (t *takeoff) start(f *face) measure.Length {
	base := f.ground
	switch {
	case f.cutBase():
		return base.Least(f.span).DownTo(measure.Millimetre)
	case f.raised:
		g := *f
		g.base, g.zones = base.Under(f.cladTop), []Zone{{X: f.span, Centres: t.centres(f)}}
		g.lines = t.battensOf(&g).Lines()
		base = boards.Stair(base, nil, 0, f.span, g.treads())
	}
	return base.Least(f.span).UpTo(measure.Millimetre)
}

// pinnedBy returns the first wall of a line that pins a gauge with a lap within
// the limits, nil if there is none: all others follow it.
func (r Rules) pinnedBy(line []wish) *face {
	i := slices.IndexFunc(line, func(w wish) bool { return r.pins(w.face) })
	if i < 0 {
		return nil
	}
	return line[i].face
}

// pins reports whether a wall pins a gauge with a lap within the limits.
func (r Rules) pins(f *face) bool {
	pin := f.wall.PinGauge
	lap := f.width - pin.Value
	return pin.Set && lap >= r.LapLeast && lap <= r.LapMost
}

// flagPins flags the gauges pinned on a line that are not followed: one that no
// lap within the limits gives, or a second one.
func (r Rules) flagPins(line []*face) {
	var by *face
	for _, f := range line {
		switch pin := f.wall.PinGauge; {
		case !pin.Set:
		case !r.pins(f):
			f.flag(f.wall, Check, "pin-gauge", "Pin gauge mm",
				"the pinned gauge of "+pin.Value.String()+" mm would lap boards by "+(f.width-pin.Value).String()+" mm, and the limits are "+r.LapLeast.String()+" to "+r.LapMost.String()+": it is not followed",
				"pin a gauge from "+(f.width-r.LapMost).String()+" to "+(f.width-r.LapLeast).String()+" mm, or leave it blank")
		case by == nil:
			by = f
		case by.wall.PinGauge.Value != pin.Value:
			f.flag(f.wall, Check, "pin-conflict", "Pin gauge mm",
				"the gauge is pinned to "+pin.Value.String()+" mm here and to "+by.wall.PinGauge.Value.String()+" mm on "+by.wall.Name+", which shares its course lines: the latter is followed",
				"pin one gauge for both, or give them level lines of their own")
		}
	}
}
