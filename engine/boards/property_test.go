package boards

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// each runs a check on many random walls of every shape.
func each(t *testing.T, n int, check func(t *testing.T, r *rand.Rand, w Wall)) {
	for shape := range shapes {
		t.Run(shapes[shape].name, func(t *testing.T) {
			for seed := range n {
				r := rand.New(rand.NewPCG(uint64(seed), uint64(shape)))
				w := randomWall(r, shape)
				if check(t, r, w); t.Failed() {
					t.Fatalf("wall: seed %d\n%s", seed, describe(w))
				}
			}
		})
	}
}

func describe(w Wall) string {
	return fmt.Sprintf("base %s\ntop %s\nmarks %v width %v\nvoids %v", measure.Points(w.Base), measure.Points(w.Top), w.Marks, w.Width, w.Voids)
}

// TestPiecesCoverTheWall saws random walls up and lets the oracle measure
// them: area of the pieces less laps is the clad area, no board enters an
// opening or leaves the region, no place is covered three times, and no run
// is there for nothing.
func TestPiecesCoverTheWall(t *testing.T) {
	each(t, 700, func(t *testing.T, r *rand.Rand, w Wall) {
		runs := Runs(w)
		pieces := sawn(r, runs)
		c, allow := measured(w, pieces), tolerance(w)
		if c.bare > allow {
			t.Errorf("bare wall: got %v mm2, want at most %v", c.bare/1e6, allow/1e6)
		}
		if c.outside > allow {
			t.Errorf("board outside the region: got %v mm2, want at most %v", c.outside/1e6, allow/1e6)
		}
		if less := c.boards - c.lap - 2*c.more; math.Abs(less-c.clad) > 2*allow {
			t.Errorf("pieces less laps: got %v mm2, want %v", less/1e6, c.clad/1e6)
		}
		if c.more > allow {
			t.Errorf("covered more than twice: got %v mm2, want none", c.more/1e6)
		}
		for i, p := range pieces {
			if got := float64(p.Area2()) / 2; math.Abs(got-c.own[i]) > 1+c.own[i]*1e-12 {
				t.Errorf("piece %d of course %d: area got %v, want %v", i, p.Course, got, c.own[i])
			}
		}
	})
}

// TestNoRunIsIdle: each run covers something that no other run does.
func TestNoRunIsIdle(t *testing.T) {
	each(t, 300, func(t *testing.T, _ *rand.Rand, w Wall) {
		var pieces []Piece
		for _, run := range Runs(w) {
			pieces = append(pieces, run.Piece(run.Span))
		}
		for i, alone := range measured(w, pieces).alone {
			if alone <= 2 { // micrometres: corners on slopes are rounded
				t.Errorf("course %d, %s: alone covers a height of %v um", pieces[i].Course, measure.Points(pieces[i].Outline), alone)
			}
		}
	})
}

// TestPieceSays checks what a piece says of itself against its outline and
// its run.
func TestPieceSays(t *testing.T) {
	each(t, 300, func(t *testing.T, r *rand.Rand, w Wall) {
		for _, run := range Runs(w) {
			for _, p := range sawn(r, []Run{run}) {
				checkPiece(t, w, run, p)
			}
		}
	})
}

func checkPiece(t *testing.T, w Wall, run Run, p Piece) {
	x, z := p.Outline.Bounds()
	if got, want := p.Length, x.Length(); got < want || got >= want+measure.Tenth || got%measure.Tenth != 0 {
		t.Errorf("length: got %v, want %v up to a tenth", got, want)
	}
	if p.Width != z.Length() || p.Width > w.Width {
		t.Errorf("width: got %v, want %v, at most %v", p.Width, z.Length(), w.Width)
	}
	if got := len(p.Outline.Tidy()); got != len(p.Outline) {
		t.Errorf("outline has %d corners, %d of them needed", len(p.Outline), got)
	}
	if z.Lo < run.Band.Lo || z.Hi > run.Band.Hi {
		t.Errorf("piece at %v leaves its band %v", z, run.Band)
	}
	if joint := p.Left.Kind == Joint; joint != (x.Lo > run.Span.Lo) {
		t.Errorf("left end: joint %v, piece from %v, run from %v", joint, x.Lo, run.Span.Lo)
	}
	if joint := p.Right.Kind == Joint; joint != (x.Hi < run.Span.Hi) {
		t.Errorf("right end: joint %v, piece to %v, run to %v", joint, x.Hi, run.Span.Hi)
	}
	for _, c := range p.Cutouts {
		if c.X.Lo < x.Lo || c.X.Hi > x.Hi || c.Z.Lo < z.Lo || c.Z.Hi > z.Hi {
			t.Errorf("cut-out %v leaves the piece %v %v", c, x, z)
		}
		mid := float64(c.X.Lo+c.X.Hi) / 2
		for _, s := range p.stretches(mid) {
			if s.lo < float64(c.Z.Hi) && s.hi > float64(c.Z.Lo) {
				t.Errorf("cut-out %v holds board at %v", c, s)
			}
		}
	}
	for _, h := range p.Holes {
		if !slices.Contains(p.Cutouts, h) && len(p.Holes) == 1 && len(p.Cutouts) == 1 {
			t.Errorf("hole %v is not among the cut-outs %v", h, p.Cutouts)
		}
	}
}

// TestMirrored: a wall seen from behind has the same runs from right to left.
// Level walls only: slopes round to the left.
func TestMirrored(t *testing.T) {
	for seed := range 2000 {
		r := rand.New(rand.NewPCG(uint64(seed), 99))
		w := randomWall(r, []int{0, 4}[seed%2])
		a, b := Runs(w), Runs(mirrored(w))
		if len(a) != len(b) {
			t.Fatalf("seed %d: %d runs, mirrored %d\n%s", seed, len(a), len(b), describe(w))
		}
		for i := range a {
			p := a[i].Piece(a[i].Span)
			same := func(o Run) bool {
				q := o.Piece(o.Span)
				return o.Course == p.Course && q.Length == p.Length && q.Area2() == p.Area2() && q.Ripped == p.Ripped &&
					len(q.Outline) == len(p.Outline) && len(o.Fragile) == len(a[i].Fragile)
			}
			if !slices.ContainsFunc(b, same) {
				t.Fatalf("seed %d: run %d (%s) is not in the mirror\n%s", seed, i, measure.Points(p.Outline), describe(w))
			}
		}
	}
}

// mirrored returns the wall turned about its left edge.
func mirrored(w Wall) Wall {
	flip := func(p measure.Profile) measure.Profile {
		out := make(measure.Profile, len(p))
		for i, v := range p {
			out[len(p)-1-i] = measure.Point{X: -v.X, Z: v.Z}
		}
		return out
	}
	w.Base, w.Top = flip(w.Base), flip(w.Top)
	w.Voids = slices.Clone(w.Voids)
	for i, v := range w.Voids {
		w.Voids[i].X = measure.Span{Lo: -v.X.Hi, Hi: -v.X.Lo}
	}
	return w
}

// TestLower reads the board's height along the wall: it is lower than asked for
// at every place nearer than Lower says, and level or on one slope to both sides
// of it. On slopes Lower goes all the way there, but for the rounding.
func TestLower(t *testing.T) {
	reached := 0
	each(t, 150, func(t *testing.T, r *rand.Rand, w Wall) {
		for _, run := range Runs(w) {
			x, off, dir := between(r, int64(run.Span.Lo/mm(1)), int64(run.Span.Hi/mm(1))), mm(r.Int64N(3)), measure.Length(1-2*r.IntN(2))
			tall := between(r, 1, int64(w.Width/mm(1))+20)
			to := run.Lower(x, off, tall, dir)
			for range 20 {
				at := x
				if to > 1 {
					at += dir * measure.Length(r.Int64N(int64(to)))
				}
				left, here, right := run.At(at-off), run.At(at), run.At(at+off)
				if bend := left.Length() + right.Length() - 2*here.Length(); to > 0 && (here.Empty() || here.Length() >= tall || bend > 4 || bend < -4) {
					t.Errorf("course %d from %v on: %v tall at %v, bent by %v, said to be straight and lower than %v as far as %v", run.Course, x, here.Length(), at, bend, tall, to)
					return
				}
			}
			if to > 0 && run.At(x+dir*(to+10)).Length() >= tall {
				reached++
			}
		}
	})
	if reached < 400 {
		t.Errorf("Lower reached the height asked for %d times: the walls are no test", reached)
	}
}
