package engine

import (
	"fmt"
	"slices"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
	"lapwright/engine/wind"
)

// windSite returns the wind climate of the job, and whether any is given.
func (t *takeoff) windSite() (wind.Site, bool) {
	w := t.job.Wind
	s := wind.Site{Velocity: w.BasicVelocity, Terrain: w.Terrain, Density: w.AirDensity, Given: w.PeakPressure, Source: w.PressureSource}
	return s, s.Given > 0 || (s.Velocity > 0 && s.Terrain != "")
}

// blow finds the zones of every wall, their suctions and the batten centres
// that hold in each. Without any wind given, each wall is one zone, unchecked.
func (t *takeoff) blow() {
	site, given := t.windSite()
	if !given {
		t.jobFlag(Check, "wind-not-given", "Peak velocity pressure Pa",
			"no wind pressure is given: fixings and batten centres are not checked",
			"give a peak velocity pressure with its source, or the basic velocity, terrain category and building height")
	}
	for _, f := range t.faces {
		if !f.covered() {
			continue
		}
		f.zones = []Zone{{X: f.span, Centres: t.centres(f)}}
		if given {
			t.blowOn(f, site)
		}
	}
}

// centres returns the batten centres of a wall where no wind governs.
func (t *takeoff) centres(f *face) measure.Length {
	return f.wall.Centres.Or(t.rules.BattenCentres)
}

func (t *takeoff) blowOn(f *face, site wind.Site) {
	w := f.wall
	building := wind.Building{Height: t.job.Wind.BuildingHeight.Metres(), Depth: t.job.Wind.BuildingDepth.Metres()}
	place := wind.Face{
		Length: w.FaceLength.Value.Metres(), From: w.FaceLeft.Value.Metres(), Placed: w.FaceLeft.Set, Width: w.Width.Metres(),
		PartyLeft: slices.Contains(w.Party, 0), PartyRight: slices.Contains(w.Party, w.Width),
	}
	a, err := wind.Assess(site, place, building, wind.Options{})
	if err != nil {
		f.flag(w, Check, "wind-not-checked", "Face length mm", "the wind on this wall could not be worked out: "+err.Error(),
			"give the building's height and depth and the wall's place in its face")
		return
	}
	for _, reason := range a.Reasons {
		f.flag(w, Note, "wind-assumed", "Face length mm", reason, "give the missing value to have it reckoned exactly")
	}
	f.wind, f.zones = a.Peak.Basis, nil
	t.result.Wind = WindResult{Checked: true, Pressure: a.Peak.Pressure, Basis: a.Peak.Basis}
	for i, load := range a.Loads {
		z := Zone{Name: string(load.Zone), Suction: load.Suction, Pressure: load.Pressure,
			X: measure.Span{Lo: metres(load.From), Hi: metres(load.To)}}
		if i == 0 {
			z.X.Lo = f.span.Lo
		}
		if i == len(a.Loads)-1 {
			z.X.Hi = f.span.Hi
		}
		t.spread(f, &z)
		f.zones = append(f.zones, z)
	}
}

// metres returns a length given in metres to the nearest millimetre.
func metres(m float64) measure.Length {
	return measure.Length(m * float64(measure.Metre)).Nearest(measure.Millimetre)
}

// spread chooses the widest batten centres that hold in a zone, no wider than
// the wall's own, and keeps the checks for the schedule.
func (t *takeoff) spread(f *face, z *Zone) {
	z.Centres = t.centres(f)
	var tried []measure.Length
	for _, c := range t.rules.CentresTried {
		if c < z.Centres {
			tried = append(tried, c)
		}
	}
	solution, err := fixing.Solve(t.hold(f, *z), append([]measure.Length{z.Centres}, tried...))
	if err != nil {
		f.flag(f.wall, Check, "fixing-not-checked", "Batten centres mm", err.Error(), "check what is declared")
		return
	}
	z.Centres, z.checks, z.Why = solution.Centres, solution.Checks, solution.Why
	switch {
	case !solution.Holds:
		f.flag(f.wall, Check, "wind-fails", "Batten centres mm",
			fmt.Sprintf("in zone %s (%.0f Pa) nothing tried holds: %s", z.Name, z.Suction, solution.Why),
			"closer centres, another fixing or a designer's decision")
	case solution.Verdict != fixing.Passes:
		f.flag(f.wall, Check, "wind-"+dashed(string(solution.Verdict)), "Batten centres mm",
			fmt.Sprintf("in zone %s (%.0f Pa) the fixing is not proven: %s", z.Name, z.Suction, solution.Why),
			"declare a resistance of the system with its source, or ask a competent designer")
	}
}

func dashed(s string) string {
	out := []byte(s)
	for i := range out {
		if out[i] == ' ' {
			out[i] = '-'
		}
	}
	return string(out)
}

// hold states one zone for its checks: loads, and all that is declared.
func (t *takeoff) hold(f *face, z Zone) fixing.Hold {
	h := fixing.Hold{
		Suction: z.Suction, Pressure: z.Pressure, Gauge: f.gaugeMost(), Lap: f.lapLeast(),
		Edge: t.rules.EdgeDistance, Thickness: t.board.Thickness,
		Fixing: t.catalogue.pick(RoleScrew, "").Code, Spacing: t.rules.BattenFixing,
	}
	if v, source := t.number(declSystem); v > 0 {
		name, _ := t.declared(declSystemFixing)
		h.Systems = []fixing.System{{Resistance: v, Lap: t.length(declSystemLap), Centres: t.length(declSystemSpan), Fixing: name.Value, Source: source}}
	}
	h.PullThrough = t.strength(declPullThrough)
	h.Withdrawal = t.withdrawal()
	h.PullOut = t.strength(declBattenHold)
	class, source := t.number(declClass)
	h.BendingClass, h.BendingSource = int(class), source
	if v, source := t.number(declBending); v > 0 {
		h.Bending, h.BendingSource = v, source
	}
	return h
}

func (t *takeoff) strength(item string) fixing.Strength {
	v, source := t.number(item)
	return fixing.Strength{Design: v, Basis: source}
}

// withdrawal returns the declared withdrawal of the board screw, else what the
// clause gives for its declared diameter in the named timber, else nothing.
func (t *takeoff) withdrawal() fixing.Strength {
	if s := t.strength(declWithdrawal); s.Design > 0 {
		return s
	}
	density, _ := t.number(declTimber)
	screw := fixing.Fastener{Diameter: t.length(declDiameter), Penetration: t.penetration()}
	s, err := screw.Withdrawal(fixing.Timber{Class: t.job.Wind.TimberClass, Density: density})
	if err != nil {
		return fixing.Strength{Basis: err.Error()}
	}
	return s
}

// penetration returns how far the board screw reaches into the batten.
func (t *takeoff) penetration() measure.Length {
	return max(0, t.catalogue.pick(RoleScrew, "").Length-t.board.Thickness)
}

// gaugeMost and lapLeast return the worst course for a fixing's load.
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

func (f *face) lapLeast() measure.Length { return f.width - f.gaugeMost() }
