package drawing

import (
	"encoding/binary"
	"math/bits"
)

// squeezer packs rows of equal size as a zlib stream (RFC 1950) of one deflate
// block with codes of its own (RFC 1951). Of all that deflate may repeat it
// looks at two places only: the same column of the row above, and the byte
// before. So it takes notes of bytes and repeats first and, at the end, writes
// them in codes that suit how often each came.
type squeezer struct {
	data    []byte
	size    int // of a row
	notes   []note
	asAbove int // bytes that are as the row above, not yet noted
	huffman huffman

	held uint64 // bits not yet in data, the first lowest
	n    uint   // of them

	sumA, sumB uint64 // Adler-32 so far (RFC 1950, 9)
	row, steps uint64 // what the last row adds: its sum, and that of its partial sums
}

// note is a byte, or how many bytes to repeat from above or from the left.
type note uint16

const (
	fromAbove note = 1 << 9
	fromLeft  note = 1 << 10
	count     note = 1<<9 - 1
)

// code is bits to write, the first lowest.
type code struct {
	bits uint32
	n    uint
}

// A repeat is 3 to 258 bytes long (RFC 1951, 3.2.5).
const shortest, longest = 3, 258

const adler = 65521

// begin starts a stream of rows of so many bytes, at most 32,768.
func (s *squeezer) begin(size int) {
	s.size = size
	s.notes, s.asAbove = s.notes[:0], 0
	s.sumA, s.sumB = 1, 0
}

// first writes the first row, which has none above it.
func (s *squeezer) first(row []byte) {
	s.literal(row[0])
	s.stretch(row, 1, len(row))
	s.sum(row)
}

// again writes a row that is as the one above, of at least the shortest repeat.
func (s *squeezer) again() {
	s.asAbove += s.size
	s.addSum()
}

// next writes a row beneath another: long stretches that are as above, and
// what is between them.
func (s *squeezer) next(row, above []byte) {
	const worth = 8
	from := 0
	for i := 0; i < len(row); {
		n := alike(row[i:], above[i:])
		if n < shortest || n < worth && i+n < len(row) {
			i += n + 1
			continue
		}
		s.changed(row, from, i)
		s.asAbove += n
		i += n
		from = i
	}
	s.changed(row, from, len(row))
	s.sum(row)
}

// changed writes the bytes of a row between two places, which differ from
// those above here and there.
func (s *squeezer) changed(row []byte, from, to int) {
	if from == to {
		return
	}
	s.flush()
	if from == 0 {
		s.literal(row[0])
		from++
	}
	s.stretch(row, from, to)
}

// alike returns how many bytes are equal from the start.
func alike(a, b []byte) int {
	n := 0
	for ; len(a)-n >= 8; n += 8 {
		if x := binary.LittleEndian.Uint64(a[n:]) ^ binary.LittleEndian.Uint64(b[n:]); x != 0 {
			return n + bits.TrailingZeros64(x)/8
		}
	}
	for n < len(a) && a[n] == b[n] {
		n++
	}
	return n
}

// stretch writes bytes and runs of them.
func (s *squeezer) stretch(row []byte, from, to int) {
	for i := from; i < to; {
		n := 0
		for b := row[i-1]; i+n < to && row[i+n] == b; {
			n++
		}
		if n < shortest {
			for range n + 1 {
				if i < to {
					s.literal(row[i])
					i++
				}
			}
			continue
		}
		s.repeat(fromLeft, n)
		i += n
	}
}

// flush writes what waits to be copied from the row above.
func (s *squeezer) flush() {
	if s.asAbove > 0 {
		s.repeat(fromAbove, s.asAbove)
		s.asAbove = 0
	}
}

// repeat writes so many bytes as repeats, the last of them long enough to be
// one.
func (s *squeezer) repeat(from note, n int) {
	for n > 0 {
		k := min(n, longest)
		if rest := n - k; rest > 0 && rest < shortest {
			k -= shortest
		}
		s.notes = append(s.notes, from|note(k))
		n -= k
	}
}

func (s *squeezer) literal(b byte) { s.notes = append(s.notes, note(b)) }

// sum adds a row to the checksum; most of it is bare paper.
func (s *squeezer) sum(row []byte) {
	a, b := uint64(0), uint64(0)
	for len(row) >= 8 {
		eight := binary.LittleEndian.Uint64(row)
		row = row[8:]
		b += 8 * a
		for n := uint64(8); eight != 0; n-- {
			a += eight & 0xFF
			b += n * (eight & 0xFF)
			eight >>= 8
		}
	}
	for _, v := range row {
		a += uint64(v)
		b += a
	}
	s.row, s.steps = a, b
	s.addSum()
}

// addSum adds the last row once more.
func (s *squeezer) addSum() {
	s.sumB = (s.sumB + uint64(s.size)*s.sumA + s.steps) % adler
	s.sumA = (s.sumA + s.row) % adler
}

// end writes the stream.
func (s *squeezer) end() {
	s.flush()
	s.data = append(s.data[:0], 0x78, 0x01) // window of 32,768, fastest
	s.held, s.n = 0, 0
	h := &s.huffman
	h.suit(s.notes, s.size)
	s.head(h)
	for _, v := range s.notes {
		switch k := v & count; {
		case v&fromAbove != 0:
			s.put(h.above[k])
		case v&fromLeft != 0:
			s.put(h.left[k])
		default:
			s.put(h.symbols[k])
		}
	}
	s.put(h.symbols[endOfBlock])
	for ; s.n > 0; s.n -= min(s.n, 8) {
		s.data = append(s.data, byte(s.held))
		s.held >>= 8
	}
	s.data = binary.BigEndian.AppendUint32(s.data, uint32(s.sumB<<16|s.sumA))
}

// head writes the block's header: that it is the last, and how long each code
// is (RFC 1951, 3.2.7). Lengths are not packed: each takes four bits.
func (s *squeezer) head(h *huffman) {
	s.put(code{0b101, 3})
	s.put(code{symbols - 257, 5})
	s.put(code{distances - 1, 5})
	s.put(code{19 - 4, 4})
	for i := range 19 { // the first three are kinds of runs
		s.put(code{map[bool]uint32{true: 4}[i >= 3], 3})
	}
	for _, n := range h.lengths {
		s.put(turned(int(n), 4))
	}
}

func (s *squeezer) put(c code) {
	s.held |= uint64(c.bits) << s.n
	if s.n += c.n; s.n >= 32 {
		s.data = binary.LittleEndian.AppendUint32(s.data, uint32(s.held))
		s.held >>= 32
		s.n -= 32
	}
}
