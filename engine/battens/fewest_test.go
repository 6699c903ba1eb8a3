package battens

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// steps is the lattice, in millimetres, that the small walls below lie on.
const steps = 25

// fewest returns the least number of battens from the place lo to the place hi,
// both of them counted, found breadth first over every place of the lattice that
// allowed says may carry one: no two neighbours farther apart than every zone
// between them allows. 0: no choice keeps the centres.
func fewest(lo, hi measure.Length, zones []Zone, allowed func(measure.Length) bool) int {
	keeps := func(a, b measure.Length) bool {
		return !slices.ContainsFunc(zones, func(z Zone) bool { return !z.X.And(measure.Span{Lo: a, Hi: b}).Empty() && b-a > z.Centres })
	}
	front := []measure.Length{lo}
	seen := map[measure.Length]bool{lo: true}
	for n := 1; len(front) > 0; n++ {
		if slices.Contains(front, hi) {
			return n
		}
		var next []measure.Length
		for _, a := range front {
			for b := a + mm(steps); b <= hi; b += mm(steps) {
				if !seen[b] && keeps(a, b) && (b == hi || allowed(b)) {
					seen[b], next = true, append(next, b)
				}
			}
		}
		front = next
	}
	return 0
}

// TestFewestBattens: plain walls of every width up to 3,300 on the lattice, with
// one zone or two that meet at any place, have as few battens as can be: every
// choice of places is tried.
func TestFewestBattens(t *testing.T) {
	anywhere := func(measure.Length) bool { return true }
	for width := int64(400); width <= 3300; width += 4 * steps {
		x := span(0, width)
		walls := [][]Zone{{{x, mm(600)}}, {{x, mm(450)}}}
		for at := int64(steps); at < width; at += 7 * steps {
			walls = append(walls, []Zone{{span(0, at), mm(400)}, {span(at, width), mm(600)}}, []Zone{{span(0, at), mm(600)}, {span(at, width), mm(300)}})
		}
		for _, zones := range walls {
			w := Wall{Span: x, Base: measure.Level(x, 0), Top: measure.Level(x, mm(2400)), Zones: zones, Width: mm(50), Wide: mm(50)}
			got, want := len(w.Lines()), fewest(mm(25), mm(width-25), zones, anywhere)
			if got != want {
				t.Fatalf("%d wide, zones %v: got %d battens, want %d\n%s", width, zones, got, want, describe(w))
			}
		}
	}
}

// TestFewestStuds: of studs given on the lattice, no closer to each other or to
// an edge batten than a batten is wide, as few carry a batten as can be where some
// choice of them keeps the centres; where none does, the bays that are too wide
// are said.
func TestFewestStuds(t *testing.T) {
	kept, wide := 0, 0
	for seed := range 2000 {
		r := rand.New(rand.NewPCG(uint64(seed), 17))
		x := measure.Span{Hi: mm(steps * (30 + r.Int64N(90)))}
		w := Wall{Span: x, Base: measure.Level(x, 0), Top: measure.Level(x, mm(2400)), Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(50)}
		for at := mm(steps * (3 + r.Int64N(10))); at <= x.Hi-mm(3*steps); at += mm(steps * (2 + r.Int64N(24))) {
			w.Studs = append(w.Studs, at)
		}
		if len(w.Studs) == 0 {
			continue
		}
		lines := w.Lines()
		want := fewest(mm(25), x.Hi-mm(25), w.Zones, func(at measure.Length) bool { return slices.Contains(w.Studs, at) })
		if over := w.Over(lines); want == 0 {
			if wide++; len(over) == 0 {
				t.Fatalf("seed %d: studs %v cannot keep 600 and no bay is said to be wide\n%s", seed, w.Studs, describe(w))
			}
			continue
		} else if kept++; len(over) > 0 || len(lines) != want {
			t.Fatalf("seed %d: studs %v: got %d battens, over %v, want %d\n%s", seed, w.Studs, len(lines), over, want, describe(w))
		}
	}
	if kept < 500 || wide < 100 {
		t.Errorf("%d walls keep the centres, %d cannot: no test", kept, wide)
	}
}

// TestMirroredSetOut: a wall whose bays are alike from both ends, with openings
// that no batten of the grid is near, has its battens mirrored when it is seen
// from behind: the same widths, reasons and heights at mirrored middles.
func TestMirroredSetOut(t *testing.T) {
	tried := 0
	for seed := range 3000 {
		r := rand.New(rand.NewPCG(uint64(seed), 18))
		n := 3 + r.Int64N(8)
		x := measure.Span{Hi: mm(600*n + 50)}
		w := Wall{Span: x, Base: measure.Level(x, mm(150)), Top: measure.Level(x, mm(2600)), Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75)}
		for at := between(r, 200, 1500); ; {
			v := Void{X: measure.Span{Lo: at, Hi: at + between(r, 300, 1500)}, Z: measure.Span{Lo: between(r, 100, 1200), Hi: between(r, 1400, 2300)}}
			if v.X.Hi > x.Hi-mm(200) {
				break
			}
			v.Hold = v.Z.Grow(mm(150))
			if clearOfGrid(v.X.Lo-mm(75), n) && clearOfGrid(v.X.Hi, n) {
				w.Voids = append(w.Voids, v)
			}
			at = v.X.Hi + between(r, 200, 1500)
		}
		if len(w.Voids) == 0 {
			continue
		}
		tried++
		turned := w
		turned.Voids = slices.Clone(w.Voids)
		for i, v := range w.Voids {
			turned.Voids[i].X = measure.Span{Lo: x.Hi - v.X.Hi, Hi: x.Hi - v.X.Lo}
		}
		var got, want []string
		for _, l := range w.Lines() {
			want = append(want, fmt.Sprint(l.Centre, l.Width, l.Why, l.Spans))
		}
		for _, l := range slices.Backward(turned.Lines()) {
			got = append(got, fmt.Sprint(x.Hi-l.Centre, l.Width, l.Why, l.Spans))
		}
		if !slices.Equal(got, want) {
			t.Fatalf("seed %d:\ngot  %q\nwant %q\n%s", seed, got, want, describe(w))
		}
	}
	if tried < 500 {
		t.Errorf("only %d walls", tried)
	}
}

// clearOfGrid reports whether a jamb batten of 75 from x on is farther than a
// joint's batten from every batten of a grid that starts at 25.
func clearOfGrid(x measure.Length, n int64) bool {
	for i := range n + 1 {
		if g := mm(25 + 600*i); g > x-mm(40) && g < x+mm(115) {
			return false
		}
	}
	return true
}
