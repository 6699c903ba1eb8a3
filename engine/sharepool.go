package engine

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"lapwright/engine/cutting"
	"lapwright/engine/layout"
	"lapwright/engine/measure"
)

// shareEffort bounds the search for a cutting with pieces paired beforehand.
const shareEffort = 20_000_000

// sawPool says how the boards of a pool are sawn. Where they may be turned end
// for end, raked pieces share cuts: on the boards as planned, or on fewer
// boards, if pairing pieces before they are cut leads there. It also returns
// the least boards for the pieces and for any layout when cuts may be shared.
func (t *takeoff) sawPool(ctx context.Context, p *pool, s *sharer) (boards []sawn, plan, least int) {
	plan, least = p.plan.PlanBound, p.plan.LayoutBound
	s.turns = !slices.ContainsFunc(p.products, func(b Product) bool { return !b.Turns })
	boards = make([]sawn, 0, len(p.plan.Patterns))
	count := 0
	for _, pt := range p.plan.Patterns {
		boards = append(boards, s.arrange(pt.Stock, pt.Count, pt.Pieces))
		count += pt.Count
	}
	if !s.turns {
		return boards, plan, least
	}
	demand, order := s.demand(p)
	pairs := s.pair(demand, order, p.problem.Stocks[0].Length)
	if len(pairs) == 0 {
		return boards, plan, least
	}
	if p.problem.Walls == nil {
		t.stateWalls(p)
	}
	least = min(least, s.leastMaterial(p, demand, order))
	if len(p.problem.Stocks) > 1 {
		return boards, least, least
	}
	if fewer := s.recut(ctx, p, pairs, demand, order); fewer != nil && total(fewer) < count {
		boards = fewer
	}
	return boards, max(least, min(plan, s.leastPlan(ctx, p, demand, order))), least
}

func total(boards []sawn) int {
	n := 0
	for i := range boards {
		n += boards[i].count
	}
	return n
}

// demand counts the copies of every piece, and lists them in a fixed order.
func (s *sharer) demand(p *pool) (map[layout.PieceRef]int, []layout.PieceRef) {
	n := map[layout.PieceRef]int{}
	var order []layout.PieceRef
	for _, pt := range p.plan.Patterns {
		for _, ref := range pt.Pieces {
			if n[ref] == 0 {
				order = append(order, ref)
			}
			n[ref] += pt.Count
		}
	}
	slices.SortFunc(order, func(a, b layout.PieceRef) int {
		return cmp.Or(cmp.Compare(s.piece(b).Length, s.piece(a).Length),
			cmp.Compare(a.Wall, b.Wall), cmp.Compare(a.Run, b.Run), cmp.Compare(a.Piece, b.Piece))
	})
	return n, order
}

// pairing is two pieces sawn with one cut between them, so often.
type pairing struct {
	a, b   layout.PieceRef
	length measure.Length
	count  int
}

// pair matches pieces end by end, long ones with short ones, so that a pair
// fits a board and leaves room beside it.
func (s *sharer) pair(demand map[layout.PieceRef]int, order []layout.PieceRef, stock measure.Length) []pairing {
	left := maps.Clone(demand)
	var out []pairing
	for side := range 2 {
		var raked []layout.PieceRef // few of the pieces: the others can share nothing
		for _, ref := range order {
			if s.ends(ref)[side].run > 0 {
				raked = append(raked, ref)
			}
		}
		for _, a := range raked {
			for k := len(raked) - 1; k >= 0 && left[a] > 0; k-- {
				b := raked[k]
				ra, rb := s.ends(a)[side], s.ends(b)[side]
				n := min(left[a], left[b])
				if a == b {
					n = left[a] / 2
				}
				v := s.saving(ra, rb)
				length := s.piece(a).Length + s.piece(b).Length + s.kerf - v
				if n == 0 || v == 0 || !ra.twins(rb) || length > stock {
					continue
				}
				left[a] -= n
				left[b] -= n
				out = append(out, pairing{a, b, length, n})
			}
		}
	}
	return out
}

// recut cuts pairs as one length each and the other pieces alone.
func (s *sharer) recut(ctx context.Context, p *pool, pairs []pairing, demand map[layout.PieceRef]int, order []layout.PieceRef) []sawn {
	left := maps.Clone(demand)
	problem := cutting.Problem{Kerf: int64(s.kerf), Stocks: []cutting.Stock{{Length: int64(p.problem.Stocks[0].Length)}}}
	var refs [][]layout.PieceRef // by item
	for _, q := range pairs {
		left[q.a] -= q.count
		left[q.b] -= q.count
		problem.Items = append(problem.Items, cutting.Item{Length: int64(q.length), Demand: q.count})
		refs = append(refs, []layout.PieceRef{q.a, q.b})
	}
	for _, ref := range order {
		if left[ref] > 0 {
			problem.Items = append(problem.Items, cutting.Item{Length: int64(s.piece(ref).Length), Demand: left[ref]})
			refs = append(refs, []layout.PieceRef{ref})
		}
	}
	plan, err := cutting.Solve(ctx, problem, cutting.Options{Effort: shareEffort})
	if err != nil {
		return nil
	}
	var out []sawn
	for _, pt := range plan.Patterns {
		var on []layout.PieceRef
		for _, c := range pt.Cuts {
			for range c.Count {
				on = append(on, refs[c.Item]...)
			}
		}
		board := s.arrange(0, pt.Count, on)
		if !s.fits(&board, p.problem.Stocks[0].Length) {
			return nil
		}
		out = append(out, board)
	}
	return out
}

// fits reports whether a board holds its pieces with the kerfs between.
func (s *sharer) fits(b *sawn, stock measure.Length) bool {
	room := stock + s.kerf + b.shared()
	for _, ref := range b.refs {
		room -= s.piece(ref).Length + s.kerf
	}
	return room >= 0
}

// leastPlan is the least boards for these pieces however they share cuts. A
// shared cut saves no more than half of either run, so each raked end is taken
// off by half its run and the rest is cut plainly.
func (s *sharer) leastPlan(ctx context.Context, p *pool, demand map[layout.PieceRef]int, order []layout.PieceRef) int {
	stock := int64(p.problem.Stocks[0].Length)
	problem := cutting.Problem{Kerf: int64(s.kerf), Stocks: []cutting.Stock{{Length: stock}}}
	for _, ref := range order {
		length := s.piece(ref).Length
		for _, e := range s.ends(ref) {
			length -= (e.run + 1) / 2
		}
		problem.Items = append(problem.Items, cutting.Item{Length: int64(max(1, length)), Demand: demand[ref]})
	}
	plan, err := cutting.Solve(ctx, problem, cutting.Options{Effort: shareEffort})
	if err != nil {
		return 1
	}
	return int((plan.Bound + stock - 1) / stock)
}

// leastMaterial is the least boards for any layout whose raked ends share cuts:
// all runs, less their joint gaps and half the run of every raked end.
func (s *sharer) leastMaterial(p *pool, demand map[layout.PieceRef]int, order []layout.PieceRef) int {
	var need, longest measure.Length
	for _, st := range p.problem.Stocks {
		longest = max(longest, st.Length)
	}
	for _, w := range p.problem.Walls {
		for _, r := range w.Runs {
			n := measure.Length(1) // pieces, as many as need least
			if p.problem.Gap > s.kerf {
				n = measure.Length(len(r.Sites) + 1)
			}
			need += measure.Length(w.Quantity) * (r.Span.Length() + n*s.kerf - (n-1)*p.problem.Gap)
		}
	}
	for _, ref := range order {
		q := s.piece(ref)
		for _, e := range []End{q.Left, q.Right} {
			if e.Kind == Rake {
				run := math.Tan(e.Degrees*math.Pi/180) * float64(s.width)
				need -= measure.Length(demand[ref]) * (measure.Length(min(run, float64(q.Length)))/2 + 1)
			}
		}
	}
	board := longest + s.kerf
	return int(max(1, (need+board-1)/board))
}
