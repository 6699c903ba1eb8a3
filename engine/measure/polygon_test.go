package measure

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestPolygonArea(t *testing.T) {
	for _, test := range []struct {
		name string
		p    Polygon
		want int64 // twice the area
	}{
		{"none", nil, 0},
		{"rectangle", Rect(Span{2, 5}, Span{1, 3}), 12},
		{"clockwise", Polygon{{0, 0}, {0, 2}, {3, 2}, {3, 0}}, -12},
		{"triangle", Polygon{{0, 0}, {4, 0}, {0, 3}}, 12},
		{"notched", Polygon{{0, 0}, {6, 0}, {6, 4}, {4, 4}, {4, 1}, {2, 1}, {2, 4}, {0, 4}}, 36},
		{"a wall of 1 km", Rect(Span{0, 1000 * Metre}, Span{0, 4 * Metre}), 8e15},
	} {
		if got := test.p.Area2(); got != test.want {
			t.Errorf("%s: twice the area: got %d, want %d", test.name, got, test.want)
		}
	}
	if got := Rect(Span{0, MM(5000)}, Span{0, MM(2400)}).SquareMetres(); got != 12 {
		t.Errorf("5 by 2.4 m: got %v m2, want 12", got)
	}
}

// TestPick checks the area by counting the lattice points of random
// rectilinear polygons (Pick's theorem: A = I + B/2 - 1).
func TestPick(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 500 {
		base, top := stairs(r, 0, 9), stairs(r, 10, 19)
		p := Between(base, top)
		interior, boundary := 0, 0
		for x := Length(0); x <= 12; x++ {
			for z := Length(-1); z <= 20; z++ {
				switch v := (Point{x, z}); {
				case on(p, v):
					boundary++
				case within(p, v):
					interior++
				}
			}
		}
		if got, want := p.Area2(), int64(2*interior+boundary-2); got != want {
			t.Fatalf("%v: twice the area: got %d, want %d", p, got, want)
		}
	}
}

// TestHolds: lattice points that Holds finds are those that Pick's theorem
// (A = I + B/2 - 1) counts inside, with the boundary counted by greatest common
// divisors; a point on an edge or a corner is not held. Triangles, quadrangles
// folded inwards and rectilinear polygons, run both ways round.
func TestHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	at := func() Point { return Point{Length(r.IntN(25)), Length(r.IntN(25))} }
	slopes := 0
	for n := range 3000 {
		p := Polygon{at(), at(), at()}
		switch n % 3 {
		case 1:
			p = Between(stairs(r, 0, 9), stairs(r, 10, 19))
		case 2: // from one corner to a point inside and back out
			if q := (Point{(p[0].X + p[1].X + p[2].X) / 3, (p[0].Z + p[1].Z + p[2].Z) / 3}); p.Holds(q) {
				p = append(p, q)
			}
		}
		if p.Area2() == 0 {
			continue
		}
		if r.IntN(2) == 0 {
			slices.Reverse(p)
		}
		boundary, inside := int64(0), int64(0)
		for i, a := range p {
			b := p[(i+1)%len(p)]
			boundary += gcd(int64(max(a.X-b.X, b.X-a.X)), int64(max(a.Z-b.Z, b.Z-a.Z)))
			if a.X != b.X && a.Z != b.Z {
				slopes++
			}
		}
		for x := Length(-1); x <= 25; x++ {
			for z := Length(-1); z <= 25; z++ {
				if p.Holds(Point{x, z}) {
					inside++
				}
			}
		}
		area := p.Area2()
		if want := (max(area, -area) - boundary + 2) / 2; inside != want {
			t.Fatalf("%v holds %d lattice points, Pick's theorem wants %d", p, inside, want)
		}
	}
	if slopes < 3000 {
		t.Errorf("only %d sloped edges", slopes)
	}
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// stairs is a profile over 0..12 of level treads between lo and hi.
func stairs(r *rand.Rand, lo, hi int) Profile {
	z := Length(lo + r.IntN(hi-lo+1))
	out := Profile{{0, z}}
	for x := Length(0); x < 12; {
		x = min(12, x+1+Length(r.IntN(5)))
		out = append(out, Point{x, z})
		if x < 12 {
			z = Length(lo + r.IntN(hi-lo+1))
			out = append(out, Point{x, z})
		}
	}
	return out
}

// on reports whether v lies on an edge of a rectilinear polygon.
func on(p Polygon, v Point) bool {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		xs, zs := Span{min(a.X, b.X), max(a.X, b.X)}, Span{min(a.Z, b.Z), max(a.Z, b.Z)}
		if xs.Holds(v.X) && zs.Holds(v.Z) {
			return true
		}
	}
	return false
}

// within counts the upright edges to the right of v, half a unit up.
func within(p Polygon, v Point) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X == b.X && a.X > v.X && min(a.Z, b.Z) <= v.Z && v.Z < max(a.Z, b.Z) {
			in = !in
		}
	}
	return in
}

// TestTidy: points put in on the edges and repeated corners go, corners stay.
func TestTidy(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 2000 {
		want := Between(stairs(r, 0, 9), stairs(r, 10, 19))
		var loose Polygon
		for i, a := range want {
			b := want[(i+1)%len(want)]
			for range 1 + r.IntN(2) {
				loose = append(loose, a)
			}
			for x := a.X + 1; r.IntN(2) == 0 && x < b.X; x++ {
				loose = append(loose, Point{x, a.Z})
			}
		}
		turn := r.IntN(len(loose))
		loose = append(slices.Clone(loose[turn:]), loose[:turn]...)
		before := slices.Clone(loose)
		got := loose.Tidy()
		if !slices.Equal(before, loose) {
			t.Fatal("Tidy changed the polygon it was called on")
		}
		if len(got) != len(want) || got.Area2() != want.Area2() {
			t.Fatalf("%v: got %v, want the corners of %v", loose, got, want)
		}
		for _, v := range got {
			if !slices.Contains(want, v) {
				t.Fatalf("%v: got corner %v, not one of %v", loose, v, want)
			}
		}
	}
}

func TestPolygonShapes(t *testing.T) {
	rect := Polygon{{0, 0}, {2, 0}, {4, 0}, {4, 3}, {0, 3}}
	if !rect.IsRect() {
		t.Error("a rectangle with a point on its edge: got no rectangle")
	}
	for name, p := range map[string]Polygon{
		"leaning": {{0, 0}, {4, 0}, {5, 3}, {1, 3}},
		"raked":   {{0, 0}, {4, 0}, {4, 3}, {1, 3}},
		"notched": {{0, 0}, {4, 0}, {4, 3}, {2, 3}, {2, 2}, {0, 2}},
	} {
		if p.IsRect() {
			t.Errorf("%s: got a rectangle", name)
		}
	}
	moved := rect.Move(Point{-1, 7})
	xs, zs := moved.Bounds()
	if xs != (Span{-1, 3}) || zs != (Span{7, 10}) || moved.Area2() != rect.Area2() {
		t.Errorf("moved by -1, 7: got %v", moved)
	}
	if got, want := Points(Polygon{{0, 0}, {92_307, MM(175)}}), "0,0;92.3,175"; got != want {
		t.Errorf("points: got %q, want %q", got, want)
	}
}
