package trims

import "lapwright/engine/measure"

// Join cuts a line longer than stock into the lengths fixed one after another,
// each at most stock long. It uses the fewest lengths; all but the last are
// full, unless a joint would fall closer than keep to one of the board joints
// in avoid (distances from the line's start): then that length is shortened to
// clear it. Where no place clears all of them the joint stays where it is.
func Join(length, stock measure.Length, avoid []measure.Length, keep measure.Length) []measure.Length {
	if stock <= 0 || length <= stock {
		return []measure.Length{length}
	}
	spare := (length+stock-1)/stock*stock - length // what all lengths together may be shortened by
	var out []measure.Length
	at := measure.Length(0)
	for length-at > stock {
		step := clear(at+stock, spare, avoid, keep) - at
		spare -= stock - step
		out = append(out, step)
		at += step
	}
	return append(out, length-at)
}

// clear returns the furthest joint in [at-spare, at] that keeps its distance
// from every place to avoid, or at where there is none.
func clear(at, spare measure.Length, avoid []measure.Length, keep measure.Length) measure.Length {
	joint := at
	for moved := true; moved; {
		moved = false
		for _, a := range avoid {
			if joint > a-keep && joint < a+keep {
				joint, moved = a-keep, true
			}
		}
	}
	if joint < at-spare {
		return at
	}
	return joint
}
