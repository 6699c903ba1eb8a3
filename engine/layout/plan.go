package layout

import (
	"cmp"
	"slices"

	"lapwright/engine/measure"
)

// plan turns a solution into the caller's terms.
func (m *model) plan(s *solution) Plan {
	out := Plan{Boards: s.bought, Cost: s.cost, Joints: make([][][]int, len(m.p.Walls))}
	for w, wall := range m.p.Walls {
		out.Joints[w] = make([][]int, len(wall.Runs))
	}
	for r, cuts := range s.cuts {
		ru := &m.runs[r]
		sites := m.p.Walls[ru.wall].Runs[ru.index].Sites
		joints := make([]int, len(cuts))
		for i, k := range cuts {
			joints[i] = sites[k-1]
		}
		out.Joints[ru.wall][ru.index] = joints
		if ru.shape.dead {
			out.Unlaid = append(out.Unlaid, Ref{ru.wall, ru.index})
		}
	}
	out.Patterns = m.patterns(s)
	return out
}

// want is a piece still to be cut, left times.
type want struct {
	ref  PieceRef
	left int
}

// patterns says which piece is cut from which board. Boards of equal cuts
// stand together, so that they take copies of the same pieces.
func (m *model) patterns(s *solution) []Pattern {
	wants := m.wants(s)
	boards := slices.Clone(s.boards)
	for i := range boards {
		boards[i].parts = slices.Sorted(slices.Values(boards[i].parts))
	}
	slices.SortStableFunc(boards, func(a, b cutBoard) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), slices.Compare(a.parts, b.parts))
	})
	var out []Pattern
	for _, b := range boards {
		free := m.kinds[b.kind].cap
		for _, id := range b.parts {
			free -= m.lens[id]
		}
		p := Pattern{Stock: m.kinds[b.kind].stock, Offcut: m.offcut(b.kind, free)}
		for n := b.count; n > 0; {
			p.Pieces, p.Count = draw(wants, b.parts, n)
			n -= p.Count
			if k := len(out); k > 0 && out[k-1].Stock == p.Stock && slices.Equal(out[k-1].Pieces, p.Pieces) {
				out[k-1].Count += p.Count
				continue
			}
			out = append(out, p)
		}
	}
	return out
}

// offcut is what is left of a board after the last cut.
func (m *model) offcut(k int, free int64) measure.Length {
	stock := m.p.Stocks[m.kinds[k].stock].Length
	used := measure.Length(m.kinds[k].cap*m.unit) - measure.Length(free*m.unit)
	return max(0, stock-used)
}

// wants lists the pieces of a layout by length number.
func (m *model) wants(s *solution) [][]want {
	out := make([][]want, len(m.lens))
	var buf []int32
	for r := range m.runs {
		ru := &m.runs[r]
		if ru.shape.dead {
			continue
		}
		buf = m.piecesOf(int32(r), s.cuts[r], buf[:0])
		for i, id := range buf {
			out[id] = append(out[id], want{PieceRef{ru.wall, ru.index, i}, int(ru.qty)})
		}
	}
	return out
}

// draw takes the next pieces of the given lengths for as many of n boards as
// can be alike, and returns them with that number.
func draw(wants [][]want, parts []int32, n int) ([]PieceRef, int) {
	if pieces, count := drawAlike(wants, parts, n); count > 0 {
		return pieces, count
	}
	pieces := make([]PieceRef, 0, len(parts))
	for _, id := range parts {
		w := wants[id]
		pieces = append(pieces, w[0].ref)
		if w[0].left--; w[0].left == 0 {
			wants[id] = w[1:]
		}
	}
	return pieces, 1
}

// drawAlike succeeds where one piece of each length gives all its copies.
func drawAlike(wants [][]want, parts []int32, n int) ([]PieceRef, int) {
	for i, j := 0, 0; i < len(parts); i = j {
		for j = i; j < len(parts) && parts[j] == parts[i]; j++ {
		}
		n = min(n, wants[parts[i]][0].left/(j-i))
	}
	if n == 0 {
		return nil, 0
	}
	pieces := make([]PieceRef, 0, len(parts))
	for _, id := range parts {
		w := wants[id]
		pieces = append(pieces, w[0].ref)
		if w[0].left -= n; w[0].left == 0 {
			wants[id] = w[1:]
		}
	}
	return pieces, n
}
