package fixing

import (
	"fmt"
	"slices"

	"lapwright/engine/measure"
)

// Seat is what a board screw goes through and into.
type Seat struct {
	Board  measure.Length // thickness
	Edge   measure.Length // from the board's top edge down to the fixing
	Gauge  measure.Length // of the courses; 0: the board lies flat
	Behind measure.Length // tape or packer between board and batten
	Batten measure.Length // depth

	Penetration measure.Length // least length in the batten, declared; 0: 6 diameters
	Spare       measure.Length // timber left beyond the point; 0: 5 mm (common practice)
}

// tilt returns the gap behind the board at its fixing, rounded up. The board's
// top edge lies on the batten and one gauge below it its back rests on the
// board beneath, one thickness out.
func (s Seat) tilt() measure.Length {
	if s.Gauge <= 0 {
		return 0
	}
	return (s.Board*s.Edge + s.Gauge - 1) / s.Gauge
}

// Range returns the lengths under the head at which a screw of the given
// diameter reaches far enough into the batten and stays inside it: least with
// the gap that the board's tilt leaves, most with the board drawn flat. The
// penetration is the declared one, but never less than 6 diameters, which EN
// 1995-1-1 8.7.2(3) asks of a screw. It is an error if a size is missing or
// negative, or if no length will do.
func (s Seat) Range(diameter measure.Length) (measure.Span, error) {
	if s.Board <= 0 || s.Batten <= 0 || diameter <= 0 || min(s.Edge, s.Gauge, s.Behind, s.Penetration, s.Spare) < 0 {
		return measure.Span{}, fmt.Errorf("board %v, batten %v, diameter %v mm: a screw's length needs all three above 0, and nothing below 0", s.Board, s.Batten, diameter)
	}
	spare := s.Spare
	if spare == 0 {
		spare = 5 * measure.Millimetre
	}
	reach := max(s.Penetration, 6*diameter)
	r := measure.Span{Lo: s.Board + s.Behind + s.tilt() + reach, Hi: s.Board + s.Behind + s.Batten - spare}
	if r.Lo > r.Hi {
		return r, fmt.Errorf("no length will do: %v mm in the batten needs at least %v mm, a %v mm batten allows %v: use a deeper batten or a thinner screw", reach, r.Lo, s.Batten, r.Hi)
	}
	return r, nil
}

// Reach returns how far into the batten a screw of the given length under the
// head is sure to go: with the gap that the board's tilt leaves, and no deeper
// than the batten is. It is 0 for a screw that does not get there.
func (s Seat) Reach(length measure.Length) measure.Length {
	return min(max(0, length-s.Board-s.Behind-s.tilt()), s.Batten)
}

// Fits says what is wrong with a screw of the given diameter and length under
// the head: what else it must be, or what must be declared for it. Nothing is
// wrong if the list is empty.
func (s Seat) Fits(diameter, length measure.Length) []string {
	var wrong []string
	r, err := s.Range(diameter)
	switch {
	case err != nil:
		wrong = append(wrong, err.Error())
	case length < r.Lo:
		wrong = append(wrong, fmt.Sprintf("%v mm is too short: at least %v mm", length, r.Lo.UpTo(measure.Millimetre/10)))
	case length > r.Hi:
		wrong = append(wrong, fmt.Sprintf("%v mm is too long and may come out of the batten's back: at most %v mm", length, r.Hi.DownTo(measure.Millimetre/10)))
	}
	if mm := measure.Millimetre; diameter < 6*mm || diameter > 12*mm {
		wrong = append(wrong, fmt.Sprintf("its withdrawal must be declared: EN 1995-1-1 8.7.2 holds for 6 to 12 mm, not %v mm", diameter))
	}
	return wrong
}

// Along returns how many fixings a length takes at centres no wider than
// those given: one at each end and whole centres between,
// ceil(length/centres) + 1, so at least two. Nothing to fix takes none. It is
// an error if the length is negative or the centres are not above 0.
func Along(length, centres measure.Length) (int, error) {
	if length < 0 || centres <= 0 {
		return 0, fmt.Errorf("fixings at %v mm centres along %v mm: want centres above 0 and a length not below", centres, length)
	}
	if length == 0 {
		return 0, nil
	}
	return int((length+centres-1)/centres) + 1, nil
}

// Across returns where a strip is fixed that can be fixed only to the battens it
// crosses, at the places given: to the outermost and to as many of those between as
// keep the centres; where battens stand farther apart than those, to each. On a
// single batten it has two fixings, none where it crosses none. Centres of 0 or less
// mean every batten.
func Across(battens []measure.Length, centres measure.Length) []measure.Length {
	places := slices.Compact(slices.Sorted(slices.Values(battens)))
	if len(places) < 2 {
		return append(places, places...)
	}
	out := places[:1]
	for i := 1; i < len(places); i++ {
		if last := i == len(places)-1; last || places[i+1]-out[len(out)-1] > centres {
			out = append(out, places[i])
		}
	}
	return out
}
