package convert

import (
	"strings"
	"testing"
)

// The headline gives the bound in the measure the boards were chosen by, and
// none where none is known.
func TestHeadlineBound(t *testing.T) {
	for want, r := range map[string]Report{
		"5 boards (no layout takes fewer than 4), waste":              {Built: 1, Boards: 5, Bound: 4, Cost: 99, Least: 79.2},
		"5 boards for 99.00 (no layout costs less than 97.20), waste": {Built: 1, Boards: 5, Cost: 99, Least: 97.2},
		"5 boards, waste": {Built: 1, Boards: 5, Cost: 99},
	} {
		if got := r.Headline(); !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}
