package engine

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"lapwright/engine/measure"
)

// generator makes walls of every shape that a survey may hold, from a seed.
type generator struct{ *rand.Rand }

func newGenerator(seed uint64) generator { return generator{rand.New(rand.NewPCG(seed, 11))} }

// length returns a whole number of millimetres in [lo, hi], a multiple of step.
func (g generator) length(lo, hi, step int64) measure.Length {
	return mm(lo + step*g.Int64N((hi-lo)/step+1))
}

func (g generator) edge() Edge {
	return []Edge{ExternalCorner, InternalCorner, Abutment, OpenEnd}[g.IntN(4)]
}

// wall returns a wall of the n-th kind of shape with up to five openings that
// keep clear of each other.
func (g generator) wall(name string) Wall {
	w := Wall{Name: name, Quantity: 1 + g.IntN(2), Width: g.length(1200, 14000, 10), Height: g.length(2000, 6200, 5),
		Left: g.edge(), Right: g.edge(), Top: Soffit, Bottom: Ground}
	switch g.IntN(6) {
	case 0:
		w.ApexHeight, w.Top = measure.Some(w.Height+g.length(600, 3000, 10)), Verge
		w.HeightRight = measure.Some(w.Height + g.length(0, 300, 10))
	case 1:
		w.HeightRight, w.Top = measure.Some(w.Height+g.length(-900, 900, 5)), Verge
	case 2:
		w.StepLeft, w.StepBase = measure.Some(g.length(300, int64(w.Width/mm(1))-300, 10)), measure.Some(g.length(160, 900, 5))
	case 3:
		w.BaseProfile = measure.Profile{{X: 0, Z: 0}, {X: w.Width / 2, Z: g.length(0, 600, 5)}, {X: w.Width, Z: g.length(0, 900, 5)}}
	}
	g.openings(&w)
	return w
}

func (g generator) openings(w *Wall) {
	at := mm(g.Int64N(900))
	for i := 0; i < 5; i++ {
		o := Opening{Name: fmt.Sprintf("o%d", i+1), Kind: "window", Left: at, Width: g.length(400, 2400, 5), Reveal: mm(100), Lined: g.IntN(3) == 0}
		o.Sill, o.Height = g.length(0, 1400, 5), g.length(400, 1400, 5)
		if g.IntN(4) == 0 {
			o.Kind, o.Sill, o.Height = "door", 0, g.length(1900, 2100, 5)
		}
		if o.Left+o.Width > w.Width || o.Sill+o.Height > min(w.Height, w.HeightRight.Or(w.Height)) {
			return
		}
		if g.IntN(3) == 0 && o.Kind == "window" {
			o.SillWidth = measure.Some(o.Width + mm(100))
		}
		w.Openings = append(w.Openings, o)
		at += o.Width + g.length(200, 2500, 5)
	}
}

// overSeeds checks n seeds, 150 in short mode, on all cores; a check that fails
// ends its share of them.
func overSeeds(t *testing.T, n int, check func(t *testing.T, seed uint64)) {
	if testing.Short() {
		n = 150
	}
	const shares = 8
	for first := range uint64(shares) {
		t.Run(fmt.Sprintf("%d of %d", first+1, shares), func(t *testing.T) {
			t.Parallel()
			for seed := first; seed < uint64(n) && !t.Failed(); seed += shares {
				check(t, seed)
			}
		})
	}
}

// Every wall of every random job passes the independent audit.
func TestRandomWallsPassTheAudit(t *testing.T) {
	overSeeds(t, 2000, func(t *testing.T, seed uint64) {
		g := newGenerator(seed)
		var walls []Wall
		for i := range 1 + g.IntN(3) {
			walls = append(walls, g.wall(fmt.Sprintf("wall %d", i+1)))
		}
		job := testJob(walls...)
		job.Rules.BattenCentres = []measure.Length{mm(400), mm(450), mm(600)}[g.IntN(3)]
		job.Rules.JointRepeat = 2 + g.IntN(2)
		res, err := Takeoff(context.Background(), job)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		mustPass(t, res)
		if t.Failed() {
			t.Logf("seed %d", seed)
		}
	})
}
