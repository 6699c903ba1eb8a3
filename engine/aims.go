package engine

import (
	"slices"
	"sort"

	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// aim is what a target of a level line stands for.
type aim struct {
	face    *face
	opening *Opening // nil: the wall's own base, top or pin
}

// wish is all that a wall would like its course lines to meet, whoever it
// shares them with.
type wish struct {
	*face
	start, end measure.Length   // where its boards begin if nothing else governs, and how far they go up
	targets    []courses.Target // bases among them count only above the line's start
	openings   []*Opening       // what each target is of, as in [aim]
}

func (t *takeoff) wishOf(f *face) wish {
	n := 4 + 2*len(f.voids)
	w := wish{face: f, start: t.start(f), end: f.cladTop.Most(f.span),
		targets: make([]courses.Target, 0, n), openings: make([]*Opening, 0, n)}
	f.aims(t.rules, func(o *Opening, c courses.Target) {
		c.Count = max(1, f.wall.Quantity)
		w.targets, w.openings = append(w.targets, c), append(w.openings, o)
	})
	return w
}

// aims adds all that a wall would like its course lines to meet.
func (f *face) aims(r Rules, add func(*Opening, courses.Target)) {
	f.aimBase(add)
	f.aimOpenings(add)
	f.aimTop(r, add)
	if f.wall.PinMark.Set {
		add(nil, courses.Target{Kind: courses.Pin, At: f.wall.PinMark.Value})
	}
}

// aimBase aims at the board levels given for the base, and at level stretches
// of a roof that boards stand over, but not at bare ground.
func (f *face) aimBase(add func(*Opening, courses.Target)) {
	var seen []measure.Length
	for i, v := range f.ground {
		level := i > 0 && f.ground[i-1].Z == v.Z
		if level && (!f.raised || f.wall.Bottom == Roof) && !slices.Contains(seen, v.Z) {
			seen = append(seen, v.Z)
			add(nil, courses.Target{Kind: courses.Base, At: v.Z})
		}
	}
}

// floor returns the height below which the wall has no board over a stretch of
// it. Above a sloping roof, to which boards are cut, they begin wherever their
// course does.
func (f *face) floor(x measure.Span) measure.Length {
	if f.cutBase() {
		return 0
	}
	return f.ground.Most(x.And(f.span))
}

// aimOpenings aims at the sill and the head of every opening.
func (f *face) aimOpenings(add func(*Opening, courses.Target)) {
	for _, v := range f.voids {
		keep := v.Keep[0]
		limit := f.cladTop.Least(keep.X.And(f.span))
		common := courses.Target{Limit: limit, Floor: f.floor(keep.X), Sawing: keep.X.Length()}
		if sill := keep.Z.Lo; sill > f.ground.Least(keep.X) && sill < limit {
			c := common
			c.Kind, c.At, c.Surveyed = courses.Sill, sill, v.Opening.Sill
			add(v.Opening, c)
		}
		if head := keep.Z.Hi; head < limit {
			c := common
			c.Kind, c.At, c.Surveyed = courses.Head, head, v.Opening.Sill+v.Opening.Height
			add(v.Opening, c)
		}
	}
}

// lastTriangle is the least width of the last board at an apex: room for two
// fixings clear of both cut edges (common practice).
const lastTriangle = 300 * measure.Millimetre

// aimTop aims at a full board under every level stretch of the top; at a slope
// it aims at the eaves and keeps the last triangle large enough.
func (f *face) aimTop(r Rules, add func(*Opening, courses.Target)) {
	top, gap := f.cladTop, r.topGap(f.wall.Top)
	var seen []measure.Length
	sloped := false
	for i := 1; i < len(top); i++ {
		a, b := top[i-1], top[i]
		switch {
		case a.X == b.X:
		case a.Z != b.Z:
			sloped = true
			if at := min(a.Z, b.Z); !slices.Contains(seen, at) {
				seen = append(seen, at)
				add(nil, courses.Target{Kind: courses.Eaves, At: at.DownTo(measure.Millimetre), Surveyed: surveyedEaves(f.wall, at+gap), Side: eavesSide(top, a.Z < b.Z)})
			}
		case !slices.Contains(seen, a.Z):
			seen = append(seen, a.Z)
			add(nil, courses.Target{Kind: courses.Top, At: a.Z, Surveyed: a.Z + gap, Sawing: b.X - a.X})
		}
	}
	if sloped {
		add(nil, courses.Target{Kind: courses.Apex, At: top.Most(f.span), Least: f.apexLeast(r)})
	}
}

// eavesSide returns on which side the eaves below a rising or falling slope are,
// where the top has one of each, not at one height; else nothing.
func eavesSide(top measure.Profile, rising bool) string {
	var left, right []measure.Length
	for i := 1; i < len(top); i++ {
		switch a, b := top[i-1], top[i]; {
		case a.X < b.X && a.Z < b.Z:
			left = append(left, a.Z)
		case a.X < b.X && a.Z > b.Z:
			right = append(right, b.Z)
		}
	}
	switch {
	case len(left) != 1 || len(right) != 1 || left[0] == right[0]:
		return ""
	case rising:
		return "left"
	}
	return "right"
}

// apexLeast returns the least height of the board at the highest point of a
// sloped top: where the top is lastTriangle wide, and no less than a strip.
func (f *face) apexLeast(r Rules) measure.Length {
	peak := f.cladTop.Most(f.span)
	wide := func(h measure.Length) bool {
		var sum measure.Length
		for _, s := range f.cladTop.Above(peak - h) {
			sum += s.Length()
		}
		return sum >= lastTriangle
	}
	if f.width <= r.StripLeast {
		return r.StripLeast
	}
	// The lower, the wider: the first whole millimetre up from a strip's.
	more := int((f.width - r.StripLeast).UpTo(measure.Millimetre) / measure.Millimetre)
	return r.StripLeast + measure.MM(int64(sort.Search(more, func(mm int) bool { return wide(r.StripLeast + measure.MM(int64(mm))) })))
}

// surveyedEaves returns the height of the survey that eaves at a height stem from:
// boards meet them a little off the wall's edge, the nearest height given is meant
// if one is near.
func surveyedEaves(w *Wall, at measure.Length) measure.Length {
	const near = 100 * measure.Millimetre
	given := []measure.Length{w.Height, w.HeightRight.Or(w.Height)}
	for _, p := range w.TopProfile {
		given = append(given, p.Z)
	}
	best := at
	for _, h := range given {
		off := max(h-at, at-h)
		if off <= near && (best == at || off < max(best-at, at-best)) {
			best = h
		}
	}
	return best
}
