package drawing

import (
	"cmp"
	"math/bits"
	"slices"
)

// code is a Huffman code: how many bits each symbol has, 0: none, and which,
// the first one lowest.
type code struct {
	lengths []uint8
	bits    []uint32
}

func (c *code) put(w *bitWriter, symbol uint32) { w.put(c.bits[symbol], c.lengths[symbol]) }

// newCode makes a code for symbols that come so often, none longer than most
// bits. Bits go to symbols in order (RFC 1951, section 3.2.2).
func newCode(count []uint32, most int) code {
	c := code{lengths: codeLengths(count, most), bits: make([]uint32, len(count))}
	var first [17]uint32
	for _, l := range c.lengths {
		first[l+1]++
	}
	first[1] = 0 // symbols that never come
	for l := 1; l < len(first); l++ {
		first[l] = (first[l] + first[l-1]) << 1
	}
	for i, l := range c.lengths {
		if l > 0 {
			c.bits[i] = bits.Reverse32(first[l]) >> (32 - l)
			first[l]++
		}
	}
	return c
}

// codeLengths returns how many bits each symbol is to have.
func codeLengths(count []uint32, most int) []uint8 {
	var order []int // symbols that come, the rarest first
	for i, n := range count {
		if n > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(count[a], count[b]) })
	out := make([]uint8, len(count))
	if len(order) == 1 {
		out[order[0]] = 1
		return out
	}
	many := limited(depths(count, order), most)
	k := 0
	for l := most; l > 0; l-- {
		for range many[l] {
			out[order[k]] = uint8(l)
			k++
		}
	}
	return out
}

// depths returns how many leaves of Huffman's tree lie how deep. Two queues
// do: of leaves, and of nodes, which come about in the order of their weight.
func depths(count []uint32, order []int) []int {
	n := len(order)
	weight, parent := make([]uint64, 2*n), make([]int, 2*n)
	for i, symbol := range order {
		weight[i] = uint64(count[symbol])
	}
	leaf, node := 0, n
	for made := n; made < 2*n-1; made++ {
		for range 2 {
			i := node
			if leaf < n && (node == made || weight[leaf] <= weight[node]) {
				i = leaf
				leaf++
			} else {
				node++
			}
			weight[made] += weight[i]
			parent[i] = made
		}
	}
	many, deep := make([]int, n+1), make([]int, 2*n)
	for i := 2*n - 3; i >= 0; i-- {
		if deep[i] = deep[parent[i]] + 1; i < n {
			many[deep[i]]++
		}
	}
	return many
}

// limited brings up leaves that lie too deep; each that does not fit there any
// more takes half the place of one that lies higher.
func limited(many []int, most int) []int {
	out, full := make([]int, most+1), 0
	for l, n := range many {
		out[min(l, most)] += n
	}
	for l, n := range out {
		full += n << (most - l)
	}
	for ; full > 1<<most; full-- {
		l := most - 1
		for out[l] == 0 {
			l--
		}
		out[l]--
		out[l+1] += 2
		out[most]--
	}
	return out
}

// lengthRun is a length of a code, or a run of equal ones.
type lengthRun struct {
	symbol, more uint32
	extra        uint8
}

// lengthRuns gathers lengths into runs (RFC 1951, section 3.2.7).
func lengthRuns(lengths []uint8) []lengthRun {
	var out []lengthRun
	for i := 0; i < len(lengths); {
		l, n := lengths[i], 1
		for i+n < len(lengths) && lengths[i+n] == l {
			n++
		}
		i += n
		if l > 0 {
			out = append(out, lengthRun{symbol: uint32(l)})
			n--
		}
		for n >= 3 {
			r, took := longRun(l, n)
			out = append(out, r)
			n -= took
		}
		for range n {
			out = append(out, lengthRun{symbol: uint32(l)})
		}
	}
	return out
}

// longRun is the longest run of at most n, at least 3, lengths.
func longRun(l uint8, n int) (r lengthRun, took int) {
	switch {
	case l > 0:
		took = min(n, 6)
		return lengthRun{16, uint32(took - 3), 2}, took
	case n <= 10:
		return lengthRun{17, uint32(n - 3), 3}, n
	}
	took = min(n, 138)
	return lengthRun{18, uint32(took - 11), 7}, took
}
