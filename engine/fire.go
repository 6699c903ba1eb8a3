package engine

import (
	"cmp"
	"fmt"
	"slices"

	"lapwright/engine/measure"
	"lapwright/engine/natural"
)

// Heights from which external walls of residential buildings may not use
// combustible materials such as timber battens: a storey at 18 m in England
// (Building Regulations 2010, regulation 7(2)), 11 m in Scotland. The
// building's own height is compared, which is never less.
const (
	combustibleEngland  = 18 * measure.Metre
	combustibleScotland = 11 * measure.Metre
)

// flagBattens sets timber battens against the building's height.
func (t *takeoff) flagBattens() {
	height := t.job.Wind.BuildingHeight
	const item = "Building height m"
	switch {
	case height == 0:
		t.jobFlag(Note, "building-height-missing", item, "the building's height is not given: the battens are not checked against the fire rules for tall buildings",
			"give it; from a storey at 11 m (Scotland) or 18 m (Building Regulations 7(2)) timber battens may not be used")
	case height >= combustibleEngland:
		t.jobFlag(Check, "battens-combustible", item, fmt.Sprintf("the building is %v m high: with a storey at 18 m or more the outside walls of a residential building may not have timber battens (Building Regulations 7(2); in Scotland from 11 m)", height.Metres()),
			"have the fire designer decide; take battens that do not burn")
	case height >= combustibleScotland:
		t.jobFlag(Check, "battens-combustible", item, fmt.Sprintf("the building is %v m high: in Scotland timber battens may not be used with a storey at 11 m or more; elsewhere the rules from 11 m ask for care", height.Metres()),
			"have the fire designer and the local code decide")
	}
}

// barriers measures where cavity barriers may be asked for, at openings,
// edges, compartment floors and compartment walls (Approved Document B volume
// 1, sections 5 and 8), and says that nothing else of the takeoff is one.
func (t *takeoff) barriers() {
	sums := map[[2]string]float64{}
	var keys [][2]string
	for i := range t.result.Walls {
		w := &t.result.Walls[i]
		for _, b := range t.wallBarriers(w, t.stands[i].face) {
			key := [2]string{w.Plot, b.Item}
			if _, ok := sums[key]; !ok {
				keys = append(keys, key)
			}
			sums[key] += b.Quantity * float64(w.Quantity)
		}
	}
	for _, k := range keys {
		t.result.Measured = append(t.result.Measured, Measured{Plot: k[0], Item: k[1], Unit: "m", Quantity: sums[k],
			Note: "where the fire design asks for one; not ordered"})
	}
	slices.SortStableFunc(t.result.Measured, func(a, b Measured) int { return natural.Compare(a.Plot, b.Plot) })
	f := Flag{Severity: Note, Code: "cavity-barriers",
		What: "cavity barriers are measured and not ordered: a vent strip is no cavity barrier, and barriers at the base and the top have to let the cavity breathe until there is a fire",
		Do:   "have the fire designer say where they go (Approved Document B, or the local code)"}
	if len(t.job.Storeys) == 0 {
		f.What += "; without storey heights none are measured at floors"
		f.Place = t.job.Origins["Storey heights m"]
	}
	t.result.Flags = append(t.result.Flags, f)
}

// wallBarriers returns the metres of possible cavity barriers of one wall.
func (t *takeoff) wallBarriers(w *WallResult, f *face) []Measured {
	var openings, floors, party float64
	for _, v := range w.Voids {
		x, z := v.Frame[0].Bounds()
		openings += 2 * (x.Length() + z.Length()).Metres()
	}
	for _, z := range t.job.Storeys {
		floors += f.widthAt(z).Metres()
	}
	for _, x := range w.Wall.Party {
		party += f.heightAt(x).Metres()
	}
	line := func(item string, metres float64) Measured {
		return Measured{Item: "cavity barrier, " + item, Quantity: metres}
	}
	all := []Measured{line("around openings", openings), line("at base and top", f.alongEdges()), line("at sides", f.atSides()),
		line("at floors", floors), line("at compartment walls", party)}
	return slices.DeleteFunc(all, func(m Measured) bool { return m.Quantity == 0 })
}

// alongEdges returns the metres of the base and the top of the clad face,
// along their slopes.
func (f *face) alongEdges() float64 {
	sum := 0.0
	for _, p := range []measure.Profile{f.base, f.cladTop} {
		for i := 1; i < len(p); i++ {
			if p[i].X > p[i-1].X {
				sum += measure.Distance(p[i-1], p[i]).Metres()
			}
		}
	}
	return sum
}

// atSides returns the metres of the sides at which the cavity ends; at a
// corner it goes on around it.
func (f *face) atSides() float64 {
	sum := 0.0
	for _, side := range []struct {
		edge Edge
		left bool
	}{{f.wall.Left, true}, {f.wall.Right, false}} {
		if side.edge != ExternalCorner && side.edge != InternalCorner {
			sum += max(0, f.sideHeight(side.left).Length()).Metres()
		}
	}
	return sum
}

// widthAt returns how much of the face stands at a height, openings left out.
func (f *face) widthAt(z measure.Length) measure.Length {
	var sum measure.Length
	for _, above := range f.cladTop.Above(z) {
		for _, s := range f.base.Below(z) {
			sum += f.solid(above.And(s), z)
		}
	}
	return sum
}

// solid returns how much of a stretch at a height is not opening.
func (f *face) solid(s measure.Span, z measure.Length) measure.Length {
	if s.Empty() {
		return 0
	}
	var cut []measure.Span
	for _, v := range f.voids {
		if x, zs := v.Frame[0].Bounds(); zs.Lo < z && z < zs.Hi {
			cut = append(cut, x)
		}
	}
	return remaining(s, cut)
}

// remaining returns how much of a span the cuts, in any order, leave.
func remaining(s measure.Span, cut []measure.Span) measure.Length {
	slices.SortFunc(cut, func(a, b measure.Span) int { return cmp.Compare(a.Lo, b.Lo) })
	var sum measure.Length
	for _, left := range measure.Less([]measure.Span{s}, cut) {
		sum += left.Length()
	}
	return sum
}

// heightAt returns how much of the face stands at x, openings left out.
func (f *face) heightAt(x measure.Length) measure.Length {
	x = min(max(x, f.span.Lo), f.span.Hi)
	z := measure.Span{Lo: f.base.At(x), Hi: f.cladTop.At(x)}
	var cut []measure.Span
	for _, v := range f.voids {
		if xs, zs := v.Frame[0].Bounds(); xs.Lo < x && x < xs.Hi {
			cut = append(cut, zs)
		}
	}
	return remaining(z, cut)
}
