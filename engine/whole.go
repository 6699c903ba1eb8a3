package engine

import (
	"slices"
	"sync"
)

// holdMost is how many walls a job may have and still be held with all that is
// on them. Pieces and screws are four fifths of a result and take a tenth of a
// millisecond a wall to be worked out again; what cannot be, the boards that
// pieces are cut from, is kept.
const holdMost = 200

// large reports whether a job has too many walls to hold all that is on them.
func (t *takeoff) large() bool { return max(len(t.faces), len(t.stands)) > t.held }

// cutFrom is the product that a piece is, and the boards it is cut from.
type cutFrom struct{ code, stock string }

// sumWall sums what is asked of pieces and screws later.
func (t *takeoff) sumWall(s *stand, w *WallResult) {
	if t.rules.PaintCoverage > 0 {
		s.sawn = cutEdge(w)
	}
	for i := range w.Pieces {
		w.jointed += btoi(w.Pieces[i].Right.Kind == Joint)
	}
}

// letGo gives up the screws of a wall, its pieces but for those of reveals, which
// are last, and the room that lists have to spare.
func (t *takeoff) letGo(s *stand, w *WallResult) {
	s.built = w.built()
	n := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Course == 0 })
	if n < 0 {
		n = len(w.Pieces)
	}
	s.cutFrom = make([]cutFrom, n)
	for i := range s.cutFrom {
		s.cutFrom[i] = cutFrom{w.Pieces[i].Code, w.Pieces[i].Stock}
	}
	w.Pieces, w.Screws, w.Packings = slices.Clone(w.Pieces[n:]), nil, nil
	w.Battens, w.Trims, w.Strips, w.Fixings = slices.Clone(w.Battens), slices.Clone(w.Trims), slices.Clone(w.Strips), slices.Clone(w.Fixings)
}

// again works out once more what a large job does not hold of its walls.
type again struct {
	mu sync.Mutex
	t  *takeoff
}

func newAgain(t *takeoff) *again {
	own := *t
	own.pools, own.meets, own.result = nil, nil, nil
	return &again{t: &own}
}

// Whole returns the i-th wall with all that is on it. Of a large job that is
// worked out again at every call, equal each time.
func (r *Result) Whole(i int) *WallResult {
	if r.again == nil {
		return &r.Walls[i]
	}
	w := r.Walls[i]
	r.again.whole(&w, i, nil)
	return &w
}

// Pieces returns the pieces of the i-th wall, with all that a list of them says.
// Of a large job they are worked out again at every call, written over those of a
// call before, if such are given, and without a look at how they are fixed, so
// that nothing is noted of that.
func (r *Result) Pieces(i int, over []Piece) []Piece {
	if r.again == nil {
		return r.Walls[i].Pieces
	}
	w := r.Walls[i]
	r.again.pieces(&w, i, over)
	return w.Pieces
}

// PieceCount returns how many pieces the i-th wall has, and how many are built of
// all of them.
func (r *Result) PieceCount(i int) (listed, built int) {
	w := &r.Walls[i]
	if r.again == nil {
		return len(w.Pieces), w.built()
	}
	s := r.again.t.stands[i]
	return len(w.Pieces) + len(s.cutFrom), s.built
}

func (w *WallResult) built() int {
	n := 0
	for i := range w.Pieces {
		n += w.Pieces[i].Quantity
	}
	return n
}

// whole adds to a wall what it does not hold, its pieces written over others.
func (a *again) whole(w *WallResult, i int, over []Piece) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.pieces(w, i, over)
	s := *a.t.stands[i] // what is flagged on it is flagged already
	a.t.placeScrews(&s, w)
}

// pieces adds its pieces to a wall that holds those of reveals.
func (a *again) pieces(w *WallResult, i int, over []Piece) {
	s, reveals := a.t.stands[i], w.Pieces
	w.Pieces = over
	a.t.pieceWall(s, w)
	for k, from := range s.cutFrom {
		w.Pieces[k].Code, w.Pieces[k].Stock = from.code, from.stock
	}
	w.Pieces = append(w.Pieces, reveals...)
}
