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
	t.flagUnproven()
}

// centres returns the batten centres of a wall where no wind governs.
func (t *takeoff) centres(f *face) measure.Length {
	return f.wall.Centres.Or(t.rules.BattenCentres)
}

func (t *takeoff) blowOn(f *face, site wind.Site) {
	w := f.wall
	building := wind.Building{Height: t.job.Wind.BuildingHeight.Metres(), Depth: t.across(w).Metres()}
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
	f.wind, f.zones, f.assumed = a.Peak.Basis, nil, a.Reasons
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
	t.flagZones(f)
}

// across returns the building's size square to a wall's face: its depth, but
// behind an end wall its width. A wall is an end wall if its face is as long
// as the building is deep, to within a twentieth, and no nearer the width. 0:
// not known.
func (t *takeoff) across(w *Wall) measure.Length {
	depth, width := t.job.Wind.BuildingDepth, t.job.Wind.BuildingWidth
	face := w.FaceLength.Or(w.Width)
	off := func(size measure.Length) measure.Length { return max(face-size, size-face) }
	if depth > 0 && 20*off(depth) <= depth && (width == 0 || off(depth) < off(width)) {
		return width
	}
	return depth
}

// metres returns a length given in metres to the nearest millimetre.
func metres(m float64) measure.Length {
	return measure.Length(m * float64(measure.Metre)).Nearest(measure.Millimetre)
}

// spread chooses the widest batten centres at which the lapped courses and the
// top course of a zone both hold, no wider than the wall's own, and keeps the
// checks for the schedule.
func (t *takeoff) spread(f *face, z *Zone) {
	z.Centres = t.centres(f)
	tried := []measure.Length{z.Centres}
	for _, c := range t.rules.CentresTried {
		if c > 0 && c < z.Centres {
			tried = append(tried, c)
		}
	}
	field := t.hold(f, *z)
	solved := [2]fixing.Solution{}
	for i, h := range []fixing.Hold{field, t.topHold(f, *z, field)} {
		var err error
		if solved[i], err = fixing.Solve(h, tried); err != nil {
			f.flagOnce(Flag{Check, "fixing-not-checked", f.wall.Plot, f.wall.Name, f.wall.Origin.At("Batten centres mm"), err.Error(), "check what is declared"})
			return
		}
	}
	// Both stand on the same battens, at the closer of the two centres.
	lapped, top := solved[0], solved[1]
	switch {
	case lapped.Centres > top.Centres:
		lapped, _ = fixing.Solve(field, []measure.Length{top.Centres})
	case top.Centres > lapped.Centres:
		top, _ = fixing.Solve(t.topHold(f, *z, field), []measure.Length{lapped.Centres})
	}
	z.settle(lapped, top, solved[1].Centres < solved[0].Centres)
}

// settle takes over what was found for the lapped courses and the top course
// of a zone.
func (z *Zone) settle(lapped, top fixing.Solution, topGoverns bool) {
	z.Centres, z.lapped, z.top = lapped.Centres, lapped.Checks, top.Checks
	worst := lapped
	if topGoverns || weigh(top.Verdict) > weigh(lapped.Verdict) {
		worst = top
		z.Why = "top course, "
	}
	z.Why += worst.Why
	z.holds, z.verdict = lapped.Holds && top.Holds, lapped.Verdict
	if weigh(top.Verdict) > weigh(z.verdict) {
		z.verdict = top.Verdict
	}
}

// weigh orders verdicts from good to bad.
func weigh(v fixing.Verdict) int {
	return slices.Index([]fixing.Verdict{fixing.Passes, fixing.Estimate, fixing.NotChecked, fixing.Fails}, v)
}

// flagZones says of a wall's zones where nothing holds, and where battens stand
// closer than the wall asked for: one flag for each, its zones named.
func (t *takeoff) flagZones(f *face) {
	wide := t.centres(f)
	closer := Note
	if f.wall.Centres.Set {
		closer = Check
	}
	for _, kind := range []struct {
		severity       Severity
		code, what, do string
		is             func(Zone) bool
	}{
		{Check, "wind-fails", "nothing tried holds", "closer centres, another fixing or a designer's decision",
			func(z Zone) bool { return !z.holds && z.verdict != "" }},
		{closer, "centres-closer", "battens stand closer than the " + wide.String() + " mm asked for", "keep the closer centres, or declare a resistance that allows wider ones",
			func(z Zone) bool { return z.Centres < wide && (z.holds || z.verdict == "") }},
	} {
		if said := zonesSaid(f.zones, kind.is); said != "" {
			f.flag(f.wall, kind.severity, kind.code, "Batten centres mm", kind.what+": "+said, kind.do)
		}
	}
}

// zonesSaid lists zones, those of one name once.
func zonesSaid(zones []Zone, is func(Zone) bool) string {
	said, seen := "", []string{}
	for _, z := range zones {
		if !is(z) || slices.Contains(seen, z.Name) {
			continue
		}
		if seen = append(seen, z.Name); said != "" {
			said += "; "
		}
		said += fmt.Sprintf("zone %s, %.0f Pa, battens at %v mm: %s", z.Name, z.Suction, z.Centres, z.Why)
	}
	return said
}

// flagBays says where given studs stand farther apart than the wind allows.
func (f *face) flagBays(over []measure.Span) {
	for _, bay := range over {
		f.flagOnce(Flag{Check, "bay-wide", f.wall.Plot, f.wall.Name, f.wall.Origin.At("Studs mm"),
			fmt.Sprintf("%d bays between studs are wider than the batten centres that hold, the first from %v to %v mm", len(over), bay.Lo, bay.Hi),
			"add studs or noggings, or battens between"})
	}
}
