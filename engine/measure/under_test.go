package measure

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Crossings by hand: a rise of 100 in 200 meets a level of 40 at 80; a fall
// from 300 to 0 over 300 meets a rise from 0 to 300 at 150.
func TestUnder(t *testing.T) {
	level := func(z int64) Profile { return Level(Span{0, MM(300)}, MM(z)) }
	pt := func(x, z int64) Point { return Point{MM(x), MM(z)} }
	for _, c := range []struct {
		name       string
		p, q, want Profile
	}{
		{"below all along", level(100), level(200), Profile{pt(0, 100), pt(300, 100)}},
		{"a kink in what is above leaves none", level(100), Profile{pt(0, 200), pt(150, 400), pt(300, 200)}, Profile{pt(0, 100), pt(300, 100)}},
		{"above all along", level(300), level(200), Profile{pt(0, 200), pt(300, 200)}},
		{"a rise through a level", Profile{pt(0, 0), pt(200, 100)}, level(40), Profile{pt(0, 0), pt(80, 40), pt(200, 40)}},
		{"a fall through a rise", Profile{pt(0, 300), pt(300, 0)}, Profile{pt(0, 0), pt(300, 300)}, Profile{pt(0, 0), pt(150, 150), pt(300, 0)}},
		{"a step through a level", Profile{pt(0, 0), pt(100, 0), pt(100, 90), pt(300, 90)}, level(50), Profile{pt(0, 0), pt(100, 0), pt(100, 50), pt(300, 50)}},
		{"a step in what is above", level(50), Profile{pt(0, 20), pt(100, 20), pt(100, 90), pt(300, 90)}, Profile{pt(0, 20), pt(100, 20), pt(100, 50), pt(300, 50)}},
	} {
		if got := c.p.Under(c.q); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// At every place the result is the lower of the two, to the micrometre of a
// slope's points, and nowhere above the second.
func TestUnderIsTheLower(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	profile := func() Profile {
		p, x := Profile{}, Length(0)
		for range 2 + r.IntN(4) {
			p = append(p, Point{x, Length(r.Int64N(3_000_000))})
			x += MM(1 + r.Int64N(2000))
		}
		p[len(p)-1].X = MM(9000)
		return p
	}
	for range 2000 {
		p, q := profile(), profile()
		got := p.Under(q)
		for range 20 {
			x := Length(r.Int64N(int64(MM(9000))))
			want, have := min(p.At(x), q.At(x)), got.At(x)
			if d := want - have; d < -4000 || d > 4000 || have > q.At(x)+1 {
				t.Fatalf("at %v: got %v, want %v of %v under %v: %v", x, have, want, p, q, got)
			}
		}
	}
}
