package engine

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// aim is what a target of a level line stands for.
type aim struct {
	face    *face
	opening *Opening // nil: the wall's own base or top
}

// setOut gives the walls of every level line their course marks.
func (t *takeoff) setOut() {
	for _, line := range levelLines(t.faces) {
		t.setOutLine(line)
	}
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
	p, aims := t.lineProblem(line)
	plan, err := courses.SetOut(p)
	if err != nil {
		do := "check the board, the lap limits and the pinned gauge"
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
	if advice := courses.Advise(p, plan); len(advice) > 0 {
		for _, a := range advice {
			line[0].advice = append(line[0].advice, a.String())
		}
	}
}

// lineProblem states what the walls of a line would like to meet.
func (t *takeoff) lineProblem(line []*face) (courses.Problem, []aim) {
	r := t.rules
	p := courses.Problem{
		Width: t.board.Width, LapLeast: r.LapLeast, LapMost: r.LapMost,
		GaugeStepMost: r.GaugeStepMost, StripLeast: r.StripLeast,
		Start: line[0].ground.Least(line[0].span),
	}
	for _, f := range line {
		p.Start = min(p.Start, f.ground.Least(f.span))
		p.End = max(p.End, f.cladTop.Most(f.span))
		if f.wall.PinGauge.Set {
			p.PinGauge = f.wall.PinGauge.Value
		}
	}
	p.Start = p.Start.UpTo(measure.Millimetre)
	var aims []aim
	for _, f := range line {
		add := func(o *Opening, c courses.Target) {
			c.ID = len(aims)
			c.Count = max(1, f.wall.Quantity)
			aims = append(aims, aim{f, o})
			p.Targets = append(p.Targets, c)
		}
		f.aimBase(p.Start, add)
		f.aimOpenings(add)
		f.aimTop(r, add)
		if f.wall.PinMark.Set {
			add(nil, courses.Target{Kind: courses.Pin, At: f.wall.PinMark.Value})
		}
	}
	return p, aims
}

// aimBase aims at the board levels given for the base, but not at bare ground.
func (f *face) aimBase(start measure.Length, add func(*Opening, courses.Target)) {
	if f.raised {
		return
	}
	var seen []measure.Length
	for _, v := range f.ground {
		if v.Z > start && !slices.Contains(seen, v.Z) {
			seen = append(seen, v.Z)
			add(nil, courses.Target{Kind: courses.Base, At: v.Z})
		}
	}
}

// aimOpenings aims at the sill and the head of every opening.
func (f *face) aimOpenings(add func(*Opening, courses.Target)) {
	for _, v := range f.voids {
		keep := v.Keep[0]
		limit := f.cladTop.Least(keep.X.And(f.span))
		common := courses.Target{Limit: limit, Sawing: keep.X.Length()}
		if sill := keep.Z.Lo; sill > f.ground.Least(keep.X) && sill < limit {
			c := common
			c.Kind, c.At = courses.Sill, sill
			add(v.Opening, c)
		}
		if head := keep.Z.Hi; head < limit {
			c := common
			c.Kind, c.At = courses.Head, head
			add(v.Opening, c)
		}
	}
}

// lastTriangle is the least width of the last board at an apex: room for two
// fixings clear of both cut edges (common practice).
const lastTriangle = 300 * measure.Millimetre

// aimTop aims at a full board under every level stretch of the top; at a slope
// it aims at the eaves and keeps the last triangle large enough.
func (f *face) aimTop(r Rules, add func(*Opening, courses.Target)) {
	top := f.cladTop
	var seen []measure.Length
	sloped := false
	for i := 1; i < len(top); i++ {
		a, b := top[i-1], top[i]
		switch {
		case a.X == b.X:
		case a.Z != b.Z:
			sloped = true
			if at := min(a.Z, b.Z); !slices.Contains(seen, at) {
				seen = append(seen, at)
				add(nil, courses.Target{Kind: courses.Eaves, At: at.DownTo(measure.Millimetre)})
			}
		case !slices.Contains(seen, a.Z):
			seen = append(seen, a.Z)
			add(nil, courses.Target{Kind: courses.Top, At: a.Z, Sawing: b.X - a.X})
		}
	}
	if sloped {
		add(nil, courses.Target{Kind: courses.Apex, At: top.Most(f.span), Least: f.apexLeast(r)})
	}
}

// apexLeast returns the least height of the board at the highest point of a
// sloped top: where the top is lastTriangle wide, and no less than a strip.
func (f *face) apexLeast(r Rules) measure.Length {
	peak := f.cladTop.Most(f.span)
	wide := func(h measure.Length) bool {
		var sum measure.Length
		for _, s := range f.cladTop.Above(peak - h) {
			sum += s.Length()
		}
		return sum >= lastTriangle
	}
	h := r.StripLeast
	for h < f.width && !wide(h) {
		h += measure.Millimetre
	}
	return h
}

// settle notes how a target came out, at the course it concerns and as a flag
// where it leaves something fragile.
func (f *face) settle(o *Opening, out courses.Outcome) {
	name := ""
	if o != nil {
		name = o.Name
	}
	f.targets = append(f.targets, TargetResult{Kind: out.Kind.String(), Name: name, At: out.At, Met: string(out.Met), Off: out.Off})
	f.note(out)
	if out.Fragile {
		f.flagFragile(o, out)
	}
	if out.Kind == courses.Pin && out.Met == courses.Missed {
		f.flag(f.wall, Check, "pin-missed", "Pin mark mm", "no course mark could be set at "+out.At.String()+" mm", "change the pinned mark or the lap limits")
	}
}

// note writes what is met at a course into its note.
func (f *face) note(out courses.Outcome) {
	i := out.Course + 1 - f.first
	if i < 0 || i >= len(f.courses) {
		return
	}
	text := ""
	switch {
	case out.Kind == courses.Top && out.Met == courses.Missed:
		text = "top ripped"
	case out.Met == courses.Missed || out.Met == courses.Partly || out.Met == courses.Clear:
		return
	case out.Kind == courses.Sill:
		text = "sill met"
	case out.Kind == courses.Head:
		text = "head met"
	case out.Kind == courses.Eaves:
		text = "eaves met"
	case out.Kind == courses.Top:
		text = "top full"
	default:
		return
	}
	if note := f.courses[i].Note; note == "" {
		f.courses[i].Note = text
	} else if !slices.Contains(strings.Split(note, "; "), text) {
		f.courses[i].Note = note + "; " + text
	}
}

// flagFragile asks for a decision on a strip too thin to last.
func (f *face) flagFragile(o *Opening, out courses.Outcome) {
	what := "a strip of only " + out.Strip.String() + " mm is left at the " + cmp.Or(out.Kind.String(), "top")
	do := "move the " + out.Kind.String() + " or the base by a few millimetres, or widen the lap limits; the sheet of the wall says what would help"
	if o == nil {
		f.flag(f.wall, Check, "strip-fragile", "Height mm", what, do)
		return
	}
	f.flags = append(f.flags, Flag{Check, "strip-fragile", f.wall.Plot, f.wall.Name, o.Origin.At("Sill mm"), what + " of " + o.Name, do})
}
