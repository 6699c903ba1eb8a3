package wind

import (
	"fmt"
	"math"
)

// Load is the wind on one strip of a wall.
type Load struct {
	Strip
	Suction  float64 // pulling the boards off, Pa, positive
	Pressure float64 // pressing them on, Pa, positive
}

// Band is the wind pressing on one height of the wall it blows against, in
// metres above ground.
type Band struct {
	From, To float64
	Peak     Peak    // at the band's reference height
	Pressure float64 // Pa, positive
}

// Assessment is the wind on one wall.
type Assessment struct {
	Peak    Peak     // at the top of the building
	Loads   []Load   // from left to right, covering the wall
	Bands   []Band   // from the ground up; one where the face length is not known
	Reasons []string // assumptions made for want of data, all on the safe side; empty: none
}

// Options are the choices of an assessment. The zero value is on the safe
// side: 1 m2 and the onerous inside.
type Options struct {
	Area   float64 // loaded area in m2; 0: 1 m2, cpe,1, which is for fixings and small elements (EN 1991-1-4 7.2.1)
	Inside Inside
}

// Assess returns the wind on a wall of a building: the suction on each of its
// strips and the pressure over its height.
//
// Suction is that of zones A, B and C at the reference height h, as EN
// 1991-1-4 7.2.2(1) recommends for side and leeward walls, or of zone E where
// that is worse, as it is than C on a building higher than deep. Pressure is
// that of zone D, at each height in Bands and at its greatest in Loads.
//
// It is an error if the height is not known and no peak pressure is given, if
// it lies outside the clauses, if the building is more than 5 times as high as
// deep (table 7.1), or if wall and face contradict each other.
func Assess(s Site, f Face, b Building, o Options) (Assessment, error) {
	var a Assessment
	if o.Area == 0 {
		o.Area = 1
	}
	strips, reasons, err := f.strips(b)
	if err != nil {
		return a, err
	}
	if a.Peak, err = s.Peak(b.Height); err != nil {
		return a, err
	}
	if a.Bands, err = s.bands(f, b, o); err != nil {
		return a, err
	}
	a.Reasons = reasons
	if s.Given != 0 && s.Source == "" {
		a.Reasons = append(a.Reasons, "the peak velocity pressure is given without a source")
	}
	slender, _ := slenderness(b)
	behind, err := coefficient(ZoneE, slender, o.Area)
	if err != nil {
		return a, err
	}
	for _, st := range strips {
		along, err := coefficient(st.Zone, slender, o.Area)
		if err != nil {
			return a, err
		}
		suction := a.Peak.Pressure * o.Inside.suction(min(along, behind))
		a.Loads = append(a.Loads, Load{st, suction, a.Bands[len(a.Bands)-1].Pressure})
	}
	return a, nil
}

// slenderness returns h/d for the wind across the face: what zones D and E
// depend on. Where it is not known it is the worst of the table.
func slenderness(b Building) (float64, error) {
	if b.Depth == 0 || b.Height == 0 {
		return slenderMost, nil
	}
	if v := b.Height / b.Depth; v <= slenderMost {
		return v, nil
	}
	return 0, fmt.Errorf("a building %g m high and %g m deep is beyond h/d = %d (EN 1991-1-4 table 7.1)", b.Height, b.Depth, slenderMost)
}

// bands returns the pressures of zone D over the height.
func (s Site) bands(f Face, b Building, o Options) ([]Band, error) {
	slender, err := slenderness(b)
	if err != nil {
		return nil, err
	}
	against, err := coefficient(ZoneD, slender, o.Area)
	if err != nil {
		return nil, err
	}
	var out []Band
	for _, at := range heights(b.Height, f.Length) {
		peak, err := s.Peak(at[1])
		if err != nil {
			return nil, err
		}
		out = append(out, Band{at[0], at[1], peak, peak.Pressure * o.Inside.pressure(against)})
	}
	return out, nil
}

// heights divides a windward wall of height h and breadth b in metres into
// bands, each a from and a to that is also its reference height: EN 1991-1-4
// figure 7.4. Up to h = b there is one band; up to h = 2b two, of b and of the
// rest; beyond, one of b at the foot, one of b at the top and equal ones of at
// most b between. A breadth of 0 is not known and makes one band, and so does a
// height of more than 5 breadths, where table 7.1 ends: on the safe side.
func heights(h, b float64) [][2]float64 {
	if b == 0 || h <= b || h > slenderMost*b {
		return [][2]float64{{0, h}}
	}
	if h <= 2*b {
		return [][2]float64{{0, b}, {b, h}}
	}
	out := [][2]float64{{0, b}}
	n := int(math.Ceil((h - 2*b) / b))
	step := (h - 2*b) / float64(n)
	for i := range n {
		out = append(out, [2]float64{b + float64(i)*step, b + float64(i+1)*step})
	}
	return append(out, [2]float64{h - b, h})
}
