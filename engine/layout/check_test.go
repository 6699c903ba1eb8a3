package layout

import (
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// checkPlan recomputes a plan from the problem and the rules alone.
func checkPlan(t *testing.T, p Problem, out Plan) {
	t.Helper()
	checkPieces(t, p, out)
	checkStagger(t, p, out)
	checkPatterns(t, p, out)
	if out.LayoutBound > out.PlanBound || out.PlanBound > out.Boards || out.Boards > out.Hand.Boards && out.Cost >= out.Hand.Cost {
		t.Errorf("bounds %d <= %d <= boards %d <= hand %d do not hold", out.LayoutBound, out.PlanBound, out.Boards, out.Hand.Boards)
	}
	if out.LayoutCostBound > out.PlanCostBound || out.PlanCostBound > out.Cost || out.Cost > out.Hand.Cost {
		t.Errorf("cost bounds %d <= %d <= cost %d <= hand %d do not hold", out.LayoutCostBound, out.PlanCostBound, out.Cost, out.Hand.Cost)
	}
	if out.Proven != (out.Cost == out.LayoutCostBound) {
		t.Errorf("proven is %v at cost %d, bound %d", out.Proven, out.Cost, out.LayoutCostBound)
	}
}

func longestBought(p Problem) measure.Length {
	l := measure.Length(0)
	for _, s := range p.Stocks {
		if s.OnHand == 0 {
			l = max(l, s.Length)
		}
	}
	return l
}

// checkPieces: every run is covered from end to end but for the joint gaps, by
// pieces within the stock and the least length.
func checkPieces(t *testing.T, p Problem, out Plan) {
	t.Helper()
	for w, wall := range p.Walls {
		for i, r := range wall.Runs {
			ref := Ref{w, i}
			if slices.Contains(out.Unlaid, ref) {
				continue
			}
			ps := Pieces(r, out.Joints[w][i], wall.Sites, p.Gap)
			if ps[0].Lo != r.Span.Lo || ps[len(ps)-1].Hi != r.Span.Hi {
				t.Errorf("run %v: pieces run from %v to %v, the run is %v", ref, ps[0].Lo, ps[len(ps)-1].Hi, r.Span)
			}
			for k, s := range ps {
				if k > 0 && s.Lo-ps[k-1].Hi != p.Gap {
					t.Errorf("run %v: gap %v at joint %d, want %v", ref, s.Lo-ps[k-1].Hi, k, p.Gap)
				}
				if s.Empty() || s.Length() > longestBought(p) {
					t.Errorf("run %v: piece %d is %v long", ref, k, s.Length())
				}
				if len(ps) > 1 && s.Length() < wall.PieceLeast && !slices.Contains(out.Relaxed, ref) {
					t.Errorf("run %v: piece %d of %v is shorter than %v", ref, k, s.Length(), wall.PieceLeast)
				}
			}
			for _, j := range out.Joints[w][i] {
				if !slices.Contains(r.Sites, j) {
					t.Errorf("run %v: joint at site %d, which is not its own", ref, j)
				}
			}
		}
	}
}

func checkStagger(t *testing.T, p Problem, out Plan) {
	t.Helper()
	for w, wall := range p.Walls {
		for i, a := range wall.Runs {
			for k, b := range wall.Runs {
				if d := b.Course - a.Course; d > 0 && !slices.Contains(out.Relaxed, Ref{w, i}) && !slices.Contains(out.Relaxed, Ref{w, k}) {
					checkApart(t, p, w, d, out.Joints[w][i], out.Joints[w][k])
				}
			}
		}
	}
}

func checkApart(t *testing.T, p Problem, w, courses int, a, b []int) {
	t.Helper()
	for _, x := range a {
		for _, y := range b {
			bays := p.Walls[w].Sites[x].Bay - p.Walls[w].Sites[y].Bay
			far := p.Walls[w].Sites[x].X - p.Walls[w].Sites[y].X
			if far = max(far, -far); courses == 1 && far < p.Walls[w].Near {
				t.Errorf("wall %d: joints of neighbouring courses %v apart, want %v", w, far, p.Walls[w].Near)
			}
			if courses == 1 && max(bays, -bays) < p.StaggerBays {
				t.Errorf("wall %d: joints of neighbouring courses %d bays apart, want %d", w, bays, p.StaggerBays)
			}
			if bays == 0 && courses < p.Repeat {
				t.Errorf("wall %d: a bay is jointed again after %d courses, want %d", w, courses, p.Repeat)
			}
		}
	}
}

// checkPatterns: every piece comes as often as its wall is built, every board
// holds its pieces and the kerfs between them.
func checkPatterns(t *testing.T, p Problem, out Plan) {
	t.Helper()
	got := map[PieceRef]int{}
	boards, hand := 0, make([]int, len(p.Stocks))
	cost := int64(0)
	for _, pt := range out.Patterns {
		used := measure.Length(0)
		for i, ref := range pt.Pieces {
			got[ref] += pt.Count
			r := p.Walls[ref.Wall].Runs[ref.Run]
			ps := Pieces(r, out.Joints[ref.Wall][ref.Run], p.Walls[ref.Wall].Sites, p.Gap)
			if i > 0 {
				used += p.Kerf
			}
			used += ps[ref.Piece].Length().UpTo(measure.Tenth)
		}
		s := p.Stocks[pt.Stock]
		if used > s.Length || pt.Count < 1 || len(pt.Pieces) == 0 {
			t.Errorf("pattern %v takes %v of a board of %v", pt, used, s.Length)
		}
		if want := max(0, s.Length-used-p.Kerf); pt.Offcut != want {
			t.Errorf("pattern %v: offcut %v, want %v", pt, pt.Offcut, want)
		}
		if s.OnHand > 0 {
			hand[pt.Stock] += pt.Count
			continue
		}
		boards += pt.Count
		cost += int64(pt.Count) * price(s)
	}
	for i, s := range p.Stocks {
		if s.OnHand > 0 && hand[i] > s.OnHand {
			t.Errorf("stock %d: %d used, %d on hand", i, hand[i], s.OnHand)
		}
	}
	if boards != out.Boards || cost != out.Cost {
		t.Errorf("patterns buy %d boards at %d, plan says %d at %d", boards, cost, out.Boards, out.Cost)
	}
	checkDemand(t, p, out, got)
}

func checkDemand(t *testing.T, p Problem, out Plan, got map[PieceRef]int) {
	t.Helper()
	pieces := 0
	for w, wall := range p.Walls {
		for i := range wall.Runs {
			if slices.Contains(out.Unlaid, Ref{w, i}) {
				continue
			}
			for k := range len(out.Joints[w][i]) + 1 {
				pieces++
				if n := got[PieceRef{w, i, k}]; n != max(1, wall.Quantity) {
					t.Errorf("piece %v is cut %d times, want %d", PieceRef{w, i, k}, n, max(1, wall.Quantity))
				}
			}
		}
	}
	if pieces != len(got) {
		t.Errorf("%d pieces are cut, the layout has %d", len(got), pieces)
	}
}
