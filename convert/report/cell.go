package report

import (
	"math"

	"lapwright/engine/measure"
)

// cell is what stands in one cell: a value, and a formula where it is live.
// The value of a formula is what the formula gives now, for readers that do
// not compute.
type cell struct {
	v any // string, int, float64 or nil
	f string
	l look
}

func text(s string) cell { return cell{v: orNil(s), l: plain} }
func long(s string) cell { return cell{v: orNil(s), l: wrapped} }
func count(n int) cell   { return cell{v: n, l: whole} }

// fine is for what only a check reads: in smaller letters.
func fine(s string) cell { return cell{v: orNil(s), l: small} }

// orNil keeps an empty text from becoming a cell that is not blank.
func orNil(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// mm shows a length in millimetres, to the tenth where a slope made one.
func mm(l measure.Length) cell { return decimal(l.Shown()) }

// decimal shows a whole number as such, any other with one decimal.
func decimal(v float64) cell {
	if v == math.Trunc(v) {
		return cell{v: v, l: whole}
	}
	return cell{v: v, l: tenth}
}

// quantity shows a whole number as such, any other with two decimals.
func quantity(v float64) cell {
	if v == math.Trunc(v) {
		return cell{v: v, l: grouped}
	}
	return cell{v: rounded(v), l: hundreds}
}

func money(v float64) cell { return cell{v: rounded(v), l: hundreds} }

// rounded takes the noise of binary arithmetic off a number.
func rounded(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// optional leaves a cell blank where the number is zero, which there means
// not known.
func optional(v float64) cell {
	if v == 0 {
		return cell{}
	}
	return quantity(v)
}

// given shows a number unless it is zero, which there means not given.
func given(v float64, l look) cell {
	if v == 0 {
		return cell{}
	}
	return cell{v: v, l: l}
}

func live(formula string, v any, l look) cell { return cell{v: v, f: formula, l: l} }
