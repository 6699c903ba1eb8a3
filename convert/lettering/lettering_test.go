package lettering

import (
	"math"
	"strings"
	"testing"
)

// TestWidth holds the widths to sums done by hand from the published
// font metrics (Adobe Core 14, Helvetica.afm: H 722, e 556, l 222, o 556,
// digits 556, space 278), at 10 points and 96 pixels an inch.
func TestWidth(t *testing.T) {
	for s, thousandths := range map[string]float64{
		"":      0,
		"Hello": 722 + 556 + 222 + 222 + 556,
		"10 l":  556 + 556 + 278 + 222,
	} {
		want := thousandths / 1000 * 10 / 72 * 96
		if got := Width(s); got-want > 1e-9 || want-got > 1e-9 {
			t.Errorf("%q: got %v pixels, want %v", s, got, want)
		}
	}
}

func TestLines(t *testing.T) {
	s := "seal every sawn edge before the board goes up, and wipe sealer off its face at once"
	for _, room := range []float64{20, 60, 100, 200, 400, 4000} {
		lines := Lines(s, room)
		if strings.Join(lines, " ") != s {
			t.Errorf("folding to %v changed the words: %q", room, lines)
		}
		for i, l := range lines {
			if strings.Contains(l, " ") && Width(l) > room {
				t.Errorf("line %q is wider than %v", l, room)
			}
			if i > 0 {
				word, _, _ := strings.Cut(l, " ")
				if Width(lines[i-1]+" "+word) <= room {
					t.Errorf("line %q had room for %q within %v", lines[i-1], word, room)
				}
			}
		}
	}
}

// The standard's own example: a column of eight characters, of digits seven pixels
// wide, is kept as 8.7109375, a multiple of 1/256, and shown 61 pixels wide
// (ECMA-376 Part 1, 18.3.1.13).
func TestColumn(t *testing.T) {
	if got := math.Trunc(Stored(8)*256) / 256; got != 8.7109375 {
		t.Errorf("eight characters are kept as %v", got)
	}
	if got := Column(8); got != 61 {
		t.Errorf("eight characters are %v pixels wide", got)
	}
}
