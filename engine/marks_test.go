package engine

import (
	"fmt"
	"testing"

	"lapwright/engine/measure"
)

// strewn returns a wall of ten to thirty openings of many sizes at many heights,
// as close to each other as they were dropped on it.
func (g generator) strewn(name string) Wall {
	w := Wall{Name: name, Quantity: 1, Width: g.length(3000, 12000, 5), Height: g.length(2600, 6000, 5), Left: g.edge(), Right: g.edge(), Top: Soffit, Bottom: Ground}
	grown := func(o *Opening, d measure.Length) (x, z measure.Span) {
		return measure.Span{Lo: o.Left, Hi: o.Left + o.Width}.Grow(d), measure.Span{Lo: o.Sill, Hi: o.Sill + o.Height}.Grow(d)
	}
	n := 10 + g.IntN(20)
	for try := 0; try < 500 && len(w.Openings) < n; try++ {
		o := Opening{Name: fmt.Sprintf("o%d", len(w.Openings)+1), Kind: "window", Width: g.length(200, 1800, 1), Height: g.length(150, 1500, 5)}
		if o.Width+mm(40) >= w.Width || o.Height+mm(220) >= w.Height {
			continue
		}
		o.Left, o.Sill = g.length(20, int64((w.Width-o.Width)/mm(1))-20, 1), g.length(200, int64((w.Height-o.Height)/mm(1))-20, 5)
		x, z := grown(&o, []measure.Length{mm(20), mm(45), mm(60), mm(100), mm(200)}[g.IntN(5)])
		clear := true
		for i := range w.Openings {
			px, pz := grown(&w.Openings[i], 0)
			clear = clear && (x.And(px).Empty() || z.And(pz).Empty())
		}
		if clear {
			w.Openings = append(w.Openings, o)
		}
	}
	return w
}

// A batten's marks are set out with a tape: its middle, its width, its foot and
// its head stand on whole millimetres however openings crowd, and unless boards butt
// on it, it is at least as long as a normal one is wide.
func TestBattenMarksAreWhole(t *testing.T) {
	for seed := range uint64(20) {
		g := newGenerator(seed)
		for _, w := range mustTakeoff(t, testJob(g.crowded(), g.strewn("strewn"), g.odd("odd"))).Walls {
			for _, b := range w.Battens {
				if !b.Centre.Whole() || !b.Width.Whole() || !b.Z.Lo.Whole() || !b.Z.Hi.Whole() || b.Z.Length() < mm(50) && b.Why != "joint" {
					t.Fatalf("seed %d, %s: %s at %v, %v wide, from %v to %v", seed, w.Name, b.Mark, b.Centre, b.Width, b.Z.Lo, b.Z.Hi)
				}
			}
		}
	}
}

// Two windows 80 apart: boards keep 10 off each and battens as much, which leaves
// 60 for the one batten between. The first ends at 1,100: the batten stands from
// 1,110 to 1,170, its middle at 1,140. With 81 between it is still 60 wide at most
// and still at 1,140: 1,140.5 is no mark for a tape.
func TestNarrowPierIsMarkedInMillimetres(t *testing.T) {
	for _, pier := range []int64{80, 81} {
		w := Wall{Name: "w", Width: mm(3000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground, Openings: []Opening{
			{Name: "a", Left: mm(500), Sill: mm(900), Width: mm(600), Height: mm(1100)},
			{Name: "b", Left: mm(1100 + pier), Sill: mm(900), Width: mm(600), Height: mm(1100)}}}
		for _, b := range mustTakeoff(t, testJob(w)).Walls[0].Battens {
			x := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}
			if between := b.Centre > mm(1100) && b.Centre < mm(1100+pier); between && b.Z.Holds(mm(1500)) {
				if b.Centre != mm(1140) || b.Width < mm(58) || x.Lo < mm(1110) || x.Hi > mm(1090+pier) {
					t.Errorf("pier of %d: batten at %v, %v wide", pier, b.Centre, b.Width)
				}
			}
		}
	}
}
