package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// orders is a merged order of two lines, of which 82 boards with 10 % spare in
// packs of 25 come to 91 and 4 packs, worked by hand.
func orders() OrderBook {
	return OrderBook{
		Version: "0.0", Currency: "EUR",
		Lines: []OrderLine{
			{OrderLine: engine.OrderLine{Drop: "1", Role: "board", Code: "B", Unit: "each", Net: 82, Spare: 10, Pack: 25, Price: 2}, Takeoffs: 2, Remark: "price is 2 in a but 3 in b"},
			{OrderLine: engine.OrderLine{Drop: "2", Role: "screw", Code: "=1+1", Unit: "each", Net: 7, Pack: 1, Price: 0.5}, Takeoffs: 1},
		},
		Takeoffs: []string{"a.takeoff.xlsx", "b.takeoff.xlsx"},
		Lacks:    []string{"b.takeoff.xlsx: 1 wall left out"},
	}
}

func writtenOrder(t *testing.T, in OrderBook) ([]byte, *excelize.File) {
	t.Helper()
	var out bytes.Buffer
	if err := WriteOrder(context.Background(), &out, in); err != nil {
		t.Fatal(err)
	}
	data := bytes.Clone(out.Bytes())
	f, err := excelize.OpenReader(&out, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return data, f
}

// The merged order is live: formulas stand beside their values. That they give
// them is for other programs to say (TestRecomputed): the library's own
// calculator rounds 7 up to 8.
func TestMergedOrder(t *testing.T) {
	data, f := writtenOrder(t, orders())
	again, _ := writtenOrder(t, orders())
	if !bytes.Equal(data, again) {
		t.Error("the same order gives other bytes")
	}
	rows, err := f.GetRows("Order summary")
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[h] = i
	}
	for _, want := range []struct {
		row           int
		header, value string
		live          bool
	}{
		{1, "Order quantity", "91", true}, {1, "Packs", "4", true}, {1, "Amount", "200", true}, {1, "Takeoffs", "2", false},
		{1, "Remark", "price is 2 in a but 3 in b", false}, {2, "Packs", "7", true}, {2, "Amount", "3.5", true}, {2, "Code", "=1+1", false},
	} {
		cell, _ := excelize.CoordinatesToCellName(at[want.header]+1, want.row+1)
		formula, err := f.GetCellFormula("Order summary", cell)
		if err != nil {
			t.Fatal(err)
		}
		if got := rows[want.row][at[want.header]]; got != want.value || (formula != "") != want.live {
			t.Errorf("%s in row %d: got %q, formula %q; want %q", want.header, want.row+1, got, formula, want.value)
		}
	}
	foot := ""
	for _, r := range rows[3:] {
		foot += strings.Join(r, "|") + "\n"
	}
	for _, want := range []string{"Total EUR|", "203.5", "ORDER INCOMPLETE: b.takeoff.xlsx: 1 wall left out."} {
		if !strings.Contains(foot, want) {
			t.Errorf("below the order stands\n%s\nwant %q", foot, want)
		}
	}
	if sheets := f.GetSheetList(); strings.Join(sheets, "|") != "Order summary|Takeoffs" {
		t.Errorf("the sheets are %v", sheets)
	}
}

// The list of a batch comes first and sums what may be summed.
func TestBatchList(t *testing.T) {
	in := orders()
	in.List = []BatchRow{
		{File: "a.xlsx", Result: "done", Walls: 3, Built: 6, Boards: 40, Bound: 39, Notes: 2},
		{File: "b.xlsx", Result: "failed", Wrong: "b.xlsx is empty."},
		{File: "c.xlsx", Result: "done with stops", Walls: 1, Built: 1, Left: 1, Boards: 5, Bound: 5, Stops: 1},
	}
	_, f := writtenOrder(t, in)
	if sheets := f.GetSheetList(); strings.Join(sheets, "|") != "Batch|Order summary" {
		t.Errorf("the sheets are %v", sheets)
	}
	rows, err := f.GetRows("Batch")
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]string{1: "a.xlsx|done|3|6|0|", 2: "b.xlsx|failed|0|0|0|", 5: "Total of 3 surveys||4|7|1|"} {
		if got := strings.Join(rows[i], "|"); !strings.HasPrefix(got, want) {
			t.Errorf("row %d is %q, want it to begin %q", i+1, got, want)
		}
	}
	for cell, want := range map[string]string{"C6": "4", "G6": "45", "H6": "44", "L6": "1"} {
		if got, err := f.CalcCellValue("Batch", cell); err != nil || got != want {
			t.Errorf("%s gives %q (%v), want %q", cell, got, err, want)
		}
	}
	in.List = append(in.List, BatchRow{File: "d.xlsx", Result: "done", Boards: 7}) // lengths by price: no bound of boards
	_, f = writtenOrder(t, in)
	for cell, want := range map[string]string{"G7": "SUM(G2:G5)", "H5": "", "H7": ""} {
		if got, err := f.GetCellFormula("Batch", cell); err != nil || got != want {
			t.Errorf("the formula of %s is %q (%v), want %q", cell, got, err, want)
		}
	}
	if got, err := f.GetCellValue("Batch", "H7"); err != nil || got != "" {
		t.Errorf("the bound of all is %q (%v), and one survey has none", got, err)
	}
}
