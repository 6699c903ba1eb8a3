package layout

import (
	"cmp"
	"slices"
)

// rounded cuts a layout by the linear program a that was solved for its
// pieces: whole boards of every pattern first, then one more of those with
// large fractions while all their pieces are still wanted, and what is left by
// falling length (G. Wäscher and T. Gau, Heuristics for the integer
// one-dimensional cutting stock problem, OR Spektrum 18 (1996) 131-144).
func (m *model) rounded(cuts [][]int32, a *master) *solution {
	x := a.values()
	pats := slices.DeleteFunc(slices.Clone(a.pats), func(p cuttingColumn) bool { return x[p.col] < 1e-6 })
	s := sawyer{m: m, want: m.demand(cuts), used: make([]int, len(m.kinds))}
	for _, p := range pats {
		n := int(x[p.col] + 1e-6)
		x[p.col] -= float64(n)
		for n > 0 {
			k := s.alike(p, n)
			if k == 0 && !s.instead(p) {
				break
			}
			n -= max(1, k)
		}
	}
	slices.SortStableFunc(pats, func(p, q cuttingColumn) int { return cmp.Compare(x[q.col], x[p.col]) })
	for _, p := range pats {
		s.alike(p, 1)
	}
	sh := newShelf(m)
	copy(sh.used, s.used)
	for id, n := range s.want {
		for range n {
			sh.place(int32(id))
		}
	}
	out := &solution{name: "search", cuts: cuts, boards: append(s.boards, sh.list()...)}
	m.tally(out)
	return out
}

// sawyer cuts boards by given patterns.
type sawyer struct {
	m      *model
	want   []int32 // pieces still wanted by length number
	used   []int   // boards cut by kind
	boards []cutBoard
}

// alike cuts at most n boards by a pattern, whose parts rise, and returns how
// many it cut.
func (s *sawyer) alike(p cuttingColumn, n int) int {
	if h := s.m.kinds[p.kind].hand; h >= 0 {
		n = min(n, h-s.used[p.kind])
	}
	for i, j := 0, 0; i < len(p.parts); i = j {
		for j = i; j < len(p.parts) && p.parts[j] == p.parts[i]; j++ {
		}
		n = min(n, int(s.want[p.parts[i]])/(j-i))
	}
	if n <= 0 {
		return 0
	}
	for _, id := range p.parts {
		s.want[id] -= int32(n)
	}
	s.cut(p.kind, p.parts, n)
	return n
}

// instead cuts one board by a pattern of which some lengths are wanted no
// more: the next shorter ones take their places.
func (s *sawyer) instead(p cuttingColumn) bool {
	if h := s.m.kinds[p.kind].hand; h >= 0 && s.used[p.kind] >= h {
		return false
	}
	parts := make([]int32, 0, len(p.parts))
	for _, id := range p.parts {
		for int(id) < len(s.want) && s.want[id] == 0 {
			id++
		}
		if int(id) < len(s.want) {
			s.want[id]--
			parts = append(parts, id)
		}
	}
	if len(parts) == 0 {
		return false
	}
	s.cut(p.kind, parts, 1)
	return true
}

func (s *sawyer) cut(kind int, parts []int32, n int) {
	s.used[kind] += n
	s.boards = append(s.boards, cutBoard{kind: kind, parts: parts, count: n})
}
