package engine

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// packerLeast is the least gap worth a packer (common practice).
const packerLeast = 3 * measure.Millimetre

// lengthStep is the step in which screws are made longer (common practice).
const lengthStep = 5 * measure.Millimetre

// Packing is what fills the gap between a batten and a board that stands off it:
// at a fixing that stays in sight below a cut upper edge, or at a lower edge cut to
// a slope.
type Packing struct {
	Piece, Batten int            // indices in Pieces and Battens
	Foot          bool           // at the lower edge
	Z             measure.Length // of the fixing; of a foot its lowest place on the batten
	Off           measure.Length // by which the board stands off the batten there
	Thick         measure.Length // of the packers; where Products has none, what is wanted
	Packers       []string       // their codes, the thickest first
	Fixing        string         // code of the board screw through them; of a foot, of the fixing that pins them
	Length        measure.Length // of the board screw; 0: not known, or none is long enough
	Needs         measure.Span   // the lengths that will do; 0: not known
}

// stack is packers one on another.
type stack struct {
	thick   measure.Length
	price   float64
	packers []Product
}

// stacksOf returns every thickness, rising, that packers make one on another up
// to a most: each of the fewest packers, of as few the cheapest.
func stacksOf(packers []Product, most measure.Length) []stack {
	var out []stack
	known, level := map[measure.Length]bool{}, []stack{{}}
	for len(level) > 0 {
		next := map[measure.Length]stack{}
		for _, s := range level {
			for _, p := range packers {
				sum := stack{thick: s.thick + p.Thickness, price: s.price + p.Price}
				if best, ok := next[sum.thick]; sum.thick > most || known[sum.thick] || ok && best.price <= sum.price {
					continue
				}
				sum.packers = append(slices.Clone(s.packers), p)
				next[sum.thick] = sum
			}
		}
		level = level[:0]
		for _, thick := range slices.Sorted(maps.Keys(next)) {
			known[thick] = true
			level = append(level, next[thick])
		}
		out = append(out, level...)
	}
	for _, s := range out {
		slices.SortStableFunc(s.packers, func(a, b Product) int { return cmp.Compare(b.Thickness, a.Thickness) })
	}
	slices.SortFunc(out, func(a, b stack) int { return cmp.Compare(a.thick, b.thick) })
	return out
}

// nearestStack returns the stack nearest to a gap, of two as near the thinner.
func nearestStack(stacks []stack, gap measure.Length) stack {
	return slices.MinFunc(stacks, func(a, b stack) int {
		return cmp.Compare(max(a.thick-gap, gap-a.thick), max(b.thick-gap, gap-b.thick))
	})
}

// packers returns those of the catalogue whose thickness is given.
func (t *takeoff) packers() []Product {
	return slices.DeleteFunc(slices.Clone(t.catalogue.all(RolePacker, "")), func(p Product) bool { return p.Thickness <= 0 })
}

// stackable returns what the packers of the catalogue make: thick enough for the
// widest gap, and one step more.
func (t *takeoff) stackable() []stack {
	packers := t.packers()
	most := 2 * t.board.Thickness
	for _, p := range packers {
		most = max(most, t.board.Thickness+p.Thickness)
	}
	return stacksOf(packers, most)
}

// fill returns the packers that fill a gap, and how thick they are together.
func (t *takeoff) fill(gap measure.Length, stacks []stack) (measure.Length, []string) {
	if len(stacks) == 0 {
		return gap.Nearest(measure.Millimetre), []string{t.catalogue.pick(RolePacker, "").Code}
	}
	s := nearestStack(stacks, gap)
	codes := make([]string, len(s.packers))
	for i := range codes {
		codes[i] = s.packers[i].Code
	}
	return s.thick, codes
}

// packWall packs the boards of one wall that stand off their battens, and notes it
// on its pieces and screws.
func (t *takeoff) packWall(s *stand, w *WallResult) {
	var tops []int // screws
	for i := range w.Screws {
		c := &w.Screws[i]
		if c.Visible && c.Z < t.fullTop(w, c.Piece)-t.rules.EdgeDistance {
			tops = append(tops, i)
		}
	}
	feet := t.feet(s, w)
	if len(tops)+len(feet) == 0 {
		return
	}
	s.unknown = t.board.Thickness == 0
	stacks, through := t.stacks(), map[measure.Length]Packing{}
	for _, i := range tops {
		c := &w.Screws[i]
		off := t.standOff(w, c.Piece, c.Z)
		if off < packerLeast {
			continue
		}
		k := Packing{Piece: c.Piece, Batten: c.Batten, Z: c.Z, Off: off}
		k.Thick, k.Packers = t.fill(off, stacks)
		if alike, ok := through[k.Thick]; ok {
			k.Fixing, k.Length, k.Needs = alike.Fixing, alike.Length, alike.Needs
		} else {
			t.screwThrough(s, &k)
			through[k.Thick] = k
		}
		w.Packings = append(w.Packings, k)
		c.Packing = len(w.Packings)
		w.Pieces[c.Piece].Packed = true
	}
	for _, k := range feet {
		k.Thick, k.Packers = t.fill(k.Off, stacks)
		k.Fixing = t.catalogue.pick(RoleTrimFixing, "").Code
		w.Packings = append(w.Packings, k)
		w.Pieces[k.Piece].FootPacked = true
	}
	t.sumPackings(s, w)
	t.flagPackings(s, w)
}

// sumPackings counts the packers of a wall for the order, by code.
func (t *takeoff) sumPackings(s *stand, w *WallResult) {
	s.packers = map[string]int{}
	for i := range w.Packings {
		for _, code := range w.Packings[i].Packers {
			s.packers[code]++
		}
	}
}

// fullTop returns where the upper edge of a piece would be were it not cut.
func (t *takeoff) fullTop(w *WallResult, piece int) measure.Length {
	return w.course(w.Pieces[piece].Course).Bottom + t.board.Width
}

// standOff returns how far a board stands off its batten at a height: nothing at
// the full board's top edge, its thickness where the top of the board below is,
// one gauge lower.
func (t *takeoff) standOff(w *WallResult, piece int, z measure.Length) measure.Length {
	n := w.Pieces[piece].Course
	gauge := cmp.Or(w.course(n-1).Gauge, w.course(n).Gauge, t.board.Width-t.rules.LapMost)
	return t.board.Thickness * (t.fullTop(w, piece) - z) / max(1, gauge)
}

// screwThrough chooses the visible screw that goes through packers: the first of
// its colour if that is long enough, else the shortest that is. Where none is, the
// packing gets a stand-in of the length wanted.
func (t *takeoff) screwThrough(s *stand, k *Packing) {
	first := t.catalogue.pick(RoleVisibleScrew, s.colour)
	k.Fixing = first.Code
	lines := t.catalogue.all(RoleVisibleScrew, s.colour)
	if len(lines) == 0 || first.Length == 0 {
		return // in the order without a code, or flagged as not checked
	}
	k.Needs = t.lengthsThrough(s.face, first, first, k.Thick)
	found := false
	for _, p := range lines {
		suits := t.screwDiameter(p) >= t.screwDiameter(first) && t.lengthsThrough(s.face, first, p, k.Thick).Holds(p.Length)
		if suits && (!found || p.Length < k.Length) {
			k.Fixing, k.Length, found = p.Code, p.Length, true
		}
		if suits && p.Code == first.Code {
			return
		}
	}
	if !found {
		k.Fixing = t.catalogue.standInOf(RoleVisibleScrew, s.colour, standardLength(k.Needs)).Code
	}
}

// lengthsThrough returns which lengths will do for a screw through packers: those
// that the seat allows, as far as they reach as deep into the batten as the
// ordinary screw, for which the wind is checked. Where a size of the seat is not
// known they are those as much longer as the packers are thick.
func (t *takeoff) lengthsThrough(f *face, ordinary, screw Product, packers measure.Length) measure.Span {
	tape := t.tapeThickness()
	seat := t.seat(f.gaugeLeast())
	seat.Behind = tape
	reach := seat.Reach(ordinary.Length)
	seat.Gauge, seat.Behind, seat.Spare = 0, tape+packers, spareTimber+tape // it lies on the packers; on most battens there is no tape
	out, err := seat.Range(t.screwDiameter(screw))
	if err != nil {
		return measure.Span{Lo: ordinary.Length + packers, Hi: ordinary.Length + packers + lengthStep}
	}
	out.Lo = min(max(out.Lo, seat.Board+seat.Behind+reach), out.Hi)
	return out
}

// standardLength returns a length that screws are made in, else in whole
// millimetres, of those that will do.
func standardLength(of measure.Span) measure.Length {
	if l := of.Lo.UpTo(lengthStep); l <= of.Hi {
		return l
	}
	return of.Lo.UpTo(measure.Millimetre)
}

// flagPackings flags what a wall's packings lack: a screw long enough, or packers
// that come near their gap.
func (t *takeoff) flagPackings(s *stand, w *WallResult) {
	var short, off []string
	wanted := map[measure.Length]bool{}
	for i := range w.Packings {
		k := &w.Packings[i]
		mark := w.Pieces[k.Piece].Mark
		if !k.Foot && k.Length == 0 && k.Needs.Hi > 0 {
			wanted[standardLength(k.Needs)] = true
			short = appendOnce(short, mark)
		}
		if k.misfits() {
			off = appendOnce(off, mark)
		}
	}
	flag := func(code, what, do string, marks []string) {
		if len(marks) > 0 {
			s.flag(Flag{Check, code, w.Plot, w.Name, s.face.wall.Origin.At("Wall"), what, do}, marks...)
		}
	}
	flag("packer-screw", "screws that stay in sight go through packers behind cut edges and want to be "+lengthsSaid(wanted)+" long, which no visible screw in Products of their colour is",
		"add that length to Products: it is in the order without code or price", short)
	flag("packer-misfit", fmt.Sprintf("no packers of Products come within %v mm of the gap behind these boards", packerLeast),
		"add thinner packers to Products, or cut packers for them", off)
}

// misfits reports whether the packers are too far from their gap.
func (k *Packing) misfits() bool { return max(k.Thick-k.Off, k.Off-k.Thick) >= packerLeast }

// lengthsSaid lists lengths in words: 45, 50 or 55 mm.
func lengthsSaid(of map[measure.Length]bool) string {
	var out []string
	for _, l := range slices.Sorted(maps.Keys(of)) {
		out = append(out, l.String())
	}
	if n := len(out); n > 1 {
		out = append(out[:n-2], out[n-2]+" or "+out[n-1])
	}
	return strings.Join(out, ", ") + " mm"
}

func appendOnce(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// flagPackers flags, for the job, packers that cannot be chosen from, and what
// keeps packings from being worked out.
func (t *takeoff) flagPackers() {
	packed, unknown := false, false
	for _, s := range t.stands {
		packed, unknown = packed || len(s.packers) > 0, unknown || s.unknown
	}
	if unknown {
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "packers-not-known", Place: t.board.Origin.At("Thickness mm"),
			What: "the thickness of the board " + t.board.Code + " is not given: packers behind cut edges, and the longer screws through them, are not counted", Do: "give it in Products"})
	}
	if !packed {
		return
	}
	for _, p := range t.catalogue.all(RolePacker, "") {
		if p.Thickness <= 0 {
			t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "packer-thickness", Place: p.Origin.At("Thickness mm"),
				What: "packer " + p.Code + ": its thickness is not given, so that it is not taken", Do: "give it in Products"})
		}
	}
}

// pinRows counts the fixings that pin packers at a lower edge, one each (common
// practice).
func (t *takeoff) pinRows(sheet *schedule) {
	for i := range sheet.wall.Packings {
		if k := &sheet.wall.Packings[i]; k.Foot {
			z := sheet.wall.zoneAt(sheet.wall.Battens[k.Batten].Centre)
			sheet.add(FixingRow{Zone: z.Name, Role: RoleTrimFixing, Fixing: k.Fixing, Count: 1, Packers: measure.Span{Lo: k.Thick, Hi: k.Thick},
				Basis: "pins the packers only; common practice, not checked", Verdict: string(fixing.NotChecked)}, "trim", RolePacker)
		}
	}
}
