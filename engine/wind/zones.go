package wind

import (
	"fmt"
	"slices"
)

// slack is how far, in metres, a wall may run past its face before the two are
// called contradictory: both are surveyed to a millimetre or worse.
const slack = 0.05

// Face is a wall's place in plan. The face is the whole flat side of the
// building that the wall belongs to (of a terrace, the terrace's); the wind
// that sucks at it blows along it, from either end.
type Face struct {
	Length float64 // of the whole face, m; 0: not known
	From   float64 // of the wall's left edge from the face's left end, m
	Placed bool    // From is known
	Width  float64 // of the wall, m, above 0

	// The wall's edge is a party line: the face goes on beyond it.
	PartyLeft, PartyRight bool
}

// Building is what the zones need of the whole building. 0: not known.
type Building struct {
	Height float64 // h, from the ground to the top of the roof, m
	Depth  float64 // across the face: b of the wind along it, m
}

// Strip is a part of a wall in one zone, in metres from the wall's left edge.
type Strip struct {
	Zone     Zone
	From, To float64
}

// strips divides a wall into zones A, B and C: EN 1991-1-4 figure 7.5. The
// wind comes from either end, so each point takes the worse of the two zones
// it falls in. Strips cover the wall from left to right without a gap, and no
// two neighbours are of one zone.
//
// What is not known is taken at its worse, down to the whole wall in A, and
// each such assumption is one of the reasons returned.
func (f Face) strips(b Building) ([]Strip, []string, error) {
	if err := f.check(b); err != nil {
		return nil, nil, err
	}
	e, reasons := edge(b)
	if e == 0 {
		return f.whole(ZoneA), reasons, nil
	}
	ends, why, known := f.ends(e)
	reasons = append(reasons, why...)
	if !known {
		return f.whole(ZoneA), reasons, nil
	}
	if f.Length > 0 && b.Height > slenderMost*f.Length {
		reasons = append(reasons, "the building is more than 5 times as high as this face is long, beyond EN 1991-1-4 table 7.1: the whole wall is taken as zone A")
		return f.whole(ZoneA), reasons, nil
	}
	return f.divide(e, ends), reasons, nil
}

func (f Face) check(b Building) error {
	for _, v := range []float64{f.Length, f.From, b.Height, b.Depth} {
		if !(v >= 0 && v < 1e5) {
			return fmt.Errorf("face or building size %g m is not between 0 and 100 km", v)
		}
	}
	if !(f.Width > 0 && f.Width < 1e5) {
		return fmt.Errorf("wall width %g m is not above 0", f.Width)
	}
	if f.Length > 0 && f.From+f.Width > f.Length+slack {
		return fmt.Errorf("the wall ends %.3f m from the left end of a face only %.3f m long", f.From+f.Width, f.Length)
	}
	return nil
}

// edge returns e = min(b, 2h) of EN 1991-1-4 figure 7.5 in metres. Each of the
// two bounds e from above, and a longer e is never better, so one alone will
// do; 0 if neither is known.
func edge(b Building) (float64, []string) {
	switch {
	case b.Height == 0 && b.Depth == 0:
		return 0, []string{"neither height nor depth of the building is known: the whole wall is taken as zone A"}
	case b.Depth == 0:
		return 2 * b.Height, []string{"the building's depth is not known: the zones are reckoned with e = 2h"}
	case b.Height == 0:
		return b.Depth, []string{"the building's height is not known: the zones are reckoned with e = b"}
	}
	return min(b.Depth, 2*b.Height), nil
}

// end is one end of a face as the wall sees it: how far it lies outside the
// wall's own edge, and whether the wind meets it free.
type end struct {
	beyond float64
	free   bool
}

// ends places the two ends of the face. known is false where they cannot be
// placed on the safe side without putting the whole wall in A.
func (f Face) ends(e float64) (ends [2]end, reasons []string, known bool) {
	from, placed := f.From, f.Placed
	if f.Length > 0 && f.Width >= f.Length-slack {
		from, placed = 0, true // the wall is the face
	}
	if f.Length > 0 && placed {
		right := max(0, f.Length-from-f.Width)
		ends = [2]end{{from, from > 0 || !f.PartyLeft}, {right, right > 0 || !f.PartyRight}}
		if !ends[0].free || !ends[1].free {
			reasons = append(reasons, fmt.Sprintf("the face ends at a party line: give the length of the whole row; until then the row is taken to go on by at least %.1f m", e/5))
		}
		return ends, reasons, true
	}
	missing := "the length of the whole face is not known"
	if f.Length > 0 {
		missing = "the wall's place in its face is not known"
	}
	if !f.PartyLeft && !f.PartyRight {
		return ends, []string{missing + ": the whole wall is taken as zone A"}, false
	}
	ends = [2]end{{0, !f.PartyLeft}, {0, !f.PartyRight}}
	return ends, []string{fmt.Sprintf("%s: no zone A at a party line, the row being taken to go on by at least %.1f m", missing, e/5)}, true
}

// divide cuts the wall at every border of a zone.
func (f Face) divide(e float64, ends [2]end) []Strip {
	cuts := []float64{0, f.Width}
	for _, far := range []float64{e / 5, e} {
		for _, x := range []float64{far - ends[0].beyond, f.Width + ends[1].beyond - far} {
			if x > 0 && x < f.Width {
				cuts = append(cuts, x)
			}
		}
	}
	slices.Sort(cuts)
	var out []Strip
	for i := 1; i < len(cuts); i++ {
		mid := (cuts[i-1] + cuts[i]) / 2
		zone := min(ends[0].zone(mid, e), ends[1].zone(f.Width-mid, e)) // A before B before C
		if n := len(out); n > 0 && out[n-1].Zone == zone {
			out[n-1].To = cuts[i]
		} else if cuts[i] > cuts[i-1] {
			out = append(out, Strip{zone, cuts[i-1], cuts[i]})
		}
	}
	return out
}

// zone returns the zone at a distance in metres inside the wall's edge, for
// the wind that meets this end first. A row that goes on unseen beyond a party
// line has spent its zone A there, not its B.
func (d end) zone(inside, e float64) Zone {
	switch from := d.beyond + inside; {
	case from < e/5 && d.free:
		return ZoneA
	case from < e:
		return ZoneB
	}
	return ZoneC
}

func (f Face) whole(zone Zone) []Strip { return []Strip{{zone, 0, f.Width}} }
