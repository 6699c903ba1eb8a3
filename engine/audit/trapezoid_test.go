package audit

import (
	"math"
	"math/rand/v2"
	"testing"

	"lapwright/engine/measure"
)

// area2 sums twice the area of trapezoids.
func area2(parts []trapezoid) float64 {
	sum := 0.0
	for _, t := range parts {
		h0 := t.hi.at(t.xs.Lo) - t.lo.at(t.xs.Lo)
		h1 := t.hi.at(t.xs.Hi) - t.lo.at(t.xs.Hi)
		sum += float64(t.xs.Length()) * float64(h0+h1)
	}
	return sum
}

// TestSliceKeepsArea compares the trapezoids' area with the surveyor's
// formula (the shoelace: half the sum of x(i) z(i+1) - x(i+1) z(i)).
func TestSliceKeepsArea(t *testing.T) {
	shoelace := func(p measure.Polygon) float64 {
		sum := 0.0
		for i, a := range p {
			b := p[(i+1)%len(p)]
			sum += float64(a.X)*float64(b.Z) - float64(b.X)*float64(a.Z)
		}
		return sum
	}
	r := rand.New(rand.NewPCG(1, 2))
	var s slicer
	for range 2000 {
		// a star round (2000, 100): simple whatever the radii
		var p measure.Polygon
		n := 3 + r.IntN(9)
		for k := range n {
			angle := (float64(k) + 0.8*r.Float64()) * 2 * math.Pi / float64(n)
			radius := 20e3 + 70e3*r.Float64()
			p = append(p, measure.Point{X: mm(2000) + measure.Length(radius*math.Cos(angle)), Z: mm(100) + measure.Length(radius*math.Sin(angle))})
		}
		parts, simple := s.slice(nil, p, trapezoid{})
		if !simple {
			if shoelace(p) > 0 && n > 3 {
				t.Fatalf("%v: not simple", p)
			}
			continue
		}
		// each trapezoid's four heights are rounded by up to a micrometre
		if got, want := area2(parts), shoelace(p); math.Abs(got-want) > 4*180e3*float64(len(parts)) {
			t.Fatalf("%v: area %v, want %v", p, got, want)
		}
	}
}

func TestSliceRefusesCrossed(t *testing.T) {
	var s slicer
	for _, c := range []struct {
		name string
		p    measure.Polygon
	}{
		{"nothing", nil}, {"a point", pts(1, 1)}, {"an upright line", pts(1, 1, 1, 5)},
		{"bow tie", pts(0, 0, 100, 100, 100, 0, 0, 100)},
		{"fold through a side", pts(0, 0, 100, 0, 100, 50, 40, -20, 0, 50)},
	} {
		if _, simple := s.slice(nil, c.p, trapezoid{}); simple {
			t.Errorf("%s: taken as simple", c.name)
		}
	}
}

func TestAnticlockwise(t *testing.T) {
	for _, c := range []struct {
		p    measure.Polygon
		want bool
	}{
		{pts(0, 0, 10, 0, 10, 10, 0, 10), true}, {pts(0, 10, 10, 10, 10, 0, 0, 0), false},
		{pts(0, 0, 10, 5, 0, 10), true}, {pts(5, 0, 10, 10, 5, 8, 0, 9), true}, {pts(0, 9, 5, 8, 10, 10, 5, 0), false},
	} {
		if got := anticlockwise(c.p); got != c.want {
			t.Errorf("%v: got %v", c.p, got)
		}
	}
}

// TestPierceTakesTheRectangle compares areas: what is left and what was taken
// make the whole.
func TestPierceTakesTheRectangle(t *testing.T) {
	var s slicer
	r := rand.New(rand.NewPCG(9, 9))
	for range 2000 {
		parts, _ := s.slice(nil, pts(0, 0, 1000, 0, 1000, 175, 0, 175), trapezoid{})
		c := randomRect(r, high)
		c.X.Lo, c.X.Hi, c.Z.Lo, c.Z.Hi = 80*c.X.Lo, 80*c.X.Hi, 20*c.Z.Lo, 20*c.Z.Hi
		taken := 2 * float64(c.X.And(span(0, 1000)).Length()) * float64(c.Z.And(span(0, 175)).Length())
		left := area2(pierce(parts, 0, c))
		if whole := 2.0 * 1e6 * 175e3; left+taken != whole {
			t.Fatalf("%v: left %v, taken %v, whole %v", c, left, taken, whole)
		}
	}
}

// TestBothAbove compares the rule with a walk along the stretch in steps fine
// enough for small whole values: the zeros of two lines through whole values
// up to 6 are at least 1/144 apart where they differ.
func TestBothAbove(t *testing.T) {
	at := func(f [2]measure.Length, i int) int { return int(f[0])*(2520-i) + int(f[1])*i }
	for code := range 13 * 13 * 13 * 13 {
		v := func(n int) measure.Length { return measure.Length(code/n%13 - 6) }
		f, g := [2]measure.Length{v(1), v(13)}, [2]measure.Length{v(169), v(2197)}
		want := false
		for i := 0; i <= 2520 && !want; i += 3 {
			want = at(f, i) > 0 && at(g, i) > 0
		}
		if got := bothAbove(f, g); got != want {
			t.Fatalf("%v, %v: got %v, want %v", f, g, got, want)
		}
	}
}

func TestLinePlay(t *testing.T) {
	for _, c := range []struct {
		a, b measure.Point
		want measure.Length
	}{
		{measure.Point{}, measure.Point{X: mm(100)}, 0},                        // level: exact
		{measure.Point{}, measure.Point{X: mm(100), Z: mm(100)}, 4},            // 2 + 2 x 1
		{measure.Point{X: mm(100), Z: mm(70)}, measure.Point{}, 4},             // 2 + 1.4, up
		{measure.Point{}, measure.Point{X: mm(1), Z: -mm(10)}, 22},             // 2 + 20
		{measure.Point{}, measure.Point{X: mm(1000), Z: measure.Length(1)}, 3}, // hardly sloped
	} {
		if l := newLine(c.a, c.b); l.play != c.want {
			t.Errorf("%v to %v: got %d, want %d", c.a, c.b, l.play, c.want)
		}
	}
}
