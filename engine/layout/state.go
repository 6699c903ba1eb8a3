package layout

import "math"

// far is a cost no legal way reaches; breach is the price of breaking a rule
// once while a legal layout is being sought.
const (
	far    = int64(math.MaxInt64 / 4)
	breach = int64(1) << 40
)

// state is a layout being built: the points at which each run is jointed.
type state struct {
	m     *model
	cuts  [][]int32 // run -> points, rising; nil for a run without joints
	laid  []bool
	block []int32 // joint -> joints standing that exclude it

	cost []int64 // buffers of the path search
	from []int32
}

func newState(m *model) *state {
	n := 0
	for _, s := range m.shapes {
		n = max(n, s.n)
	}
	return &state{m: m, cuts: make([][]int32, len(m.runs)), laid: make([]bool, len(m.runs)),
		block: make([]int32, len(m.conf)), cost: make([]int64, n), from: make([]int32, n)}
}

// lift takes a run's joints away.
func (s *state) lift(r int32) { s.shift(r, -1); s.laid[r] = false }

// put joints the run at the points given; the slice is kept.
func (s *state) put(r int32, cuts []int32) {
	s.cuts[r] = cuts
	s.shift(r, 1)
	s.laid[r] = true
}

func (s *state) shift(r int32, by int32) {
	if s.laid[r] == (by > 0) {
		return
	}
	base := s.m.runs[r].base
	for _, k := range s.cuts[r] {
		for _, c := range s.m.conf[base+k] {
			s.block[c] += by
		}
	}
}

// breaches counts the joints of a run that other joints exclude, and its short
// pieces.
func (s *state) breaches(r int32) int {
	n := 0
	ru := &s.m.runs[r]
	last := int32(0)
	for _, k := range s.cuts[r] {
		if s.block[ru.base+k] > 0 {
			n++
		}
		if ru.shape.short[int(last)*ru.shape.n+int(k)] {
			n++
		}
		last = k
	}
	if ru.shape.short[int(last)*ru.shape.n+ru.shape.n-1] {
		n++
	}
	return n
}

// shortest finds the cheapest way to lay run r around the joints that stand,
// piece lengths priced by number and joints by toll (nil: free). A blocked
// joint costs price times the joints that block it. It returns the total, far
// if there is no way, and appends the joints to buf.
func (s *state) shortest(r int32, prices []int64, toll func(k int32) int64, blocked int64, buf []int32) (int64, []int32) {
	ru := &s.m.runs[r]
	sh := ru.shape
	n := sh.n
	cost, from := s.cost[:n], s.from[:n]
	cost[0] = 0
	for j := 1; j < n; j++ {
		cost[j] = far
		add := int64(0)
		if j < n-1 {
			if b := s.block[ru.base+int32(j)]; b > 0 {
				if blocked >= far {
					continue
				}
				add = blocked * int64(b)
			}
			if toll != nil {
				add += toll(int32(j))
			}
		}
		for i := j - 1; i >= 0; i-- {
			e := i*n + j
			id := sh.seg[e]
			if id == none || cost[i] >= far {
				continue
			}
			c := cost[i] + prices[id] + add
			if sh.short[e] {
				c += breach
			}
			if c < cost[j] {
				cost[j], from[j] = c, int32(i)
			}
		}
	}
	if cost[n-1] >= far {
		return far, buf
	}
	start := len(buf)
	for k := from[n-1]; k > 0; k = from[k] {
		buf = append(buf, k)
	}
	for i, j := start, len(buf)-1; i < j; i, j = i+1, j-1 {
		buf[i], buf[j] = buf[j], buf[i]
	}
	return cost[n-1], buf
}

// piecesOf appends the numbers of a run's piece lengths from left to right.
func (m *model) piecesOf(r int32, cuts []int32, buf []int32) []int32 {
	sh := m.runs[r].shape
	last := int32(0)
	for _, k := range cuts {
		buf = append(buf, sh.seg[int(last)*sh.n+int(k)])
		last = k
	}
	return append(buf, sh.seg[int(last)*sh.n+sh.n-1])
}
