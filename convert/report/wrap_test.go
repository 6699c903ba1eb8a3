package report

import (
	"strings"
	"testing"
)

func TestFittedOnlyWhereTextWraps(t *testing.T) {
	s := strings.Repeat("word ", 40)
	if got := fitted([]cell{text(s)}, []float64{20}); got != 0 {
		t.Errorf("text that does not wrap got a height of %v", got)
	}
	if got := fitted([]cell{long(s)}, []float64{0}); got != 0 {
		t.Errorf("a hidden column got a height of %v", got)
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
