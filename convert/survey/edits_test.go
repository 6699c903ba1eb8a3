package survey

import (
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// earlier is a survey with the order summary of an earlier run, marked as made
// by this program as a takeoff marks it.
func earlier(t *testing.T, order [][]any, more ...func(*excelize.File)) *Survey {
	t.Helper()
	s := sheets{"Walls": {{"Wall", "Width mm", "Height mm"}, {"Front", 7200, 4890}}, "Order summary": order, "Flagged issues": {{"Severity", "Code"}}}
	marks := func(f *excelize.File) {
		for name, to := range map[string]string{sheetMark + "_1": "'Order summary'!$A$1", sheetMark + "_2": "'Flagged issues'!$A$1", orderName: "'Order summary'!$A$1"} {
			if err := f.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: to}); err != nil {
				t.Fatal(err)
			}
		}
	}
	return read(t, workbook(t, s, append(more, marks)...), Options{})
}

// Whatever a reader types into an input of an earlier order is used or flagged
// at its cell; then what was issued counts for it, and the line's other inputs
// are kept.
func TestEditsThatCannotBeKept(t *testing.T) {
	head := []any{"Drop", "Role", "Code", "Colour", "Net quantity", "Spare %", "Order quantity", "Pack", "Unit price", "Issued spare %", "Issued pack", "Issued price"}
	for _, c := range []struct {
		spare, pack, price any
		want               string // spare, pack, price
		flags              string
	}{
		{7, 2, 99.5, "7 2 99.5", ""},
		{"7", "2", " 99.5 ", "7 2 99.5", ""},
		{"ten", 2, 99.5, "0 2 99.5", "F2"},
		{7, "a few", 99.5, "7 4 99.5", "H2"},
		{7, 2, nil, "7 2 23.4", "I2"},
		{-5, 0, -1, "0 4 23.4", "F2 H2 I2"},
		{"1,200", 2, true, "0 2 23.4", "F2 I2"},
	} {
		s := earlier(t, [][]any{head, {nil, "board", "B1", "Chalk", 100, c.spare, 100, c.pack, c.price, 0, 4, 23.4}, {"Total GBP", nil, nil, nil, nil, nil, 100}})
		e := s.Edits[EditKey{Role: "board", Code: "B1", Colour: "Chalk"}]
		if got := fmt.Sprint(e.Now.Spare, e.Now.Pack, e.Now.Price); got != c.want || e.Issued == nil || len(s.Edits) != 1 {
			t.Errorf("%v, %v, %v are read as %q in %d lines, want %q", c.spare, c.pack, c.price, got, len(s.Edits), c.want)
		}
		if got := orderFlags(s); got != c.flags {
			t.Errorf("%v, %v, %v are flagged at %q, want %q", c.spare, c.pack, c.price, got, c.flags)
		}
		for _, f := range s.Flags { // what may stand there is said: an order has no packs of nothing
			if f.Place.Cell == "H2" && f.Do != "Write a number above 0, in figures" || f.Place.Cell == "I2" && f.Do != "Write 0 or a number above it, in figures" {
				t.Errorf("at %s one is told %q", f.Place.Cell, f.Do)
			}
		}
	}
}

func orderFlags(s *Survey) string {
	var at []string
	for _, f := range s.Flags {
		if f.Place.Sheet == "Order summary" && f.Severity == engine.Check {
			at = append(at, f.Place.Cell)
		}
	}
	return strings.Join(at, " ")
}

// A per cent typed as such is that many per cent; a line that a reader added
// is not silently left out.
func TestEditsInOtherForms(t *testing.T) {
	head := []any{"Drop", "Role", "Code", "Colour", "Spare %", "Pack", "Unit price", "Issued spare %", "Issued pack", "Issued price"}
	s := earlier(t, [][]any{head, {nil, "board", "B1", nil, 0.05, 4, 23.4, 0, 4, 23.4}, {nil, "board", "B2", nil, 0, 1, 20}}, cellFormat("Order summary", "E2", 9))
	if got := s.Edits[EditKey{Role: "board", Code: "B1"}].Now.Spare; got != 5 {
		t.Errorf("5 %% is read as %v, want 5", got)
	}
	if got := orderFlags(s); got != "C3" || len(s.Edits) != 1 {
		t.Errorf("%d lines with flags at %q; want one, and C3", len(s.Edits), got)
	}
}

// A library that saves a takeoff again may write a link's own text into a
// blank cell that has it (openpyxl 3.0 does); it is no value. A text that only
// looks like one stays.
func TestTextsOfLinksAreNoValues(t *testing.T) {
	order := [][]any{{"Drop", "Role", "Code"}}
	fill := func(f *excelize.File) {
		f.SetCellValue("Walls", "D1", "Height right mm")
		f.SetCellValue("Walls", "D2", "'Flagged issues'!A7")
		f.SetCellValue("Walls", "E1", "Base mm")
		f.SetCellValue("Walls", "E2", "#'Flagged issues'!A8")
		f.SetCellValue("Walls", "F1", "Notes")
		f.SetCellValue("Walls", "F2", "'Other sheet'!A7")
		f.SetCellValue("Walls", "B9", "'Flagged issues'!A9")
	}
	s := earlier(t, order, fill)
	if len(s.Job.Walls) != 1 || s.Job.Walls[0].HeightRight.Set || s.Job.Walls[0].Base.Set || s.Job.Walls[0].Notes != "'Other sheet'!A7" {
		t.Errorf("read as %+v with the flags %+v", s.Job.Walls, s.Flags)
	}
	accounted(t, s)
}

// A library that does not reckon saves the order's formulas without their values
// (openpyxl does): nobody typed 0 over the quantity. What stands there as a
// number is what was typed.
func TestFormulasWithoutValuesAreNotTypedOver(t *testing.T) {
	head := []any{"Drop", "Role", "Code", "Colour", "Net quantity", "Spare %", "Order quantity", "Pack", "Unit price", "Issued spare %", "Issued pack", "Issued price", "Issued net", "Issued order"}
	line := []any{nil, "board", "B1", nil, 100, 5, nil, 4, 23.4, 5, 4, 23.4, 100, 105}
	for name, c := range map[string]struct {
		fill func(*excelize.File)
		want float64
	}{
		"formula": {func(f *excelize.File) { f.SetCellFormula("Order summary", "G2", "ROUNDUP(E2*(1+F2/100),0)") }, 105},
		"typed":   {func(f *excelize.File) { f.SetCellValue("Order summary", "G2", 0) }, 0},
	} {
		s := earlier(t, [][]any{head, line}, c.fill)
		if got := s.Edits[EditKey{Role: "board", Code: "B1"}].Order; got != c.want {
			t.Errorf("%s: the order quantity is read as %v, want %v", name, got, c.want)
		}
	}
}

// A formula whose value is not saved is told as that, not as a blank.
func TestAFormulaWithoutItsValueIsNoEdit(t *testing.T) {
	head := []any{"Drop", "Role", "Code", "Colour", "Spare %", "Pack", "Unit price", "Issued spare %", "Issued pack", "Issued price"}
	s := earlier(t, [][]any{head, {nil, "board", "B1", nil, 0, 4, nil, 0, 4, 23.4}}, func(f *excelize.File) { f.SetCellFormula("Order summary", "G2", "20*1.2") })
	if got := orderFlags(s); got != "G2" || !strings.Contains(s.Flags[len(s.Flags)-1].What, "a formula whose value is not saved") || s.Edits[EditKey{Role: "board", Code: "B1"}].Now.Price != 23.4 {
		t.Errorf("flags at %q: %+v; edits %+v", got, s.Flags, s.Edits)
	}
}
