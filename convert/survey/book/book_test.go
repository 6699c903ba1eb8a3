package book

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Addresses are compared with the library that other sheets are written with.
func TestAddressesAgreeWithTheLibrary(t *testing.T) {
	for _, col := range []int{1, 2, 25, 26, 27, 51, 52, 53, 701, 702, 703, 704, 16383, 16384} {
		want, err := excelize.CoordinatesToCellName(col, 1048576)
		if err != nil {
			t.Fatal(err)
		}
		if got := Address(col, 1048576); got != want {
			t.Errorf("Address(%d) = %s, want %s", col, got, want)
		}
		if c, r, ok := parseAddress(want); c != col || r != 1048576 || !ok {
			t.Errorf("parseAddress(%s) = %d, %d, %v", want, c, r, ok)
		}
	}
	for _, bad := range []string{"", "A", "1", "A0", "XFE1", "A1048577", "a1", "A1B", "$A$1", "A-1", "AAAAAAAAAAAAA1", "A99999999999999999999"} {
		if _, _, ok := parseAddress(bad); ok {
			t.Errorf("%q passes for an address", bad)
		}
	}
}

// The meaning of built-in numbers: ECMA-376 part 1, 18.8.30; of codes 18.8.31.
func TestNumberFormats(t *testing.T) {
	for _, c := range []struct {
		id, code string
		want     format
	}{
		{"0", "", format{Number, ""}}, {"1", "", format{Number, ""}}, {"4", "", format{Number, ""}}, {"9", "", format{Percent, ""}},
		{"10", "", format{Percent, ""}}, {"14", "", format{Date, ""}}, {"22", "", format{Date, ""}}, {"45", "", format{Date, ""}}, {"49", "", format{Number, ""}},
		{"164", "0.00", format{Number, ""}}, {"164", `0.00" m"`, format{Number, "m"}}, {"164", `#,##0\ "mm"`, format{Number, "mm"}},
		{"164", `General" mm"`, format{Number, "mm"}}, {"164", "0.0%", format{Percent, ""}}, {"164", `0"%"`, format{Number, "%"}},
		{"164", "dd/mm/yyyy", format{Date, ""}}, {"164", "[h]:mm", format{Date, ""}}, {"164", "[$-809]d mmmm yyyy", format{Date, ""}},
		{"164", "[Red]0.0;[Blue]-0.0", format{Number, ""}}, {"164", `"day "0`, format{Number, ""}}, {"164", `_-* #,##0.00_-`, format{Number, ""}}, {"164", `"open`, format{Number, ""}},
	} {
		if got := formatOf(c.id, c.code); got != c.want {
			t.Errorf("format %s %q is %+v, want %+v", c.id, c.code, got, c.want)
		}
	}
}

func rowsOf(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "x.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	b, err := Open(context.Background(), path)
	if err != nil {
		return err.Error()
	}
	var out []string
	for _, row := range b.Sheets[0].Rows {
		for _, c := range row.Cells {
			out = append(out, Address(c.Col, row.Number)+"="+c.Text)
		}
	}
	for _, d := range b.Sheets[0].Doubts {
		out = append(out, map[bool]string{false: "doubt ", true: "swallowed "}[d.Swallowed]+Address(d.Col, d.Row))
	}
	return strings.Join(append(out, b.Notes...), "|")
}

func TestCSVInAnyDress(t *testing.T) {
	for text, want := range map[string]string{
		"a,b\n1,2\n":                 "A1=a|B1=b|A2=1|B2=2",
		"\xEF\xBB\xBFa,b\r\n1,2":     "A1=a|B1=b|A2=1|B2=2",
		"a;b\n2,4;3,5\n":             "A1=a|B1=b|A2=2,4|B2=3,5",
		"a\tb\n1\t2\n":               "A1=a|B1=b|A2=1|B2=2",
		"sep=|\na|b\n1|2\n":          "A2=a|B2=b|A3=1|B3=2",
		"a,b\n\n\n1,\n":              "A1=a|B1=b|A4=1",
		"a,b\n\"two\nlines\",x\n1":   "A1=a|B1=b|A2=two\nlines|B2=x|A3=1",
		"a,b\n ,\n,x\n":              "A1=a|B1=b|B3=x",
		"w,h\n5'-6 1/2\",7'\n":       "A1=w|B1=h|A2=5'-6 1/2\"|B2=7'",
		"a,b\n\"x\n1,2\n3,\"4\"\n":   "A1=a|B1=b|A2=\"x|A3=1|B3=2|A4=3|B4=4|doubt A2",
		"a,b\n1,\"x\n3,4\n":          "A1=a|B1=b|A2=1|B2=\"x|A3=3|B3=4|doubt B2",
		"a,b\n1,\"x \"\"y\"\" z\"\n": "A1=a|B1=b|A2=1|B2=x \"y\" z",
		"a,b\n1,\"x\" z\n":           "A1=a|B1=b|A2=1|B2=\"x\" z|doubt B2",
		"a,b,c\n1,2,\"x\n3,4,5\"\n":  "A1=a|B1=b|C1=c|A2=1|B2=2|C2=x\n3,4,5|swallowed C2",
		"a,b,c\n1\n1,2,3,4\n":        "A1=a|B1=b|C1=c|A2=1|A3=1|B3=2|C3=3|D3=4",
		"caf\xE9,b\n":                "A1=café|B1=b|x.csv is not UTF-8; it was read as Windows-1252",
		"\xFF\xFEa\x00,\x00b\x00":    "A1=a|B1=b",
		"\xFE\xFF\x00a\x00;\x00b":    "A1=a|B1=b",
	} {
		if got := rowsOf(t, text); got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
}

// Every trap of a sheet part in which the library's reader is silent: what it
// gives without an error, or the fault that has to be said.
func TestSheetParts(t *testing.T) {
	src := &source{strings: []string{"one"}, formats: []format{{kind: Number}, {kind: Date}}}
	for _, c := range []struct{ xml, want string }{
		{`<row r="2"><c r="B2"><v>5</v></c><c><v>6</v></c></row><row><c><v>7</v></c></row>`, "B2=5 C2=6 A3=7"},
		{`<row r="3"><c r="A3"><v>3</v></c></row><row r="1"><c r="B1"><v>2</v></c><c r="A1"><v>1</v></c></row>`, "A1=1 B1=2 A3=3"},
		{`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><r><t>a</t></r><r><t>b</t></r><rPh><t>x</t></rPh></is></c></row>`, "A1=one B1=ab"},
		{`<row r="1"><c r="A1"><f>1+1</f></c><c r="B1"><f>1+1</f><v/></c><c r="C1" t="str"><f>""</f><v></v></c><c r="D1" t="str"><f>x</f></c></row>`, "A1=?6 B1=?6 D1=?6"},
		{`<row r="1"><c r="A1" t="e"><v>#N/A</v></c><c r="B1" t="b"><v>1</v></c><c r="C1" s="1"><v>45000</v></c></row>`, "A1=#N/A?5 B1=1?4 C1=45000?7"},
		{`<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`, "stands twice"},
		{`<row r="1"><c r="A1"><v>1</v></c></row><row r="1"><c r="B1"><v>2</v></c></row>`, "stands twice"},
		{`<row r="1"><c r="A2"><v>1</v></c></row>`, "cell A2 in row 1"},
		{`<row r="0"><c><v>1</v></c></row>`, "row 0"},
		{`<row r="9999999"><c><v>1</v></c></row>`, "row 9999999"},
		{`<row r="1"><c r="A1" t="s"><v>9</v></c></row>`, "refers to a text that is not there"},
		{`<row r="1"><c r="A1"><v>1O</v></c></row>`, "no number"},
		{`<row r="1"><c r="A1"><v>Inf</v></c></row>`, "no number"},
	} {
		text := []byte(`<worksheet><sheetData>` + c.xml + `</sheetData></worksheet>`)
		src.take = func(name string, do func(*tag) error) error { return eachTag(name, text, do) }
		p := &sheetParser{src: src, sheet: &Sheet{Name: "S"}}
		err := src.take("s", p.tag)
		if err == nil {
			err = p.finish()
		}
		if got := cellsOf(p.sheet, err); got != c.want && (err == nil || !strings.Contains(got, c.want)) {
			t.Errorf("%s\nis read as %q, want %q", c.xml, got, c.want)
		}
	}
}

func cellsOf(s *Sheet, err error) string {
	if err != nil {
		return err.Error()
	}
	var out []string
	for _, row := range s.Rows {
		for _, c := range row.Cells {
			cell := Address(c.Col, row.Number) + "=" + c.Text
			if c.Kind > Number {
				cell += "?" + string('1'+rune(c.Kind))
			}
			out = append(out, cell)
		}
	}
	return strings.Join(out, " ")
}

// A part that unfolds to more than is left is refused before it is held.
func TestAPartTooLargeIsRefused(t *testing.T) {
	var b bytes.Buffer
	zw := zip.NewWriter(&b)
	w, err := zw.Create("xl/workbook.xml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(make([]byte, 1<<20)); err != nil {
		t.Fatal(err)
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	zr, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var r *Refusal
	if _, err := readPart(zr.File[0], 1<<20-1); !errors.As(err, &r) || !strings.Contains(r.What, "unfolds") {
		t.Errorf("the part is read with %v", err)
	}
	if text, err := readPart(zr.File[0], 1<<20); err != nil || len(text) != 1<<20 {
		t.Errorf("a part as large as is allowed: %d bytes, %v", len(text), err)
	}
}

func TestControlCharacters(t *testing.T) {
	for in, want := range map[string]string{"a_x000D_b": "a\rb", "_x005F_x000D_": "_x000D_", "_xZZZZ_": "_xZZZZ_", "_x": "_x", "plain": "plain"} {
		if got := unescape(in); got != want {
			t.Errorf("unescape(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestFill(t *testing.T) {
	r := Row{Number: 1, Cells: []Cell{{Col: 2, Kind: Text, Text: "b"}}}
	r.Fill([]Cell{{Col: 2, Kind: Text, Text: "x"}, {Col: 1, Kind: Text, Text: "a"}})
	if want := []Cell{{Col: 1, Kind: Text, Text: "a"}, {Col: 2, Kind: Text, Text: "b"}}; !reflect.DeepEqual(r.Cells, want) {
		t.Errorf("filled to %v, want %v", r.Cells, want)
	}
}

// A sheet that is read alone is as the whole workbook has it, found by a name that
// refers to it; a workbook without that sheet is refused.
func TestLone(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for _, err := range []error{
		f.SetSheetName("Sheet1", "First"), f.SetCellValue("First", "A1", "not this one"),
		f.SetSheetRow("First", "A2", &[]any{1, 2}),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if _, err := f.NewSheet("The order's"); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.SetSheetRow("The order's", "A1", &[]any{"Code", "Price"}), f.SetSheetRow("The order's", "A2", &[]any{"B1", 12.5}),
		f.SetDefinedName(&excelize.DefinedName{Name: "here", RefersTo: "'The order''s'!$A$1"})); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "x.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	whole, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Lone(path, func(names map[string]string) string { return SheetOf(names["here"]) })
	if err != nil || !reflect.DeepEqual(got, whole.Sheets[1]) {
		t.Errorf("read alone it is %+v, %v; want %+v", got, err, whole.Sheets[1])
	}
	if _, err := Lone(path, func(map[string]string) string { return "Nowhere" }); !errors.As(err, new(*Refusal)) {
		t.Errorf("a sheet that is not there gives %v", err)
	}
}
