package drawing

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// squeezer packs bytes as zlib does (RFC 1950, RFC 1951), made for bytes that
// mostly are zeros: runs of zeros are found eight at a time and cost next to
// nothing, the rest is looked up once, and all of it is one block.
type squeezer struct {
	tokens []token
	seen   [1 << hashBits]int32 // where four bytes were last met, counted from 1
	codes  codes
	out    bitWriter
}

// token is a literal byte, or a length of bytes met so far back: length-3 in
// the bits from 16 on, distance in those below it, and the highest bit set.
type token uint32

const (
	matched  token = 1 << 31
	hashBits       = 13
	farthest       = 32 << 10
	longest        = 258
	shortest       = 4 // that is looked for
)

// squeeze packs data into memory that the next call uses again.
func (s *squeezer) squeeze(data []byte) []byte {
	s.tokens = s.tokens[:0]
	clear(s.seen[:])
	sum := s.split(data)
	s.out.reset()
	s.out.put(0x78|1<<8, 16) // deflate, 32 kB back; packed fast; divides by 31
	s.codes.count(s.tokens)
	s.codes.write(&s.out, s.tokens)
	s.out.align()
	s.out.data = binary.BigEndian.AppendUint32(s.out.data, sum.value())
	return s.out.data
}

// split turns data into tokens and sums it up.
func (s *squeezer) split(data []byte) adler {
	sum := adler{a: 1}
	i, last := 0, len(data)-8
	for i <= last {
		v := binary.LittleEndian.Uint64(data[i:])
		if v == 0 {
			n := zeros(data[i:])
			s.zeros(n)
			sum.zeros(n)
			i += n
			continue
		}
		n := s.match(data, i, uint32(v))
		if n == 0 {
			n = 1
			s.tokens = append(s.tokens, token(data[i]))
		}
		sum.add(data[i : i+n])
		i += n
	}
	for _, v := range data[i:] {
		s.tokens = append(s.tokens, token(v))
	}
	sum.add(data[i:])
	return sum
}

// zeros counts the zeros that data begins with.
func zeros(data []byte) int {
	i := 0
	for ; i+8 <= len(data); i += 8 {
		if v := binary.LittleEndian.Uint64(data[i:]); v != 0 {
			return i + bits.TrailingZeros64(v)/8
		}
	}
	for i < len(data) && data[i] == 0 {
		i++
	}
	return i
}

// zeros says one zero and repeats it.
func (s *squeezer) zeros(n int) {
	s.tokens = append(s.tokens, 0)
	for n--; n >= 3; {
		l := min(n, longest)
		if rest := n - l; rest == 1 || rest == 2 {
			l -= 3 // a rest too short to repeat would be said in full
		}
		s.tokens = append(s.tokens, matched|token(l-3)<<16|1)
		n -= l
	}
	for ; n > 0; n-- {
		s.tokens = append(s.tokens, 0)
	}
}

// match says that the bytes at i were met before, and returns how many of them,
// 0 where they were not.
func (s *squeezer) match(data []byte, i int, four uint32) int {
	at := &s.seen[four*0x9E3779B1>>(32-hashBits)]
	from := int(*at) - 1
	*at = int32(i + 1)
	if from < 0 || i-from > farthest-1 || binary.LittleEndian.Uint32(data[from:]) != four {
		return 0
	}
	n, most := shortest, min(longest, len(data)-i)
	for n+8 <= most {
		if d := binary.LittleEndian.Uint64(data[from+n:]) ^ binary.LittleEndian.Uint64(data[i+n:]); d != 0 {
			n += bits.TrailingZeros64(d) / 8
			most = n
			break
		}
		n += 8
	}
	for n < most && data[from+n] == data[i+n] {
		n++
	}
	s.tokens = append(s.tokens, matched|token(n-3)<<16|token(i-from))
	return n
}

// adler is the checksum of RFC 1950, section 8.2. Both sums are brought back
// below its base at the end only, which holds for 64 MB.
type adler struct{ a, b uint64 }

const adlerBase = 65521

func (s *adler) add(data []byte) {
	a, b := s.a, s.b
	for _, v := range data {
		a += uint64(v)
		b += a
	}
	s.a, s.b = a, b
}

func (s *adler) zeros(n int) { s.b += uint64(n) * s.a }

func (s adler) value() uint32 { return uint32(s.b%adlerBase<<16 | s.a%adlerBase) }

// bitWriter writes bits, the lowest first.
type bitWriter struct {
	data []byte
	held uint64
	n    uint
}

func (w *bitWriter) reset() { w.data, w.held, w.n = w.data[:0], 0, 0 }

// put writes at most 32 bits.
func (w *bitWriter) put(v uint32, n uint8) {
	w.held |= uint64(v) << w.n
	if w.n += uint(n); w.n >= 32 {
		w.data = binary.LittleEndian.AppendUint32(w.data, uint32(w.held))
		w.held >>= 32
		w.n -= 32
	}
}

// align fills up the byte begun.
func (w *bitWriter) align() {
	for n := int(w.n); n > 0; n -= 8 {
		w.data = append(w.data, byte(w.held))
		w.held >>= 8
	}
	w.held, w.n = 0, 0
}

// lengthCode returns the code of a length less 3, and how many low bits of it
// follow the code (RFC 1951, section 3.2.5).
func lengthCode(l uint32) (code uint32, extra uint8) {
	switch {
	case l < 8:
		return 257 + l, 0
	case l == longest-3:
		return 285, 0
	}
	n := uint32(bits.Len32(l)) - 1
	return 257 + 4*(n-1) + l>>(n-2)&3, uint8(n - 2)
}

// distanceCode does the same for a distance less 1.
func distanceCode(d uint32) (code uint32, extra uint8) {
	if d < 4 {
		return d, 0
	}
	n := uint32(bits.Len32(d)) - 1
	return 2*n + d>>(n-1)&1, uint8(n - 1)
}

// codes are the two Huffman codes of a block.
type codes struct {
	symbols, distances code
}

const endOfBlock = 256

// count makes the codes for these tokens.
func (c *codes) count(tokens []token) {
	s, d := make([]uint32, 286), make([]uint32, 30)
	s[endOfBlock], d[0] = 1, 1 // there must be one distance
	for _, t := range tokens {
		if t&matched == 0 {
			s[t]++
			continue
		}
		l, _ := lengthCode(uint32(t >> 16 & 0xff))
		far, _ := distanceCode(uint32(t&0xffff) - 1)
		s[l]++
		d[far]++
	}
	c.symbols, c.distances = newCode(s, 15), newCode(d, 15)
}

// write writes the block.
func (c *codes) write(w *bitWriter, tokens []token) {
	w.put(1|2<<1, 3) // the last block, with codes of its own
	c.header(w)
	for _, t := range tokens {
		if t&matched == 0 {
			c.symbols.put(w, uint32(t))
			continue
		}
		l, far := uint32(t>>16&0xff), uint32(t&0xffff)-1
		code, extra := lengthCode(l)
		c.symbols.put(w, code)
		w.put(l&(1<<extra-1), extra)
		code, extra = distanceCode(far)
		c.distances.put(w, code)
		w.put(far&(1<<extra-1), extra)
	}
	c.symbols.put(w, endOfBlock)
}

// header writes the lengths of both codes, themselves packed (RFC 1951,
// section 3.2.7).
func (c *codes) header(w *bitWriter) {
	runs := lengthRuns(slices.Concat(c.symbols.lengths, c.distances.lengths))
	count := make([]uint32, 19)
	for _, r := range runs {
		count[r.symbol]++
	}
	code := newCode(count, 7)
	order := [19]int{16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15}
	w.put(uint32(len(c.symbols.lengths)-257), 5)
	w.put(uint32(len(c.distances.lengths)-1), 5)
	w.put(19-4, 4)
	for _, i := range order {
		w.put(uint32(code.lengths[i]), 3)
	}
	for _, r := range runs {
		code.put(w, r.symbol)
		w.put(r.more, r.extra)
	}
}
