package engine

import (
	"slices"
	"strings"

	"lapwright/engine/battens"
	"lapwright/engine/measure"
	"lapwright/engine/trims"
)

// flagLoose notes the pieces of which a square end reaches farther than endMost
// beyond the last fixing: where boards end at a deep sill's horns or as a strip
// too thin to be fixed. Pieces that fewer than two fixings hold are flagged as
// such.
func (t *takeoff) flagLoose(s *stand, w *WallResult) {
	var marks []string
	for i := range t.fixer.pieces {
		p, x, r := &w.Pieces[i], t.fixer.xs[i], t.fixer.held[i].x
		if p.Few {
			continue
		}
		if p.Left.Kind == Square && r.Lo-x.Lo > endMost || p.Right.Kind == Square && x.Hi-r.Hi > endMost {
			p.Loose, p.Unfixed = true, append(p.Unfixed, unfixed("overhang"))
			marks = append(marks, p.Mark)
		}
	}
	if len(marks) > 0 {
		s.flag(Flag{Check, "fixing-overhang", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			unfixed("overhang"), "add a batten near the end where there is room, or hold the end with the trim"}, marks...)
	}
}

// endUseful is the least distance from a batten's end at which a board's fixing is
// taken to hold anything: about two diameters of the screw. Nearer the timber breaks
// out, drilled first or not (common practice).
const endUseful = 10 * measure.Millimetre

// endRoom returns how far a screw is from the nearer end of its batten.
func (w *WallResult) endRoom(c *Screw) measure.Length {
	z := w.Battens[c.Batten].Z
	return min(c.Z-z.Lo, z.Hi-c.Z)
}

// flagBattenEnds notes the battens that may split because a board's fixing stands
// too near their end. Battens are taken as cut square; where a head cut to the slope
// of the wall's top would give every such fixing its room, that is the cure.
func (t *takeoff) flagBattenEnds(s *stand, w *WallResult) {
	other := make([]bool, len(w.Battens)) // a head cut to the slope does not do
	for i := range w.Screws {
		c := &w.Screws[i]
		room := w.endRoom(c)
		if room.UpTo(measure.Millimetre) >= t.rules.BattenEndLeast { // battens are cut to the millimetre
			continue
		}
		b := &w.Battens[c.Batten]
		b.Tight = true
		sloped := s.face.headRise(b) > 0 && c.Z-b.Z.Lo >= t.rules.BattenEndLeast && s.face.cladTop.At(c.X)-c.Z >= t.rules.BattenEndLeast
		other[c.Batten] = other[c.Batten] || !sloped
	}
	for _, o := range []bool{false, true} {
		var marks []string
		var rise measure.Length
		least := t.rules.BattenEndLeast
		for i := range w.Battens {
			if b := &w.Battens[i]; b.Tight && other[i] == o {
				marks, rise = append(marks, b.Mark), max(rise, s.face.headRise(b))
			}
		}
		for i := range w.Screws {
			if c := &w.Screws[i]; w.Battens[c.Batten].Tight && other[c.Batten] == o {
				least = min(least, w.endRoom(c))
			}
		}
		what := "a board's fixing stands nearer than " + t.rules.BattenEndLeast.String() + " mm to the end of its batten, which may split, down to " + least.DownTo(measure.Millimetre).String() + " mm"
		do := "cut the heads of these battens to the slope, up to " + rise.UpTo(measure.Millimetre).String() + " mm longer at the higher side than listed; packers then stand on them too"
		if o {
			do = "let these battens run on where there is room, or drill them first"
			if least < endUseful {
				do += "; nearer than " + endUseful.String() + " mm drilling is no cure: fix more timber beside the end"
			}
		}
		if len(marks) > 0 {
			s.flag(Flag{Check, "batten-end", w.Plot, w.Name, s.face.wall.Origin.At("Wall"), what, do}, marks...)
		}
	}
}

// headRise returns by how much a batten's higher side would be longer were its head
// cut to the slope of the wall's top; 0: the head does not end under a slope.
func (f *face) headRise(b *Batten) measure.Length {
	x := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}
	if f.cladTop.Least(x)-b.Z.Hi >= measure.Millimetre { // to which battens are cut
		return 0
	}
	return f.cladTop.Most(x) - b.Z.Hi.UpTo(measure.Millimetre)
}

// flagOffStuds notes the battens that stand on none of the studs given: beside
// openings, at corners and for single boards they stand where these want them.
func (t *takeoff) flagOffStuds(s *stand, w *WallResult) {
	wall := battens.Wall{Studs: s.face.wall.Studs}
	var marks []string
	for i := range w.Battens {
		b := &w.Battens[i]
		if b.Off = !wall.OnStud(measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}); b.Off {
			marks = append(marks, b.Mark)
		}
	}
	if len(marks) > 0 {
		s.flag(Flag{Check, "batten-no-stud", w.Plot, w.Name, s.face.wall.Origin.At("Studs mm"),
			"no stud is given behind these battens: what holds them to the wall is not checked",
			"add studs or noggings behind them, or give the studs that stand there"}, marks...)
	}
}

// unbackedLeast is the least height of an upright trim worth a batten of its own:
// room for two fixings to the wall (common practice).
const unbackedLeast = 150 * measure.Millimetre

// flagUnbacked notes the jamb trims that no batten stands behind: beside another
// opening or the wall's end there may be no room for one.
func (t *takeoff) flagUnbacked(s *stand, w *WallResult) {
	var where []string
	for i := range w.Trims {
		tr := &w.Trims[i]
		if x, ok := t.besideJamb(tr); ok && !slices.Contains(where, tr.Where) && w.unbacked(tr, x) >= unbackedLeast {
			where = append(where, tr.Where)
		}
	}
	if len(where) > 0 {
		s.flag(Flag{Check, "trim-unbacked", w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			"there is no room for a batten behind the trim", "fix these trims to the frame or the reveal, or pack out the strip of wall there"}, where...)
	}
}

// besideJamb returns where along x a batten for a jamb's trim may begin and end:
// within a wide batten's width beyond the gap kept to the opening.
func (t *takeoff) besideJamb(tr *Trim) (measure.Span, bool) {
	reach := t.rules.VentilationGap + measure.Millimetre + t.rules.WideBattenWidth
	switch x := tr.From.X; {
	case x != tr.To.X || tr.Role != string(trims.EdgeTrim) && tr.Role != string(trims.UnequalCorner):
		return measure.Span{}, false
	case strings.HasSuffix(tr.Where, " left jamb"):
		return measure.Span{Lo: x - reach, Hi: x}, true
	case strings.HasSuffix(tr.Where, " right jamb"):
		return measure.Span{Lo: x, Hi: x + reach}, true
	}
	return measure.Span{}, false
}

// unbacked returns the longest stretch of an upright trim that no batten within
// x stands behind and no sill or opening interrupts.
func (w *WallResult) unbacked(tr *Trim, x measure.Span) measure.Length {
	var cover []measure.Span
	for i := range w.Battens {
		b := &w.Battens[i]
		if !(measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}).And(x).Empty() {
			cover = append(cover, b.Z)
		}
	}
	slices.SortFunc(cover, byFoot)
	var most measure.Length
	for _, s := range measure.Less([]measure.Span{{Lo: tr.From.Z, Hi: tr.To.Z}}, cover) {
		most = max(most, s.Length())
	}
	return most
}

func byFoot(a, b measure.Span) int { return int(min(max(a.Lo-b.Lo, -1), 1)) }
