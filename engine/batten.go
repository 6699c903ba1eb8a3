package engine

import (
	"slices"

	"lapwright/engine/battens"
	"lapwright/engine/boards"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// batten stands the battens of every wall that has courses, and finds the runs
// of boards over them.
func (t *takeoff) batten() {
	t.blow()
	parallel.Each(len(t.faces), func(_, i int) {
		if f := t.faces[i]; f.covered() {
			t.battenFace(f)
		}
	})
}

// battenFace stands the battens of one wall.
func (t *takeoff) battenFace(f *face) {
	f.base = f.ground.Under(f.cladTop)
	if f.raised { // the treads go by the battens
		f.lines = t.battensOf(f).Lines()
	}
	f.base = f.stepped()
	f.dropEmpty()
	f.lines = t.battensOf(f).Lines()
	f.flagBays(t.battensOf(f).Over(f.lines))
	f.runs = boards.Runs(t.boardsOf(f))
	t.addShort(f)
	for _, l := range f.lines {
		if l.Why != battens.AtShort { // behind a few boards only
			f.centres = append(f.centres, l.Centre)
		}
	}
	f.flagPiers(t.rules.PieceLeastFor(f.bay()))
}

// runsOf returns the runs of boards on a wall; those that are not held any more,
// as they are written down as pieces, are found again.
func (t *takeoff) runsOf(f *face) []boards.Run {
	if f.runs != nil {
		return f.runs
	}
	return boards.Runs(t.boardsOf(f))
}

// cutBase reports whether boards are cut to what stands below: a lower roof
// with a slope. Over a level one they start on a course line.
func (f *face) cutBase() bool {
	if f.wall.Bottom != Roof || !f.raised {
		return false
	}
	for i := 1; i < len(f.ground); i++ {
		if f.ground[i-1].X < f.ground[i].X && f.ground[i-1].Z != f.ground[i].Z {
			return true
		}
	}
	return false
}

// stepped returns the base of the clad region: a stair on the course marks,
// but above a sloping roof the roof's own line, to which boards are cut.
func (f *face) stepped() measure.Profile {
	if f.cutBase() {
		return f.ground.Under(f.cladTop)
	}
	return boards.Stair(f.ground, f.marks, 0, f.span, f.treads()).Under(f.cladTop)
}

// dropEmpty leaves out the lowest courses of the level line where not even the
// lowest tread of the base reaches down to them.
func (f *face) dropEmpty() {
	n := 0
	for least := f.base.Least(f.span); !f.cutBase() && n < len(f.marks)-1 && f.marks[n+1] <= least; {
		n++
	}
	f.marks, f.courses, f.first = f.marks[n:], f.courses[n:], f.first+n
}

// risers returns where the ground or roof that the survey gives steps upright.
func (f *face) risers() []measure.Length {
	var out []measure.Length
	for i := 1; i < len(f.ground); i++ {
		if a, b := f.ground[i-1], f.ground[i]; a.X == b.X && a.Z != b.Z {
			out = append(out, a.X)
		}
	}
	return out
}

// treads returns where the treads of a stepped base may meet: a given step
// stays where the survey puts it, and over sloping ground boards end on the
// battens, at the side that leaves the lower tread's boards on them.
func (f *face) treads() []measure.Length {
	if f.wall.StepLeft.Set {
		return []measure.Length{f.wall.StepLeft.Value}
	}
	out := f.risers()
	for i := 1; f.raised && i+1 < len(f.lines); i++ {
		l := &f.lines[i]
		x := l.X()
		side := x.Hi
		if f.ground.At(f.lines[i+1].Centre) < f.ground.At(l.Centre) {
			side = x.Lo
		}
		out = append(out, side)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// steps returns where boards end against a step of the base that the survey
// gives.
func (f *face) steps() []battens.Step {
	var out []battens.Step
	given := f.risers()
	for i := 1; i < len(f.base); i++ {
		if a, b := f.base[i-1], f.base[i]; a.X == b.X && a.Z != b.Z && slices.Contains(given, a.X) {
			z := measure.Span{Lo: min(a.Z, b.Z), Hi: max(a.Z, b.Z)}
			out = append(out, battens.Step{X: a.X, Z: z, Left: a.Z > b.Z, Hold: f.ending(z)})
		}
	}
	return out
}

func (t *takeoff) boardsOf(f *face) boards.Wall {
	w := boards.Wall{Base: f.base, Top: f.cladTop, Marks: f.marks, Width: f.width,
		StripLeast: t.rules.StripLeast, PieceLeast: t.rules.PieceLeastFor(f.bay()), HoleMost: t.board.Length}
	for i, v := range f.voids {
		for _, k := range v.Keep {
			w.Voids = append(w.Voids, boards.Void{ID: i, X: k.X, Z: k.Z})
		}
	}
	return w
}

func (t *takeoff) battensOf(f *face) battens.Wall {
	gap := t.rules.VentilationGap
	w := battens.Wall{
		Span: measure.Span{Lo: max(0, f.span.Lo), Hi: min(f.wall.Width, f.span.Hi)},
		Base: f.base, Top: f.cladTop,
		First: f.wall.FirstBatten, Studs: f.wall.Studs,
		Width: t.rules.BattenWidth, Wide: t.rules.WideBattenWidth,
		End:  min(t.rules.BattenEndLeast, t.rules.EdgeDistance), // under a level top the two end together
		Left: battenEdge(f.wall.Left), Right: battenEdge(f.wall.Right),
	}
	off := aside(w.Wide)
	w.Span.Lo += aside(edgeWidth(w, w.Left))
	w.Span.Hi -= aside(edgeWidth(w, w.Right))
	for _, s := range f.steps() {
		if s.X -= off; s.Left {
			s.X += 2 * off
		}
		w.Steps = append(w.Steps, s)
	}
	for _, z := range f.zones {
		w.Zones = append(w.Zones, battens.Zone{X: z.X, Centres: z.Centres})
	}
	for _, v := range f.voids {
		hold := f.ending(v.Keep[0].Z)
		for _, frame := range v.Frame { // a sill with horns stands in the way by itself
			x, z := frame.Bounds()
			x = measure.Span{Lo: x.Lo.DownTo(measure.Millimetre), Hi: x.Hi.UpTo(measure.Millimetre)} // horns may end between two
			w.Voids = append(w.Voids, battens.Void{X: x.Grow(gap + off), Z: z.Grow(gap), Hold: hold})
		}
	}
	return w
}

// ending returns the heights over which boards end against what stands over z,
// an opening or a step of the base: from a lap below the bottom of the course below
// the first that z cuts to the top of the last, or of the one that starts right over
// it. Before the courses are set out it is the zero value: not known.
func (f *face) ending(z measure.Span) measure.Span {
	if len(f.marks) == 0 {
		return measure.Span{}
	}
	out := z
	for k := len(f.marks) - 1; k >= 0 && f.marks[k]+f.width > z.Lo; k-- {
		j := max(0, k-1)
		out.Lo = min(z.Lo, f.belowLap(j, f.marks[j]))
	}
	for k := 0; k < len(f.marks) && f.marks[k] <= z.Hi; k++ {
		out.Hi = max(z.Hi, f.marks[k]+f.width)
	}
	return out
}

// aside returns how far off a whole millimetre a batten of that width is set,
// so that its middle, where boards butt, falls on one and every board between
// two joints is whole millimetres long.
func aside(width measure.Length) measure.Length {
	return width % (2 * measure.Millimetre) / 2
}

func edgeWidth(w battens.Wall, e battens.Edge) measure.Length {
	if e == battens.CornerEdge {
		return w.Wide
	}
	return w.Width
}

func battenEdge(e Edge) battens.Edge {
	if e == ExternalCorner || e == InternalCorner {
		return battens.CornerEdge
	}
	return battens.PlainEdge
}

// joinable returns the batten lines, from the left, on which boards of a run may
// butt: those of the grid that stand behind the run's whole height there, clear
// of cut-outs that a joint would leave hanging; also others, if off says so.
func (f *face) joinable(run *boards.Run, off bool, short measure.Length) []int {
	lines := battens.Sites(f.lines, run.At, short)
	if off {
		lines = append(lines, battens.OffSites(f.lines, run.At, short)...)
		slices.Sort(lines)
	}
	return slices.DeleteFunc(lines, func(i int) bool {
		x := f.lines[i].Centre
		return x <= run.Span.Lo || x >= run.Span.Hi || barred(run, x)
	})
}

// jointOff lets a run be jointed on battens off the grid, and reports whether
// that is news. It is the last resort where openings crowd so that no batten of
// the grid stands within a board's length: jambs' battens are as wide as joints',
// but stand where the openings put them.
func (f *face) jointOff(k int) bool {
	if f.off[k] {
		return false
	}
	if f.off == nil {
		f.off = map[int]bool{}
	}
	f.off[k] = true
	return true
}

// besideNotch is how far joints keep from a notch's inside corner, where a
// narrow tongue of board would break off when carried (common practice).
const besideNotch = 100 * measure.Millimetre

// whole returns those of the batten lines at which a joint leaves no tongue of
// board over or under an opening: none in the width of a cut-out. Where a board
// of that length could not reach from one to the next, all are returned.
func (f *face) whole(run *boards.Run, lines []int, board measure.Length) []int {
	if len(run.Cutouts) == 0 {
		return lines
	}
	clear := slices.DeleteFunc(slices.Clone(lines), func(i int) bool {
		x := f.lines[i].Centre
		return slices.ContainsFunc(run.Cutouts, func(c boards.Rect) bool { return c.X.Grow(besideNotch).Holds(x) })
	})
	at := run.Span.Lo
	for _, i := range clear {
		if f.lines[i].Centre-at > board {
			return lines
		}
		at = f.lines[i].Centre
	}
	if run.Span.Hi-at > board {
		return lines
	}
	return clear
}

// barred reports whether a joint at x would stand in a hole's width.
func barred(run *boards.Run, x measure.Length) bool {
	return slices.ContainsFunc(run.NoJoint, func(s measure.Span) bool { return s.Grow(measure.Millimetre).Holds(x) })
}

// spliceLeast is the least length of a batten spliced on (common practice).
const spliceLeast = 600 * measure.Millimetre

// spliceClear is what a splice keeps from the boards' fixings where it can: ten
// diameters of a screw of 4.5 mm, the end distance of EN 1995-1-1 table 8.6 (from
// memory).
const spliceClear = 45 * measure.Millimetre

// fixingLines returns the heights at which boards are fixed, course by course and
// under the openings they are notched for.
func (f *face) fixingLines(edge measure.Length) []measure.Length {
	out := make([]measure.Length, 0, len(f.marks)+2*len(f.voids))
	for _, m := range f.marks {
		out = append(out, m+f.width-edge)
	}
	for _, v := range f.voids {
		for _, k := range v.Keep {
			out = append(out, k.Z.Lo-edge)
		}
	}
	return out
}

// eachBatten names the battens of one wall, whole, with their line and what they are cut from. Lines
// on which boards butt, over the heights given, are wide there.
func (t *takeoff) eachBatten(s *stand, butts [][]measure.Span, do func(line int, l battens.Line, p Product, z measure.Span)) {
	wall := t.battensOf(s.face)
	wanted := t.wanted(s.face, &wall)
	for i, l := range s.face.lines {
		lines := wall.Narrow(l, wanted[i])
		if len(butts[i]) > 0 {
			lines = wall.Widen(l, butts[i], wanted[i])
		}
		for _, l := range lines {
			p := t.battenProduct(l.Width)
			for _, span := range l.Spans {
				span = measure.Span{Lo: span.Lo.UpTo(measure.Millimetre), Hi: span.Hi.DownTo(measure.Millimetre)}
				if !span.Empty() && (!battens.Stub(span) || l.Why == battens.AtJoint) {
					do(i, l, p, span)
				}
			}
		}
	}
}

// battenWall writes the battens of one wall as fixed.
func (t *takeoff) battenWall(s *stand, w *WallResult, butts [][]measure.Span) {
	at := battens.Splices{Least: spliceLeast, Fixings: s.face.fixingLines(t.rules.EdgeDistance), Clear: spliceClear}
	t.eachBatten(s, butts, func(i int, l battens.Line, p Product, span measure.Span) {
		at.Evenly = s.evenly[span.Length()]
		for _, z := range battens.Split(span, p.Length, at) {
			b := Batten{Mark: w.Code + "-N" + itoa(len(w.Battens)+1), Centre: l.Centre, Width: l.Width, Z: z, Why: string(l.Why), Code: p.Code}
			if l.Why == battens.AtJoint && !slices.ContainsFunc(butts[i], func(b measure.Span) bool { return !b.And(z).Empty() }) {
				t.unjoint(&b, &s.face.lines[i])
			}
			w.Battens = append(w.Battens, b)
		}
	})
}

// unjoint makes a length spliced to one on which boards butt as wide as its line,
// where none butt on it and stock is long enough.
func (t *takeoff) unjoint(b *Batten, l *battens.Line) {
	if p := t.battenProduct(l.Width); p.Length <= 0 || b.Z.Length() <= p.Length {
		b.Width, b.Why, b.Code = l.Width, string(l.Why), p.Code
	}
}
