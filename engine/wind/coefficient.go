package wind

import (
	"fmt"
	"math"
)

// Zone is a part of a building's walls in EN 1991-1-4 figure 7.5.
type Zone string

// The zones: A, B and C follow one another along a wall that the wind blows
// along, A at the end the wind meets first; D is the wall the wind blows
// against, E the one behind the building.
const (
	ZoneA Zone = "A"
	ZoneB Zone = "B"
	ZoneC Zone = "C"
	ZoneD Zone = "D"
	ZoneE Zone = "E"
)

// slenderMost is the last h/d of EN 1991-1-4 table 7.1.
const slenderMost = 5

// coefficient returns cpe of a zone for a loaded area in m2 and the building's
// height over its depth along the wind: EN 1991-1-4 table 7.1, linear in h/d
// between its rows. It is an error if the zone is none, if h/d is not between
// 0 and 5 or if the area is not above 0.
func coefficient(zone Zone, slender, area float64) (float64, error) {
	if !(slender >= 0 && slender <= slenderMost) {
		return 0, fmt.Errorf("h/d %.3g is not between 0 and %d (EN 1991-1-4 table 7.1)", slender, slenderMost)
	}
	if !(area > 0) {
		return 0, fmt.Errorf("a loaded area of %g m2 is none", area)
	}
	switch zone {
	case ZoneA:
		return byArea(-1.4, -1.2, area), nil
	case ZoneB:
		return byArea(-1.1, -0.8, area), nil
	case ZoneC:
		return -0.5, nil
	case ZoneD:
		return byArea(1.0, bySlenderness(slender, 0.7, 0.8, 0.8), area), nil
	case ZoneE:
		return bySlenderness(slender, -0.3, -0.5, -0.7), nil
	}
	return 0, fmt.Errorf("zone %q is none of A, B, C, D, E", zone)
}

// byArea is EN 1991-1-4 figure 7.2: cpe,1 up to 1 m2, cpe,10 from 10 m2,
// between them linear in the logarithm of the area.
func byArea(one, ten, area float64) float64 {
	return one - (one-ten)*math.Log10(min(max(area, 1), 10))
}

// bySlenderness is linear between the values at h/d of 0.25, 1 and 5.
func bySlenderness(slender, squat, even, tall float64) float64 {
	switch {
	case slender <= 0.25:
		return squat
	case slender <= 1:
		return squat + (even-squat)*(slender-0.25)/0.75
	}
	return even + (tall-even)*(slender-1)/4
}

// Inside says what acts on the back of the cladding.
type Inside int

// What may be reckoned with behind the boards.
const (
	// Onerous is the worse of cpi = +0.2 and -0.3: EN 1991-1-4 7.2.9(6)
	// note 2, for openings that are not known. The default.
	Onerous Inside = iota
	// ExternalOnly leaves the inside out: for a wall behind the cladding that
	// is itself airtight, on a designer's decision.
	ExternalOnly
	// Equalised is a ventilated cavity before an airtight wall: a third of the
	// suction, two thirds of the pressure, EN 1991-1-4 7.2.10(3) (from memory).
	// It holds only for a cavity thinner than 100 mm that is closed at the
	// building's corners, behind a skin open evenly all over; it is never taken
	// unless named.
	Equalised
)

// suction returns the net coefficient pulling the cladding off, positive, for
// the external coefficient of a zone under suction.
func (in Inside) suction(cpe float64) float64 {
	switch in {
	case ExternalOnly:
		return -cpe
	case Equalised:
		return -cpe / 3
	}
	return 0.2 - cpe
}

// pressure returns the net coefficient pressing the cladding on.
func (in Inside) pressure(cpe float64) float64 {
	switch in {
	case ExternalOnly:
		return cpe
	case Equalised:
		return cpe * 2 / 3
	}
	return cpe + 0.3
}
