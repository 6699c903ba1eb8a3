package report

import (
	"strings"
	"testing"
)

// TestSawSheetByDrop: boards of one delivery are not drawn with those of another,
// though they are cut alike, and each stretch of pages says whose it is.
func TestSawSheetByDrop(t *testing.T) {
	in := fullInput(t)
	rows := in.Result.Cutting
	rows[0].Drop, rows[1].Drop = "A", "Drop B" // surveys write it either way
	for i := range rows[2:] {
		rows[2+i].Drop = "A"
	}
	f := opened(t, written(t, in))
	said := allText(t, f, "Saw sheet")
	for _, want := range []string{"Saw sheet for drop A: boards", "Saw sheet for Drop B: boards"} {
		if strings.Count(said, want) != 1 {
			t.Errorf("the saw sheet does not say %q once:\n%s", want, said)
		}
	}
	cells := pictureCells(t, f, "Saw sheet")
	if len(cells) != 2 {
		t.Fatalf("%d pictures, want one for each drop", len(cells))
	}
	for i, cell := range cells {
		pics, err := f.GetPictures("Saw sheet", cell)
		if err != nil || len(pics) != 1 {
			t.Fatal(len(pics), err)
		}
		if alt := pics[0].Format.AltText; i == 1 && !strings.HasPrefix(alt, "2 boards") {
			t.Errorf("drop B's picture is of %q", alt)
		}
	}
}
