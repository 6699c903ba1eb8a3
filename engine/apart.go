package engine

import (
	"fmt"
	"slices"

	"lapwright/engine/courses"
)

// apartMost is how many walls of a line are tried apart from it: each is two
// more set-outs.
const apartMost = 8

// adviseApart says which wall of a line, given a level line of its own, would
// let the others meet most more of what they miss, if by itself it misses no
// more than it does on the line.
func (t *takeoff) adviseApart(line []wish, aims []aim, plan courses.Plan) {
	if len(line) < 2 || len(line) > apartMost {
		return
	}
	missed := map[*face]int{}
	for _, o := range plan.Outcomes {
		if wanting(o) {
			missed[aims[o.ID].face] += max(1, o.Count)
		}
	}
	total := 0
	for _, n := range missed {
		total += n
	}
	var best *face
	most, left := 0, 0
	for i := range line {
		f := line[i].face
		if total-missed[f] <= most {
			continue // the others miss no more than is gained already
		}
		if alone, ok := t.missedBy(line[i : i+1]); !ok || alone > missed[f] {
			continue
		}
		rest, fine := t.missedBy(slices.Concat(line[:i], line[i+1:]))
		if gain := total - missed[f] - rest; fine && gain > most {
			best, most, left = f, gain, rest
		}
	}
	if best == nil {
		return
	}
	text := fmt.Sprintf("With a level line of its own for %s the others would meet %s more and miss %d; where it meets them, courses would no longer be level round the corner.",
		best.wall.Name, plural(most, "height"), left)
	for _, f := range line {
		f.advice = append(f.advice, text)
	}
}

// missedBy returns how many heights walls would miss on a line of their own;
// false where none can be set out.
func (t *takeoff) missedBy(line []wish) (int, bool) {
	p, _ := t.lineProblem(line)
	plan, err := courses.SetOut(p)
	n := 0
	for _, o := range plan.Outcomes {
		if wanting(o) {
			n += max(1, o.Count)
		}
	}
	return n, err == nil
}
