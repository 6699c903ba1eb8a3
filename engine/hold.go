package engine

import (
	"cmp"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// hold states the courses of one zone that the next course laps: loads, and
// all that is declared.
func (t *takeoff) hold(f *face, z Zone) fixing.Hold {
	screw := t.catalogue.pick(RoleScrew, "")
	h := fixing.Hold{
		Suction: z.Suction, Pressure: z.Pressure, Gauge: f.gaugeMost(), Lap: f.lapLeast(),
		Edge: t.rules.EdgeDistance, Thickness: t.board.Thickness,
		Fixing: screw.Code, Shallow: t.shallow(f, screw), Spacing: t.rules.BattenFixing,
		Systems: t.system(), PullThrough: t.pullThrough(), Withdrawal: t.withdrawal(f, screw), PullOut: t.pullOut(f.wall),
	}
	class, source := t.number(declClass)
	h.BendingClass, h.BendingSource = int(class), source
	if v, source := t.number(declBending); v > 0 {
		h.Bending, h.BendingSource = v, source
	}
	if factor, _ := t.number(declBoardFactor); factor >= 1 {
		h.BendingFactor = factor
	}
	return h
}

// topHold states the top course, and any board that no other laps: its whole
// face is out in the wind. A system declared for a lapped course counts with
// the face it was declared on, board width less lap, over the whole width:
// less than a board turning about its top edge would lose.
func (t *takeoff) topHold(f *face, z Zone, field fixing.Hold) fixing.Hold {
	h := field
	screw := t.visibleScrew(f)
	h.Gauge, h.Fixing, h.Shallow, h.Systems = f.width, screw.Code, t.shallow(f, screw), nil
	for _, s := range field.Systems {
		suits := field.Lap >= s.Lap && (s.Fixing == "" || s.Fixing == h.Fixing)
		if face := f.width - s.Lap; suits && face > 0 {
			s.Declared, s.Resistance = s.Resistance, s.Resistance*face.Metres()/f.width.Metres()
			h.Systems = append(h.Systems, s)
		}
	}
	if len(h.Systems) == 0 {
		h.Lap = 0
	}
	return h
}

// visibleScrew returns the screw that holds a wall's boards where it stays in
// sight, as far as that does not depend on the dwelling; none is not noted as
// missing before one is placed.
func (t *takeoff) visibleScrew(f *face) Product {
	if lines := t.catalogue.all(RoleVisibleScrew, cmp.Or(f.wall.Colour, t.job.Colour)); len(lines) > 0 {
		return lines[0]
	}
	return Product{}
}

// gaugeMost, gaugeLeast and lapLeast return the worst course for a fixing: the
// widest gauge for its load, the closest for the tilt of its board.
func (f *face) gaugeMost() measure.Length {
	var g measure.Length
	for _, c := range f.courses {
		g = max(g, c.Gauge)
	}
	if g == 0 {
		return f.width
	}
	return g
}

func (f *face) gaugeLeast() measure.Length {
	g := f.gaugeMost()
	for _, c := range f.courses {
		if c.Gauge > 0 {
			g = min(g, c.Gauge)
		}
	}
	return g
}

func (f *face) lapLeast() measure.Length { return f.width - f.gaugeMost() }
