package batch

import "testing"

// Bounds add up only in one measure: boards, or money of one currency.
func TestBoundOfBatch(t *testing.T) {
	counted := Entry{Boards: 10, Bound: 9, Cost: 100, Least: 90, Currency: "GBP"}
	priced := Entry{Boards: 10, Cost: 80, Least: 79.5, Currency: "GBP"}
	abroad := priced
	abroad.Currency = "EUR"
	for want, list := range map[string][]Entry{
		" (no layout takes fewer than 18)":               {counted, {File: "broken"}, counted},
		" for 180.00 (no layout costs less than 169.50)": {counted, priced},
		"": {counted, priced, abroad},
		" for 80.00 (no layout costs less than 79.50)": {abroad},
	} {
		if got := Boards(list).BoundWords(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
