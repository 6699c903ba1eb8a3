package engine

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/layout"
	"lapwright/engine/measure"
)

// trapezoid is a piece of a board 180 wide, 1,000 mm along its long edge; left
// and right are how far its ends slope, below zero where the long edge is the
// upper one.
func trapezoid(left, right int64) *Piece {
	lo, up := measure.Span{Lo: 0, Hi: mm(1000)}, measure.Span{Lo: 0, Hi: mm(1000)}
	up.Lo, lo.Lo = max(0, mm(left)), max(0, -mm(left))
	up.Hi, lo.Hi = mm(1000)-max(0, mm(right)), mm(1000)-max(0, -mm(right))
	return &Piece{Length: mm(1000), Width: mm(180),
		Outline: measure.Polygon{{X: lo.Lo}, {X: lo.Hi}, {X: up.Hi, Z: mm(180)}, {X: up.Lo, Z: mm(180)}}}
}

func testSharer(pieces ...*Piece) *sharer {
	return &sharer{turns: true, width: mm(180), kerf: mm(4), known: map[layout.PieceRef][2]rake{},
		piece:  func(ref layout.PieceRef) *Piece { return pieces[ref.Piece] },
		handed: func(layout.PieceRef) bool { return false }}
}

func refsOf(n int) []layout.PieceRef {
	out := make([]layout.PieceRef, n)
	for i := range out {
		out[i].Piece = i
	}
	return out
}

// At 45 degrees over 180 mm with a kerf of 4 the boxes overlap by 180 less 4 x
// 1.41421 = 5.657 along the board, against a kerf between them: 178.343, to a
// tenth below. At 135 along 180 (3-4-5: the slope is 225) the kerf takes 4 x
// 225/180 = 5 along the board: 135 - 5 + 4 = 134.
func TestSavingByHand(t *testing.T) {
	s := testSharer()
	for _, c := range []struct {
		run  int64
		want measure.Length
	}{{180, 178300}, {135, 133900}, {1, 900}} { // a micrometre is kept for rounding
		if got := s.saving(rake{run: mm(c.run)}, rake{run: mm(c.run)}); got != c.want {
			t.Errorf("run %d: got %v, want %v", c.run, got, c.want)
		}
	}
}

func TestRakesOfOutlines(t *testing.T) {
	notched := trapezoid(0, 180)
	notched.Outline = measure.Polygon{{}, {X: mm(1000)}, {X: mm(820), Z: mm(180)}, {X: mm(500), Z: mm(180)}, {X: mm(500), Z: mm(90)}, {Z: mm(90)}}
	broken := trapezoid(0, 0) // upright for half its height, then sloped
	broken.Outline = measure.Polygon{{}, {X: mm(1000)}, {X: mm(1000), Z: mm(90)}, {X: mm(910), Z: mm(180)}, {Z: mm(180)}}
	ripped := trapezoid(0, 100)
	for i := range ripped.Outline {
		ripped.Outline[i].Z /= 2
	}
	for _, c := range []struct {
		name string
		p    *Piece
		want [2]rake
	}{
		{"square", trapezoid(0, 0), [2]rake{}},
		{"right", trapezoid(0, 180), [2]rake{1: {mm(180), false}}},
		{"both", trapezoid(90, 180), [2]rake{{mm(90), false}, {mm(180), false}}},
		{"under", trapezoid(-90, -180), [2]rake{{mm(90), true}, {mm(180), true}}},
		{"notched away from its rake", notched, [2]rake{1: {mm(180), false}}},
		{"half an end", broken, [2]rake{}},
		{"narrower than the board", ripped, [2]rake{}},
	} {
		if got := rakes(c.p, mm(180)); got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// most tries every order and every way to turn the pieces.
func most(s *sharer, refs []layout.PieceRef) measure.Length {
	best := measure.Length(0)
	var place func(used int, last layout.PieceRef, turned bool, sum measure.Length, n int)
	place = func(used int, last layout.PieceRef, turned bool, sum measure.Length, n int) {
		best = max(best, sum)
		for i, ref := range refs {
			for _, turn := range []bool{false, true} {
				if used>>i&1 != 0 {
					continue
				}
				saved := measure.Length(0)
				if n > 0 && turn != turned { // one of the two lies turned: their ends of one side meet
					side := 1
					if turned {
						side = 0
					}
					if a, b := s.ends(last)[side], s.ends(ref)[side]; a.twins(b) {
						saved = s.saving(a, b)
					}
				}
				place(used|1<<i, ref, turn, sum+saved, n+1)
			}
		}
	}
	place(0, layout.PieceRef{}, false, 0, 0)
	return best
}

func TestArrangeAgainstEveryOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	slopes := []int64{0, 90, 90, 180, -90}
	shared := 0
	for n := range 300 {
		var pieces []*Piece
		for range 2 + n%3 {
			pieces = append(pieces, trapezoid(slopes[r.IntN(5)], slopes[r.IntN(5)]))
		}
		s, refs := testSharer(pieces...), refsOf(len(pieces))
		got := s.arrange(0, 1, refs)
		if want := most(s, refs); got.shared() != want {
			t.Fatalf("case %d: saved %v, the best order saves %v", n, got.shared(), want)
		}
		left := slices.Clone(got.refs)
		slices.SortFunc(left, func(a, b layout.PieceRef) int { return a.Piece - b.Piece })
		if !slices.Equal(left, refs) {
			t.Fatalf("case %d: %v is no order of %d pieces", n, got.refs, len(refs))
		}
		for k := 1; k < len(got.saved); k++ {
			if got.saved[k] > 0 && got.turned[k] == got.turned[k-1] {
				t.Errorf("case %d: pieces %d and %d share a cut, neither lies turned against the other", n, k-1, k)
			}
		}
		if got.shared() > 0 {
			shared++
		}
	}
	if shared < 100 {
		t.Errorf("only %d boards share a cut", shared)
	}
}

// turning is a job of gables whose boards may be turned end for end, or not.
func turning(turns bool, walls ...Wall) *Job {
	job := testJob(walls...)
	job.Products = slices.Clone(job.Products)
	for i := range job.Products {
		job.Products[i].Turns = turns && job.Products[i].Role == RoleBoard
	}
	return job
}

func gable(width, eaves, apex int64) Wall {
	return Wall{Name: fmt.Sprintf("gable %d", width), Width: mm(width), Height: mm(eaves), ApexHeight: measure.Some(mm(apex)), Base: measure.Some(mm(150)),
		Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground}
}

// Gables whose boards turn take no more boards than those whose boards do not,
// and over all of them fewer; every plan passes the audit, which lays the pieces
// on the boards again.
func TestSharedCutsOfGables(t *testing.T) {
	plain, turned, saved := 0, 0, measure.Length(0)
	for _, w := range []Wall{gable(2900, 1500, 2950), gable(5400, 2400, 4600), gable(7200, 2400, 5900), gable(8100, 600, 5200)} {
		a, b := mustTakeoff(t, turning(false, w)), mustTakeoff(t, turning(true, w))
		for _, row := range a.Cutting {
			if row.Shared != 0 {
				t.Errorf("%s: board %s shares a cut, yet does not turn", w.Name, row.Board)
			}
		}
		for _, row := range b.Cutting {
			sum := measure.Length(0)
			for _, c := range row.Cuts {
				sum += c.Saved
			}
			if sum != row.Shared {
				t.Errorf("%s: board %s saves %v, its cuts %v", w.Name, row.Board, row.Shared, sum)
			}
			saved += row.Shared * measure.Length(row.Count)
		}
		if n, m := boardsOf(a), boardsOf(b); m > n {
			t.Errorf("%s: %d boards with shared cuts, %d without", w.Name, m, n)
		}
		plain += boardsOf(a)
		turned += boardsOf(b)
	}
	if turned >= plain || saved == 0 {
		t.Errorf("%d boards with shared cuts, %d without, %v saved", turned, plain, saved)
	}
	t.Logf("%d boards with shared cuts, %d without, %v mm saved", turned, plain, saved)
}

func boardsOf(r *Result) int {
	n := 0
	for _, row := range r.Cutting {
		if row.Role == RoleBoard {
			n += row.Count
		}
	}
	return n
}

// Where dwellings are cut together, those built handed are of the other hand and
// share nothing. Cut dwelling by dwelling, each is of one hand.
func TestHandedPiecesShareNothing(t *testing.T) {
	w := Wall{Plot: "A", Name: "lean-to", Width: mm(3600), Height: mm(1500), HeightRight: measure.Some(mm(3000)), Base: measure.Some(mm(150)),
		Left: Abutment, Right: Abutment, Top: Verge, Bottom: Ground, Quantity: 1}
	for _, c := range []struct {
		pool   Pool
		handed bool
		shares bool
	}{{PoolJob, false, true}, {PoolJob, true, false}, {PoolPlot, true, true}} {
		job := turning(true, w)
		job.Pool = c.pool
		job.Plots = []Plot{{Name: "1", HouseType: "A"}, {Name: "2", HouseType: "A", Handed: c.handed}}
		sum := measure.Length(0)
		for _, row := range mustTakeoff(t, job).Cutting {
			sum += row.Shared
		}
		if (sum > 0) != c.shares {
			t.Errorf("pool %s, one handed %v: %v shared, want any: %v", c.pool, c.handed, sum, c.shares)
		}
	}
}

// The words name both pieces and the one that lies turned, the first or the
// second.
func TestSharedCutsInWords(t *testing.T) {
	row := CutRow{Cuts: []Cut{{Marks: []string{"a"}}, {Marks: []string{"b"}, Turned: true, Saved: mm(9)}, {Marks: []string{"c"}, Saved: mm(8)}, {Marks: []string{"d"}}}}
	same(t, "shared cuts", row.SharedCuts(), "a and b by one raked cut, b turned end for end; b and c by one raked cut, b turned end for end")
	same(t, "none", (&CutRow{Cuts: row.Cuts[3:]}).SharedCuts(), "")
}

// fewest is the least boards for the pieces over every way to deal them out and
// to order what is on one board.
func fewest(s *sharer, refs []layout.PieceRef, stock measure.Length) int {
	best := len(refs)
	var boards [][]layout.PieceRef
	var deal func(i int)
	deal = func(i int) {
		if len(boards) >= best && i < len(refs) {
			return
		}
		if i == len(refs) {
			best = min(best, len(boards))
			return
		}
		for k := range boards {
			old := boards[k]
			boards[k] = append(slices.Clone(old), refs[i])
			room := stock + s.kerf + most(s, boards[k])
			for _, ref := range boards[k] {
				room -= s.piece(ref).Length + s.kerf
			}
			if room >= 0 {
				deal(i + 1)
			}
			boards[k] = old
		}
		boards = append(boards, []layout.PieceRef{refs[i]})
		deal(i + 1)
		boards = boards[:len(boards)-1]
	}
	deal(0)
	return best
}

// The bound for shared cuts must hold against an exhaustive search, and the
// boards of pairs cut together be valid.
func TestSharedBoardsAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	slopes := []int64{0, 90, 180, 180, -180}
	met, helped := 0, 0
	for n := range 150 {
		var pieces []*Piece
		for range 3 + n%3 {
			pieces = append(pieces, trapezoid(slopes[r.IntN(5)], slopes[r.IntN(5)]))
		}
		stock := mm(1650 + r.Int64N(400))
		s, refs := testSharer(pieces...), refsOf(len(pieces))
		p := &pool{problem: layout.Problem{Stocks: []layout.Stock{{Length: stock}}}}
		for _, ref := range refs {
			p.plan.Patterns = append(p.plan.Patterns, layout.Pattern{Pieces: []layout.PieceRef{ref}, Count: 1})
		}
		demand, order := s.demand(p)
		want := fewest(s, refs, stock)
		if got := s.leastPlan(t.Context(), p, demand, order); got > want {
			t.Fatalf("case %d: bound %d, %d boards do", n, got, want)
		}
		boards := s.recut(t.Context(), p, s.pair(demand, order, stock), demand, order)
		if got := total(boards); got < want {
			t.Fatalf("case %d: %d boards, no fewer than %d can do", n, got, want)
		} else if got == want {
			met++
		}
		if want < len(pieces) && stock < mm(2004) {
			helped++
		}
	}
	if met < 140 || helped < 50 {
		t.Errorf("of 150: fewest boards met %d times, %d of which only shared cuts allow", met, helped)
	}
}
