// Package fixing answers for one wall: how many fixings, where, what each has
// to hold and what it can hold.
//
// Where and how many ([Place], [Along], [Seat]) is exact, on integer lengths.
// Load and resistance ([Hold], [Solve], [Fastener]) are physics in newtons,
// pascals and megapascals. No resistance is ever made up: what is not declared
// and not computable by a clause is not checked, and says so. All of it is a
// first look for a competent designer.
package fixing

import (
	"cmp"
	"fmt"
	"math"

	"lapwright/engine/measure"
)

// Verdict is what a check comes to.
type Verdict string

// The verdicts. An estimate is never a pass, however small its use.
const (
	NotChecked Verdict = "not checked"
	Passes     Verdict = "passes"
	Fails      Verdict = "fails"
	Estimate   Verdict = "estimate"
)

// Check is one load against one resistance. Where nothing is known to resist,
// Resistance and Use are 0 and the verdict is NotChecked.
type Check struct {
	What             string // board, bending or batten
	Load, Resistance float64
	Unit             string  // of both: N a fixing, or MPa
	Use              float64 // Load/Resistance; above 1 it does not hold
	Basis            string  // clause, who declares, or estimate, and why a check is missing
	Verdict          Verdict
	BySystem         bool // Resistance is that of a declared system on the face of one fixing
}

// System is a declared design resistance of boards as fixed, from a test or a
// maker's table.
type System struct {
	Resistance float64        // design value, Pa
	Declared   float64        // Pa, of which Resistance is what is left over a whole board's face; 0: it is declared for the face it holds
	Lap        measure.Length // least lap it was declared at
	Centres    measure.Length // widest batten centres it was declared at
	Fixing     string         // product it was declared with; blank: any
	Source     string
}

// Hold is one zone of a wall and all that is declared for it. Loads are
// characteristic; LoadFactor makes them design loads.
//
// Each batten is taken to carry half a bay from either side. The middle batten
// of a piece over just two bays carries up to 1.25 times as much, one at a
// piece's end as much less; staggered joints even this out over the courses,
// and no allowance is made for it.
type Hold struct {
	Suction    float64 // Pa, 0 or more
	Pressure   float64 // Pa, 0 or more: pressing the board on; bends it only
	LoadFactor float64 // gammaQ; 0: 1.5, EN 1990 table A1.2(B) (from memory)

	Gauge     measure.Length
	Lap       measure.Length // of the next course over this one
	Edge      measure.Length // from the top edge down to the fixing
	Thickness measure.Length // of the board; 0: not known
	Fixing    string         // product code of the fixing used
	Shallow   string         // in words, how its embedment falls short of what a standard asks; blank: it does not, or is not known

	Systems     []System
	PullThrough Strength // of the board at one fixing: declared only
	Withdrawal  Strength // of one board fixing from its batten

	Bending       float64 // declared modulus of rupture, MPa; 0: by BendingClass
	BendingClass  int     // EN 12467 class 1 to 5; 0: not declared
	BendingFactor float64 // declared partial factor on it, at least 1; 0: none declared
	BendingSource string

	PullOut Strength       // of one batten fixing from the wall: declared
	Spacing measure.Length // of batten fixings along a batten
}

// Checks returns the checks of a wall with battens at the given centres, in
// the order board, bending, batten. Bending is left out where a declared
// system covers it and no bending strength is declared. It is an error if the
// centres or the gauge are not above 0 or a number is negative or none.
func (h Hold) Checks(centres measure.Length) ([]Check, error) {
	if err := h.valid(centres); err != nil {
		return nil, err
	}
	board := h.board(centres)
	out := []Check{board}
	if c := h.bending(centres); c.Verdict != NotChecked || !h.systemAt(centres) {
		out = append(out, c)
	}
	return append(out, h.batten(centres)), nil
}

func (h Hold) valid(centres measure.Length) error {
	if centres <= 0 || h.Gauge <= 0 || h.Lap < 0 || h.Edge < 0 || h.Thickness < 0 || h.Spacing < 0 {
		return fmt.Errorf("centres %v, gauge %v, lap %v, edge distance %v, thickness %v, spacing %v mm: centres and gauge must be above 0, none below", centres, h.Gauge, h.Lap, h.Edge, h.Thickness, h.Spacing)
	}
	numbers := []float64{h.Suction, h.Pressure, h.LoadFactor, h.PullThrough.Design, h.Withdrawal.Design, h.Bending, h.BendingFactor, h.PullOut.Design}
	for _, s := range h.Systems {
		numbers = append(numbers, s.Resistance)
	}
	for _, v := range numbers {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("a load, factor or resistance of %g is none", v)
		}
	}
	if h.BendingFactor > 0 && h.BendingFactor < 1 {
		return fmt.Errorf("a partial factor of %g on the bending strength is below 1", h.BendingFactor)
	}
	if h.BendingClass < 0 || h.BendingClass > 5 {
		return fmt.Errorf("bending class %d is none of 1 to 5 (EN 12467)", h.BendingClass)
	}
	return nil
}

func (h Hold) factor() float64 {
	if h.LoadFactor == 0 {
		return 1.5
	}
	return h.LoadFactor
}

// plain returns the pull on one board fixing in N as if the board were a strip
// held evenly: design suction x centres x gauge.
func (h Hold) plain(centres measure.Length) float64 {
	return h.factor() * h.Suction * centres.Metres() * h.Gauge.Metres()
}

// prying returns by how much a board turning rigidly about its top edge pulls
// harder at its one line of fixings than a strip held evenly. The suction acts
// in the middle of the exposed face, lap + gauge/2 below the top edge, the
// fixing only the edge distance below it.
func (h Hold) prying() float64 {
	return max(1, (h.Lap.Metres()+h.Gauge.Metres()/2)/h.Edge.Metres())
}

// board checks the fixings of the boards: by a declared system if there is one
// for this lap, else by an estimate.
func (h Hold) board(centres measure.Length) Check {
	c := Check{What: "board", Unit: "N", Load: h.plain(centres), Verdict: NotChecked}
	if h.systemReach() > 0 {
		c = h.bySystem(c, centres)
	} else {
		c = h.byEstimate(c)
	}
	if c.Verdict != NotChecked && h.Shallow != "" {
		c.Basis += "; " + h.Shallow
	}
	return c
}

// systemReach returns the widest centres of any system declared for this lap
// and fixing; 0: there is none.
func (h Hold) systemReach() measure.Length {
	var reach measure.Length
	for _, s := range h.Systems {
		if h.suits(s) {
			reach = max(reach, s.Centres)
		}
	}
	return reach
}

func (h Hold) suits(s System) bool {
	return s.Resistance > 0 && s.Centres > 0 && h.Lap >= s.Lap &&
		(s.Fixing == "" || s.Fixing == h.Fixing)
}

func (h Hold) systemAt(centres measure.Length) bool { return centres <= h.systemReach() }

// bySystem takes the strongest system declared for centres no closer than
// these. A value holds unchanged at closer centres and greater laps: that is
// on the safe side, and nothing is added to it.
func (h Hold) bySystem(c Check, centres measure.Length) Check {
	var best System
	for _, s := range h.Systems {
		if h.suits(s) && centres <= s.Centres && s.Resistance > best.Resistance {
			best = s
		}
	}
	if best.Resistance == 0 {
		c.Basis = fmt.Sprintf("no system resistance is declared for centres of %v mm: at most %v", centres, h.systemReach())
		return c
	}
	basis := fmt.Sprintf("declared system, %.0f Pa at lap %v, centres %v: %s", cmp.Or(best.Declared, best.Resistance), best.Lap, best.Centres, named(best.Source))
	if best.Declared > 0 {
		basis += fmt.Sprintf("; over a whole board's face %.0f Pa", best.Resistance)
	}
	area := centres.Metres() * h.Gauge.Metres()
	pa := Check{Load: h.factor() * h.Suction}.against(best.Resistance, basis) // in Pa, lest the area's rounding decide
	c.Resistance, c.Use, c.Basis, c.Verdict, c.BySystem = best.Resistance*area, pa.Use, pa.Basis, pa.Verdict, true
	return c
}

// byEstimate multiplies the prying in. Only the plain pull is certain, so only
// it can fail; the estimate itself never passes.
func (h Hold) byEstimate(c Check) Check {
	weakest, missing := h.PullThrough, ""
	switch {
	case h.PullThrough.Design == 0 && h.Withdrawal.Design == 0:
		c.Basis = "neither a system resistance nor pull-through and withdrawal are declared"
		return c
	case h.PullThrough.Design == 0:
		weakest, missing = h.Withdrawal, "pull-through of the board is not declared"
	case h.Withdrawal.Design == 0:
		missing = "withdrawal from the batten is not declared"
	case h.Withdrawal.Design < h.PullThrough.Design:
		weakest = h.Withdrawal
	}
	if h.Edge == 0 {
		missing = "the edge distance is not known"
	}
	certain := c.against(weakest.Design, "even the plain pull without prying: "+named(weakest.Basis))
	if missing != "" {
		if certain.Verdict == Fails {
			return certain
		}
		c.Basis = missing
		return c
	}
	c.Load *= h.prying()
	c = c.against(weakest.Design, fmt.Sprintf("estimate, board turning about its top edge, %.2f times the plain pull: %s", h.prying(), named(weakest.Basis)))
	if c.Verdict = Estimate; certain.Verdict == Fails {
		c.Verdict = Fails
	}
	return c
}

// bending checks the board between two battens under suction or pressure:
// M = w l^2/8, both in the middle of a single span and over the middle batten
// of two; W = t^2/6 of a strip. The part of the board that the next course
// laps is not counted in.
func (h Hold) bending(centres measure.Length) Check {
	c := Check{What: "bending", Unit: "MPa", Verdict: NotChecked}
	strength, basis := h.Bending, named(h.BendingSource)
	if strength == 0 {
		strength = classStrength(h.BendingClass)
		basis = fmt.Sprintf("EN 12467 class %d, %s", h.BendingClass, basis)
	}
	if strength == 0 || h.Thickness == 0 {
		c.Basis = "bending strength or thickness of the board is not declared"
		return c
	}
	slender := centres.Metres() / h.Thickness.Metres()
	c.Load = 0.75 * h.factor() * max(h.Suction, h.Pressure) * slender * slender / 1e6
	if h.BendingFactor > 0 {
		return c.against(strength/h.BendingFactor, "declared bending strength: "+basis)
	}
	if c = c.against(strength, "estimate, no partial factor declared for the bending strength: "+basis); c.Verdict == Passes {
		c.Verdict = Estimate
	}
	return c
}

// classStrength returns the least modulus of rupture in MPa of a class of EN
// 12467 (from memory; later editions may ask more of classes 4 and 5).
func classStrength(class int) float64 {
	return [6]float64{0, 4, 7, 10, 16, 22}[class]
}

// batten checks what holds the battens to the wall.
func (h Hold) batten(centres measure.Length) Check {
	c := Check{What: "batten", Unit: "N", Verdict: NotChecked}
	c.Load = h.factor() * h.Suction * centres.Metres() * h.Spacing.Metres()
	if h.PullOut.Design == 0 || h.Spacing == 0 {
		c.Basis = "pull-out or spacing of the batten fixings is not declared"
		return c
	}
	return c.against(h.PullOut.Design, "pull-out, "+named(h.PullOut.Basis))
}

// against sets a resistance above 0, use and verdict.
func (c Check) against(resistance float64, basis string) Check {
	c.Resistance, c.Basis = resistance, basis
	c.Use = c.Load / resistance
	c.Verdict = Passes
	if c.Use > 1 {
		c.Verdict = Fails
	}
	return c
}

func named(source string) string {
	if source == "" {
		return "no source stated"
	}
	return source
}
