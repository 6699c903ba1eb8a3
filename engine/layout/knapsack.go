package layout

// number is a value of a dual function: floating in the search for duals,
// whole in the proof.
type number interface{ ~int64 | ~float64 }

// table holds the most value that pieces can have on boards of every length up
// to the longest: the unbounded knapsack by dynamic programming over lengths.
type table[T number] struct {
	best []T     // by capacity, never falling
	last []int32 // a piece of the best filling, or none: the filling of a unit less
	in   []packable[T]
}

// fill computes the table for the given pieces and values by number, and
// returns the work it took. Pieces that others replace, a shorter and no less
// valuable one or several that fit in their place, are passed over.
func (t *table[T]) fill(lens []int64, values []T, most int64) int64 {
	if int64(len(t.best)) != most+1 {
		t.best, t.last = make([]T, most+1), make([]int32, most+1)
	}
	t.in = t.in[:0]
	best, last := t.best, t.last
	best[0], last[0] = 0, none
	next := len(lens) - 1 // pieces come by rising length
	work := int64(0)
	for c := int64(1); c <= most; c++ {
		b, l := best[c-1], none
		for i := range t.in {
			if x := best[c-t.in[i].length] + t.in[i].value; x > b {
				b, l = x, t.in[i].id
			}
		}
		for ; next >= 0 && lens[next] <= c; next-- {
			if v := values[next]; v > b {
				b, l = v, int32(next)
				t.in = append(t.in, packable[T]{c, v, l})
			}
		}
		best[c], last[c] = b, l
		work += int64(len(t.in))
	}
	return work
}

// packable is a piece that no others replace.
type packable[T number] struct {
	length int64
	value  T
	id     int32
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
