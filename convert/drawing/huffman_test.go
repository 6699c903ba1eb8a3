package drawing

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// leastCost is Huffman's own construction: the two lightest are put together
// until one is left, and every such sum is counted (D. A. Huffman, A method for
// the construction of minimum-redundancy codes, 1952).
func leastCost(count []uint32) (cost uint64) {
	var weights []uint64
	for _, n := range count {
		if n > 0 {
			weights = append(weights, uint64(n))
		}
	}
	for len(weights) > 1 {
		slices.Sort(weights)
		sum := weights[0] + weights[1]
		cost += sum
		weights = append(weights[2:], sum)
	}
	return cost
}

// TestCodesCostLeast compares codes with what is the least, and, where they
// are held to few bits, checks that they are complete and hold to it.
func TestCodesCostLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 52))
	for n := range 300 {
		count := make([]uint32, 2+r.IntN(60))
		for i := range count {
			count[i] = uint32(r.IntN(1 << r.IntN(12)))
		}
		count[0], count[1] = 1, 1
		complete(t, n, codeLengths(count, 7), 7)
		lengths := codeLengths(count, 40)
		complete(t, n, lengths, 40)
		cost := uint64(0)
		for i, l := range lengths {
			if (l > 0) != (count[i] > 0) {
				t.Fatalf("%d: symbol %d comes %d times and has %d bits", n, i, count[i], l)
			}
			cost += uint64(l) * uint64(count[i])
		}
		if want := leastCost(count); cost != want {
			t.Fatalf("%d: %d bits, want %d", n, cost, want)
		}
	}
}

// complete checks Kraft's sum: a code that leaves nothing over makes it 1.
func complete(t *testing.T, n int, lengths []uint8, most int) {
	t.Helper()
	sum := uint64(0)
	for _, l := range lengths {
		if int(l) > most {
			t.Fatalf("%d: %d bits, want at most %d", n, l, most)
		}
		if l > 0 {
			sum += 1 << (most - int(l))
		}
	}
	if sum != 1<<most {
		t.Fatalf("%d: the code's sum is %d of %d", n, sum, uint64(1)<<most)
	}
}
