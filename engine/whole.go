package engine

import (
	"iter"
	"slices"
	"sync"

	"lapwright/engine/boards"
	"lapwright/engine/parallel"
)

// holdMost is how many walls a job may have and still be held with all that is
// on them. Pieces and screws are four fifths of a result and take a tenth of a
// millisecond a wall to be worked out again; what cannot be, or takes longer, is
// kept as bytes: the boards that pieces are cut from, the other lists of a wall, and
// the cutting plan.
const holdMost = 500

// large reports whether a job has too many walls to hold all that is on them.
func (t *takeoff) large() bool { return max(len(t.faces), len(t.stands)) > t.held }

// kept is what a large job keeps of a wall that it does not hold.
type kept struct {
	pieces  int    // of courses
	built   int    // of all walls like it, those of reveals too
	cutFrom string // as bytes: of each piece of a course its product and its boards
	lists   string // as bytes
	counts  Counts
}

// Counts says how long the lists of a wall are.
type Counts struct {
	Pieces, Built           int // listed, and built of all walls like it
	Battens, Trims, Fixings int
}

// again works out once more what a large job does not hold of its walls, and
// reads what it keeps.
type again struct {
	mu    *sync.Mutex
	t     *takeoff
	codec *codec
	rows  codedRows
}

func newAgain() *again { return &again{mu: &sync.Mutex{}, codec: &codec{words: &words{}}} }

// of says which takeoff it is that is written down now.
func (a *again) of(t *takeoff) {
	own := *t
	own.pools, own.meets, own.result = nil, nil, nil
	a.t = &own
}

// with returns the same with other lots.
func (a *again) with(lotFor func(*Lot) *Lot) *again {
	out := *a
	out.rows.blocks = slices.Clone(a.rows.blocks)
	for i := range out.rows.blocks {
		b := &out.rows.blocks[i]
		b.lot = lotFor(b.lot)
	}
	return &out
}

// addRows adds rows to the cutting plan.
func (t *takeoff) addRows(rows []CutRow) {
	if a := t.result.again; a != nil {
		a.rows.add(a.codec, rows)
		return
	}
	t.result.Cutting = append(t.result.Cutting, rows...)
}

// letGoRuns gives up the runs of a large job's walls once the pool is stated that
// is laid out by them; where walls stand in several pools, they are few.
func (t *takeoff) letGoRuns(p *pool) {
	if !t.large() || len(t.job.Plots) > 0 {
		return
	}
	for _, s := range p.stands {
		s.face.runs = nil
	}
}

// findRuns finds the runs of walls again.
func (t *takeoff) findRuns(stands []*stand) {
	var faces []*face
	seen := map[*face]bool{}
	for _, s := range stands {
		if f := s.face; f.runs == nil && !seen[f] {
			seen[f] = true
			faces = append(faces, f)
		}
	}
	parallel.Each(len(faces), func(_, i int) { faces[i].runs = boards.Runs(t.boardsOf(faces[i])) })
}

// letGoWalls gives up the walls of a large job's layout problem when it is solved.
func (t *takeoff) letGoWalls(p *pool) {
	if t.large() {
		p.problem.Walls = nil
	}
}

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
	s.kept.built = w.built()
	n := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Course == 0 })
	if n < 0 {
		n = len(w.Pieces)
	}
	out := t.result.again.codec
	for i := range w.Pieces[:n] {
		out.word(&w.Pieces[i].Code)
		out.text(&w.Pieces[i].Stock)
	}
	s.kept.pieces, s.kept.cutFrom = n, out.written()
	w.Pieces, w.Screws, w.Packings = slices.Clone(w.Pieces[n:]), nil, nil
	w.Battens, w.Trims, w.Strips, w.Fixings = slices.Clone(w.Battens), slices.Clone(w.Trims), slices.Clone(w.Strips), slices.Clone(w.Fixings)
}

// letGoLists keeps the lists of every wall as bytes, once all is summed.
func (t *takeoff) letGoLists() {
	out := t.result.again.codec
	for i, s := range t.stands {
		w := &t.result.Walls[i]
		s.kept.counts = Counts{len(w.Pieces) + s.kept.pieces, s.kept.built, len(w.Battens), len(w.Trims), len(w.Fixings)}
		out.lists(w)
		s.kept.lists = out.written()
		w.Battens, w.Trims, w.Strips, w.Fixings = nil, nil, nil, nil
	}
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

// Lists returns the i-th wall with its battens, trims, strips and fixings.
func (r *Result) Lists(i int) *WallResult {
	if r.again == nil {
		return &r.Walls[i]
	}
	w := r.Walls[i]
	r.again.lists(&w, i)
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

// Counts returns how long the lists of the i-th wall are.
func (r *Result) Counts(i int) Counts {
	if r.again != nil {
		return r.again.t.stands[i].kept.counts
	}
	w := &r.Walls[i]
	return Counts{len(w.Pieces), w.built(), len(w.Battens), len(w.Trims), len(w.Fixings)}
}

// CutRows goes through the rows of the cutting plan from one number up to another,
// without that. Those of a large job are made anew at every call.
func (r *Result) CutRows(from, to int) iter.Seq[*CutRow] {
	if r.again != nil {
		return r.again.rows.from(from, to)
	}
	return func(yield func(*CutRow) bool) {
		for i := range r.Cutting[from:to] {
			if !yield(&r.Cutting[from+i]) {
				return
			}
		}
	}
}

// CutCount returns how many rows the cutting plan has.
func (r *Result) CutCount() int {
	if r.again != nil {
		return r.again.rows.rows
	}
	return len(r.Cutting)
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
	a.lists(w, i)
	a.pieces(w, i, over)
	s := *a.t.stands[i] // what is flagged on it is flagged already
	a.t.placeScrews(&s, w)
}

// lists reads the lists of a wall.
func (a *again) lists(w *WallResult, i int) {
	p := codec{words: a.codec.words, from: a.t.stands[i].kept.lists, reads: true}
	p.lists(w)
}

// pieces adds its pieces to a wall that holds those of reveals.
func (a *again) pieces(w *WallResult, i int, over []Piece) {
	s, reveals := a.t.stands[i], w.Pieces
	w.Pieces = over
	a.t.pieceWall(s, w)
	p := codec{words: a.codec.words, from: s.kept.cutFrom, reads: true}
	for k := range s.kept.pieces {
		p.word(&w.Pieces[k].Code)
		p.text(&w.Pieces[k].Stock)
	}
	w.Pieces = append(w.Pieces, reveals...)
}
