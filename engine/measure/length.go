// Package measure holds the exact lengths, points and profiles that every
// stage of the engine computes with. A length is a whole number of
// micrometres, so "does it fit" is an equality of integers and nothing adds up
// to a rounding error.
package measure

import (
	"strconv"
	"strings"
)

// Length is a signed length in whole micrometres. Surveys are read in whole
// millimetres; the finer grain is for points on slopes, where a line across a
// board rarely falls on a millimetre. Products of two lengths below 3 km fit
// an int64.
type Length int64

// Units of Length. Tenth, a tenth of a millimetre, is the finest a sheet
// shows: a piece on a slope is stated to it, anything else to the millimetre.
const (
	Micrometre Length = 1
	Tenth      Length = 100
	Millimetre Length = 1000
	Metre      Length = 1000 * Millimetre
)

// MM returns n whole millimetres.
func MM(n int64) Length { return Length(n) * Millimetre }

// Millimetres returns the length in millimetres for display and physics; the
// conversion is exact below 2^53 micrometres (9,000 km).
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// Metres returns the length in metres for display and physics.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Whole reports whether the length is a whole number of millimetres.
func (l Length) Whole() bool { return l%Millimetre == 0 }

// UpTo rounds up to a multiple of unit (towards plus infinity), unit > 0.
func (l Length) UpTo(unit Length) Length { return -((-l).DownTo(unit)) }

// DownTo rounds down to a multiple of unit (towards minus infinity), unit > 0.
func (l Length) DownTo(unit Length) Length {
	r := l % unit
	if r < 0 {
		r += unit
	}
	return l - r
}

// Nearest rounds to the nearest multiple of unit, halves upwards, unit > 0.
func (l Length) Nearest(unit Length) Length { return (l + unit/2).DownTo(unit) }

// Shown returns the length as a sheet shows it: in millimetres, rounded to a
// tenth. It is a whole number unless a slope made it otherwise.
func (l Length) Shown() float64 { return float64(l.Nearest(Tenth)/Tenth) / 10 }

// String returns the length in millimetres, exact, without a unit: "135",
// "2345.6".
func (l Length) String() string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	whole := strconv.FormatInt(int64(l/Millimetre), 10)
	if l.Whole() {
		return sign + whole
	}
	part := strconv.FormatInt(int64(Millimetre+l%Millimetre), 10)[1:]
	return sign + whole + "." + strings.TrimRight(part, "0")
}

// Optional is a value that a survey may leave blank.
type Optional[T any] struct {
	Value T
	Set   bool
}

// Some returns a value that is set.
func Some[T any](v T) Optional[T] { return Optional[T]{Value: v, Set: true} }

// Or returns the value, or fallback where it is not set.
func (o Optional[T]) Or(fallback T) T {
	if o.Set {
		return o.Value
	}
	return fallback
}

// Span is the closed interval from Lo to Hi. If Lo >= Hi it holds no length
// and is empty.
type Span struct{ Lo, Hi Length }

// Empty reports whether the span holds no length.
func (s Span) Empty() bool { return s.Lo >= s.Hi }

// Length returns Hi - Lo, or 0 if the span is empty.
func (s Span) Length() Length { return max(0, s.Hi-s.Lo) }

// Holds reports whether x lies in the closed span.
func (s Span) Holds(x Length) bool { return s.Lo <= x && x <= s.Hi }

// And returns what two spans share; it may be empty.
func (s Span) And(t Span) Span { return Span{max(s.Lo, t.Lo), min(s.Hi, t.Hi)} }

// Grow returns the span widened by d at both ends (narrowed if d < 0).
func (s Span) Grow(d Length) Span { return Span{s.Lo - d, s.Hi + d} }

// Less returns the parts of the spans that no span of cut covers, in order.
// Both lists must be sorted by Lo; the result is sorted and has no empty span.
func Less(spans, cut []Span) []Span {
	var out []Span
	for _, s := range spans {
		out = s.AppendLess(out, cut)
	}
	return out
}

// AppendLess adds to out the parts of the span that no span of cut, which must
// be sorted by Lo, covers.
func (s Span) AppendLess(out, cut []Span) []Span {
	for _, c := range cut {
		if c.Hi <= s.Lo || c.Lo >= s.Hi {
			continue
		}
		if left := (Span{s.Lo, c.Lo}); !left.Empty() {
			out = append(out, left)
		}
		s.Lo = max(s.Lo, c.Hi)
	}
	if !s.Empty() {
		out = append(out, s)
	}
	return out
}
