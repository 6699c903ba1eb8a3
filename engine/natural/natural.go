// Package natural orders names as people count: P2 comes before P10.
package natural

import (
	"cmp"
	"strings"
)

// Compare compares two names: numbers in them by their value, however many digits
// they have, everything else letter by letter as [strings.Compare] does. Names that
// differ in leading noughts alone are in the order of their letters, so that no two
// are equal but those that are the same.
func Compare(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m == 0 || n == 0 {
			if x[0] != y[0] {
				return cmp.Compare(x[0], y[0])
			}
			x, y = x[1:], y[1:]
			continue
		}
		v, w := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
		if c := cmp.Or(cmp.Compare(len(v), len(w)), strings.Compare(v, w)); c != 0 {
			return c
		}
		x, y = x[m:], y[n:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}

// digits returns how many digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}
