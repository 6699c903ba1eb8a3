package trims

import "lapwright/engine/measure"

// Seats are the places along a line that its joints go by, as distances from the
// line's start.
type Seats struct {
	On    []measure.Length // the battens a line across them is fixed to: its joints belong there; none: it lies along one
	Avoid []measure.Length // board joints
	Keep  measure.Length   // what a joint keeps from those
	Least measure.Length   // the least length of a piece of a joined line
}

// Join cuts a line longer than stock into the lengths fixed one after another,
// each at most stock long. It uses the fewest lengths, none shorter than the least
// unless only that puts a joint on a batten. A joint falls on the farthest batten
// within reach, one that keeps off the board joints if there is one. A line without
// battens to go by, or with none in reach, is cut to full lengths, unless a joint
// would fall too close to a board joint: then that length is shortened to clear it.
// Where no place clears all of them the joint stays where it is.
func Join(length, stock measure.Length, seats Seats) []measure.Length {
	if stock <= 0 || length <= stock {
		return []measure.Length{length}
	}
	n := (length + stock - 1) / stock
	least := min(seats.Least, (length / n).DownTo(measure.Tenth)) // as much as can be asked
	spare := n*stock - length                                     // what all lengths together may be shortened by
	var out []measure.Length
	at := measure.Length(0)
	for length-at > stock {
		reach := measure.Span{Lo: at + stock - spare, Hi: at + stock}
		after := n - measure.Length(len(out)) - 1 // lengths still to come
		long := measure.Span{Lo: max(reach.Lo, at+least), Hi: min(reach.Hi, length-after*least)}
		step := seats.joint(reach, long) - at
		spare -= stock - step
		out = append(out, step)
		at += step
	}
	return append(out, length-at)
}

// joint returns the best place for a joint within reach. Within long it leaves no
// piece too short.
func (s Seats) joint(reach, long measure.Span) measure.Length {
	var best measure.Length
	rank := 0
	for _, p := range s.On {
		if !reach.Holds(p) {
			continue
		}
		r := 1
		if long.Holds(p) {
			r += 2
		}
		if s.clears(p) {
			r++
		}
		if r > rank || r == rank && p > best {
			best, rank = p, r
		}
	}
	if rank > 0 {
		return best
	}
	return s.clear(long)
}

// clears reports whether a place keeps its distance from every one to avoid.
func (s Seats) clears(p measure.Length) bool {
	for _, a := range s.Avoid {
		if p > a-s.Keep && p < a+s.Keep {
			return false
		}
	}
	return true
}

// clear returns the farthest place of a span that keeps its distance from every
// place to avoid, or its end where there is none.
func (s Seats) clear(within measure.Span) measure.Length {
	joint := within.Hi
	for moved := true; moved; {
		moved = false
		for _, a := range s.Avoid {
			if joint > a-s.Keep && joint < a+s.Keep {
				joint, moved = a-s.Keep, true
			}
		}
	}
	if joint < within.Lo {
		return within.Hi
	}
	return joint
}
