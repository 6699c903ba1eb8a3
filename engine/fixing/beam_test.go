package fixing

import (
	"math"
	"testing"
)

// beam returns the greatest moment and the greatest inner reaction of a beam
// over equal spans of 1 m under 1 N/m, by Clapeyron's theorem of three moments:
// M(i-1) + 4 M(i) + M(i+1) = -w l^2/2, and none at the two ends.
func beam(spans int) (moment, reaction float64) {
	supports := make([]float64, spans+1)
	for range 2000 { // Gauss-Seidel; the equations are diagonally dominant
		for i := 1; i < spans; i++ {
			supports[i] = (-0.5 - supports[i-1] - supports[i+1]) / 4
		}
	}
	for i := range spans {
		a, b := supports[i], supports[i+1]
		for n := range 1001 {
			x := float64(n) / 1000
			moment = max(moment, math.Abs(a+(b-a)*x+x*(1-x)/2))
		}
		if i > 0 { // shear at the left of this span and at the right of the one before
			before := supports[i-1]
			reaction = max(reaction, 0.5+(b-a)+0.5-(a-before))
		}
	}
	return moment, reaction
}

// The moment the board is checked for, w l^2/8, is that of one span and of
// two, and no number of spans has more. So is the 1.25 of an inner batten.
func TestBendingIsTheWorstOfAnySpans(t *testing.T) {
	h := Hold{Suction: 1000, LoadFactor: 1, Gauge: mm(135), Thickness: mm(10), Bending: 50, BendingFactor: 1}
	// Stress of 1000 N/m on a strip 1 m wide and 10 mm thick over 1 m:
	// M x 6/t^2, in MPa.
	stress := func(moment float64) float64 { return 1000 * moment * 6 / (0.01 * 0.01) / 1e6 }
	checked := checksAt(t, h, mm(1000))["bending"].Load
	for spans := 1; spans <= 8; spans++ {
		moment, reaction := beam(spans)
		if stress(moment) > checked*(1+1e-9) {
			t.Errorf("%d spans: %.2f MPa, more than the %.2f checked", spans, stress(moment), checked)
		}
		if spans <= 2 && !near(stress(moment), checked, 1e-9) {
			t.Errorf("%d spans: %.2f MPa, want the %.2f checked", spans, stress(moment), checked)
		}
		if reaction > 1.25+1e-9 || (spans == 2 && !near(reaction, 1.25, 1e-9)) {
			t.Errorf("%d spans: an inner batten carries %.3f bays, want at most 1.25, of two just that", spans, reaction)
		}
	}
}

// The prying by adding up moments of thin strips about the top edge, not from
// the resultant: the next course shields the lap, suction pulls on the rest.
func TestPryingByStrips(t *testing.T) {
	for _, test := range []struct{ gauge, lap, edge int64 }{
		{135, 40, 25}, {126, 26, 20}, {140, 35, 30}, {175, 0, 25},
	} {
		const slices = 10000
		step := float64(test.gauge) / slices
		turning, pull := 0.0, 0.0
		for i := range slices {
			turning += step * (float64(test.lap) + (float64(i)+0.5)*step)
			pull += step
		}
		want := turning / float64(test.edge) / pull
		h := Hold{Suction: 700, Gauge: mm(test.gauge), Lap: mm(test.lap), Edge: mm(test.edge)}
		h.Withdrawal, h.PullThrough = Strength{1e6, "a"}, Strength{1e6, "b"}
		c := checksAt(t, h, mm(600))["board"]
		if got := c.Load / h.plain(mm(600)); !near(got, want, 1e-9) {
			t.Errorf("gauge %d, lap %d, edge %d: %.4f times the plain pull, want %.4f", test.gauge, test.lap, test.edge, got, want)
		}
	}
}
