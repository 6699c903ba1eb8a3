package trims

import "lapwright/engine/measure"

// Seats are the places along a line that its joints go by, as distances from the
// line's start.
type Seats struct {
	On    []measure.Length // the battens a line across them is fixed to: its joints belong there; none: it lies along one
	Avoid []measure.Length // board joints
	Keep  measure.Length   // what a joint keeps from those
}

// Join cuts a line longer than stock into the lengths fixed one after another,
// each at most stock long. It uses the fewest lengths. A joint falls on the
// farthest batten within reach, one that keeps off the board joints if there is
// one. A line without battens to go by, or with none in reach, is cut to full
// lengths, unless a joint would fall too close to a board joint: then that length
// is shortened to clear it. Where no place clears all of them the joint stays
// where it is.
func Join(length, stock measure.Length, seats Seats) []measure.Length {
	if stock <= 0 || length <= stock {
		return []measure.Length{length}
	}
	spare := (length+stock-1)/stock*stock - length // what all lengths together may be shortened by
	var out []measure.Length
	at := measure.Length(0)
	for length-at > stock {
		step := seats.joint(at+stock, spare) - at
		spare -= stock - step
		out = append(out, step)
		at += step
	}
	return append(out, length-at)
}

// joint returns the best place for a joint in [at-spare, at].
func (s Seats) joint(at, spare measure.Length) measure.Length {
	var best measure.Length
	clear := false
	for _, p := range s.On {
		if p < at-spare || p > at {
			continue
		}
		if c := s.clears(p); !clear && c || c == clear && p > best {
			best, clear = p, c
		}
	}
	if best > 0 {
		return best
	}
	return s.clear(at, spare)
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

// clear returns the farthest place in [at-spare, at] that keeps its distance
// from every place to avoid, or at where there is none.
func (s Seats) clear(at, spare measure.Length) measure.Length {
	joint := at
	for moved := true; moved; {
		moved = false
		for _, a := range s.Avoid {
			if joint > a-s.Keep && joint < a+s.Keep {
				joint, moved = a-s.Keep, true
			}
		}
	}
	if joint < at-spare {
		return at
	}
	return joint
}
