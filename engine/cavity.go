package engine

import (
	"fmt"

	"lapwright/engine/measure"
)

// checks flags what does not concern one wall: stock on hand, the products of the
// fixings, the cavity behind the boards, and fire. What they say defers to the designer
// and the local code.
func (t *takeoff) checks() {
	if len(t.stands) == 0 {
		return
	}
	t.flagSystem()
	t.flagOnHand()
	t.flagScrews()
	t.flagPackers()
	t.flagShallow()
	t.flagCavity()
	t.flagVentilation()
	t.flagBattens()
	t.barriers()
}

// Published least depths of the cavity behind boards, by situation: NHBC
// Standards 6.2.10 table 2.
const (
	cavityTimberFrame = 15 * measure.Millimetre // behind other cladding on timber frame
	cavitySevere      = 50 * measure.Millimetre // in very severe exposure
)

// flagCavity sets the cavity's depth, which is the battens', against what is
// declared or ruled and against the published minima.
func (t *takeoff) flagCavity() {
	depth, need := t.battenDepth(), t.rules.CavityLeast
	place, by := Place{}, "the rule"
	if d, ok := t.declared(declCavity); ok && t.length(declCavity) > need {
		need, place, by = t.length(declCavity), d.Origin.At("Value"), "what is declared"
	}
	flag := func(severity Severity, code, what, do string) {
		t.result.Flags = append(t.result.Flags, Flag{Severity: severity, Code: code, Place: place, What: what, Do: do})
	}
	if depth < need {
		flag(Check, "cavity-shallow", fmt.Sprintf("the battens leave a cavity of %v mm, %s asks for %v", depth, by, need), "take deeper battens")
	}
	if depth < t.rules.BattenDepth {
		flag(Check, "batten-depth", fmt.Sprintf("a batten in Products is %v mm deep, the rules reckon with %v", depth, t.rules.BattenDepth), "change the rule or the product: end allowances and reveals go by the rule")
	}
	switch {
	case depth < cavityTimberFrame:
		flag(Check, "cavity-situation", fmt.Sprintf("a cavity of %v mm is less than the %v mm published for cladding on timber frame (NHBC Standards 6.2.10)", depth, cavityTimberFrame), "ask the designer; the local code decides")
	case depth < cavitySevere:
		flag(Note, "cavity-situation", fmt.Sprintf("a cavity of %v mm is enough on timber frame (%v mm) and not in very severe exposure (%v mm; NHBC Standards 6.2.10)", depth, cavityTimberFrame, cavitySevere), "let the designer confirm the exposure; the local code decides")
	}
}

// flagVentilation sets the free opening a metre at base and top against what
// is wanted. Of the gap the vent strip leaves its open share; where that is not
// declared the flag says which share it needs.
func (t *takeoff) flagVentilation() {
	want := t.rules.VentilationOpening
	if want <= 0 {
		return
	}
	strips := len(t.catalogue.all(RoleVent, "")) > 0
	if !strips {
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "vent-strip-missing",
			What: "no vent strip is in the catalogue: the cavity stays open to insects and birds at base and top", Do: "add a vent strip to Products"})
	}
	percent, _ := t.number(declVentShare)
	for _, e := range t.ventGaps() {
		t.flagVent(e.where, e.gap, want, percent)
	}
	if open := max(0, t.rules.topGap(OpenTop)); open.Millimetres()*1000 < want {
		t.flagOpenTops(open)
	}
}

// flagOpenTops names the walls whose boards end at an open top, with nothing above
// them in the survey that a gap could be kept to.
func (t *takeoff) flagOpenTops(gap measure.Length) {
	for _, f := range t.faces {
		if f.covered() && f.wall.Top == OpenTop {
			t.result.Flags = append(t.result.Flags, Flag{Check, "ventilation-top", f.wall.Plot, f.wall.Name, f.wall.Origin.At("Top edge"),
				"the top is open: boards and battens run to " + gap.String() + " mm below it, and what air leaves the cavity depends on the coping or capping there",
				"leave a gap under the coping, or give the edge that stands above; the designer decides what the wall needs"})
		}
	}
}

type ventGap struct {
	where string
	gap   measure.Length
}

// ventGaps returns the narrowest gap through which air enters and leaves the
// cavity: at the base no wider than the cavity is deep, at the top what the
// boards keep below each kind of top that the walls have, but for open ones.
func (t *takeoff) ventGaps() []ventGap {
	top := measure.Length(-1)
	for _, s := range t.stands {
		if gap := max(0, t.rules.topGap(s.face.wall.Top)); s.face.wall.Top != OpenTop && (top < 0 || gap < top) {
			top = gap
		}
	}
	out := []ventGap{{"base", min(t.rules.VentilationGap, t.battenDepth())}}
	if top >= 0 {
		out = append(out, ventGap{"top", min(top, t.battenDepth())})
	}
	return out
}

func (t *takeoff) flagVent(where string, gap measure.Length, want, percent float64) {
	open := gap.Millimetres() * 1000
	free := open * percent / 100
	f := Flag{Severity: Check, Code: "ventilation-" + where, Place: t.job.Origins["Ventilation opening"], Do: "widen the gap or take a more open vent strip; the designer decides what the wall needs"}
	switch {
	case open < want:
		f.What = fmt.Sprintf("at the %s a gap of %v mm leaves %.0f mm2 a metre, %.0f are wanted", where, gap, open, want)
	case percent > 0 && free < want:
		f.What = fmt.Sprintf("at the %s a gap of %v mm and a vent strip open by %g %% leave %.0f mm2 a metre, %.0f are wanted", where, gap, percent, free, want)
	case percent == 0:
		f.Severity, f.Code = Note, "ventilation-share"
		f.What = fmt.Sprintf("at the %s a gap of %v mm leaves %.0f mm2 a metre before the vent strip: for %.0f the strip has to be open by %.0f %%, which is not declared", where, gap, open, want, 100*want/open)
		f.Do = "declare the vent strip's open share"
	default:
		return
	}
	t.result.Flags = append(t.result.Flags, f)
}
