package engine

import (
	"cmp"
	"slices"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// fixWall places the board fixings of one wall and writes its schedule.
func (t *takeoff) fixWall(s *stand, w *WallResult) {
	screws, troubles := fixing.Place(t.fixedPieces(w), fixedBattens(w), fixing.Rules{
		Edge: t.rules.EdgeDistance, PreDrill: t.rules.PreDrillWithin, EndLeast: t.rules.EndDistanceLeast})
	for _, c := range screws {
		c.Visible = !w.hides(w.Pieces[c.Piece].Course+1, measure.Point{X: c.X, Z: c.Z})
		w.Screws = append(w.Screws, Screw(c))
	}
	t.flagTroubles(s, w, troubles)
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
	var out []fixing.Piece
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
		out = append(out, f)
	}
	return out
}

// hides reports whether a board of that course covers the point. Under a sill
// that a board's own top reaches, nothing does.
func (w *WallResult) hides(course int, at measure.Point) bool {
	return slices.ContainsFunc(w.Pieces, func(p Piece) bool { return p.Course == course && p.Outline.Holds(at) })
}

func fixedBattens(w *WallResult) []fixing.Batten {
	out := make([]fixing.Batten, len(w.Battens))
	for i, b := range w.Battens {
		out[i] = fixing.Batten{Centre: b.Centre, Width: b.Width, Z: b.Z}
	}
	return out
}

// flagTroubles asks for a decision where a fixing cannot stand: one flag for
// each kind of trouble, its pieces named.
func (t *takeoff) flagTroubles(s *stand, w *WallResult, troubles []fixing.Trouble) {
	marks := map[string][]string{}
	what := map[string]string{}
	var codes []string
	for _, tr := range troubles {
		w.Pieces[tr.Piece].except(tr)
		if _, ok := marks[tr.Code]; !ok {
			codes = append(codes, tr.Code)
			what[tr.Code] = tr.What
		}
		if mark := w.Pieces[tr.Piece].Mark; !slices.Contains(marks[tr.Code], mark) {
			marks[tr.Code] = append(marks[tr.Code], mark)
		}
	}
	for _, code := range codes {
		s.face.flagOnce(Flag{Check, "fixing-" + code, w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			what[code] + ": " + listed(marks[code]), "fix these pieces by hand where the boards allow, or add a batten"})
	}
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
