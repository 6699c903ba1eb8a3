package report

import (
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestCompact: a table that is longer than a page at its full width is given
// the pages it takes at 64 per cent; one that gains nothing by it, or is shrunk
// as far by its width, is left alone. 178 mm are 504.6 points; a row has 13.5,
// so a page holds 37 rows at full size and 58 at 64 per cent, the header
// among them.
func TestCompact(t *testing.T) {
	b, err := open(Input{Result: fixture()})
	if err != nil {
		t.Fatal(err)
	}
	defer b.file.Close()
	sheet := "Sheet1"
	p, err := b.newPage(sheet, layout{headerRow: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		rows int // with the header
		wide float64
		want int
	}{{30, 60, 0}, {37, 60, 0}, {38, 60, 1}, {58, 60, 1}, {59, 60, 0}, {115, 60, 2}, {116, 60, 3}, {200, 260, 0}} {
		p.wide, p.header, p.used = []float64{tt.wide}, lineHeight, float64(tt.rows)*lineHeight
		if err := p.compact(); err != nil {
			t.Fatal(err)
		}
		got, err := b.file.GetPageLayout(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if *got.FitToHeight != tt.want || *got.FitToWidth != 1 {
			t.Errorf("%d rows, %v characters wide: %d pages high, want %d", tt.rows, tt.wide, *got.FitToHeight, tt.want)
		}
		none := 0
		if err := b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{FitToHeight: &none}); err != nil {
			t.Fatal(err)
		}
	}
}
