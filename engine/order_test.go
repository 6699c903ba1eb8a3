package engine

import (
	"strings"
	"testing"
)

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

// What is ordered without spare, and how paint and membrane are reckoned, is
// said: who orders decides.
func TestSpareIsSaid(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(3000), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
	job.Rules.SpareCut, job.Rules.SpareOther = 7.5, 4
	said := strings.Join(mustTakeoff(t, job).Notes, "\n")
	for _, want := range []string{"(boards, trims, battens): 7.5 %; to everything else: 4 %", "at 60 m of edge a litre", "covers the gross area"} {
		if !strings.Contains(said, want) {
			t.Errorf("the assumptions do not say %q:\n%s", want, said)
		}
	}
}

// The lines of an order add up to the decimal sum, as on paper.
func TestOrderAddsUpWithoutNoise(t *testing.T) {
	if got := Amount([]OrderLine{{Amount: 0.1}, {Amount: 0.2}, {Amount: 1.7}}); got != 2 {
		t.Errorf("0.1 + 0.2 + 1.7 is 2, got %v", got)
	}
	if got := Amount([]OrderLine{{Amount: 0.1}, {Amount: 0.2}}); got != 0.3 {
		t.Errorf("0.1 + 0.2 is 0.3, got %v", got)
	}
}
