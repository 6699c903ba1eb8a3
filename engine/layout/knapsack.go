package layout

// number is a value of a dual function: floating in the search for duals,
// whole in the proof.
type number interface{ ~int64 | ~float64 }

// table holds the most value that pieces can have on boards of every length up
// to the longest: the unbounded knapsack by dynamic programming over lengths.
type table[T number] struct {
	best []T     // by capacity, never falling
	last []int32 // a piece of the best filling, or none: the filling of a unit less
}

// fill computes the table for the given pieces and values by number. Pieces
// that a shorter and no less valuable one replaces are passed over.
func (t *table[T]) fill(lens []int64, values []T, most int64) int64 {
	if int64(len(t.best)) != most+1 {
		t.best, t.last = make([]T, most+1), make([]int32, most+1)
	}
	var ids []int32 // by rising length and rising value
	var top T
	for id := len(lens) - 1; id >= 0; id-- {
		if values[id] > top {
			ids = append(ids, int32(id))
			top = values[id]
		}
	}
	best, last := t.best, t.last
	best[0], last[0] = 0, none
	n := 0
	w, v := make([]int64, len(ids)), make([]T, len(ids))
	for i, id := range ids {
		w[i], v[i] = lens[id], values[id]
	}
	for c := int64(1); c <= most; c++ {
		for n < len(ids) && w[n] <= c {
			n++
		}
		b, l := best[c-1], none
		for i := range n {
			if x := best[c-w[i]] + v[i]; x > b {
				b, l = x, ids[i]
			}
		}
		best[c], last[c] = b, l
	}
	return most * int64(len(ids)) / 2
}

// filling appends the pieces of the best filling of a board.
func (t *table[T]) filling(c int64, lens []int64, buf []int32) []int32 {
	for c > 0 {
		if id := t.last[c]; id != none {
			buf = append(buf, id)
			c -= lens[id]
		} else {
			c--
		}
	}
	return buf
}
