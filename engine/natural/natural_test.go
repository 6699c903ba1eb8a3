package natural

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Lists in the order in which a person would write them.
func TestCompare(t *testing.T) {
	for _, want := range [][]string{
		{"", "P", "P1", "P1 W1", "P1 W2", "P1 W10", "P2", "P10", "P10a", "P11", "Q"},
		{"1", "2", "9", "10", "99", "100", "12345678901234567890123", "12345678901234567890124"},
		{"Drop 1", "Drop 2", "Drop 10"},
		{"a01b2", "a01b10", "a1b11", "a2"},
		{"P001", "P01", "P1", "P2"},
		{"2.9", "2.10"}, {"x", "x0", "y"}, {"Große 2", "Große 10"},
	} {
		got := slices.Clone(want)
		slices.Reverse(got)
		slices.SortFunc(got, Compare)
		if !slices.Equal(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// It is an order: of any three names none contradicts the others, and only equal
// names are equal.
func TestCompareIsAnOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	name := func() string {
		var b strings.Builder
		for range r.IntN(5) {
			b.WriteByte("0012aB "[r.IntN(7)])
		}
		return b.String()
	}
	for range 200_000 {
		a, b, c := name(), name(), name()
		if Compare(a, b) != -Compare(b, a) || (Compare(a, b) == 0) != (a == b) {
			t.Fatalf("%q and %q: %d, %d", a, b, Compare(a, b), Compare(b, a))
		}
		if Compare(a, b) < 0 && Compare(b, c) < 0 && Compare(a, c) >= 0 {
			t.Fatalf("%q, %q and %q go round", a, b, c)
		}
	}
}
