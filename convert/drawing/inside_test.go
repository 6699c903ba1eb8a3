package drawing

import (
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// TestWithin works on shapes whose spans are seen at a glance.
func TestWithin(t *testing.T) {
	pt := func(x, z int64) measure.Point { return measure.Point{X: measure.MM(x), Z: measure.MM(z)} }
	notched := measure.Polygon{pt(0, 0), pt(1000, 0), pt(1000, 175), pt(600, 175), pt(600, 100), pt(400, 100), pt(400, 175), pt(0, 175)}
	raked := measure.Polygon{pt(0, 0), pt(1000, 0), pt(900, 100), pt(100, 100)}
	for _, tt := range []struct {
		name   string
		p      measure.Polygon
		lo, hi int64
		want   []measure.Span
	}{
		{"rectangle", measure.Rect(at(0, 1000), at(0, 175)), 50, 80, []measure.Span{at(0, 1000)}},
		{"below the notch", notched, 20, 80, []measure.Span{at(0, 1000)}},
		{"beside the notch", notched, 110, 150, []measure.Span{at(0, 400), at(600, 1000)}},
		{"rake", raked, 20, 50, []measure.Span{at(50, 950)}},
		{"above", raked, 120, 150, nil},
	} {
		if got := within(tt.p, measure.MM(tt.lo), measure.MM(tt.hi)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: got %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestMarkStep(t *testing.T) {
	for _, tt := range []struct {
		face, room float64
		want       int
	}{{40, 30, 1}, {29, 30, 2}, {14, 30, 5}, {5, 30, 10}, {0.1, 30, 100}} {
		if got := markStep(tt.face, tt.room); got != tt.want {
			t.Errorf("faces of %v for text of %v: every %d, want every %d", tt.face, tt.room, got, tt.want)
		}
	}
}

func TestShortMark(t *testing.T) {
	for _, tt := range [][3]string{{"W1-12a", "W1", "12a"}, {"A12.1", "A", "12.1"}, {"X", "X", ""}, {"W10-1a", "", "W10-1a"}} {
		if got := shortMark(tt[0], tt[1]); got != tt[2] {
			t.Errorf("%s of wall %s: got %q, want %q", tt[0], tt[1], got, tt[2])
		}
	}
}
