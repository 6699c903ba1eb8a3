package report

import (
	"archive/zip"
	"bytes"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// parts unpacks a workbook.
func parts(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r) // checks the sum too
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		out[f.Name] = string(b)
	}
	return out
}

func TestZipIsSortedAndPlain(t *testing.T) {
	data := standard(t)
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if packed := f.Method == zip.Deflate; packed == strings.HasSuffix(f.Name, ".png") {
			t.Errorf("%s is packed: %v", f.Name, packed)
		}
	}
	if !slices.IsSorted(names) || len(slices.Compact(slices.Clone(names))) != len(names) {
		t.Errorf("entries out of order or twice: %q", names)
	}
	if names[0] != "[Content_Types].xml" { // readers look there first
		t.Errorf("the first entry is %s", names[0])
	}
}

// TestFullCalculationOnLoad wants every spreadsheet program to compute afresh.
func TestFullCalculationOnLoad(t *testing.T) {
	if wb := parts(t, standard(t))["xl/workbook.xml"]; !strings.Contains(wb, `fullCalcOnLoad="true"`) {
		t.Errorf("no full calculation on load in %s", wb)
	}
}

// TestColumnsInOrder: some programs lose the widths of columns that stand out of
// order in the file (github.com/exceljs/exceljs, pull request 1563).
func TestColumnsInOrder(t *testing.T) {
	column := regexp.MustCompile(`<col min="(\d+)" max="(\d+)"`)
	seen := 0
	for name, part := range parts(t, standard(t)) {
		last := 0
		for _, m := range column.FindAllStringSubmatch(part, -1) {
			from, _ := strconv.Atoi(m[1])
			to, _ := strconv.Atoi(m[2])
			if from <= last || to < from {
				t.Errorf("%s: columns %d to %d stand behind column %d", name, from, to, last)
			}
			last, seen = to, seen+1
		}
	}
	if seen == 0 {
		t.Error("no columns found")
	}
}

// TestOneTableASheet holds each sheet but those made to be printed to one
// table, with a name of its own.
func TestOneTableASheet(t *testing.T) {
	data := standard(t)
	all := parts(t, data)
	f := opened(t, data)
	seen := map[string]bool{}
	for _, sheet := range f.GetSheetList()[2:] {
		tables, err := f.GetTables(sheet)
		if err != nil {
			t.Fatal(err)
		}
		want := 1
		if sheet == "1 =1+1" || sheet == "1 Gable" || sheet == "Saw sheet" {
			want = 0
		}
		if len(tables) != want {
			t.Errorf("%s has %d tables, want %d", sheet, len(tables), want)
		}
		for _, table := range tables {
			if seen[table.Name] {
				t.Errorf("two tables are called %s", table.Name)
			}
			seen[table.Name] = true
		}
	}
	for name, part := range all {
		if strings.HasPrefix(name, "xl/drawings/drawing") && !strings.Contains(part, `descr="`) {
			t.Errorf("%s has a picture without words for it", name)
		}
	}
}
