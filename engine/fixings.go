package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// fixWall places the board fixings of one wall and writes its schedule.
func (t *takeoff) fixWall(s *stand, w *WallResult) {
	screws, troubles := fixing.Place(t.fixedPieces(w), fixedBattens(w), fixing.Rules{
		Edge: t.rules.EdgeDistance, PreDrill: t.rules.PreDrillWithin, EndLeast: t.rules.EndDistanceLeast})
	w.Screws = make([]Screw, 0, len(screws))
	above := w.above()
	for _, c := range screws {
		c.Visible = !w.hides(above[c.Piece], measure.Point{X: c.X, Z: c.Z})
		w.Screws = append(w.Screws, Screw(c))
	}
	t.flagTroubles(s, w, troubles)
	t.flagLoose(s, w)
	t.flagUnbacked(s, w)
	sheet := schedule{wall: w, at: map[FixingRow]int{}}
	t.boardRows(s, &sheet)
	t.trimRows(&sheet)
	t.battenRows(&sheet)
	slices.SortStableFunc(w.Fixings, func(a, b FixingRow) int { return cmp.Compare(a.Zone, b.Zone) })
}

func (t *takeoff) fixedPieces(w *WallResult) []fixing.Piece {
	laps := map[int]measure.Length{}
	for _, c := range w.Courses {
		laps[c.Number] = c.Lap
	}
	covered := w.covered(t.rules.EdgeDistance)
	out := make([]fixing.Piece, 0, len(w.Pieces))
	for i := range w.Pieces {
		p := &w.Pieces[i]
		if p.Course == 0 {
			continue // reveal boards follow the pieces of the courses
		}
		f := fixing.Piece{Outline: p.Outline, JointLeft: p.Left.Kind == Joint, JointRight: p.Right.Kind == Joint,
			LapBelow: laps[p.Course-1], LapAbove: laps[p.Course]}
		for _, h := range p.Holes {
			f.Holes = append(f.Holes, measure.Rect(h.X, h.Z))
		}
		if over := covered[p.Course+1]; len(over) > 0 {
			xs, _ := p.Outline.Bounds()
			f.Bare = measure.Less([]measure.Span{xs}, over)
		}
		out = append(out, f)
	}
	return out
}

// covered returns, for each course, the stretches along x that its boards cover
// of the fixing line of the course below. A sloped end counts as far as it
// reaches: beside it the height of a fixing decides whether it is hidden.
func (w *WallResult) covered(edge measure.Length) map[int][]measure.Span {
	tops := map[int]measure.Length{}
	for _, c := range w.Courses {
		tops[c.Number] = c.Top
	}
	out := map[int][]measure.Span{}
	for i := range w.Pieces {
		p := &w.Pieces[i]
		if top, ok := tops[p.Course-1]; ok && p.Course > 0 {
			out[p.Course] = append(out[p.Course], crossed(p.Outline, top-edge)...)
		}
	}
	return out
}

// crossed returns the stretches of a level line inside a polygon, from the left,
// each to the outer end of the edge that bounds it.
func crossed(p measure.Polygon, z measure.Length) []measure.Span {
	var edges []measure.Span
	for i, a := range p {
		if b := p[(i+1)%len(p)]; (a.Z > z) != (b.Z > z) {
			edges = append(edges, measure.Span{Lo: min(a.X, b.X), Hi: max(a.X, b.X)})
		}
	}
	slices.SortFunc(edges, func(a, b measure.Span) int { return cmp.Compare(a.Lo+a.Hi, b.Lo+b.Hi) })
	var out []measure.Span
	for i := 1; i < len(edges); i += 2 {
		out = append(out, measure.Span{Lo: edges[i-1].Lo, Hi: edges[i].Hi})
	}
	return out
}

// above returns, for each piece of a course, the pieces of the next one.
func (w *WallResult) above() [][]Piece {
	out := make([][]Piece, len(w.Pieces))
	from, to := 0, 0 // pieces are course by course, those of reveals last
	for i := range w.Pieces {
		next := w.Pieces[i].Course + 1
		for from < len(w.Pieces) && w.Pieces[from].Course != 0 && w.Pieces[from].Course < next {
			from++
		}
		for to = max(to, from); to < len(w.Pieces) && w.Pieces[to].Course == next; to++ {
		}
		if next > 1 {
			out[i] = w.Pieces[from:to]
		}
	}
	return out
}

// hides reports whether one of the boards covers the point. Under a sill
// that a board's own top reaches, nothing does, nor right at a board's edge or
// behind a hole in it.
func (w *WallResult) hides(boards []Piece, at measure.Point) bool {
	for i := range boards { // by index: this runs for every screw, and a piece is large to copy
		if p := &boards[i]; p.Outline.Holds(at) {
			return !slices.ContainsFunc(p.Holes, func(h VoidRect) bool { return h.X.Holds(at.X) && h.Z.Holds(at.Z) })
		}
	}
	return false
}

func fixedBattens(w *WallResult) []fixing.Batten {
	out := make([]fixing.Batten, len(w.Battens))
	for i, b := range w.Battens {
		out[i] = fixing.Batten{Centre: b.Centre, Width: b.Width, Z: b.Z}
	}
	return out
}

// flagBays says where given studs stand farther apart than the wind allows.
func (f *face) flagBays(over []measure.Span) {
	for _, bay := range over {
		f.flagOnce(Flag{Check, "bay-wide", f.wall.Plot, f.wall.Name, f.wall.Origin.At("Studs mm"),
			fmt.Sprintf("%d bays between studs are wider than the batten centres that hold, the first from %v to %v mm", len(over), bay.Lo, bay.Hi),
			"add studs or noggings, or battens between"})
	}
}

// flagTroubles asks for a decision where a fixing cannot stand: one flag for
// each kind of trouble, its pieces named.
func (t *takeoff) flagTroubles(s *stand, w *WallResult, troubles []fixing.Trouble) {
	marks := map[string][]string{}
	var codes []string
	var tip measure.Length
	for _, tr := range troubles {
		p := &w.Pieces[tr.Piece]
		p.except(tr)
		if tr.Code == "batten" && w.bridged(tr) {
			continue // the next ones hold the board there
		}
		code := tr.Code
		if beyond := w.tipBeyond(tr); beyond > 0 {
			if beyond <= tipHeld {
				continue // a tip so short needs no fixing of its own
			}
			code, tip = "tip", max(tip, beyond)
		}
		if len(marks[code]) == 0 {
			codes = append(codes, code)
		}
		if !slices.Contains(marks[code], p.Mark) {
			marks[code] = append(marks[code], p.Mark)
			p.Unfixed = append(p.Unfixed, unfixed(code))
		}
	}
	for _, code := range codes {
		s.flag(Flag{Check, "fixing-" + code, w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			troubleSaid(code, tip), "fix these pieces by hand where the boards allow, or add a batten"}, marks[code]...)
	}
}

// tipHeld is how far a raked tip may reach beyond its last fixing (common
// practice, as for the short battens beside a slope).
const tipHeld = 300 * measure.Millimetre

// troubleSaid says a kind of trouble in words.
func troubleSaid(code string, tip measure.Length) string {
	if code == "tip" {
		return "raked tips reach up to " + tip.Nearest(measure.Millimetre).String() + " mm beyond their last fixing: one nearer the tip would go through the board below"
	}
	return unfixed(code)
}

// unfixed says a kind of trouble with a piece in words.
func unfixed(code string) string {
	switch code {
	case "tip":
		return "a raked tip reaches far beyond its last fixing"
	case "overhang":
		return "an end reaches more than " + endMost.String() + " mm beyond its last fixing"
	case "end":
		return "the end of the board leaves no place for a fixing on a batten that it crosses"
	case "strip":
		return "the board is too narrow over a batten to be fixed to it"
	case "lap":
		return "a fixing would go through the board below"
	case "batten":
		return "a batten stops short of the fixing line"
	default:
		return "held by fewer than two fixings"
	}
}

// bridged reports whether a piece is fixed left and right of a batten that stops
// short of it, no farther apart than the centres there.
func (w *WallResult) bridged(tr fixing.Trouble) bool {
	at := w.Battens[tr.Batten].Centre
	left, right := at-measure.Length(math.MaxInt32), at+measure.Length(math.MaxInt32)
	for i := range w.Screws {
		switch c := &w.Screws[i]; {
		case c.Piece != tr.Piece:
		case c.X < at:
			left = max(left, c.X)
		default:
			right = min(right, c.X)
		}
	}
	return right-left <= min(w.zoneAt(left).Centres, w.zoneAt(right).Centres)
}

// tipBeyond returns how far a piece's raked end reaches beyond its outermost
// fixing where the trouble lies on a batten between the two, else 0.
func (w *WallResult) tipBeyond(tr fixing.Trouble) measure.Length {
	if tr.Batten < 0 {
		return 0
	}
	p, at := &w.Pieces[tr.Piece], w.Battens[tr.Batten].Centre
	xs, _ := p.Outline.Bounds()
	fixed := measure.Span{Lo: xs.Hi, Hi: xs.Lo}
	for _, c := range w.Screws {
		if c.Piece == tr.Piece {
			fixed = measure.Span{Lo: min(fixed.Lo, c.X), Hi: max(fixed.Hi, c.X)}
		}
	}
	switch {
	case p.Left.Kind == Rake && at < fixed.Lo && fixed.Lo < xs.Hi:
		return fixed.Lo - xs.Lo
	case p.Right.Kind == Rake && at > fixed.Hi && fixed.Hi > xs.Lo:
		return xs.Hi - fixed.Hi
	}
	return 0
}

// except notes on a piece where it is not fixed as it should be.
func (p *Piece) except(tr fixing.Trouble) {
	if tr.Batten < 0 {
		p.Few = true
		return
	}
	p.Bare = append(p.Bare, tr.Batten)
}

// listed joins marks for a flag, the first dozen by name.
func listed(marks []string) string {
	const most = 12
	out := ""
	for i, m := range marks {
		if i == most {
			return out + " and " + itoa(len(marks)-most) + " more"
		}
		if i > 0 {
			out += ", "
		}
		out += m
	}
	return out
}
