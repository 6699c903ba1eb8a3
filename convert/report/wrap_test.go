package report

import (
	"strings"
	"testing"
)

// TestTextPixels holds the widths to sums done by hand from the published
// font metrics (Adobe Core 14, Helvetica.afm: H 722, e 556, l 222, o 556,
// digits 556, space 278), at 10 points and 96 pixels an inch.
func TestTextPixels(t *testing.T) {
	for s, thousandths := range map[string]float64{
		"":      0,
		"Hello": 722 + 556 + 222 + 222 + 556,
		"10 l":  556 + 556 + 278 + 222,
	} {
		want := thousandths / 1000 * 10 / 72 * 96
		if got := textPixels(s); got-want > 1e-9 || want-got > 1e-9 {
			t.Errorf("%q: got %v pixels, want %v", s, got, want)
		}
	}
}

func TestFoldPixels(t *testing.T) {
	s := "seal every sawn edge before the board goes up, and wipe sealer off its face at once"
	for _, room := range []float64{20, 60, 100, 200, 400, 4000} {
		lines := foldPixels(s, room)
		if strings.Join(lines, " ") != s {
			t.Errorf("folding to %v changed the words: %q", room, lines)
		}
		for i, l := range lines {
			if strings.Contains(l, " ") && textPixels(l) > room {
				t.Errorf("line %q is wider than %v", l, room)
			}
			if i > 0 {
				word, _, _ := strings.Cut(l, " ")
				if textPixels(lines[i-1]+" "+word) <= room {
					t.Errorf("line %q had room for %q within %v", lines[i-1], word, room)
				}
			}
		}
	}
}

func TestFittedOnlyWhereTextWraps(t *testing.T) {
	s := strings.Repeat("word ", 40)
	if got := fitted([]cell{text(s)}, []float64{20}); got != 0 {
		t.Errorf("text that does not wrap got a height of %v", got)
	}
	if got := fitted([]cell{long("one")}, []float64{20}); got != 0 {
		t.Errorf("one line got a height of %v", got)
	}
	if two, many := fitted([]cell{long("one\ntwo")}, []float64{20}), fitted([]cell{long(s)}, []float64{20}); two <= 20 || many <= two {
		t.Errorf("two lines got %v, many %v", two, many)
	}
	if got := fitted([]cell{long(strings.Repeat(s, 100))}, []float64{20}); got > 409 {
		t.Errorf("a row of %v points: a spreadsheet has none over 409", got)
	}
}
