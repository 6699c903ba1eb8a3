package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// schedule gathers the rows of one wall's fixing schedule. Fixings of one
// product, place and zone are one row, with the load of the worst of them.
type schedule struct {
	wall *WallResult
	at   map[FixingRow]int
}

// add counts fixings into the row that has the same product, place and zone.
func (s *schedule) add(row FixingRow) {
	key := FixingRow{Zone: row.Zone, Role: row.Role, Fixing: row.Fixing, Where: row.Where, Centres: row.Centres}
	i, ok := s.at[key]
	if !ok {
		s.at[key] = len(s.wall.Fixings)
		s.wall.Fixings = append(s.wall.Fixings, row)
		return
	}
	r := &s.wall.Fixings[i]
	count, drilled, visible := r.Count+row.Count, r.PreDrilled+row.PreDrilled, r.Visible+row.Visible
	if row.Load > r.Load {
		*r = row
	}
	r.Count, r.PreDrilled, r.Visible = count, drilled, visible
}

// zoneAt returns the wall's zone at x.
func (w *WallResult) zoneAt(x measure.Length) *Zone {
	for i := range w.Zones {
		if x <= w.Zones[i].X.Hi {
			return &w.Zones[i]
		}
	}
	return &w.Zones[len(w.Zones)-1]
}

// boardRows counts the board screws by zone and kind. Each carries the part of
// its board that lies nearer to it than to the board's other fixings.
func (t *takeoff) boardRows(s *stand, sheet *schedule) {
	w := sheet.wall
	bays := w.bays(s.face.width)
	over := map[string][]string{}
	codes := map[string]string{} // by role
	for i, c := range w.Screws {
		z := w.zoneAt(c.X)
		row := FixingRow{Zone: z.Name, Role: RoleScrew, Where: "board " + c.Kind, Centres: z.Centres, Count: 1,
			PreDrilled: btoi(c.PreDrilled), Visible: btoi(c.Visible)}
		checks := z.lapped
		if c.Visible {
			row.Role, checks = RoleVisibleScrew, z.top
		}
		if row.Fixing = codes[row.Role]; row.Fixing == "" {
			row.Fixing = t.catalogue.pick(row.Role, t.screwColour(row.Role, s)).Code
			codes[row.Role] = row.Fixing
		}
		row.take(checks, "board", bays[i].Metres()/z.Centres.Metres())
		row.bend(checks)
		if mark := w.Pieces[c.Piece].Mark; row.Verdict == string(fixing.Fails) && z.holds && !slices.Contains(over[z.Name], mark) {
			over[z.Name] = append(over[z.Name], mark)
		}
		sheet.add(row)
	}
	t.flagOver(s, w, over)
}

func (t *takeoff) screwColour(role string, s *stand) string {
	if role == RoleVisibleScrew {
		return s.colour
	}
	return ""
}

// flagOver names pieces whose own fixings carry more than their zone's centres
// allow: where studs stand too far apart, or a batten does not hold them.
func (t *takeoff) flagOver(s *stand, w *WallResult, over map[string][]string) {
	for i := range w.Zones {
		z := &w.Zones[i]
		if marks := over[z.Name]; len(marks) > 0 {
			s.face.flagOnce(Flag{Check, "fixing-overloaded", w.Plot, w.Name, s.face.wall.Origin.At("Batten centres mm"),
				"in zone " + z.Name + " a fixing carries more than is declared because the next one on its board is too far off: " + listed(marks),
				"add a batten behind these pieces"})
		}
	}
}

// bays returns for each screw how much of its board it holds, as the length of
// a full board of equal face: the part nearer to it than to the piece's next
// screws.
func (w *WallResult) bays(width measure.Length) []measure.Length {
	byPiece := map[int][]int{}
	for i, c := range w.Screws {
		byPiece[c.Piece] = append(byPiece[c.Piece], i)
	}
	out := make([]measure.Length, len(w.Screws))
	for piece, list := range byPiece {
		outline := w.Pieces[piece].Outline
		xs, _ := outline.Bounds()
		slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(w.Screws[a].X, w.Screws[b].X) })
		for k, i := range list {
			part := xs
			if k > 0 {
				part.Lo = (w.Screws[list[k-1]].X + w.Screws[i].X) / 2
			}
			if k+1 < len(list) {
				part.Hi = (w.Screws[i].X + w.Screws[list[k+1]].X) / 2
			}
			out[i] = measure.Length(areaOver(outline, part) / width.Millimetres() * float64(measure.Millimetre))
		}
	}
	return out
}

// areaOver returns the square millimetres of a polygon that lie over a stretch
// of x.
func areaOver(p measure.Polygon, over measure.Span) float64 {
	area := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X == b.X {
			continue
		}
		at := func(x measure.Length) float64 {
			return a.Z.Millimetres() + (b.Z-a.Z).Millimetres()*float64(x-a.X)/float64(b.X-a.X)
		}
		from, to := min(max(a.X, over.Lo), over.Hi), min(max(b.X, over.Lo), over.Hi)
		area += (from - to).Millimetres() * (at(from) + at(to)) / 2
	}
	return area
}

// take writes the check of that name into a row, its load by the part of a
// whole bay that a fixing of the row carries.
func (row *FixingRow) take(checks []fixing.Check, what string, part float64) {
	row.Basis, row.Verdict = "not checked: no wind is given", string(fixing.NotChecked)
	for _, c := range checks {
		if c.What != what {
			continue
		}
		row.Load, row.Resistance, row.Use = c.Load*part, c.Resistance, 100*c.Use*part
		if c.BySystem && part < 1 { // so many Pa on whatever face: a smaller one has less to hold and less to hold with
			row.Resistance, row.Use = c.Resistance*part, 100*c.Use
		}
		row.Basis, row.Verdict = c.Basis, string(c.Verdict)
		switch {
		case c.Verdict == fixing.NotChecked:
			row.Basis = "not checked: " + c.Basis
		case c.Verdict == fixing.Passes && row.Use > 100:
			row.Verdict = string(fixing.Fails)
		case c.Verdict == fixing.Fails && row.Use <= 100 && strings.HasPrefix(c.Basis, "declared"): // an estimate never turns into a pass
			row.Verdict = string(fixing.Passes)
		}
	}
}

// bend adds to a board's row how far the board itself is used between its
// battens.
func (row *FixingRow) bend(checks []fixing.Check) {
	for _, c := range checks {
		if c.What == "bending" && c.Verdict != fixing.NotChecked {
			row.Basis += fmt.Sprintf("; board bending used %.0f %%", 100*c.Use)
		}
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// trimRows counts the fixings along trims, strips and starters.
func (t *takeoff) trimRows(sheet *schedule) {
	code := t.catalogue.pick(RoleTrimFixing, "").Code
	for i := range sheet.wall.Trims {
		tr := &sheet.wall.Trims[i]
		row := FixingRow{Zone: sheet.wall.zoneAt(tr.From.X).Name, Role: RoleTrimFixing, Fixing: code, Where: "trim " + tr.Role,
			Centres: t.rules.TrimFixing, Basis: "common practice, not checked", Verdict: string(fixing.NotChecked)}
		if tr.acrossBattens() {
			run := measure.Span{Lo: tr.From.X, Hi: tr.To.X}
			row.Centres = max(t.rules.StripFixing, sheet.wall.zoneAt(tr.From.X).Centres)
			row.Count = fixing.Across(run, sheet.wall.crossedBy(tr), t.rules.StripFixing)
			row.Basis = "at the battens behind it; common practice, not checked"
		} else if n, err := fixing.Along(tr.Length, t.rules.TrimFixing); err == nil {
			row.Count = n * tr.legs()
		}
		if row.Count > 0 {
			sheet.add(row)
		}
	}
}

// acrossBattens reports whether a trim lies across the battens, so that there is
// nothing between them to fix it to: starters, vent strips and the trim of a
// verge.
func (tr *Trim) acrossBattens() bool {
	return tr.From.X != tr.To.X && (tr.Role == RoleVent || tr.Role == RoleStarter || tr.Role == RoleEdge)
}

// legs returns how many rows of fixings hold a trim: a corner's two legs lie on
// two battens, or on a batten and a reveal, and each is fixed.
func (tr *Trim) legs() int {
	switch tr.Role {
	case RoleExternal, RoleInternal, RoleUnequal:
		return 2
	}
	return 1
}

// besideStrip is how far a batten may end from a strip that is fixed to it: the
// gap round an opening, or what a batten cut square under a slope stops short.
const besideStrip = 100 * measure.Millimetre

// crossedBy returns the middles of the battens that a trim crosses, and of those
// right beside its ends: at a jamb a strip ends a gap short of the batten.
func (w *WallResult) crossedBy(tr *Trim) []measure.Length {
	var out []measure.Length
	run := measure.Span{Lo: tr.From.X, Hi: tr.To.X}
	for i := range w.Battens {
		b := &w.Battens[i]
		if (measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}).And(run.Grow(besideEnd)).Empty() {
			continue
		}
		x := min(max(b.Centre, run.Lo), run.Hi)
		z := tr.From.Z + (tr.To.Z-tr.From.Z)*(x-tr.From.X)/(tr.To.X-tr.From.X)
		if b.Z.Grow(besideStrip).Holds(z) {
			out = append(out, b.Centre)
		}
	}
	return out
}

// besideEnd is how far beyond a strip's end the side of a batten may be that the
// end is fixed to (common practice).
const besideEnd = 25 * measure.Millimetre

// battenRows counts the fixings of the battens to the wall.
func (t *takeoff) battenRows(sheet *schedule) {
	code := t.catalogue.pick(RoleBattenFixing, "").Code
	for i := range sheet.wall.Battens {
		b := &sheet.wall.Battens[i]
		n, err := fixing.Along(b.Z.Length(), t.rules.BattenFixing)
		if err != nil {
			continue
		}
		z := sheet.wall.zoneAt(b.Centre)
		row := FixingRow{Zone: z.Name, Role: RoleBattenFixing, Fixing: code, Where: "batten " + b.Why, Centres: t.rules.BattenFixing, Count: n}
		row.take(z.lapped, "batten", 1)
		sheet.add(row)
	}
}
