package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
)

// effort says how hard the boards were searched for, and what a harder search
// might still save: at most what lies between the plan and the bound.
func (s *summary) effort() {
	res := s.b.res
	if res.Effort == "" {
		return
	}
	s.add("Effort", long(string(res.Effort)), "", strings.TrimSpace(effortWords(res.Effort)+s.b.aboveBound()))
}

func effortWords(e engine.Effort) string {
	switch e {
	case engine.EffortQuick:
		return "Normal effort takes longer and often needs fewer boards. "
	case engine.EffortThorough:
		return "There is no harder search. "
	}
	return ""
}

// atBound is said of as few boards as can be.
const atBound = "No layout within the rules takes fewer boards, so no effort would save any."

// aboveBound says how far the boards are from the bound, in all and in the pool
// that is farthest from it.
func (b *book) aboveBound() string {
	t := b.res.Boards()
	gap, worth, pools := t.Boards-t.Bound, 0.0, 0
	var worst engine.PoolResult
	for _, p := range b.res.Pools {
		if p.Role != engine.RoleBoard {
			continue
		}
		pools++
		above := p.Boards - p.LayoutBound
		worth += float64(above) * p.Price
		if above > worst.Boards-worst.LayoutBound {
			worst = p
		}
	}
	switch {
	case t.Boards == 0:
		return ""
	case gap <= 0:
		return atBound
	}
	say := fmt.Sprintf("%s, %.1f %%, above the bound of %d: thorough effort might save some of them, at most %.2f %s.", plural(gap, "board"), 100*float64(gap)/float64(t.Bound), t.Bound, worth, b.currency())
	if b.res.Effort == engine.EffortThorough {
		say = fmt.Sprintf("%s, %.1f %%, above the bound of %d; whether a layout takes fewer is not known.", plural(gap, "board"), 100*float64(gap)/float64(t.Bound), t.Bound)
	}
	if pools > 1 {
		say += fmt.Sprintf(" Farthest is %s: %d, of at least %d.", poolWords(worst), worst.Boards, worst.LayoutBound)
	}
	return say
}

func poolWords(p engine.PoolResult) string {
	name := orWords(p.Pool, "the job")
	if p.Colour != "" {
		name += " in " + p.Colour
	}
	return name
}
