package engine

import "testing"

// The spare of the tape has a rule of its own; left at 0 it is that of
// everything else that is not cut from stock.
func TestTapeSpare(t *testing.T) {
	for _, test := range []struct{ rule, tape, membrane float64 }{{0, 5, 5}, {12, 12, 5}} {
		job := testJob(longWall())
		job.Rules.TapeSpare = test.rule
		got := map[string]float64{}
		for _, l := range takeOff(t, job).Order {
			got[l.Role] = l.Spare
		}
		if got[RoleTape] != test.tape || got[RoleMembrane] != test.membrane {
			t.Errorf("rule %g: tape %g %%, membrane %g %%, want %g and %g", test.rule, got[RoleTape], got[RoleMembrane], test.tape, test.membrane)
		}
	}
}
