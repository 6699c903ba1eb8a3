package layout

import "math/bits"

// board is a stock board and the numbers of the pieces cut from it.
type board struct {
	kind       int32
	next, prev int32 // in the list of boards with the same free length
	free       int64
	parts      []int32
}

// shelf holds boards, found by the length still free on them. A board without
// parts is not in use; its place is kept for the next.
type shelf struct {
	m      *model
	boards []board
	spare  []int32
	used   []int // boards in use by kind
	head   []int32
	words  []uint64 // bit f: some board has f free
	tops   []uint64 // bit w: words[w] is not 0
}

func newShelf(m *model) *shelf {
	n := int(m.most) + 1
	s := &shelf{m: m, used: make([]int, len(m.kinds)), head: make([]int32, n), words: make([]uint64, n/64+1)}
	s.tops = make([]uint64, len(s.words)/64+1)
	for i := range s.head {
		s.head[i] = none
	}
	return s
}

func (s *shelf) link(b int32) {
	f := s.boards[b].free
	h := s.head[f]
	s.boards[b].next, s.boards[b].prev = h, none
	if h != none {
		s.boards[h].prev = b
	} else {
		s.words[f>>6] |= 1 << (f & 63)
		s.tops[f>>12] |= 1 << (f >> 6 & 63)
	}
	s.head[f] = b
}

func (s *shelf) unlink(b int32) {
	x := &s.boards[b]
	if x.next != none {
		s.boards[x.next].prev = x.prev
	}
	if x.prev != none {
		s.boards[x.prev].next = x.next
		return
	}
	f := x.free
	s.head[f] = x.next
	if x.next == none {
		if s.words[f>>6] &^= 1 << (f & 63); s.words[f>>6] == 0 {
			s.tops[f>>12] &^= 1 << (f >> 6 & 63)
		}
	}
}

// least returns the smallest free length of at least f on any board, or -1.
func (s *shelf) least(f int64) int64 {
	if f >= int64(len(s.head)) {
		return -1
	}
	w := f >> 6
	if x := s.words[w] >> (f & 63); x != 0 {
		return f + int64(bits.TrailingZeros64(x))
	}
	w++
	t := w >> 6
	if t >= int64(len(s.tops)) {
		return -1
	}
	x := s.tops[t] >> (w & 63) << (w & 63)
	for x == 0 {
		if t++; t >= int64(len(s.tops)) {
			return -1
		}
		x = s.tops[t]
	}
	w = t<<6 + int64(bits.TrailingZeros64(x))
	return w<<6 + int64(bits.TrailingZeros64(s.words[w]))
}

// add cuts a piece from a board in use, or opens board b for it.
func (s *shelf) add(b, id int32) {
	x := &s.boards[b]
	s.unlink(b)
	x.free -= s.m.lens[id]
	x.parts = append(x.parts, id)
	s.link(b)
}

// open puts a board of the kind to use, with one piece.
func (s *shelf) open(k int, id int32) int32 {
	var b int32
	if n := len(s.spare); n > 0 {
		b = s.spare[n-1]
		s.spare = s.spare[:n-1]
	} else {
		b = int32(len(s.boards))
		s.boards = append(s.boards, board{})
	}
	x := &s.boards[b]
	x.kind, x.free, x.parts = int32(k), s.m.kinds[k].cap-s.m.lens[id], append(x.parts[:0], id)
	s.used[k]++
	s.link(b)
	return b
}

// take removes the i-th piece of a board; an emptied board goes out of use.
func (s *shelf) take(b int32, i int) {
	x := &s.boards[b]
	s.unlink(b)
	id := x.parts[i]
	x.parts[i] = x.parts[len(x.parts)-1]
	x.parts = x.parts[:len(x.parts)-1]
	if len(x.parts) == 0 {
		s.used[x.kind]--
		s.spare = append(s.spare, b)
		return
	}
	x.free += s.m.lens[id]
	s.link(b)
}

// place cuts a piece from the board it fits tightest, or opens one.
func (s *shelf) place(id int32) int32 {
	if f := s.least(s.m.lens[id]); f >= 0 {
		b := s.head[f]
		s.add(b, id)
		return b
	}
	return s.open(s.kindFor(s.m.lens[id]), id)
}

// kindFor chooses the kind of board to open for a piece: one on hand, the
// shortest that holds it last so that long ones meet long pieces first; else
// the best by price.
func (s *shelf) kindFor(w int64) int {
	for k, x := range s.m.kinds {
		if x.hand >= 0 && s.used[k] < x.hand && x.cap >= w {
			return k
		}
	}
	return s.m.buy(w)
}

// buy is the kind bought for a piece of length w.
func (m *model) buy(w int64) int {
	if m.kinds[m.best].cap >= w {
		return m.best
	}
	best := -1
	for k, x := range m.kinds {
		if x.hand < 0 && x.cap >= w && (best < 0 || x.cost*m.kinds[best].cap < m.kinds[best].cost*x.cap) {
			best = k
		}
	}
	return best
}

// clear takes every board out of use.
func (s *shelf) clear() {
	for i := range s.boards {
		if len(s.boards[i].parts) > 0 {
			s.unlink(int32(i))
		}
	}
	s.boards, s.spare = s.boards[:0], s.spare[:0]
	for k := range s.used {
		s.used[k] = 0
	}
}

// pack cuts the pieces by falling length, each from the board it fits
// tightest (best-fit decreasing); demand is by length number.
func (s *shelf) pack(demand []int32) {
	s.clear()
	for id, n := range demand {
		for range n {
			s.place(int32(id))
		}
	}
}
