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
	t.battenRows(s, &sheet)
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

// schedule gathers the rows of one wall's fixing schedule; rows that differ in
// counts only are one.
type schedule struct {
	wall *WallResult
	at   map[FixingRow]int
}

func (s *schedule) add(row FixingRow, count, preDrilled, visible int) {
	i, ok := s.at[row]
	if !ok {
		i = len(s.wall.Fixings)
		s.at[row] = i
		s.wall.Fixings = append(s.wall.Fixings, row)
	}
	r := &s.wall.Fixings[i]
	r.Count += count
	r.PreDrilled += preDrilled
	r.Visible += visible
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

// boardRows counts the board screws by zone and kind.
func (t *takeoff) boardRows(s *stand, sheet *schedule) {
	hidden, shown := t.catalogue.pick(RoleScrew, "").Code, t.catalogue.pick(RoleVisibleScrew, s.colour).Code
	for _, c := range sheet.wall.Screws {
		z := sheet.wall.zoneAt(c.X)
		row := FixingRow{Zone: z.Name, Role: RoleScrew, Fixing: hidden, Where: "board " + c.Kind, Centres: z.Centres, Basis: "not checked", Verdict: string(fixing.NotChecked)}
		if c.Visible {
			row.Role, row.Fixing = RoleVisibleScrew, shown
		}
		z.check("board", &row)
		sheet.add(row, 1, btoi(c.PreDrilled), btoi(c.Visible))
	}
}

// check writes a zone's check of that name into a row.
func (z *Zone) check(what string, row *FixingRow) {
	for _, c := range z.checks {
		if c.What == what {
			row.Load, row.Resistance, row.Use = c.Load, c.Resistance, 100*c.Use
			row.Basis, row.Verdict = c.Basis, string(c.Verdict)
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
	for _, tr := range sheet.wall.Trims {
		centres := t.rules.TrimFixing
		if tr.Role == RoleVent || tr.Role == RoleStarter {
			centres = t.rules.StripFixing
		}
		n, err := fixing.Along(tr.Length, centres)
		if err != nil {
			continue
		}
		z := sheet.wall.zoneAt(tr.From.X)
		sheet.add(FixingRow{Zone: z.Name, Role: RoleTrimFixing, Fixing: code, Where: "trim " + tr.Role,
			Centres: centres, Basis: "common practice", Verdict: string(fixing.NotChecked)}, n, 0, 0)
	}
}

// battenRows counts the fixings of the battens to the wall.
func (t *takeoff) battenRows(s *stand, sheet *schedule) {
	code := t.catalogue.pick(RoleBattenFixing, "").Code
	for i := range sheet.wall.Battens {
		b := &sheet.wall.Battens[i]
		n, err := fixing.Along(b.Z.Length(), t.rules.BattenFixing)
		if err != nil {
			continue
		}
		z := sheet.wall.zoneAt(b.Centre)
		row := FixingRow{Zone: z.Name, Role: RoleBattenFixing, Fixing: code, Where: "batten " + b.Why,
			Centres: t.rules.BattenFixing, Basis: "not checked", Verdict: string(fixing.NotChecked)}
		z.check("batten", &row)
		sheet.add(row, n, 0, 0)
	}
}
