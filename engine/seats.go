package engine

import (
	"cmp"
	"fmt"
	"strings"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// spareTimber is left beyond a screw's point (common practice).
const spareTimber = 5 * measure.Millimetre

// seat returns what a board screw goes through and into where boards lie at
// that gauge.
func (t *takeoff) seat(gauge measure.Length) fixing.Seat {
	return fixing.Seat{Board: t.board.Thickness, Edge: t.rules.EdgeDistance, Gauge: gauge,
		Batten: t.battenDepth(), Penetration: t.rules.PenetrationLeast, Spare: spareTimber}
}

// battenDepth returns the depth of the shallowest batten in use: the rule's,
// or a product's own where that is less.
func (t *takeoff) battenDepth() measure.Length {
	depth := t.rules.BattenDepth
	for _, width := range []measure.Length{t.rules.BattenWidth, t.rules.WideBattenWidth} {
		if lines := t.catalogue.all(t.battenRole(width), ""); len(lines) > 0 {
			if own := t.battenProduct(width).Thickness; own > 0 {
				depth = min(depth, own)
			}
		}
	}
	return depth
}

func (t *takeoff) battenRole(width measure.Length) string {
	if width > t.rules.BattenWidth {
		return RoleWideBatten
	}
	return RoleBatten
}

// tapeThickness returns the thickness of the tape on joint battens, through
// which some screws go; 0: not known.
func (t *takeoff) tapeThickness() measure.Length {
	var most measure.Length
	for _, p := range t.catalogue.all(RoleTape, "") {
		most = max(most, p.Thickness)
	}
	return most
}

// screwDiameter returns a board screw's own diameter, which stands as its
// width in the catalogue, else the declared one, else 0.
func (t *takeoff) screwDiameter(screw Product) measure.Length {
	return cmp.Or(screw.Width, t.length(declDiameter))
}

// closestGauge returns the closest gauge of all walls, at which boards tilt
// most; 0: no wall has courses.
func (t *takeoff) closestGauge() measure.Length {
	var least measure.Length
	for _, f := range t.faces {
		if f.covered() && (least == 0 || f.gaugeLeast() < least) {
			least = f.gaugeLeast()
		}
	}
	return least
}

// flagScrews checks the board screws that walls take: long enough to hold,
// short enough to stay in the batten.
func (t *takeoff) flagScrews() {
	gauge := t.closestGauge()
	if gauge == 0 {
		return
	}
	tape := t.tapeThickness()
	seat := t.seat(gauge)
	seat.Behind, seat.Spare = tape, spareTimber+tape // on most battens there is no tape
	seen := map[string]bool{}
	for _, s := range t.stands {
		for _, role := range []string{RoleScrew, RoleVisibleScrew} {
			lines := t.catalogue.all(role, t.screwColour(role, s))
			if len(lines) > 0 && !seen[lines[0].Code] {
				seen[lines[0].Code] = true
				t.flagScrew(lines[0], seat)
			}
		}
	}
}

// flagScrew flags one board screw that does not suit its seat, at its row of
// the sheet Products.
func (t *takeoff) flagScrew(p Product, seat fixing.Seat) {
	d := t.screwDiameter(p)
	flag := func(severity Severity, code, header, what, do string) {
		t.result.Flags = append(t.result.Flags, Flag{Severity: severity, Code: code, Place: p.Origin.At(header), What: p.Role + " " + p.Code + ": " + what, Do: do})
	}
	switch {
	case p.Length == 0:
		flag(Check, "screw-not-checked", "Length mm", "its length is not given: not checked", "give it in Products")
		return
	case d == 0:
		flag(Check, "screw-not-checked", "Width mm", "its diameter is not given: not checked", "give it in Products, as its width, or in Declared")
		return
	case t.board.Thickness == 0:
		flag(Check, "screw-not-checked", "Length mm", "the thickness of the board "+t.board.Code+" is not given: not checked", "give it in Products")
		return
	}
	r, err := seat.Range(d)
	wrong := seat.Fits(d, p.Length)
	code, do := "", "take one "+lengths(r)+" under the head"
	switch {
	case err != nil:
		code, do = "screw-no-seat", "use a deeper batten, a thinner screw or a lesser declared penetration"
	case p.Length < r.Lo:
		code = "screw-short"
	case p.Length > r.Hi:
		code = "screw-long"
	}
	if code != "" {
		flag(Check, code, "Length mm", fmt.Sprintf("%v x %v mm, through a board of %v mm into a batten of %v mm: %s", d, p.Length, seat.Board, seat.Batten, wrong[0]), do)
	}
	if last := len(wrong) - 1; last >= 0 && strings.Contains(wrong[last], "withdrawal") && t.unproven() {
		flag(Note, "screw-withdrawal", "Width mm", wrong[last], "declare it, or the resistance of the system")
	}
}

// unproven reports whether nothing declared spares the withdrawal of a screw.
func (t *takeoff) unproven() bool {
	withdrawal, _ := t.number(declWithdrawal)
	return withdrawal == 0 && len(t.system()) == 0
}

// lengths says a range of screw lengths in whole millimetres that keep to it.
func lengths(r measure.Span) string {
	return fmt.Sprintf("of %v to %v mm", r.Lo.UpTo(measure.Millimetre), r.Hi.DownTo(measure.Millimetre))
}

// standOff returns how far a board stands off its batten at a fixing: nothing
// at the full board's top edge, its thickness one gauge below.
func (t *takeoff) standOff(w *WallResult, c Screw) measure.Length {
	for _, course := range w.Courses {
		if course.Number != w.Pieces[c.Piece].Course {
			continue
		}
		gauge := cmp.Or(course.Gauge, t.board.Width-t.rules.LapMost)
		return t.board.Thickness * (course.Bottom + t.board.Width - c.Z) / max(1, gauge)
	}
	return 0
}

// packedScrews are the visible screws of one wall that stand below a cut upper
// edge, and the most that the board there stands off its batten.
type packedScrews struct {
	screws int
	most   measure.Length
}

// packScrews notes on the pieces how thick they are packed there.
func (t *takeoff) packScrews(w *WallResult) (out packedScrews) {
	for _, c := range w.Screws {
		p := &w.Pieces[c.Piece]
		if !p.Packed || !c.Visible {
			continue
		}
		off := t.standOff(w, c)
		out.most = max(out.most, off)
		if off >= packerLeast {
			p.Packer = max(p.Packer, off)
		}
		out.screws++
	}
	return out
}

// flagPacked says where boards stand off their battens behind a cut under a
// sill or at the top: screws there go through a packer and have to be longer
// by it.
func (t *takeoff) flagPacked() {
	var most measure.Length
	n := 0
	for _, s := range t.stands {
		most = max(most, s.packed.most)
		n += s.packed.screws * s.quantity()
	}
	if n == 0 || most < packerLeast {
		return
	}
	stand := " stands"
	if n > 1 {
		stand = " stand"
	}
	do := "pack the boards there and take longer screws"
	seat := t.seat(0)
	seat.Behind = most
	for _, p := range t.catalogue.all(RoleVisibleScrew, t.job.Colour) {
		if r, err := seat.Range(t.screwDiameter(p)); err == nil {
			do += ", " + lengths(r) + " where the packer is thickest"
			break
		}
	}
	t.result.Flags = append(t.result.Flags, Flag{Severity: Note, Code: "screw-packed", Do: do + "; neither is ordered",
		What: fmt.Sprintf("%s below a cut upper edge, where the board is up to %v mm off its batten and is packed", plural(n, "visible screw")+stand, most.Nearest(measure.Millimetre))})
}

// packerLeast is the least gap worth a packer (common practice).
const packerLeast = 3 * measure.Millimetre
