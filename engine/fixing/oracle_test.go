package fixing

import (
	"math"
	"math/rand/v2"
	"testing"

	"lapwright/engine/measure"
)

// On plain boards every choice is compared with a search of all places to the
// millimetre: a place must keep 12 mm from both ends and 5 mm from the
// batten's sides; one 20 mm from both ends is better than one that is not;
// among such the one nearest the batten's centre, among others the one
// furthest from its nearer end.
func TestPlaceAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	placed, drilled, none := 0, 0, 0
	for range 4000 {
		from, to := r.Int64N(100), 100+r.Int64N(200)
		centre, width := r.Int64N(320), 2*(10+r.Int64N(40))
		p := Piece{Outline: rect(from, 0, to, 175), LapAbove: mm(40)}
		screws, _ := Place(nil, []Piece{p}, []Batten{batten(2*centre, width, 0, 500)}, Rules{})
		bestX, free, ok := search(from, to, centre, width)
		switch {
		case ok != (len(screws) == 1):
			t.Fatalf("board %d-%d, batten %d wide %d: %d screws, search found a place: %v", from, to, centre, width, len(screws), ok)
		case !ok:
			none++
		case screws[0].PreDrilled == free:
			t.Fatalf("board %d-%d, batten %d wide %d: %s, search found one clear of pre-drilling: %v", from, to, centre, width, text(screws), free)
		case math.Abs(screws[0].X.Millimetres()-float64(bestX)) > 0.5: // half: the middle of an odd length
			t.Fatalf("board %d-%d, batten %d wide %d: %s, search found %d", from, to, centre, width, text(screws), bestX)
		default:
			placed++
			if !free {
				drilled++
			}
		}
	}
	if placed < 500 || drilled < 50 || none < 50 {
		t.Errorf("%d placed, %d pre-drilled, %d without a place: the cases miss one kind", placed, drilled, none)
	}
}

func search(from, to, centre, width int64) (best int64, free, ok bool) {
	score := math.Inf(-1)
	for x := from + 12; x <= to-12; x++ {
		if x < centre-width/2+5 || x > centre+width/2-5 {
			continue
		}
		off := min(x-from, to-x)
		s := float64(off)
		if off >= 20 {
			s = 1e6 - math.Abs(float64(x-centre))
		}
		if s > score {
			best, score, free, ok = x, s, off >= 20, true
		}
	}
	return best, free, ok
}

// On boards with any notches, holes and slopes, each screw is checked by means
// of its own: inside by counting crossings, its distance to the outline by
// walking along it, its height by looking up from it.
func TestPlaceProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	total := 0
	for i := range 600 {
		p := randomPiece(r)
		var battens []Batten
		for x := int64(20); x < 1300; x += 90 + r.Int64N(250) {
			battens = append(battens, batten(2*x, []int64{38, 50, 75}[r.IntN(3)], -200, 400))
		}
		screws, troubles := Place(nil, []Piece{p}, battens, Rules{})
		total += len(screws)
		seen := map[int]bool{}
		for _, s := range screws {
			if seen[s.Batten] {
				t.Fatalf("case %d: two screws on batten %d", i, s.Batten)
			}
			seen[s.Batten] = true
			checkScrew(t, p, battens[s.Batten], s)
		}
		for _, tr := range troubles {
			if tr.Batten >= 0 && seen[tr.Batten] {
				t.Fatalf("case %d: batten %d has both a screw and the trouble %q", i, tr.Batten, tr.Code)
			}
		}
		checkTurned(t, p, battens, screws)
	}
	if total < 1500 {
		t.Errorf("%d screws in all: too few to show anything", total)
	}
}

// randomPiece returns a board of 175 with a slope at one end or none, a notch
// from above, one from below and a hole, each there or not.
func randomPiece(r *rand.Rand) Piece {
	right := 600 + r.Int64N(600)
	run := []int64{0, 60, 175, 300}[r.IntN(4)]
	xz := []int64{0, 0}
	if x, z := 100+r.Int64N(100), 20+r.Int64N(130); r.IntN(2) == 0 {
		xz = append(xz, x, 0, x, z, x+80, z, x+80, 0)
	}
	xz = append(xz, right, 0, right-run, 175)
	if x := 290 + r.Int64N(60); r.IntN(2) == 0 && x+90 < right-run {
		z := 20 + r.Int64N(140)
		xz = append(xz, x+90, 175, x+90, z, x, z, x, 175)
	}
	xz = append(xz, 0, 175)
	p := Piece{Outline: poly(xz...), LapBelow: mm(40 * r.Int64N(2)), LapAbove: mm(40 * r.Int64N(2)), JointLeft: r.IntN(2) == 0}
	if r.IntN(3) == 0 {
		p.Holes = append(p.Holes, rect(20, 30, 60, 30+r.Int64N(120)+5))
	}
	return p
}

func inside(p Piece, at measure.Point) bool {
	in := false
	for _, ring := range append([]measure.Polygon{p.Outline}, p.Holes...) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Z > at.Z) != (b.Z > at.Z) {
				x := float64(a.X) + float64(at.Z-a.Z)*float64(b.X-a.X)/float64(b.Z-a.Z)
				if float64(at.X) < x {
					in = !in
				}
			}
		}
	}
	return in
}

// walk returns the least distance in mm from a place to the outline, found by
// steps along it, with and without its level upper edges.
func walk(p Piece, at measure.Point) (all, ends float64) {
	all, ends = math.Inf(1), math.Inf(1)
	for k, ring := range append([]measure.Polygon{p.Outline}, p.Holes...) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			top := k == 0 && a.Z == b.Z && b.X < a.X
			for n := range 2001 {
				f := float64(n) / 2000
				x := a.X.Millimetres() + f*(b.X-a.X).Millimetres()
				z := a.Z.Millimetres() + f*(b.Z-a.Z).Millimetres()
				d := math.Hypot(x-at.X.Millimetres(), z-at.Z.Millimetres())
				all = min(all, d)
				if !top {
					ends = min(ends, d)
				}
			}
		}
	}
	return all, ends
}

func checkScrew(t *testing.T, p Piece, b Batten, s Screw) {
	t.Helper()
	at := measure.Point{X: s.X, Z: s.Z}
	all, ends := walk(p, at)
	above := func(dx, dz measure.Length) bool {
		return inside(p, measure.Point{X: s.X + dx, Z: s.Z + mm(20) + dz})
	}
	const steps = 0.05 // mm: how coarse the walk and the rounding of a slope are
	switch {
	case !inside(p, at):
		t.Fatalf("%s lies outside %v", text([]Screw{s}), p.Outline)
	case s.X < b.Centre-b.Width/2+mm(5) || s.X > b.Centre+b.Width/2-mm(5):
		t.Fatalf("%s is not well on its batten at %v", text([]Screw{s}), b.Centre)
	case all < 12-1e-3:
		t.Fatalf("%s lies %.3f mm from the outline %v", text([]Screw{s}), all, p.Outline)
	case !s.PreDrilled && ends < 20-1e-3:
		t.Fatalf("%s is not pre-drilled %.3f mm from an end of %v", text([]Screw{s}), ends, p.Outline)
	case s.PreDrilled && ends > 20+steps:
		t.Fatalf("%s is pre-drilled %.3f mm from the nearest end of %v", text([]Screw{s}), ends, p.Outline)
	case p.LapBelow > 0 && s.Z < p.LapBelow+mm(5): // half a screw of 6 mm and 2 mm beside it
		t.Fatalf("%s goes through the board below, or bites into it", text([]Screw{s}))
	case s.Kind != rake && above(-1, 1) && above(1, 1): // below a notch's corner one side goes on
		t.Fatalf("%s: the board goes on more than 20 mm above it", text([]Screw{s}))
	case !above(-1, -10) || !above(1, -10): // micrometres, for a slope that begins right there
		t.Fatalf("%s: the board ends less than 20 mm above it", text([]Screw{s}))
	}
}

// checkTurned gives the outline the other way round and shifted, which must
// move the screws and change nothing else.
func checkTurned(t *testing.T, p Piece, battens []Batten, want []Screw) {
	t.Helper()
	by := measure.Point{X: mm(7), Z: mm(11)}
	q := p
	q.Outline, q.Holes = nil, nil
	for i := range p.Outline {
		v := p.Outline[len(p.Outline)-1-i]
		q.Outline = append(q.Outline, measure.Point{X: v.X + by.X, Z: v.Z + by.Z})
	}
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, h.Move(by))
	}
	moved := make([]Batten, len(battens))
	for i, b := range battens {
		moved[i] = Batten{b.Centre + by.X, b.Width, measure.Span{Lo: b.Z.Lo + by.Z, Hi: b.Z.Hi + by.Z}}
	}
	got, _ := Place(nil, []Piece{q}, moved, Rules{})
	if len(got) != len(want) {
		t.Fatalf("%d screws, %d when turned and moved: %v", len(want), len(got), p.Outline)
	}
	for i, s := range want {
		s.X, s.Z = s.X+by.X, s.Z+by.Z
		if got[i] != s {
			t.Fatalf("%s, want %s as before", text(got[i:i+1]), text([]Screw{s}))
		}
	}
}

// BenchmarkPlace is a wall of 24 m by 8 m: 60 courses of 8 pieces on 41 battens.
func BenchmarkPlace(b *testing.B) {
	var pieces []Piece
	for z := int64(0); z < 60; z++ {
		for x := int64(0); x < 8; x++ {
			pieces = append(pieces, Piece{Outline: rect(3000*x, 135*z, 3000*x+2999, 135*z+175), LapAbove: mm(40), JointRight: true})
		}
	}
	var battens []Batten
	for x := int64(0); x <= 40; x++ {
		battens = append(battens, batten(1200*x+50, 50, 0, 9000))
	}
	for b.Loop() {
		Place(nil, pieces, battens, Rules{})
	}
}
