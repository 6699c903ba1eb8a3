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

// belowSpare is what a board screw's shank leaves free over the board below, for
// the drill's wander (common practice).
const belowSpare = 2 * measure.Millimetre

// belowLeast returns how far above the board below the middle of a board screw
// stands at least: half the thickest one's diameter and what is left free beside
// it; no less than for a screw of 6 mm.
func (t *takeoff) belowLeast() measure.Length {
	thick := 6 * measure.Millimetre
	for i := range t.catalogue.products {
		if p := &t.catalogue.products[i]; p.Role == RoleScrew || p.Role == RoleVisibleScrew {
			thick = max(thick, t.screwDiameter(*p))
		}
	}
	return thick/2 + belowSpare
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
