package engine

import (
	"math"
	"slices"

	"lapwright/engine/layout"
	"lapwright/engine/measure"
)

// One straight sloped cut makes two raked ends of the same hand, where the
// board may be turned end for end with its face out: of two pieces side by
// side on the board, long edge down, one lies turned, and their slopes are
// parallel with the saw's kerf between.

// sawn is boards as they are sawn alike: the pieces from the left and, unless
// no cut is shared, whether each lies turned and what the cut before it saves by
// being shared.
type sawn struct {
	stock, count int
	refs         []layout.PieceRef
	turned       []bool
	saved        []measure.Length
}

func (s *sawn) shared() measure.Length {
	var sum measure.Length
	for _, v := range s.saved {
		sum += v
	}
	return sum
}

// rake is an end that a straight slope over the whole board makes.
type rake struct {
	run   measure.Length // along the board; 0: no such end
	under bool           // the long edge is the upper one
}

// slopeSlack is how much two runs of one slope may differ: corners are whole
// micrometres.
const slopeSlack = 2

// twins reports whether two ends of the same side may be made by one cut.
func (a rake) twins(b rake) bool {
	return a.run > 0 && b.run > 0 && a.under == b.under && max(a.run-b.run, b.run-a.run) <= slopeSlack
}

// rakes returns the left and right ends of a piece as wide as the board.
func rakes(p *Piece, width measure.Length) (out [2]rake) {
	xs, zs := p.Outline.Bounds()
	if zs.Length() != width {
		return out
	}
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		run := max(a.X-b.X, b.X-a.X)
		switch { // anticlockwise: the right end rises, the left one falls
		case run == 0:
		case a.Z == zs.Lo && b.Z == zs.Hi && max(a.X, b.X) == xs.Hi:
			out[1] = rake{run, b.X > a.X}
		case a.Z == zs.Hi && b.Z == zs.Lo && min(a.X, b.X) == xs.Lo:
			out[0] = rake{run, b.X > a.X}
		}
	}
	return out
}

// sharer knows the pieces of one pool and what two of them can share.
type sharer struct {
	width, kerf measure.Length
	turns       bool // boards may be turned: else nothing is shared
	piece       func(layout.PieceRef) *Piece
	handed      func(layout.PieceRef) bool // some copies are built mirrored: of either hand
	known       map[layout.PieceRef][2]rake
}

func (s *sharer) ends(ref layout.PieceRef) [2]rake {
	r, ok := s.known[ref]
	if !ok {
		if !s.handed(ref) {
			r = rakes(s.piece(ref), s.width)
		}
		s.known[ref] = r
	}
	return r
}

// saving is what one cut for both ends saves against two and a kerf between
// the pieces' boxes: the overlap of the boxes, less what the kerf, measured
// square to the slope, takes more along the board.
func (s *sharer) saving(a, b rake) measure.Length {
	run, w := float64(max(a.run, b.run)), float64(s.width)
	along := measure.Length(float64(s.kerf)*math.Sqrt(run*run+w*w)/w) + 1
	return max(0, (min(a.run, b.run) + s.kerf - along).DownTo(measure.Tenth))
}

// between is what the cut between two neighbours on the board saves: with one
// of them turned, the ends that meet are of one side.
func (s *sharer) between(a layout.PieceRef, aTurned bool, b layout.PieceRef, bTurned bool) measure.Length {
	if aTurned == bTurned {
		return 0
	}
	side := 1 // what faces right of a piece as it is
	if aTurned {
		side = 0
	}
	if x, y := s.ends(a)[side], s.ends(b)[side]; x.twins(y) {
		return s.saving(x, y)
	}
	return 0
}

// mostSloped is how many raked pieces of one board are ordered; more would fit
// on no board that people carry.
const mostSloped = 10

// arrange puts the pieces of a board in the order, and turns them so, that
// their shared cuts save most: dynamic programming over the sets of raked
// pieces already laid and the last of them, as for a travelling salesman (M.
// Held and R. M. Karp, Journal of the Society for Industrial and Applied
// Mathematics 10 (1962) 196-210).
func (s *sharer) arrange(stock, count int, refs []layout.PieceRef) sawn {
	plain := sawn{stock: stock, count: count, refs: refs}
	if !s.turns {
		return plain
	}
	var sloped, others []layout.PieceRef
	for _, ref := range refs {
		if e := s.ends(ref); (e[0].run > 0 || e[1].run > 0) && len(sloped) < mostSloped {
			sloped = append(sloped, ref)
		} else {
			others = append(others, ref)
		}
	}
	if len(sloped) < 2 {
		return plain
	}
	out := s.order(sloped)
	if out.shared() == 0 {
		return plain
	}
	out.stock, out.count = stock, count
	out.refs = append(out.refs, others...)
	out.turned = append(out.turned, make([]bool, len(others))...)
	out.saved = append(out.saved, make([]measure.Length, len(others))...)
	return out
}

// laid is the best way to lay a set of pieces that ends with one of them: what
// it saves, and the state before, or -1.
type laid struct {
	saved measure.Length
	from  int
}

// order finds the best order. A state is set * 2n + last * 2 + turned.
func (s *sharer) order(refs []layout.PieceRef) sawn {
	n := len(refs)
	best := make([]laid, 2*n<<n)
	top := 0
	for state := range best {
		set, last, turned := state/(2*n), state/2%n, state%2 == 1
		best[state] = laid{-1, -1}
		if set>>last&1 == 0 {
			continue
		}
		before := set &^ (1 << last)
		if before == 0 {
			best[state].saved = 0
			continue
		}
		for from := before * 2 * n; from < (before+1)*2*n; from++ {
			if best[from].saved < 0 {
				continue
			}
			v := best[from].saved + s.between(refs[from/2%n], from%2 == 1, refs[last], turned)
			if v > best[state].saved {
				best[state] = laid{v, from}
			}
		}
		if set == 1<<n-1 && best[state].saved > best[top].saved {
			top = state
		}
	}
	return unwind(refs, best, top)
}

// unwind writes the order that ends in a state down from its first piece.
func unwind(refs []layout.PieceRef, best []laid, state int) sawn {
	var out sawn
	for n := len(refs); state >= 0; state = best[state].from {
		saved := best[state].saved
		if from := best[state].from; from >= 0 {
			saved -= best[from].saved
		}
		out.refs, out.turned, out.saved = append(out.refs, refs[state/2%n]), append(out.turned, state%2 == 1), append(out.saved, saved)
	}
	slices.Reverse(out.refs)
	slices.Reverse(out.turned)
	slices.Reverse(out.saved)
	return out
}
