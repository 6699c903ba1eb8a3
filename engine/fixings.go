package engine

import (
	"cmp"
	"slices"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// fixWall places the board fixings of one wall and writes its schedule.
func (t *takeoff) fixWall(s *stand, w *WallResult) {
	t.placeScrews(s, w)
	t.flagUnbacked(s, w)
	t.flagBattenEnds(s, w)
	t.flagOffStuds(s, w)
	sheet := schedule{wall: w}
	t.boardRows(s, &sheet)
	t.trimRows(&sheet)
	t.pinRows(&sheet)
	t.flagLooseStrips(s, w)
	t.battenRows(&sheet)
	slices.SortStableFunc(w.Fixings, func(a, b FixingRow) int { return cmp.Compare(a.Zone, b.Zone) })
}

// placeScrews places the board fixings of one wall, with what they go through, and
// notes on its pieces where none can stand.
func (t *takeoff) placeScrews(s *stand, w *WallResult) {
	k := &t.fixer
	k.state(w, t.rules.EdgeDistance)
	var troubles []fixing.Trouble
	k.screws, troubles = fixing.Place(k.screws[:0], k.pieces, k.battens, fixing.Rules{
		Edge: t.rules.EdgeDistance, PreDrill: t.rules.PreDrillWithin, EndLeast: t.rules.EndDistanceLeast, BattenEnd: t.rules.BattenEndLeast, Below: t.belowLeast()})
	w.Screws = make([]Screw, len(k.screws))
	for i := range k.screws {
		c := &k.screws[i]
		c.Visible = !k.hides(w, c)
		w.Screws[i] = Screw{X: c.X, Z: c.Z, Piece: c.Piece, Batten: c.Batten, Kind: c.Kind, PreDrilled: c.PreDrilled, Visible: c.Visible}
	}
	k.hold(w)
	t.packWall(s, w)
	t.flagTroubles(s, w, troubles)
	t.flagLoose(s, w)
}

// fixer states a wall for its fixings and knows them by piece. It keeps its
// working space from wall to wall.
type fixer struct {
	pieces  []fixing.Piece
	battens []fixing.Batten
	screws  []fixing.Screw
	bare    []measure.Span // of all pieces, one after another
	over    []measure.Span // of one course
	xs      []measure.Span // of each piece, where it is
	above   []indices      // of each piece, the pieces of the next course
	held    []heldBy       // of each piece
	bays    []measure.Length
	across  []measure.Length // a trim: the battens' middles
}

// indices are those from one up to another, without that.
type indices struct{ from, to int }

// heldBy is what holds a piece: those of the wall's screws, from x to x; none
// where it is empty.
type heldBy struct {
	indices
	x measure.Span
}

// state writes down the wall's pieces, which are course by course, those of
// reveals last, and its battens.
func (k *fixer) state(w *WallResult, edge measure.Length) {
	k.pieces, k.battens, k.bare, k.xs, k.above = k.pieces[:0], k.battens[:0], k.bare[:0], k.xs[:0], k.above[:0]
	for from := 0; from < len(w.Pieces) && w.Pieces[from].Course != 0; {
		n := w.Pieces[from].Course
		to := w.endOf(from, n)
		next := indices{to, w.endOf(to, n+1)}
		below, own := w.course(n-1), w.course(n)
		k.over = k.over[:0]
		for i := next.from; i < next.to; i++ {
			k.over = crossed(k.over, w.Pieces[i].Outline, own.Top-edge)
		}
		for ; from < to; from++ {
			k.piece(&w.Pieces[from], below.Lap, own.Lap)
			k.above = append(k.above, next)
		}
	}
	for i := range w.Battens {
		b := &w.Battens[i]
		k.battens = append(k.battens, fixing.Batten{Centre: b.Centre, Width: b.Width, Z: b.Z})
	}
}

// piece writes down a piece of which the next course's boards lie over some
// stretches.
func (k *fixer) piece(p *Piece, lapBelow, lapAbove measure.Length) {
	f := fixing.Piece{Outline: p.Outline, JointLeft: p.Left.Kind == Joint, JointRight: p.Right.Kind == Joint,
		LapBelow: lapBelow, LapAbove: lapAbove}
	for _, h := range p.Holes {
		f.Holes = append(f.Holes, measure.Rect(h.X, h.Z))
	}
	xs, _ := p.Outline.Bounds()
	k.xs = append(k.xs, xs)
	if len(k.over) > 0 {
		from := len(k.bare)
		k.bare = xs.AppendLess(k.bare, k.over)
		f.Bare = k.bare[from:len(k.bare):len(k.bare)]
	}
	k.pieces = append(k.pieces, f)
}

// endOf returns where the pieces of a course that begin there end.
func (w *WallResult) endOf(from, course int) int {
	for from < len(w.Pieces) && w.Pieces[from].Course == course {
		from++
	}
	return from
}

// course returns the course of that number; the zero value if there is none.
func (w *WallResult) course(n int) Course {
	if len(w.Courses) > 0 {
		if i := n - w.Courses[0].Number; 0 <= i && i < len(w.Courses) {
			return w.Courses[i]
		}
	}
	return Course{}
}

// crossed adds the stretches of a level line inside a polygon, from the left,
// each to the outer end of the edge that bounds it: beside a sloped end the height
// of a fixing decides whether it is hidden.
func crossed(out []measure.Span, p measure.Polygon, z measure.Length) []measure.Span {
	var buffer [16]measure.Span
	edges, a := buffer[:0], p[len(p)-1]
	for _, b := range p {
		if (a.Z > z) != (b.Z > z) {
			edges = append(edges, measure.Span{Lo: min(a.X, b.X), Hi: max(a.X, b.X)})
		}
		a = b
	}
	slices.SortFunc(edges, func(a, b measure.Span) int { return cmp.Compare(a.Lo+a.Hi, b.Lo+b.Hi) })
	for i := 1; i < len(edges); i += 2 {
		out = append(out, measure.Span{Lo: edges[i-1].Lo, Hi: edges[i].Hi})
	}
	return out
}

// hides reports whether a board of the next course covers a screw. Under a sill
// that a board's own top reaches, nothing does, nor right at a board's edge or
// behind a hole in it.
func (k *fixer) hides(w *WallResult, c *fixing.Screw) bool {
	for i := k.above[c.Piece].from; i < k.above[c.Piece].to; i++ {
		if x := k.xs[i]; c.X <= x.Lo || c.X >= x.Hi {
			continue
		}
		if p := &w.Pieces[i]; p.Outline.Holds(measure.Point{X: c.X, Z: c.Z}) {
			return !slices.ContainsFunc(p.Holes, func(h VoidRect) bool { return h.X.Holds(c.X) && h.Z.Holds(c.Z) })
		}
	}
	return false
}

// hold finds which of the screws, in the order of the pieces, hold each piece.
func (k *fixer) hold(w *WallResult) {
	k.held = k.held[:0]
	at := 0
	for i := range w.Pieces {
		h := heldBy{indices: indices{at, at}}
		for ; at < len(w.Screws) && w.Screws[at].Piece == i; at++ {
			if x := w.Screws[at].X; at == h.from {
				h.x = measure.Span{Lo: x, Hi: x}
			} else {
				h.x = measure.Span{Lo: min(h.x.Lo, x), Hi: max(h.x.Hi, x)}
			}
		}
		h.to = at
		k.held = append(k.held, h)
	}
}
