package drawing

// adler is the checksum of a zlib stream (RFC 1950, 8.2): a is one more than the
// sum of all bytes, b the sum of a after each. A run of zeros, which is nearly
// all there is here, and a word are added at once.
type adler struct{ a, b uint64 }

func (s *adler) byte(v byte) {
	s.a += uint64(v)
	s.b += s.a
}

func (s *adler) zeros(n int) { s.b += uint64(n) * s.a }

// word adds eight bytes, the highest first. Each product has in its highest
// sixteen bits the sum of four bytes, each so many times.
func (s *adler) word(v uint64) {
	const every = 0x00ff_00ff_00ff_00ff
	first, second := v>>8&every, v&every
	s.b += 8*s.a + (first*0x0002_0004_0006_0008+second*0x0001_0003_0005_0007)>>48
	s.a += (first + second) * 0x0001_0001_0001_0001 >> 48
}

// fold keeps the sums small.
func (s *adler) fold() {
	const base = 65521 // the largest prime below 65536
	s.a, s.b = s.a%base, s.b%base
}

func (s *adler) value() uint32 {
	s.fold()
	return uint32(s.b<<16 | s.a)
}
