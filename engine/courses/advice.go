package courses

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/engine/measure"
)

// changed returns the problem with the start or a limit changed by d.
func (a *adviser) changed(change string, d measure.Length) Problem {
	q := a.p
	switch change {
	case moveStart:
		q.Start += d
		q.Targets = slices.Clone(q.Targets)
		for i, t := range q.Targets { // the lowest wall's base goes with it
			if t.Kind == Base && t.At == a.p.Start {
				q.Targets[i].At += d
			}
		}
	case lessLap:
		q.LapLeast += d
	case moreLap:
		q.LapMost += d
	case moreStep:
		q.GaugeStepMost += d
	}
	return q
}

// try sets the line out with the start or a limit changed by d; false if it
// cuts no less then.
func (a *adviser) try(change string, d measure.Length) (Advice, bool) {
	q := a.changed(change, d)
	out := Advice{Change: change, Amount: d}
	switch change {
	case lessLap:
		out.value = q.LapLeast
	case moreLap:
		out.value = q.LapMost
	case moreStep:
		out.value = q.GaugeStepMost
	}
	plan, ok := q.better(&a.plan.Cost)
	if ok {
		out.weigh(a.plan, plan)
	}
	return out, ok
}

// move is a missed target and how far to move it, with all targets of its kind
// and height.
type move struct {
	target int
	by     measure.Length
}

// moves advises on the survey: one advice a height, three at most.
func (a *adviser) moves() []Advice {
	var out []Advice
	var done []int
	tries := 2 * a.tries
	for _, m := range a.movable() {
		if tries == 0 || len(out) == 3 {
			break
		}
		if slices.Contains(done, m.target) {
			continue
		}
		tries--
		if got, ok := a.tryMove(m); ok {
			out, done = append(out, got), append(done, m.target)
		}
	}
	return out
}

// movable lists moves worth trying, the nearest first: of every missed height
// to the nearest mark of the plan, and the two nearest that a whole number of
// gauges joins to the start or to something met.
func (a *adviser) movable() []move {
	var out []move
	feet := a.feet()
	for i, o := range a.plan.Outcomes {
		if !wanting(o) || o.Kind == Pin || o.Kind == Apex || a.before(i) {
			continue
		}
		var near []measure.Length
		for _, h := range a.wishes(&o.Target) {
			for _, foot := range feet {
				if h > foot {
					up, down := a.reach(h - foot)
					near = append(near, up, down)
				} else {
					up, down := a.reach(foot - h)
					near = append(near, -up, -down)
				}
			}
		}
		near = nearestFirst(near, farSurvey)
		near = append(near[:min(len(near), 2)], nearestFirst([]measure.Length{o.Off}, farSurvey)...)
		for _, d := range near {
			out = append(out, move{i, d})
		}
	}
	slices.SortStableFunc(out, func(x, y move) int { return cmp.Compare(max(x.by, -x.by), max(y.by, -y.by)) })
	return slices.Compact(out)
}

// tryMove sets the line out with targets moved.
func (a *adviser) tryMove(m move) (Advice, bool) {
	t := a.p.Targets[m.target]
	out := Advice{Change: moveTarget, Amount: m.by, kind: t.Kind, side: t.Side, value: cmp.Or(t.Surveyed, t.At).Nearest(measure.Millimetre)}
	q := a.p
	q.Targets = slices.Clone(q.Targets)
	for k, u := range q.Targets {
		if u.Kind == t.Kind && u.At == t.At {
			q.Targets[k].At += m.by
			out.Moved = append(out.Moved, k)
			if u.Side != t.Side {
				out.side = ""
			}
		}
	}
	plan, ok := q.better(&a.plan.Cost)
	if ok {
		out.weigh(a.plan, plan)
	}
	return out, ok && out.gains() && slices.Contains(out.Meets, m.target)
}

// before reports whether an earlier target is of the same kind and height.
func (a *adviser) before(i int) bool {
	t := a.p.Targets[i]
	return slices.ContainsFunc(a.p.Targets[:i], func(u Target) bool { return u.Kind == t.Kind && u.At == t.At })
}

// weigh fills in what the change buys.
func (a *Advice) weigh(before, after Plan) {
	a.Cost = after.Cost
	a.spare = before.Cost.Fragile - after.Cost.Fragile
	for k := range a.whole {
		a.whole[k] = true
	}
	for i, o := range after.Outcomes {
		n := max(1, o.Count)
		was, is := !wanting(before.Outcomes[i]), !wanting(o)
		switch {
		case is && !was:
			a.Meets = append(a.Meets, i)
			a.gain[o.Kind] += n
		case was && !is:
			a.gain[o.Kind] -= n
		}
		if !is {
			a.whole[o.Kind] = false
		}
		if o.Kind == Top {
			a.walls += n
		}
	}
}

// gains reports whether the change buys anything that can be named.
func (a *Advice) gains() bool {
	return a.spare > 0 || slices.ContainsFunc(a.gain[:], func(n int) bool { return n > 0 })
}

// String says the advice in plain words: "12 mm less ground clearance would
// end every wall on a full board".
func (a Advice) String() string {
	size := max(a.Amount, -a.Amount)
	less := a.Amount < 0
	var s string
	switch a.Change {
	case moveStart:
		s = fmt.Sprintf("%v mm %s ground clearance", size, either(less, "less", "more"))
	case lessLap, moreLap, moreStep:
		s = fmt.Sprintf("a %s of %v mm (%v mm %s)", a.Change, a.value, size, either(less, "less", "more"))
	default:
		plural := either(len(a.Moved) > 1 && a.kind != Eaves, "s", "")
		side := either(a.side == "", "", a.side+" ")
		s = fmt.Sprintf("the %s%v%s at %v mm set %v mm %s", side, a.kind, plural, a.value, size, either(less, "lower", "higher"))
	}
	return s + " would " + a.buys()
}

func either(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// buys says what is met after the change, best first.
func (a Advice) buys() string {
	var parts []string
	if n := a.gain[Top]; n > 0 {
		switch {
		case a.walls == 1:
			parts = append(parts, "end the wall on a full board")
		case a.whole[Top]:
			parts = append(parts, "end every wall on a full board")
		default:
			parts = append(parts, fmt.Sprintf("end %d more %s on a full board", n, either(n == 1, "wall", "walls")))
		}
	} else if a.spare > 0 {
		parts = append(parts, fmt.Sprintf("leave %d fewer fragile or ripped %s", a.spare, either(a.spare == 1, "piece", "pieces")))
	}
	for _, k := range [...]Kind{Pin, Sill, Head, Eaves, Base} {
		switch n := a.gain[k]; {
		case n <= 0:
		case k == Eaves:
			parts = append(parts, "bring a course line to the eaves")
		case a.whole[k]:
			parts = append(parts, fmt.Sprintf("meet every %v", k))
		default:
			parts = append(parts, fmt.Sprintf("meet %d more %v%s", n, k, either(n == 1, "", "s")))
		}
	}
	s := strings.Join(parts, ", ")
	if k := strings.LastIndex(s, ", "); k >= 0 {
		s = s[:k] + " and" + s[k+1:]
	}
	return s + a.loses()
}

// loses says what is met no more, if anything.
func (a Advice) loses() string {
	lost := 0
	for _, n := range a.gain {
		lost -= min(n, 0)
	}
	if lost == 0 {
		return ""
	}
	return fmt.Sprintf(" (and miss %d met now)", lost)
}
