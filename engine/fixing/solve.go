package fixing

import (
	"fmt"
	"slices"

	"lapwright/engine/measure"
)

// Solution is the widest batten centres that hold in one zone.
type Solution struct {
	Centres measure.Length
	Checks  []Check // at these centres
	Holds   bool    // no check made has a use above 1
	Verdict Verdict // the worst of the checks: fails, not checked, estimate, passes
	Governs string  // what of the checks limits the centres or, if none, is used most
	Why     string  // in words, with the use at the next wider centres
}

// Solve returns the widest of the given centres at which every check that can
// be made holds; nil means 600, 450, 400 and 300 mm (common practice). Where
// none holds it returns the closest, with Holds false.
//
// If a system is declared for this lap, centres wider than any it was declared
// for are left out: they could only be estimated, and an estimate does not
// outrank a declaration. So more wind never means wider centres.
//
// It is an error if [Hold.Checks] has one.
func Solve(h Hold, centres []measure.Length) (Solution, error) {
	if len(centres) == 0 {
		mm := measure.MM
		centres = []measure.Length{mm(600), mm(450), mm(400), mm(300)}
	}
	centres = slices.Clone(centres)
	slices.Sort(centres)
	slices.Reverse(centres)
	left := slices.DeleteFunc(slices.Clone(centres), func(c measure.Length) bool { return !h.systemAt(c) })
	beyond := len(left) > 0 && len(left) < len(centres)
	if len(left) > 0 {
		centres = left
	}
	var wider Solution
	for i, c := range centres {
		checks, err := h.Checks(c)
		if err != nil {
			return Solution{}, err
		}
		s := sum(c, checks)
		if s.Holds || i == len(centres)-1 {
			return s.explain(wider, beyond), nil
		}
		wider = s
	}
	return Solution{}, fmt.Errorf("no batten centres to try")
}

// sum gathers the checks at one centres.
func sum(centres measure.Length, checks []Check) Solution {
	s := Solution{Centres: centres, Checks: checks, Holds: true, Verdict: Passes}
	most := 0.0
	for _, c := range checks {
		if c.Use > 1 {
			s.Holds = false
		}
		if c.Use > most {
			most, s.Governs = c.Use, c.What
		}
		if weight(c.Verdict) > weight(s.Verdict) {
			s.Verdict = c.Verdict
		}
	}
	return s
}

func weight(v Verdict) int {
	return slices.Index([]Verdict{Passes, Estimate, NotChecked, Fails}, v)
}

func (s Solution) use() float64 {
	most := 0.0
	for _, c := range s.Checks {
		most = max(most, c.Use)
	}
	return most
}

// explain says what kept the centres from being wider. wider is the solution
// at the next wider centres, zero if there was none.
func (s Solution) explain(wider Solution, beyond bool) Solution {
	switch {
	case !s.Holds:
		s.Why = fmt.Sprintf("%s: use %.0f %% even at %v mm", s.Governs, 100*s.use(), s.Centres)
	case wider.Centres > 0:
		s.Governs = wider.Governs
		s.Why = fmt.Sprintf("%s: use %.0f %% at %v mm", wider.Governs, 100*wider.use(), wider.Centres)
	case beyond:
		s.Governs = "board"
		s.Why = fmt.Sprintf("no system resistance is declared beyond %v mm", s.Centres)
	case s.Governs == "":
		s.Why = "nothing is declared or there is no load: the widest centres tried"
	default:
		s.Why = fmt.Sprintf("the widest centres tried, %s used %.0f %%", s.Governs, 100*s.use())
	}
	return s
}
