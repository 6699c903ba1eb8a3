package engine

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// A declared resistance in newtons is a characteristic value unless its unit
// or source says that it is a design value: makers' tables give the one,
// structural designers the other, and taking it as characteristic is on the
// safe side. What turns it into a design value depends on what gives way:
// the batten's timber by EN 1995-1-1 (2.17), the board by a factor that must be
// declared itself, the wall behind by its own material.

// masonryFactor is the partial factor of a fixing in masonry where the wall is
// not known to be timber: plastic anchors, ETAG 020 annex C (from memory).
const masonryFactor = 2.5

// isDesign reports whether a declaration says that it is a design value.
func (d Declared) isDesign() bool {
	return strings.Contains(strings.ToLower(d.Source+" "+d.Unit), "design")
}

// isCharacteristic reports whether a declaration says that it is a
// characteristic value.
func (d Declared) isCharacteristic() bool {
	return strings.Contains(strings.ToLower(d.Source+" "+d.Unit), "characteristic")
}

// resistance returns a declared resistance in N as its own design value, or 0
// and the value taken as characteristic.
func (t *takeoff) resistance(item string) (design fixing.Strength, characteristic float64, source string) {
	v, source := t.number(item)
	if d, _ := t.declared(item); v > 0 && d.isDesign() {
		return fixing.Strength{Design: v, Basis: source + ", design value"}, 0, source
	}
	return fixing.Strength{}, v, source + ", taken as characteristic"
}

// timber is what the battens are made of.
func (t *takeoff) timber() fixing.Timber {
	density, _ := t.number(declTimber)
	return fixing.Timber{Class: t.job.Wind.TimberClass, Density: density}
}

// pullThrough returns what the board resists at one fixing. Without a declared
// partial factor a characteristic value stands undiminished, and says so: with
// it the load is only ever estimated, never passed.
func (t *takeoff) pullThrough() fixing.Strength {
	s, v, source := t.resistance(declPullThrough)
	if s.Design > 0 || v == 0 {
		return s
	}
	if factor, _ := t.number(declBoardFactor); factor >= 1 {
		return fixing.Strength{Design: v / factor, Basis: fmt.Sprintf("%s, declared partial factor %g", source, factor)}
	}
	return fixing.Strength{Design: v, Basis: source + ", no partial factor declared"}
}

// withdrawal returns the declared withdrawal of a board screw, else what the
// clause gives for its diameter in the named timber, else nothing and why.
func (t *takeoff) withdrawal(f *face, screw Product) fixing.Strength {
	s, v, source := t.resistance(declWithdrawal)
	if s.Design > 0 {
		return s
	}
	var err error
	if v > 0 {
		s, err = t.timber().Design(v, source)
	} else {
		var assumed string
		into := fixing.Fastener{Diameter: t.screwDiameter(screw)}
		into.Penetration, assumed = t.penetration(f, screw)
		if s, err = into.Withdrawal(t.timber()); err == nil {
			s.Basis += assumed
		}
	}
	if err != nil {
		return fixing.Strength{Basis: err.Error()}
	}
	return s
}

// penetration returns how much thread of a board screw is sure to hold in the
// batten, and in words what was assumed: what is left of it behind board, tilt
// and tape, less its point (one diameter, as EN 1995-1-1:2004 8.7.2 first had
// it, from memory), and no more than the thread declared.
func (t *takeoff) penetration(f *face, screw Product) (measure.Length, string) {
	seat := t.seat(f.gaugeLeast())
	seat.Behind += t.tapeThickness()
	in := max(0, seat.Reach(screw.Length)-t.screwDiameter(screw))
	if thread := t.length(declThread); thread > 0 {
		in = min(in, thread)
		return in, fmt.Sprintf(", %v mm of thread in the batten", in)
	}
	return in, fmt.Sprintf(", %v mm in the batten taken as all thread: it is not declared", in)
}

// pullOut returns what one batten fixing resists: in the wall behind or, where a
// nail's head is declared and is the weaker, in the batten that it holds.
func (t *takeoff) pullOut(w *Wall) fixing.Strength {
	s := t.inWall(w)
	nail := fixing.Fastener{Nail: true, Diameter: t.length(declNail), Head: t.length(declNailHead)}
	if s.Design == 0 || nail.Head == 0 {
		return s
	}
	switch head, err := nail.HeadPull(t.timber()); {
	case err != nil:
		s.Basis += ", its head not checked: " + err.Error()
	case head.Design < s.Design:
		return head
	}
	return s
}

// shallow says how far short of 6 d the embedment of a board screw in its batten
// falls, whatever is declared of it; blank: it does not, or a size is not known.
func (t *takeoff) shallow(f *face, screw Product) string {
	d := t.screwDiameter(screw)
	if d == 0 || screw.Length == 0 || t.board.Thickness == 0 {
		return ""
	}
	seat := t.seat(f.gaugeLeast())
	seat.Behind += t.tapeThickness()
	if in := seat.Reach(screw.Length); in < 6*d {
		return fmt.Sprintf("the screw is sure to go only %v mm into the batten, less than the 6 d = %v mm that EN 1995-1-1 8.7.2(3) asks", in.DownTo(measure.Tenth), 6*d)
	}
	return ""
}

// shallowInStud says the same of a batten fixing in a stud: at most what is left of
// it behind the batten. A declared nail counts as a smooth one.
func (t *takeoff) shallowInStud() string {
	lines := t.catalogue.all(RoleBattenFixing, "")
	if len(lines) == 0 || lines[0].Length == 0 {
		return ""
	}
	kind, d, times, clause := "fixing", lines[0].Width, measure.Length(6), "8.7.2(3) asks of a screw"
	if nail := t.length(declNail); nail > 0 {
		kind, d, times, clause = "nail", nail, 8, "8.3.2(7) asks of a smooth nail"
	}
	if in := max(0, lines[0].Length-t.battenDepth()); in < times*d {
		return fmt.Sprintf("the %s goes at most %v mm into the stud, less than the %d d = %v mm that EN 1995-1-1 %s", kind, in, times, times*d, clause)
	}
	return ""
}

// flagShallow flags batten fixings that go into studs and not far enough, at their
// row of the sheet Products.
func (t *takeoff) flagShallow() {
	inStuds := slices.ContainsFunc(t.stands, func(s *stand) bool { return len(s.face.wall.Studs) > 0 })
	if what := t.shallowInStud(); inStuds && what != "" {
		p := t.catalogue.all(RoleBattenFixing, "")[0]
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "batten-fixing-short", Place: p.Origin.At("Length mm"),
			What: RoleBattenFixing + " " + p.Code + ": " + what, Do: "take a longer one, or ask the designer whether what is declared of it holds so"})
	}
}

// inWall returns what one batten fixing resists in the wall behind.
func (t *takeoff) inWall(w *Wall) fixing.Strength {
	s := t.heldInWall(w)
	if what := t.shallowInStud(); s.Design > 0 && len(w.Studs) > 0 && what != "" {
		s.Basis += "; " + what
	}
	return s
}

func (t *takeoff) heldInWall(w *Wall) fixing.Strength {
	s, v, source := t.resistance(declBattenHold)
	if s.Design > 0 || v == 0 {
		return s
	}
	if len(w.Studs) > 0 {
		if s, err := t.timber().Design(v, source+", in timber studs"); err == nil {
			return s
		}
	}
	return fixing.Strength{Design: v / masonryFactor,
		Basis: fmt.Sprintf("%s, divided by %g as in masonry, the wall not being known", source, masonryFactor)}
}

// system returns the declared resistance of boards as fixed, or none. The item
// asks for a design value; one that is said to be characteristic is divided by
// the declared partial factor, and without one is not used.
func (t *takeoff) system() []fixing.System {
	v, source := t.number(declSystem)
	if v == 0 {
		return nil
	}
	source = strings.TrimPrefix(source, declaredBy)
	if d, _ := t.declared(declSystem); d.isCharacteristic() && !d.isDesign() {
		factor, _ := t.number(declBoardFactor)
		if factor < 1 {
			return nil
		}
		v, source = v/factor, fmt.Sprintf("%s, characteristic %g Pa, declared partial factor %g", source, v, factor)
	}
	name, _ := t.declared(declSystemFixing)
	return []fixing.System{{Resistance: v, Lap: t.length(declSystemLap), Centres: t.length(declSystemSpan), Fixing: name.Value, Source: source}}
}

// flagSystem asks for what a declared system lacks before it can be used.
func (t *takeoff) flagSystem() {
	v, _ := t.number(declSystem)
	d, _ := t.declared(declSystem)
	switch {
	case v == 0:
	case t.length(declSystemSpan) == 0:
		t.declaredFlag(d, "system-incomplete", "the system resistance is declared without its batten centres and is not used", "declare the centres and the lap it holds for")
	case len(t.system()) == 0:
		t.declaredFlag(d, "system-characteristic", "the system resistance is a characteristic value and no partial factor is declared: it is not used", "declare the design value, or the board's partial factor")
	}
}

// declaredFlag flags a value of the sheet Declared.
func (t *takeoff) declaredFlag(d Declared, code, what, do string) {
	t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: code, Place: d.Origin.At("Value"), What: what, Do: do})
}
