package drawing

import (
	"cmp"
	"math/bits"
	"slices"
)

// The alphabets of deflate (RFC 1951, 3.2.5).
const (
	endOfBlock = 256
	symbols    = 286 // bytes, the end, lengths
	distances  = 30
	codeMost   = 15 // bits
)

// huffman is codes for one stream.
type huffman struct {
	lengths     [symbols + distances]uint8 // of the codes
	symbols     [symbols]code
	above, left [longest + 1]code // of a repeat of so many bytes
	many        [symbols + distances]int
}

// suit makes the codes for what was noted of rows of so many bytes.
func (h *huffman) suit(notes []note, size int) {
	clear(h.lengths[:])
	h.count(notes, size)
	prefixLengths(h.many[:symbols], h.lengths[:symbols])
	prefixLengths(h.many[symbols:], h.lengths[symbols:])
	prefixCodes(h.lengths[:symbols], h.symbols[:])
	var back [distances]code
	prefixCodes(h.lengths[symbols:], back[:])
	for n := shortest; n <= longest; n++ {
		symbol, extra := lengthSymbol(n)
		long := h.symbols[symbol].then(extra)
		at := func(distance int) code {
			symbol, extra := distanceSymbol(distance)
			return long.then(back[symbol]).then(extra)
		}
		h.left[n], h.above[n] = at(1), at(size)
	}
}

// count counts how often each symbol comes. Both distances always have a code,
// because a lone one is a case of its own.
func (h *huffman) count(notes []note, size int) {
	var repeats [longest + 1]int
	clear(h.many[:])
	left, _ := distanceSymbol(1)
	above, _ := distanceSymbol(size)
	h.many[symbols+left], h.many[symbols+above] = 1, 1
	for _, v := range notes {
		switch k := v & count; {
		case v&fromAbove != 0:
			repeats[k]++
			h.many[symbols+above]++
		case v&fromLeft != 0:
			repeats[k]++
			h.many[symbols+left]++
		default:
			h.many[k]++
		}
	}
	for n := shortest; n <= longest; n++ {
		symbol, _ := lengthSymbol(n)
		h.many[symbol] += repeats[n]
	}
	h.many[endOfBlock] = 1
}

func (c code) then(d code) code { return code{c.bits | d.bits<<c.n, c.n + d.n} }

// lengthSymbol returns the symbol of a repeat's length and its extra bits:
// eight lengths have a symbol each, then every doubling has four.
func lengthSymbol(n int) (symbol int, extra code) {
	n -= shortest
	switch {
	case n == longest-shortest:
		return 285, code{}
	case n < 8:
		return 257 + n, code{}
	}
	more := uint(bits.Len(uint(n))) - 3
	return 257 + int(more)*4 + n>>more, code{uint32(n) & (1<<more - 1), more}
}

// distanceSymbol returns the symbol of how far back a repeat is, and its extra
// bits: four distances have a symbol each, then every doubling has two.
func distanceSymbol(d int) (symbol int, extra code) {
	if d--; d < 4 {
		return d, code{}
	}
	more := uint(bits.Len(uint(d))) - 2
	return int(more)*2 + d>>more, code{uint32(d) & (1<<more - 1), more}
}

// turned puts the highest bit of a code first, as it is written.
func turned(v int, n uint) code { return code{bits.Reverse32(uint32(v)) >> (32 - n), n} }

// prefixLengths sets how long the code of each symbol is that came so many
// times: Huffman's, or where those are too long the same with the rarest
// counted more often than they came. At least two symbols came.
func prefixLengths(many []int, lengths []uint8) {
	type node struct{ many, symbol, parent int }
	for rounding := 0; ; rounding++ {
		var nodes []node
		for i, n := range many {
			if n > 0 {
				nodes = append(nodes, node{max(1, n>>rounding), i, 0})
			}
		}
		slices.SortStableFunc(nodes, func(a, b node) int { return cmp.Compare(a.many, b.many) })
		leaves := len(nodes)
		leaf, inner := 0, leaves // the rarest not yet joined; of each kind they are in order
		rarest := func(parent int) int {
			at := &leaf
			if leaf == leaves || inner < len(nodes) && nodes[inner].many < nodes[leaf].many {
				at = &inner
			}
			nodes[*at].parent = parent
			*at++
			return nodes[*at-1].many
		}
		for n := leaves; n < 2*leaves-1; n++ {
			nodes = append(nodes, node{many: rarest(n) + rarest(n)})
		}
		deepest := depths(len(nodes), func(i int) int { return nodes[i].parent }, func(i, depth int) {
			if i < leaves {
				lengths[nodes[i].symbol] = uint8(depth)
			}
		})
		if deepest <= codeMost {
			return
		}
	}
}

// depths tells how deep each node of a tree is, whose parents come after their
// children and whose last is the root, and returns the most.
func depths(n int, parent func(int) int, tell func(i, depth int)) int {
	deep, most := make([]int, n), 0
	for i := n - 2; i >= 0; i-- {
		deep[i] = deep[parent(i)] + 1
		most = max(most, deep[i])
		tell(i, deep[i])
	}
	return most
}

// prefixCodes gives each symbol with a length its code (RFC 1951, 3.2.2).
func prefixCodes(lengths []uint8, codes []code) {
	next, at := 0, uint8(1)
	for ; at <= codeMost; at++ {
		next <<= 1
		for i, n := range lengths {
			if n == at {
				codes[i] = turned(next, uint(n))
				next++
			}
		}
	}
}
