package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Point is a place on the wall's face: X from the wall's left edge as seen
// from outside, Z up from the level datum.
type Point struct{ X, Z Length }

// String returns "x,z" in millimetres to the tenth, as the sheets write it.
func (p Point) String() string {
	return fmt.Sprintf("%v,%v", p.X.Nearest(Tenth), p.Z.Nearest(Tenth))
}

// Points joins points as the sheets write an outline: "x,z;x,z".
func Points(ps []Point) string {
	parts := make([]string, len(ps))
	for i, p := range ps {
		parts[i] = p.String()
	}
	return strings.Join(parts, ";")
}

// Profile is a line over the wall from left to right: points joined by
// straight lines, X never falling. Two points of one X are a vertical step;
// at the step itself the profile takes both values. A profile has at least
// two points and its first and last X differ.
type Profile []Point

// Level returns the profile of constant height z over s.
func Level(s Span, z Length) Profile { return Profile{{s.Lo, z}, {s.Hi, z}} }

// Extent returns the profile's span along x.
func (p Profile) Extent() Span { return Span{p[0].X, p[len(p)-1].X} }

// At returns the least height the profile takes at x (at a step the lower
// side), extended level beyond its ends.
func (p Profile) At(x Length) Length { return p.Least(Span{x, x}) }

// Least returns the least height over the closed span, extended level beyond
// the ends.
func (p Profile) Least(s Span) Length {
	lo, _ := p.extremes(s)
	return lo
}

// Most returns the greatest height over the closed span, extended level
// beyond the ends.
func (p Profile) Most(s Span) Length {
	_, hi := p.extremes(s)
	return hi
}

func (p Profile) extremes(s Span) (lo, hi Length) {
	lo, hi = math.MaxInt64, math.MinInt64
	see := func(z Length) { lo, hi = min(lo, z), max(hi, z) }
	if s.Lo < p[0].X {
		see(p[0].Z)
	}
	if last := p[len(p)-1]; s.Hi > last.X {
		see(last.Z)
	}
	for i, v := range p {
		if s.Holds(v.X) {
			see(v.Z)
		}
		if i > 0 && p[i-1].X < s.Lo && s.Lo < v.X {
			see(Segment{p[i-1], v}.At(s.Lo))
		}
		if i > 0 && p[i-1].X < s.Hi && s.Hi < v.X {
			see(Segment{p[i-1], v}.At(s.Hi))
		}
	}
	return lo, hi
}

// Cut returns the part of the profile over the span, extended level beyond
// its ends. For a span of one point it returns the value or, at a step, the
// values there.
func (p Profile) Cut(s Span) Profile {
	out := make(Profile, 0, len(p)+2)
	first, last := p[0], p[len(p)-1]
	if s.Lo < first.X {
		out = append(out, Point{s.Lo, first.Z})
	}
	if s.Lo < s.Hi && s.Hi < first.X {
		out = append(out, Point{s.Hi, first.Z})
	}
	for i, v := range p {
		if i > 0 && p[i-1].X < s.Lo && v.X > s.Lo {
			out = append(out, Point{s.Lo, Segment{p[i-1], v}.At(s.Lo)})
		}
		if i > 0 && p[i-1].X < s.Hi && v.X > s.Hi && s.Hi > s.Lo {
			out = append(out, Point{s.Hi, Segment{p[i-1], v}.At(s.Hi)})
		}
		if s.Holds(v.X) {
			out = append(out, v)
		}
	}
	if s.Lo > last.X {
		out = append(out, Point{s.Lo, last.Z})
	}
	if s.Lo < s.Hi && s.Hi > last.X {
		out = append(out, Point{s.Hi, last.Z})
	}
	return out
}

// Shift returns the profile raised by dz.
func (p Profile) Shift(dz Length) Profile {
	out := slices.Clone(p)
	for i := range out {
		out[i].Z += dz
	}
	return out
}

// Above returns the spans of x in which the profile is higher than z, in
// order. Touching spans are joined, so two of them never share an end.
func (p Profile) Above(z Length) []Span {
	var out []Span
	add := func(s Span) {
		if n := len(out); n > 0 && out[n-1].Hi == s.Lo {
			out[n-1].Hi = s.Hi
		} else if !s.Empty() {
			out = append(out, s)
		}
	}
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		switch {
		case a.X == b.X || (a.Z <= z && b.Z <= z):
		case a.Z >= z && b.Z >= z:
			add(Span{a.X, b.X})
		case a.Z > z:
			add(Span{a.X, Segment{a, b}.Cross(z)})
		default:
			add(Span{Segment{a, b}.Cross(z), b.X})
		}
	}
	return out
}

// Below returns the spans of x in which the profile is lower than z.
func (p Profile) Below(z Length) []Span {
	q := slices.Clone(p)
	for i := range q {
		q[i].Z = -q[i].Z
	}
	return q.Above(-z)
}

// Clamp returns the profile held between lo and hi, with a point at each
// crossing.
func (p Profile) Clamp(lo, hi Length) Profile {
	var out Profile
	add := func(v Point) {
		v.Z = min(max(v.Z, lo), hi)
		if n := len(out); n > 0 && out[n-1] == v {
			return
		}
		out = append(out, v)
	}
	for i, v := range p {
		if i > 0 && p[i-1].X < v.X {
			for _, z := range order(p[i-1].Z <= v.Z, lo, hi) {
				if (p[i-1].Z < z) != (v.Z < z) && p[i-1].Z != z && v.Z != z {
					add(Point{Segment{p[i-1], v}.Cross(z), z})
				}
			}
		}
		add(v)
	}
	return out
}

func order(rising bool, lo, hi Length) [2]Length {
	if rising {
		return [2]Length{lo, hi}
	}
	return [2]Length{hi, lo}
}
