package engine

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// wanting reports whether an outcome leaves something to wish for.
func wanting(o courses.Outcome) bool {
	return o.Met == courses.Missed || o.Met == courses.Partly || o.Fragile
}

// explain says on every wall of a line how its courses were chosen: what they
// meet, and what one gauge from bottom to top would.
func explain(line []*face, p courses.Problem, plan courses.Plan) {
	text := gauges(plan.Marks) + ", " + tally(plan)
	switch uniform, err := courses.Uniform(p); {
	case p.PinGauge != 0:
		text += "; the gauge is pinned"
	case err == nil && uniform.Cost.Compare(plan.Cost) > 0:
		text += ". One gauge throughout, chosen for the top alone, would have " + tally(uniform)
	}
	for i, f := range line {
		how, count := "by itself", plural(len(plan.Marks), "course")
		if len(line) > 1 {
			how = "on one line with " + others(line, i)
		}
		if here := len(f.courses); here < len(plan.Marks) {
			count += ", " + itoa(here) + " of them on this wall,"
		}
		f.advice = append(f.advice, "Set out "+how+": "+count+text+".")
	}
}

// others lists the walls of a line but one.
func others(line []*face, but int) string {
	var names []string
	for i, f := range line {
		if i != but {
			names = append(names, f.wall.Name)
		}
	}
	return listed(names)
}

// gauges says between which gauges the marks stand.
func gauges(marks []measure.Length) string {
	var lo, hi measure.Length
	for i := 1; i < len(marks); i++ {
		g := marks[i] - marks[i-1]
		if hi = max(hi, g); lo == 0 || g < lo {
			lo = g
		}
	}
	switch {
	case lo == 0:
		return ""
	case lo == hi:
		return " of " + lo.String() + " mm gauge"
	default:
		return " of " + lo.String() + " to " + hi.String() + " mm gauge"
	}
}

// tally says in words what a plan meets and cuts.
func tally(plan courses.Plan) string {
	var met, want, thin, ripped int
	for _, o := range plan.Outcomes {
		n := max(1, o.Count)
		if want += n; !wanting(o) {
			met += n
		}
		if o.Fragile {
			thin += n
		}
		if o.Kind == courses.Top && o.Met == courses.Missed {
			ripped += n
		}
	}
	text := fmt.Sprintf("%d of %s met", met, plural(want, "height"))
	if ripped > 0 {
		text += ", " + plural(ripped, "wall") + " with a ripped top"
	}
	if thin > 0 {
		text += ", " + plural(thin, "fragile strip")
	}
	return text
}

// plural says how many.
func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return itoa(n) + " " + noun
}

// advise writes each advice on the walls of the line that it would help or ask
// to change.
func advise(line []*face, aims []aim, list []courses.Advice) {
	for i := range list {
		a := &list[i]
		text := strings.ToUpper(a.String()[:1]) + a.String()[1:] + "."
		concerned := map[*face]bool{}
		for _, id := range slices.Concat(a.Meets, a.Moved) {
			concerned[aims[id].face] = true
		}
		for _, f := range line {
			if len(concerned) == 0 || concerned[f] {
				f.advice = append(f.advice, text)
			}
		}
	}
}
