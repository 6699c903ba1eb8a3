package layout

import "math/bits"

// board is a stock board and the pieces cut from it.
type board struct {
	kind       int32
	next, prev int32 // in the list of boards with the same free length
	free       int64
	parts      []int32 // pieces of the shelf
}

// piece is one piece on a board. Pieces of a length are alike: which of them
// belongs to which run is settled when the plan is written.
type piece struct {
	id    int32 // length number
	board int32
	slot  int32 // place in board.parts
	pos   int32 // place in shelf.having[id]
}

// shelf holds boards, found by the length still free on them, and pieces,
// found by their length. A board without parts is out of use.
type shelf struct {
	m      *model
	boards []board
	spare  []int32 // boards out of use
	used   []int   // boards in use by kind
	pieces []piece
	idle   []int32   // pieces out of use
	having [][]int32 // length number -> pieces
	head   []int32
	words  []uint64 // bit f: some board has f free
	tops   []uint64 // bit w: words[w] is not 0
}

func newShelf(m *model) *shelf {
	n := int(m.most) + 1
	s := &shelf{m: m, used: make([]int, len(m.kinds)), head: make([]int32, n), words: make([]uint64, n/64+1),
		having: make([][]int32, len(m.lens))}
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

// add cuts a new piece from board b, which may be out of use but then is the
// last of the spare ones, and returns the piece.
func (s *shelf) add(b, id int32) int32 {
	x := &s.boards[b]
	if len(x.parts) == 0 {
		s.spare = s.spare[:len(s.spare)-1]
		s.used[x.kind]++
		x.free = s.m.kinds[x.kind].cap
	} else {
		s.unlink(b)
	}
	x.free -= s.m.lens[id]
	var p int32
	if n := len(s.idle); n > 0 {
		p = s.idle[n-1]
		s.idle = s.idle[:n-1]
	} else {
		p = int32(len(s.pieces))
		s.pieces = append(s.pieces, piece{})
	}
	s.pieces[p] = piece{id, b, int32(len(x.parts)), int32(len(s.having[id]))}
	s.having[id] = append(s.having[id], p)
	x.parts = append(x.parts, p)
	s.link(b)
	return p
}

// ready returns a board out of use, set to the kind: the last of the spare.
func (s *shelf) ready(k int) int32 {
	if len(s.spare) == 0 {
		s.spare = append(s.spare, int32(len(s.boards)))
		s.boards = append(s.boards, board{parts: make([]int32, 0, 8)})
	}
	b := s.spare[len(s.spare)-1]
	s.boards[b].kind = int32(k)
	return b
}

// take removes a piece; an emptied board goes out of use.
func (s *shelf) take(p int32) {
	x := s.pieces[p]
	h := s.having[x.id]
	last := h[len(h)-1]
	h[x.pos] = last
	s.pieces[last].pos = x.pos
	s.having[x.id] = h[:len(h)-1]

	b := &s.boards[x.board]
	s.unlink(x.board)
	last = b.parts[len(b.parts)-1]
	b.parts[x.slot] = last
	s.pieces[last].slot = x.slot
	b.parts = b.parts[:len(b.parts)-1]
	s.idle = append(s.idle, p)
	if len(b.parts) == 0 {
		s.used[b.kind]--
		s.spare = append(s.spare, x.board)
		return
	}
	b.free += s.m.lens[x.id]
	s.link(x.board)
}

// place cuts a piece from the board it fits tightest, or from a new one, and
// returns the board.
func (s *shelf) place(id int32) int32 {
	b := s.tightest(id)
	s.add(b, id)
	return b
}

// tightest is the board that place cuts from.
func (s *shelf) tightest(id int32) int32 {
	if f := s.least(s.m.lens[id]); f >= 0 {
		return s.head[f]
	}
	return s.ready(s.kindFor(s.m.lens[id]))
}

// kindFor chooses the kind of board to open for a piece of length w: one on
// hand, long ones first; else the best by price.
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
	for i := range s.having {
		s.having[i] = s.having[i][:0]
	}
	s.boards, s.spare, s.pieces, s.idle = s.boards[:0], s.spare[:0], s.pieces[:0], s.idle[:0]
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

// load takes over boards that are cut already.
func (s *shelf) load(boards []cutBoard) {
	s.clear()
	for _, c := range boards {
		for range c.count {
			b := s.ready(c.kind)
			for _, id := range c.parts {
				s.add(b, id)
			}
		}
	}
}

// list returns the boards in use.
func (s *shelf) list() []cutBoard {
	var out []cutBoard
	for _, b := range s.boards {
		if len(b.parts) == 0 {
			continue
		}
		c := cutBoard{kind: int(b.kind), count: 1, parts: make([]int32, 0, len(b.parts))}
		for _, p := range b.parts {
			c.parts = append(c.parts, s.pieces[p].id)
		}
		out = append(out, c)
	}
	return out
}
