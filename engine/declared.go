package engine

import (
	"strconv"
	"strings"

	"lapwright/engine/measure"
)

// The items a maker or designer may declare, as the sheet Declared names them.
const (
	declLapLeast     = "Lap least mm"
	declLapMost      = "Lap most mm"
	declEdge         = "Edge distance least mm"
	declEnd          = "End distance least mm"
	declPreDrill     = "Pre-drill within mm"
	declGap          = "Ventilation gap mm"
	declCavity       = "Cavity depth mm"
	declSpan         = "Span most mm"
	declSystem       = "System resistance Pa"
	declSystemLap    = "System lap mm"
	declSystemSpan   = "System centres mm"
	declSystemFixing = "System fixing"
	declPullThrough  = "Board pull-through N"
	declWithdrawal   = "Screw withdrawal N"
	declDiameter     = "Screw diameter mm"
	declPenetration  = "Screw penetration mm"
	declThread       = "Screw thread mm"
	declVentShare    = "Vent strip open share %"
	declBattenHold   = "Batten fixing resistance N"
	declNail         = "Batten nail diameter mm"
	declNailHead     = "Batten nail head mm"
	declClass        = "Board bending class"
	declBending      = "Board bending strength MPa"
	declBoardFactor  = "Board partial factor"
	declBoardDensity = "Board density kg/m3"
	declTimber       = "Timber density kg/m3"
)

// expectDeclared lists what should be declared before anyone builds; the
// Summary names what is not.
var expectDeclared = []string{declLapLeast, declLapMost, declEdge, declEnd, declSystem, declPullThrough,
	declWithdrawal, declBattenHold, declClass, declBoardDensity}

// declared returns the declaration of an item, or false.
func (t *takeoff) declared(item string) (Declared, bool) {
	for _, d := range t.job.Declared {
		if strings.EqualFold(d.Item, item) {
			return d, true
		}
	}
	return Declared{}, false
}

// declaredBy heads the source of a declared value.
const declaredBy = "declared: "

// number returns a declared number and who declares it, or 0.
func (t *takeoff) number(item string) (float64, string) {
	d, ok := t.declared(item)
	if !ok {
		return 0, ""
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(d.Value), 64)
	if err != nil || v < 0 {
		return 0, ""
	}
	source := d.Source
	if source == "" {
		source = "no source given"
	}
	return v, declaredBy + source
}

// length returns a declared length, or 0.
func (t *takeoff) length(item string) measure.Length {
	v, _ := t.number(item)
	return measure.Length(v * float64(measure.Millimetre))
}

// declare lets what is declared for the actual board go before the defaults. A
// rule that the user has set otherwise stays, with a flag where it breaks a
// declared limit.
func (t *takeoff) declare() {
	defaults := DefaultRules()
	least, most := true, false
	for _, d := range []struct {
		item  string
		rule  *measure.Length
		base  measure.Length
		least bool
	}{
		{declLapLeast, &t.rules.LapLeast, defaults.LapLeast, least},
		{declLapMost, &t.rules.LapMost, defaults.LapMost, most},
		{declEdge, &t.rules.EdgeDistance, defaults.EdgeDistance, least},
		{declEnd, &t.rules.EndDistanceLeast, defaults.EndDistanceLeast, least},
		{declPreDrill, &t.rules.PreDrillWithin, defaults.PreDrillWithin, least},
		{declGap, &t.rules.VentilationGap, defaults.VentilationGap, least},
		{declSpan, &t.rules.BattenCentres, defaults.BattenCentres, most},
		{declPenetration, &t.rules.PenetrationLeast, defaults.PenetrationLeast, least},
	} {
		v := t.length(d.item)
		switch {
		case v == 0 || v == *d.rule:
		case *d.rule == d.base && !(d.item == declSpan && v > d.base):
			*d.rule = v
		case (d.least && *d.rule < v) || (!d.least && *d.rule > v):
			decl, _ := t.declared(d.item)
			t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "rule-beyond-declared",
				Place: decl.Origin.At("Value"), What: "the rule of " + d.rule.String() + " mm goes beyond the declared " + d.item + " of " + v.String(),
				Do: "change the rule or ask whoever declares the value"})
		}
	}
	for _, item := range expectDeclared {
		if _, ok := t.declared(item); !ok {
			t.result.Undeclared = append(t.result.Undeclared, item)
		}
	}
}
