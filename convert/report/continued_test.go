package report

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A table that is longer than a sheet may be goes on on the next: no row is
// lost, every sheet has its headers, the sums of the Summary take in all of
// them, and the Summary says so.
func TestTablesGoOn(t *testing.T) {
	in := Input{Result: fixture()}
	whole := bookRows(t, in)
	in.rowsMost = 3
	parts := bookRows(t, in)
	if parts["Order summary"] == nil || len(parts["Order summary"]) != len(whole["Order summary"]) {
		t.Error("the order does not go on on another sheet")
	}
	for _, sheet := range growing() {
		rows, joined := whole[sheet], [][]string(nil)
		for part := 0; parts[continuedName(sheet, part)] != nil; part++ {
			more := parts[continuedName(sheet, part)]
			if len(more) > 4 || strings.Join(more[0], "|") != strings.Join(rows[0], "|") {
				t.Errorf("%s has %d rows and begins %v", continuedName(sheet, part), len(more), more[0])
			}
			joined = append(joined, more[1:]...)
		}
		if len(rows) == 0 {
			continue
		}
		if got, want := fmt.Sprint(joined), fmt.Sprint(rows[1:]); got != want {
			t.Errorf("%s: in parts %d rows, whole %d: got %.300s, want %.300s", sheet, len(joined), len(rows)-1, got, want)
		}
		said := strings.Contains(fmt.Sprint(parts["Summary"]), "goes on to the sheet "+sheet+" ")
		if long := len(rows)-1 > 3; said != long {
			t.Errorf("%s has %d rows; the Summary says it goes on: %v", sheet, len(rows)-1, said)
		}
	}
}

// bookRows writes a takeoff and reads every sheet of tables back, down to the
// first blank row.
func bookRows(t *testing.T, in Input) map[string][][]string {
	t.Helper()
	var out bytes.Buffer
	if err := Write(context.Background(), &out, in); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&out, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheets := map[string][][]string{}
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		sheets[name] = rows
	}
	return sheets
}
