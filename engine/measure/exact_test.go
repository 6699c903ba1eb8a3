package measure

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// The lengths of a wall: up to a kilometre to either side, in micrometres.
func far(r *rand.Rand) Length { return Length(r.Int64N(2_000_000_000) - 1_000_000_000) }

func whole(l Length) *big.Int { return big.NewInt(int64(l)) }

// times returns a*b/c rounded towards minus infinity, in math/big's Euclidean
// division; c > 0.
func times(a, b, c Length) Length {
	n := new(big.Int).Mul(whole(a), whole(b))
	return Length(new(big.Int).Div(n, whole(c)).Int64())
}

// TestSegmentIsExact holds heights and crossings against math/big: no product of
// two lengths of a wall overflows or loses its last micrometre, and every point is
// rounded down, on falls as on rises.
func TestSegmentIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for range 20000 {
		a := Point{far(r), far(r)}
		s := Segment{a, Point{a.X + 1 + Length(r.Int64N(1_000_000_000)), far(r)}}
		x := s.A.X + Length(r.Int64N(int64(s.B.X-s.A.X)+1))
		if got, want := s.At(x), s.A.Z+times(s.B.Z-s.A.Z, x-s.A.X, s.B.X-s.A.X); got != want {
			t.Fatalf("%v at %v: got %v, want %v", s, x, got, want)
		}
		if s.At(s.A.X) != s.A.Z || s.At(s.B.X) != s.B.Z {
			t.Fatalf("%v leaves its own ends", s)
		}
		lo, hi := s.A, s.B
		if lo.Z > hi.Z {
			lo, hi = hi, lo
		}
		if lo.Z == hi.Z {
			continue
		}
		z := lo.Z + Length(r.Int64N(int64(hi.Z-lo.Z)+1))
		if got, want := s.Cross(z), lo.X+times(hi.X-lo.X, z-lo.Z, hi.Z-lo.Z); got != want {
			t.Fatalf("%v across %v: got %v, want %v", s, z, got, want)
		}
	}
}

// TestDistanceIsExact holds distances against math/big: the least whole number
// whose square is no less than the sum of the squares. Near-misses of whole roots,
// where a float64 rounds, are among them.
func TestDistanceIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for n := range 20000 {
		a, d := Point{far(r), far(r)}, Point{far(r) / 2, far(r) / 2}
		if n%2 == 0 { // three, four and five, and one micrometre beside
			k := Length(r.Int64N(200_000_000))
			d = Point{3*k + Length(n%3) - 1, 4 * k}
			if n%4 == 0 { // just past a whole root
				d = Point{1, k}
			}
		}
		got := Distance(a, Point{a.X + d.X, a.Z + d.Z})
		square := new(big.Int).Add(new(big.Int).Mul(whole(d.X), whole(d.X)), new(big.Int).Mul(whole(d.Z), whole(d.Z)))
		want := new(big.Int).Sqrt(square)
		if new(big.Int).Mul(want, want).Cmp(square) < 0 {
			want.Add(want, big.NewInt(1))
		}
		if whole(got).Cmp(want) != 0 {
			t.Fatalf("%v: got %d, want %v", d, got, want)
		}
	}
}

// TestSpansByPoints tries every two spans of a small line, empty ones among them,
// against the points they hold.
func TestSpansByPoints(t *testing.T) {
	const n = 5
	for i := range n * n * n * n {
		a, b := Span{Length(i % n), Length(i / n % n)}, Span{Length(i / n / n % n), Length(i / n / n / n)}
		both, shared := 0, a.And(b)
		for x := Length(-1); x <= n; x++ {
			if in := a.Holds(x) && b.Holds(x); in != shared.Holds(x) {
				t.Fatalf("%v and %v: %v holds %v: %v", a, b, shared, x, !in)
			} else if in {
				both++
			}
		}
		if want := Length(max(0, both-1)); shared.Length() != want || shared.Empty() != (want == 0) {
			t.Fatalf("%v and %v: %v is %v long, want %v", a, b, shared, shared.Length(), want)
		}
		if g := a.Grow(2); g.Lo != a.Lo-2 || g.Hi != a.Hi+2 || g.Grow(-2) != a {
			t.Fatalf("%v grown by 2: %v", a, g)
		}
	}
}
