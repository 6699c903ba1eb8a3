package survey

import (
	"fmt"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// senseCorners compares walls that are said to meet.
func (r *reader) senseCorners(groups []*group) {
	byName := map[string]*lineItem{}
	for _, g := range groups {
		if k := wallKey(g.wall.rec.plot, g.wall.rec.name); byName[k] == nil {
			byName[k] = g.wall
		}
	}
	for _, g := range groups {
		l := g.wall
		if other := byName[wallKey(l.rec.plot, l.wall.RightMeets)]; l.wall.RightMeets != "" && other != nil && !l.rec.stopped && !other.rec.stopped {
			r.senseCorner(l, other)
		}
	}
	r.sensePlan(groups, byName)
}

// senseCorner compares the right edge of one wall with the left edge of the
// wall it meets there. Of the two rows the later is flagged.
func (r *reader) senseCorner(a, b *lineItem) {
	if back := b.wall.LeftMeets; back != "" && key(back) != key(a.wall.Name) {
		r.ask(later(a, b), side(a, b, "Right meets", "Left meets"), "corner-disagrees",
			a.wall.Name+" meets "+b.wall.Name+" at its right, but that wall meets "+back+" at its left", "Make the two rows agree")
		return
	}
	if a.wall.Right != b.wall.Left {
		r.ask(later(a, b), side(a, b, "Right edge", "Left edge"), "corner-disagrees",
			fmt.Sprintf("%s ends in %s %s, but %s begins with %s %s", a.wall.Name, article(a.wall.Right), a.wall.Right, b.wall.Name, article(b.wall.Left), b.wall.Left), "Make the two rows agree")
	}
	high, low := a.wall.HeightRight.Or(a.wall.Height), b.wall.Height
	if len(a.wall.TopProfile)+len(b.wall.TopProfile) == 0 && abs(high-low) > r.job.Rules.LevelTolerance {
		field := "Height mm"
		if later(a, b) == a && a.wall.HeightRight.Set {
			field = "Height right mm"
		}
		r.ask(later(a, b), field, "corner-disagrees",
			fmt.Sprintf("At the corner %s is %v mm high and %s %v mm", a.wall.Name, high, b.wall.Name, low), "Check both heights, from the same datum")
	}
}

func article(e engine.Edge) string {
	switch e[0] {
	case 'a', 'e', 'i', 'o':
		return "an"
	}
	return "a"
}

func later(a, b *lineItem) *lineItem {
	if a.rec.row.Number > b.rec.row.Number {
		return a
	}
	return b
}

// side picks the field of the later of two rows.
func side(a, b *lineItem, ofA, ofB string) string {
	if later(a, b) == a {
		return ofA
	}
	return ofB
}

// sensePlan walks round walls that meet in a ring and questions a ring that
// does not close. Corners are taken for right angles.
func (r *reader) sensePlan(groups []*group, byName map[string]*lineItem) {
	seen := map[*lineItem]bool{}
	for _, g := range groups {
		if ring := ringFrom(g.wall, byName, seen); ring != nil {
			r.closeRing(ring)
		}
	}
}

// ringFrom follows the right-hand walls from one until it comes round.
func ringFrom(first *lineItem, byName map[string]*lineItem, seen map[*lineItem]bool) []*lineItem {
	var ring []*lineItem
	for l := first; ; {
		if l == nil || seen[l] || l.rec.stopped {
			return nil
		}
		seen[l] = true
		ring = append(ring, l)
		if l.wall.RightMeets == "" || l.wall.Right != engine.ExternalCorner && l.wall.Right != engine.InternalCorner {
			return nil
		}
		if l = byName[wallKey(l.rec.plot, l.wall.RightMeets)]; l == first {
			return ring
		}
	}
}

func (r *reader) closeRing(ring []*lineItem) {
	var x, z measure.Length
	way, turns := 0, 0
	for _, l := range ring {
		switch (way%4 + 4) % 4 {
		case 0:
			x += l.wall.Width
		case 1:
			z += l.wall.Width
		case 2:
			x -= l.wall.Width
		case 3:
			z -= l.wall.Width
		}
		turn := 1
		if l.wall.Right == engine.InternalCorner {
			turn = -1
		}
		way, turns = way+turn, turns+turn
	}
	last := ring[0]
	for _, l := range ring {
		last = later(last, l)
	}
	off := max(abs(x), abs(z))
	if turns != 4 {
		r.ask(last, "Right edge", "plan-open", "The walls meet in a ring, but their corners do not turn once round", "Check which corners are external and which internal")
	} else if off > r.job.Rules.LevelTolerance {
		r.ask(last, "Width mm", "plan-open", fmt.Sprintf("The walls meet in a ring that stays open by %v mm", off), "Check the widths of the walls that face each other")
	}
}
