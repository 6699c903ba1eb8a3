package measure

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestLengthString(t *testing.T) {
	for _, test := range []struct {
		length Length
		want   string
		shown  float64
	}{
		{0, "0", 0},
		{MM(135), "135", 135},
		{MM(-48), "-48", -48},
		{2_345_600, "2345.6", 2345.6},
		{2_345_649, "2345.649", 2345.6},
		{2_345_650, "2345.65", 2345.7},
		{-1, "-0.001", 0},
		{-150, "-0.15", -0.1},
		{Metre, "1000", 1000},
		{10, "0.01", 0},
	} {
		if got := test.length.String(); got != test.want {
			t.Errorf("Length(%d): got %q, want %q", int64(test.length), got, test.want)
		}
		if got := test.length.Shown(); got != test.shown {
			t.Errorf("Length(%d).Shown: got %v, want %v", int64(test.length), got, test.shown)
		}
	}
}

// TestRounding checks the three roundings against their definition: a multiple
// of the unit, on the right side, less than a unit away.
func TestRounding(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 10_000 {
		l := Length(r.Int64N(2_000_001) - 1_000_000)
		unit := []Length{1, 7, Tenth, Millimetre, MM(300)}[r.IntN(5)]
		down, up, near := l.DownTo(unit), l.UpTo(unit), l.Nearest(unit)
		if down%unit != 0 || down > l || down <= l-unit {
			t.Fatalf("%d down to %d: got %d", l, unit, down)
		}
		if up%unit != 0 || up < l || up >= l+unit {
			t.Fatalf("%d up to %d: got %d", l, unit, up)
		}
		if d := near - l; near%unit != 0 || 2*d > unit || 2*d < -unit {
			t.Fatalf("%d nearest %d: got %d", l, unit, near)
		}
	}
}

func TestUnits(t *testing.T) {
	if got := MM(1485).Metres(); got != 1.485 {
		t.Errorf("1485 mm: got %v m, want 1.485", got)
	}
	if got := (MM(12) + 500).Millimetres(); got != 12.5 {
		t.Errorf("12500 um: got %v mm, want 12.5", got)
	}
	if !MM(-3).Whole() || (MM(3) + 1).Whole() {
		t.Error("Whole: -3 mm is whole, 3.001 mm is not")
	}
}

func TestOptional(t *testing.T) {
	var blank Optional[Length]
	if got := blank.Or(MM(600)); got != MM(600) {
		t.Errorf("blank: got %v, want the fallback 600", got)
	}
	if got := Some(Length(0)).Or(MM(600)); got != 0 {
		t.Errorf("a zero that is set: got %v, want 0", got)
	}
}

func TestSpan(t *testing.T) {
	a, empty := Span{2, 5}, Span{5, 2}
	if a.Empty() || !empty.Empty() || !(Span{3, 3}).Empty() {
		t.Error("Empty: 2..5 is not, 5..2 and 3..3 are")
	}
	if a.Length() != 3 || empty.Length() != 0 {
		t.Errorf("Length: got %d and %d, want 3 and 0", a.Length(), empty.Length())
	}
	if !a.Holds(2) || !a.Holds(5) || a.Holds(6) {
		t.Error("Holds: both ends belong to the span")
	}
	if got := a.And(Span{4, 9}); got != (Span{4, 5}) {
		t.Errorf("And: got %v, want 4..5", got)
	}
	if got := a.Grow(-1); got != (Span{3, 4}) {
		t.Errorf("Grow: got %v, want 3..4", got)
	}
}

// TestLess compares with counting: on a short line every unit is in a span,
// in a cut, or in neither.
func TestLess(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	list := func(n int) []Span {
		var out []Span
		for range r.IntN(n) {
			lo := Length(r.IntN(30))
			out = append(out, Span{lo, lo + Length(r.IntN(9))})
		}
		slices.SortFunc(out, func(a, b Span) int { return int(a.Lo - b.Lo) })
		return out
	}
	for range 5000 {
		spans, cuts := apart(list(5)), list(6)
		got := Less(spans, cuts)
		for x := Length(0); x < 40; x++ {
			unit := Span{x, x + 1}
			want := holds(spans, unit) && !holds(cuts, unit)
			if holds(got, unit) != want {
				t.Fatalf("%v less %v: got %v, unit %v wrong", spans, cuts, got, unit)
			}
		}
		for i, s := range got {
			if s.Empty() || (i > 0 && got[i-1].Hi > s.Lo) {
				t.Fatalf("%v less %v: got %v, not in order", spans, cuts, got)
			}
		}
	}
}

func holds(list []Span, unit Span) bool {
	return slices.ContainsFunc(list, func(s Span) bool { return s.Lo <= unit.Lo && unit.Hi <= s.Hi })
}

// apart drops spans that overlap one before them.
func apart(list []Span) []Span {
	var out []Span
	for _, s := range list {
		if len(out) == 0 || out[len(out)-1].Hi <= s.Lo {
			out = append(out, s)
		}
	}
	return out
}

func ExampleLength_String() {
	fmt.Println(MM(135), Length(92_307))
	// Output: 135 92.307
}
