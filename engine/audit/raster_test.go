package audit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// The sweep compared with painting: small walls on a grid of whole
// millimetres, every cell of which is looked at by itself. Rectangles on the
// grid cover whole cells, so the painting is exact.

const wide, high = 14, 18

type canvas [wide][high]int

func (c *canvas) paint(r Rect, by int) {
	for x := r.X.Lo / 1000; x < r.X.Hi/1000; x++ {
		for z := r.Z.Lo / 1000; z < r.Z.Hi/1000; z++ {
			if 0 <= x && x < wide && 0 <= z && z < high {
				c[x][z] += by
			}
		}
	}
}

func (c *canvas) any(want func(x, z, n int) bool) bool {
	for x := range c {
		for z, n := range c[x] {
			if want(x, z, n) {
				return true
			}
		}
	}
	return false
}

func randomRect(r *rand.Rand, top int) Rect {
	x, z := r.IntN(wide-1), r.IntN(top-1)
	return Rect{span(float64(x), float64(x+1+r.IntN(wide-x-1))), span(float64(z), float64(z+1+r.IntN(top-z-1)))}
}

// randomWall has two to four courses that lap by 2 and fill it but for what
// chance adds, shifts or leaves out.
func randomWall(r *rand.Rand) Wall {
	n := 2 + r.IntN(3)
	top := 4*n + 2
	w := Wall{Name: "W", Quantity: 1, Limits: Limits{Width: mm(6), LapLeast: mm(2), LapMost: mm(2)},
		Base: measure.Profile(pts(0, 0, wide, 0)), Top: measure.Profile(pts(0, float64(top), wide, float64(top)))}
	for k := range n {
		z := mm(4 * float64(k))
		w.Courses = append(w.Courses, Course{k + 1, z, z + mm(6), mm(4), mm(2)})
	}
	w.Courses[n-1].Gauge, w.Courses[n-1].Lap = 0, 0
	for range r.IntN(3) {
		w.Voids = append(w.Voids, randomRect(r, top))
	}
	for k := 1; k <= n; k++ {
		at := 0
		for at < wide {
			to := min(wide, at+2+r.IntN(8))
			a, b := at, to
			if r.IntN(6) == 0 {
				a = max(0, a-r.IntN(2))
				b += r.IntN(3) - 1
			}
			if at = to; r.IntN(8) > 0 && b > a {
				w.plank(k, float64(a), float64(b))
			}
		}
	}
	return w
}

// judge paints the wall and returns the rules it breaks.
func judge(w Wall) []string {
	var voids, all canvas
	var course [5]canvas
	broken := map[string]bool{}
	for _, v := range w.Voids {
		voids.paint(v, 1)
	}
	for _, p := range w.Pieces {
		xs, zs := bounds(p.Outline)
		var own canvas
		own.paint(Rect{xs, zs}, 1)
		all.paint(Rect{xs, zs}, 1)
		course[p.Course].paint(Rect{xs, zs}, 1)
		broken["outside"] = broken["outside"] || xs.Hi > mm(wide)
		broken["void"] = broken["void"] || own.any(func(x, z, n int) bool { return n > 0 && voids[x][z] > 0 })
	}
	for k := range w.Courses {
		z0 := 4 * k // water over the lower edge of a course meets wall below unless a void ends there
		broken["overlap"] = broken["overlap"] || course[k+1].any(func(x, z, n int) bool { return n > 1 })
		broken["lap"] = broken["lap"] || k > 0 && course[k+1].any(func(x, z, n int) bool {
			return z == z0 && n > 0 && course[k][x][z] == 0 && voids[x][z-1] == 0
		})
	}
	top := int(w.Top[0].Z / 1000)
	broken["uncovered"] = all.any(func(x, z, n int) bool { return z < top && n == 0 && voids[x][z] == 0 })
	var out []string
	for rule, is := range broken {
		if is {
			out = append(out, rule)
		}
	}
	slices.Sort(out)
	return out
}

func TestSweepAgainstPainting(t *testing.T) {
	seen := map[string]int{}
	r := rand.New(rand.NewPCG(7, 11))
	for i := range 20000 {
		w := randomWall(r)
		want := judge(w)
		var got []string
		for _, f := range Check(Job{Walls: []Wall{w}}) {
			switch f.Rule {
			case "outside", "void", "overlap", "uncovered", "lap":
				got = append(got, f.Rule)
			}
		}
		slices.Sort(got)
		got = slices.Compact(got)
		if !slices.Equal(got, want) {
			t.Fatalf("wall %d: got %v, painting says %v\n%s", i, got, want, show(w))
		}
		seen[strings.Join(got, " ")]++
	}
	t.Logf("%d kinds of outcome: %v", len(seen), seen)
	if len(seen) < 15 || seen[""] == 0 {
		t.Errorf("the walls were too much alike: %v", seen)
	}
}

func show(w Wall) string {
	var b strings.Builder
	for _, v := range w.Voids {
		fmt.Fprintln(&b, "void", v)
	}
	for _, p := range w.Pieces {
		fmt.Fprintln(&b, p.Mark, p.Outline)
	}
	return b.String()
}
