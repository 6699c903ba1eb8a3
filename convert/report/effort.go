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
const atBound = "No layout of these courses takes fewer boards, so no effort would save any."

// aboveBound says how far the boards are from the bound, in all and in the pool
// that is farthest from it.
func (b *book) aboveBound() string {
	t := b.res.Boards()
	gap, worth := t.Boards-t.Bound, t.Cost-t.CostBound
	switch {
	case t.Boards == 0, t.Mixed && t.CostBound == 0:
		return ""
	case t.Mixed && worth < 0.005:
		return "No layout of these courses costs less, so no effort would save any."
	case t.Mixed:
		return fmt.Sprintf("The boards cost %.2f %s more than the bound, %.1f %%%s", worth, b.currency(), 100*worth/t.CostBound, b.harder("some of it", "whether a layout costs less"))
	case gap <= 0:
		return atBound
	}
	say := fmt.Sprintf("%s, %.1f %%, above the bound of %d%s", plural(gap, "board"), 100*float64(gap)/float64(t.Bound), t.Bound,
		b.harder(fmt.Sprintf("%s, at most %.2f %s", someOf(gap), worth, b.currency()), "whether a layout takes fewer"))
	if worst, pools := b.farthest(); pools > 1 {
		say += fmt.Sprintf(" Farthest is %s: %d, of at least %d.", poolWords(worst), worst.Boards, worst.LayoutBound)
	}
	return say
}

// harder says what a harder search might save, or that there is none.
func (b *book) harder(save, open string) string {
	if b.res.Effort == engine.EffortThorough {
		return "; " + open + " is not known."
	}
	return ": thorough effort might save " + save + "."
}

// someOf is what may be saved of so many boards.
func someOf(n int) string {
	if n == 1 {
		return "it"
	}
	return "some of them"
}

// farthest returns the pool of boards farthest from its bound, and how many
// pools there are.
func (b *book) farthest() (worst engine.PoolResult, pools int) {
	for _, p := range b.res.Pools {
		if p.Role != engine.RoleBoard {
			continue
		}
		pools++
		if p.Boards-p.LayoutBound > worst.Boards-worst.LayoutBound {
			worst = p
		}
	}
	return worst, pools
}

func poolWords(p engine.PoolResult) string {
	name := orWords(p.Pool, "the job")
	if p.Colour != "" {
		name += " in " + p.Colour
	}
	return name
}
