package layout

import "math/bits"

// number is a value of a dual function: floating in the search for duals,
// whole in the proof.
type number interface{ ~int64 | ~float64 }

// table holds the most value that pieces can have on boards of every length up
// to the longest: the unbounded knapsack by dynamic programming, over those
// lengths only at which the value rises. In tenths of a millimetre they are
// few.
type table[T number] struct {
	rises []rise[T] // by length; the first is of nothing on no length
	in    []packable[T]
	offer []rise[T] // by length, where marked: the most found so far
	marks []uint64  // bit c: a length c that may be a rise, and in the end is
	rank  []int32   // by word of marks: the last rise before it
}

// rise is a length on which more fits than on any shorter one.
type rise[T number] struct {
	length int64
	value  T
	id     int32 // one of the pieces
	rest   int32 // the rise that holds the others
}

// packable is a piece that no others replace.
type packable[T number] struct {
	length int64
	value  T
	id     int32
}

// fill computes the table for the given pieces and values by number, and
// returns the work it took. Pieces that others replace, a shorter and no less
// valuable one or several that fit in their place, are passed over.
func (t *table[T]) fill(lens []int64, values []T, most int64) int64 {
	if words := int(most>>6) + 1; len(t.marks) != words {
		t.marks, t.rank, t.offer = make([]uint64, words), make([]int32, words), make([]rise[T], words<<6)
	}
	clear(t.marks)
	t.rises, t.in = append(t.rises[:0], rise[T]{id: none}), t.in[:0]
	for id, v := range values {
		if v > 0 && lens[id] <= most {
			t.propose(rise[T]{lens[id], v, int32(id), 0})
		}
	}
	work := int64(len(t.marks))
	for w := range t.marks {
		t.rank[w] = int32(len(t.rises)) - 1
		for done := uint64(0); t.marks[w]&^done != 0; {
			bit := bits.TrailingZeros64(t.marks[w] &^ done)
			done = uint64(2)<<bit - 1
			if x := t.offer[w<<6+bit]; x.value > t.rises[len(t.rises)-1].value {
				work += t.take(x, most)
			} else {
				t.marks[w] &^= 1 << bit
			}
		}
	}
	return work
}

// propose notes that so much fits on a length.
func (t *table[T]) propose(x rise[T]) {
	word, bit := &t.marks[x.length>>6], uint64(1)<<(x.length&63)
	if *word&bit == 0 || x.value > t.offer[x.length].value {
		*word |= bit
		t.offer[x.length] = x
	}
}

// take adds a rise and proposes what comes of it with one piece more: every
// rise meets every piece, whichever is known first. It returns the work done.
func (t *table[T]) take(x rise[T], most int64) int64 {
	at := int32(len(t.rises))
	t.rises = append(t.rises, x)
	work := int64(1)
	for _, p := range t.in {
		if x.length+p.length > most {
			break
		}
		t.propose(rise[T]{x.length + p.length, x.value + p.value, p.id, at})
		work++
	}
	if x.rest > 0 {
		return work
	}
	t.in = append(t.in, packable[T]{x.length, x.value, x.id})
	for k, r := range t.rises[1:] {
		if r.length+x.length > most {
			break
		}
		t.propose(rise[T]{r.length + x.length, r.value + x.value, x.id, int32(k) + 1})
		work++
	}
	return work
}

// last is the rise that says what fits on a length.
func (t *table[T]) last(c int64) int32 {
	return t.rank[c>>6] + int32(bits.OnesCount64(t.marks[c>>6]&(uint64(2)<<(c&63)-1)))
}

// best is the most value that fits on a length.
func (t *table[T]) best(c int64) T { return t.rises[t.last(c)].value }

// filling appends the pieces of the best filling of a board.
func (t *table[T]) filling(c int64, buf []int32) []int32 {
	for at := t.last(c); at > 0; at = t.rises[at].rest {
		buf = append(buf, t.rises[at].id)
	}
	return buf
}
