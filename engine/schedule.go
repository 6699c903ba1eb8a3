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
type schedule struct{ wall *WallResult }

// add counts fixings into the row that has the same product, place and zone. The
// place is one of a kind (board, trim, batten).
func (s *schedule) add(row FixingRow, kind, place string) {
	for i := range s.wall.Fixings {
		r := &s.wall.Fixings[i]
		if r.Zone != row.Zone || r.Role != row.Role || r.Fixing != row.Fixing || r.Centres != row.Centres || !isPlace(r.Where, kind, place) {
			continue
		}
		r.Count, r.PreDrilled, r.Visible = r.Count+row.Count, r.PreDrilled+row.PreDrilled, r.Visible+row.Visible
		r.Packers.Lo, r.Packers.Hi = min(r.Packers.Lo, row.Packers.Lo), max(r.Packers.Hi, row.Packers.Hi)
		if row.Load > r.Load {
			r.Load, r.Resistance, r.Use, r.Basis, r.Verdict = row.Load, row.Resistance, row.Use, row.Basis, row.Verdict
		}
		return
	}
	row.Where = kind + " " + place
	s.wall.Fixings = append(s.wall.Fixings, row)
}

// isPlace reports whether where is a place of a kind, without making a string
// of the two.
func isPlace(where, kind, place string) bool {
	n := len(kind)
	return len(where) == n+1+len(place) && where[:n] == kind && where[n+1:] == place
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
	w, k := sheet.wall, &t.fixer
	over := map[string][]string{}
	var groups []boardGroup // in the order first met
	for p := range k.pieces {
		h := k.held[p]
		k.bays = bays(k.bays[:0], w.Screws[h.from:h.to], w.Pieces[p].Outline, k.xs[p], s.face.width)
		for i, bay := range k.bays {
			c := &w.Screws[h.from+i]
			z := w.zoneAt(c.X)
			part := bay.Metres() / z.Centres.Metres()
			near := len(z.lapped) > 0 && w.endRoom(c) < endUseful
			g := groupOf(&groups, z, c, w.packingOf(c), near)
			g.count(c, part)
			if !z.holds || g.check == nil || g.check.verdict(part) != fixing.Fails {
				continue
			}
			if mark := w.Pieces[p].Mark; !slices.Contains(over[z.Name], mark) {
				over[z.Name] = append(over[z.Name], mark)
			}
		}
	}
	for i := range groups {
		sheet.add(t.boardRow(s, &groups[i]), "board", groups[i].place())
	}
	t.flagOver(s, w, over)
}

// boardGroup counts the board screws of one row: of one kind, in one stretch of
// a zone, all in sight or none, all too near a batten's end or none.
type boardGroup struct {
	zone            *Zone
	kind            string
	visible         bool
	near            bool       // nearer to their batten's end than holds anything, where wind asks for that
	packed          []*Packing // what its screws go through; none: they go straight into the batten
	check           *rated     // nil: no wind is given
	screws, drilled int
	part            float64 // of a whole bay, that the worst of them carries
}

// groupOf returns the group a screw belongs to, a new one where it is the first.
func groupOf(groups *[]boardGroup, z *Zone, c *Screw, k *Packing, near bool) *boardGroup {
	at := slices.IndexFunc(*groups, func(g boardGroup) bool {
		return g.zone == z && g.kind == c.Kind && g.visible == c.Visible && g.near == near && (k == nil) == (len(g.packed) == 0) && (k == nil || k.Fixing == g.packed[0].Fixing)
	})
	if at < 0 {
		at = len(*groups)
		g := boardGroup{zone: z, kind: c.Kind, visible: c.Visible, near: near}
		g.check = ratedOf(g.checks(), "board")
		*groups = append(*groups, g)
	}
	g := &(*groups)[at]
	if k != nil {
		g.packed = append(g.packed, k)
	}
	return g
}

// packingOf returns what a screw goes through; nil: nothing.
func (w *WallResult) packingOf(c *Screw) *Packing {
	if c.Packing == 0 {
		return nil
	}
	return &w.Packings[c.Packing-1]
}

// place says where a group's screws are.
func (g *boardGroup) place() string {
	place := g.kind
	if len(g.packed) > 0 {
		place += ", packed"
	}
	if g.near {
		place += ", near a batten's end"
	}
	return place
}

func (g *boardGroup) checks() []fixing.Check {
	if g.visible {
		return g.zone.top
	}
	return g.zone.lapped
}

// count adds one screw, which carries that part of a whole bay.
func (g *boardGroup) count(c *Screw, part float64) {
	if g.screws == 0 || g.check != nil && g.check.Load*part > g.check.Load*g.part {
		g.part = part
	}
	g.screws++
	g.drilled += btoi(c.PreDrilled)
}

// boardRow writes a group down, with the load of the worst of its screws.
func (t *takeoff) boardRow(s *stand, g *boardGroup) FixingRow {
	row := FixingRow{Zone: g.zone.Name, Role: RoleScrew, Centres: g.zone.Centres,
		Count: g.screws, PreDrilled: g.drilled}
	if g.visible {
		row.Role, row.Visible = RoleVisibleScrew, g.screws
	}
	row.Fixing = t.catalogue.pick(row.Role, t.screwColour(row.Role, s)).Code
	row.take(g.checks(), "board", g.part)
	row.bend(g.checks())
	t.through(&row, g)
	if g.near {
		row.unproven("nearer than " + endUseful.String() + " mm to the end of its batten, see the flag batten-end")
	}
	return row
}

// through writes into a row what its screws go through. Of one that is too short
// nothing is known, nor of one with which a system is not declared.
func (t *takeoff) through(row *FixingRow, g *boardGroup) {
	if len(g.packed) == 0 {
		return
	}
	first := g.packed[0]
	row.Packers = measure.Span{Lo: first.Thick, Hi: first.Thick}
	for _, k := range g.packed {
		row.Packers.Lo, row.Packers.Hi = min(row.Packers.Lo, k.Thick), max(row.Packers.Hi, k.Thick)
	}
	row.Fixing = first.Fixing
	why := ""
	switch named, _ := t.declared(declSystemFixing); {
	case g.check == nil:
	case first.Length == 0:
		why = "no screw in Products is known to be long enough for its packers"
	case g.check.BySystem && named.Value != "" && named.Value != first.Fixing:
		why = "the system is declared with " + named.Value + ", and this screw goes through packers"
	}
	if why != "" {
		row.unproven(why)
	}
}

// unproven says of a row why nothing is known to hold there.
func (row *FixingRow) unproven(why string) {
	row.Resistance, row.Use, row.Basis, row.Verdict = 0, 0, "not checked: "+why, string(fixing.NotChecked)
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
			s.flag(Flag{Check, "fixing-overloaded", w.Plot, w.Name, s.face.wall.Origin.At("Batten centres mm"),
				"in zone " + z.Name + " a fixing carries more than is declared because the next one on its board is too far off",
				"add a batten behind these pieces"}, marks...)
		}
	}
}

// bays adds for each screw of one piece, whose outline stands over xs, how much
// of its board it holds, as the length of a full board of equal face: the part
// nearer to it than to the piece's next screws.
func bays(out []measure.Length, screws []Screw, outline measure.Polygon, xs measure.Span, width measure.Length) []measure.Length {
	var buffer [32]int
	order := buffer[:0] // from the left
	for i := range screws {
		order = append(order, i)
	}
	if byX := func(a, b int) int { return cmp.Compare(screws[a].X, screws[b].X) }; !slices.IsSortedFunc(order, byX) {
		slices.SortStableFunc(order, byX)
	}
	from := len(out)
	out = append(out, make([]measure.Length, len(screws))...)
	for k, i := range order {
		part := xs
		if k > 0 {
			part.Lo = (screws[order[k-1]].X + screws[i].X) / 2
		}
		if k+1 < len(order) {
			part.Hi = (screws[i].X + screws[order[k+1]].X) / 2
		}
		out[from+i] = measure.Length(areaOver(outline, part) / width.Millimetres() * float64(measure.Millimetre))
	}
	return out
}

// areaOver returns the square millimetres of a polygon that lie over a stretch
// of x.
func areaOver(p measure.Polygon, over measure.Span) float64 {
	area := 0.0
	for i, a := range p {
		b := p[0]
		if i+1 < len(p) {
			b = p[i+1]
		}
		if a.X == b.X {
			continue
		}
		from, to := min(max(a.X, over.Lo), over.Hi), min(max(b.X, over.Lo), over.Hi)
		left, right := a.Z.Millimetres(), a.Z.Millimetres()
		if a.Z != b.Z {
			rise, run := (b.Z - a.Z).Millimetres(), float64(b.X-a.X)
			left += rise * float64(from-a.X) / run
			right += rise * float64(to-a.X) / run
		}
		area += (from - to).Millimetres() * (left + right) / 2
	}
	return area
}

// take writes the check of that name into a row, its load by the part of a
// whole bay that a fixing of the row carries.
func (row *FixingRow) take(checks []fixing.Check, what string, part float64) {
	c := ratedOf(checks, what)
	if c == nil {
		row.Basis, row.Verdict = "not checked: no wind is given", string(fixing.NotChecked)
		return
	}
	row.Load, row.Resistance, row.Use = c.Load*part, c.Resistance, c.use(part)
	if c.smaller(part) {
		row.Resistance *= part
	}
	if row.Basis = c.Basis; c.Verdict == fixing.NotChecked {
		row.Basis = "not checked: " + c.Basis
	}
	row.Verdict = string(c.verdict(part))
}

// rated is a check of a fixing that carries a whole bay.
type rated fixing.Check

// ratedOf returns the check of that name, or nil.
func ratedOf(checks []fixing.Check, what string) *rated {
	for i := len(checks) - 1; i >= 0; i-- {
		if checks[i].What == what {
			return (*rated)(&checks[i])
		}
	}
	return nil
}

// use returns how far a fixing that carries a part of a bay is used, per cent.
func (c *rated) use(part float64) float64 {
	if c.smaller(part) {
		return 100 * c.Use
	}
	return 100 * c.Use * part
}

// smaller reports whether a part of a bay has less to hold and less to hold with:
// a declared system holds so many Pa on whatever face.
func (c *rated) smaller(part float64) bool { return c.BySystem && part < 1 }

// verdict returns what the check says of a fixing that carries a part of a bay.
func (c *rated) verdict(part float64) fixing.Verdict {
	switch {
	case c.Verdict == fixing.Passes && c.use(part) > 100:
		return fixing.Fails
	case c.Verdict == fixing.Fails && c.use(part) <= 100 && strings.HasPrefix(c.Basis, "declared"): // an estimate never turns into a pass
		return fixing.Passes
	}
	return c.Verdict
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
		row := FixingRow{Zone: sheet.wall.zoneAt(tr.From.X).Name, Role: RoleTrimFixing, Fixing: code,
			Centres: t.rules.TrimFixing, Basis: "common practice, not checked", Verdict: string(fixing.NotChecked)}
		if tr.acrossBattens() {
			row.Centres = max(t.rules.StripFixing, sheet.wall.zoneAt(tr.From.X).Centres)
			t.fixer.across = sheet.wall.crossedBy(t.fixer.across[:0], tr)
			tr.Screws = fixing.Across(t.fixer.across, t.rules.StripFixing)
			row.Count = len(tr.Screws)
			row.Basis = "at the battens behind it; common practice, not checked"
		} else if tr.upBattens() {
			row.Count = sheet.wall.upTimber(tr, t.rules.TrimFixing)
			tr.Loose = row.Count == 0
		} else if n, err := fixing.Along(tr.Length, t.rules.TrimFixing); err == nil {
			row.Count = n * tr.legs()
		}
		if row.Count > 0 {
			sheet.add(row, "trim", tr.Role)
		}
	}
}

// acrossBattens reports whether a trim lies across the battens, so that there is
// nothing between them to fix it to: starters, vent strips and the trim of a
// verge.
func (tr *Trim) acrossBattens() bool {
	return tr.From.X != tr.To.X && (tr.Role == RoleVent || tr.Role == RoleStarter || tr.Role == RoleEdge)
}

// upBattens reports whether a trim goes up the battens beside it and is fixed to
// nothing else: where boards end at a side, a step, a jamb or a sill's horn.
func (tr *Trim) upBattens() bool { return tr.From.X == tr.To.X && tr.Role == RoleEdge }

// besideTrim is how far from an upright trim the side of the batten that it is fixed
// to may be: the gap to an opening and a little (common practice).
const besideTrim = 25 * measure.Millimetre

// upTimber returns how many fixings a trim that goes up battens takes on them: along
// each stretch of timber as many as keep the centres, one where that is too short for
// two. Beside a sill's horn the batten ends below the horn.
func (w *WallResult) upTimber(tr *Trim, centres measure.Length) int {
	run, count := []measure.Span{{Lo: tr.From.Z, Hi: tr.To.Z}}, 0
	var timber []measure.Span
	for i := range w.Battens {
		b := &w.Battens[i]
		if x := (measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}); x.Grow(besideTrim).Holds(tr.From.X) {
			timber = append(timber, b.Z)
		}
	}
	slices.SortFunc(timber, byFoot)
	for _, z := range measure.Less(run, measure.Less(run, timber)) {
		if n, err := fixing.Along(z.Length(), centres); err == nil && z.Length() >= shortApart {
			count += n
		} else if z.Length() > 2*stripEnd {
			count++
		}
	}
	return count
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

// besideSlope is how far below a sloping strip a batten may end, which is cut
// square under it (common practice).
const besideSlope = 100 * measure.Millimetre

// stripEnd is what a strip's fixing keeps from the strip's end and from the side of
// its batten (common practice).
const stripEnd = 10 * measure.Millimetre

// crossedBy adds the places at which a strip can be fixed to the battens that stand
// behind it, in the middle of each unless the strip ends there.
func (w *WallResult) crossedBy(out []measure.Length, tr *Trim) []measure.Length {
	run, beside := measure.Span{Lo: tr.From.X, Hi: tr.To.X}, measure.Millimetre // to which battens are cut
	if tr.From.Z != tr.To.Z {
		beside = besideSlope
	}
	for i := range w.Battens {
		b := &w.Battens[i]
		seat := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}.And(run).Grow(-stripEnd)
		if seat.Empty() {
			continue
		}
		x := min(max(b.Centre, seat.Lo), seat.Hi)
		z := tr.From.Z + (tr.To.Z-tr.From.Z)*(x-tr.From.X)/(tr.To.X-tr.From.X)
		if b.Z.Grow(beside).Holds(z) {
			out = append(out, x)
		}
	}
	return out
}

// stripReach is how far a strip may reach beyond the last batten that it crosses:
// two thirds of the widest usual bay, as the boards over its end are held by the
// batten beside it (common practice).
const stripReach = 400 * measure.Millimetre

// flagLooseStrips notes the strips that cross no batten, or of which an end reaches
// too far beyond the last; beyond a single one, which does not keep a strip from
// turning, no farther than a board's end may. Where two are joined each has an end
// of its own: neither holds the other. It notes the trims that go up no batten too.
func (t *takeoff) flagLooseStrips(s *stand, w *WallResult) {
	var where []string
	for i := range w.Trims {
		tr := &w.Trims[i]
		n := len(tr.Screws)
		tr.Loose = tr.Loose || tr.acrossBattens() && (n == 0 || tr.Screws[0] == tr.Screws[n-1] && max(tr.Screws[0]-tr.From.X, tr.To.X-tr.Screws[0]) > endMost ||
			tr.Screws[0]-tr.From.X > stripReach || tr.To.X-tr.Screws[n-1] > stripReach)
		if said := tr.Role + " at " + tr.Where; tr.Loose && !slices.Contains(where, said) {
			where = append(where, said)
		}
	}
	if len(where) > 0 {
		s.flag(Flag{Check, "strip-loose", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			"an end of the strip or trim has no batten behind it near enough to be fixed to, or one batten holds all of it",
			"fix these ends to the frame, or to a block on the wall; such fixings are not counted"}, where...)
	}
}

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
		row := FixingRow{Zone: z.Name, Role: RoleBattenFixing, Fixing: code, Centres: t.rules.BattenFixing, Count: n}
		row.take(z.lapped, "batten", 1)
		place := b.Why
		if b.Off {
			place += ", off the studs"
			row.unproven("no stud is given behind the batten")
		}
		sheet.add(row, "batten", place)
	}
}
