package survey

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/lettering"
)

// Where a text of the guide takes more than a line, its row is as high: readers
// that do not fit rows to their text print it over the next otherwise. The lines
// are counted for letters a fifth narrower than those of the column.
func TestGuideRowsHoldTheirText(t *testing.T) {
	var b bytes.Buffer
	if err := WriteTemplate(&b, false); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows("How to fill in")
	if err != nil {
		t.Fatal(err)
	}
	folded := 0
	for i, row := range rows {
		lines := 1
		for j, text := range row {
			wide, err := f.GetColWidth("How to fill in", letters(j+1))
			if err != nil {
				t.Fatal(err)
			}
			lines = max(lines, lettering.Count(text, 1.2*lettering.Column(wide)))
		}
		high, err := f.GetRowHeight("How to fill in", i+1)
		if err != nil {
			t.Fatal(err)
		}
		if lines > 1 {
			folded++
		}
		if high < 14.4*float64(lines) { // 11 points and their lead
			t.Errorf("row %d has %d lines and %v points", i+1, lines, high)
		}
	}
	if folded < 3 {
		t.Errorf("only %d rows fold: nothing was tried", folded)
	}
}
