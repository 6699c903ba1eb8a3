package survey

import (
	"math/big"
	"strings"
	"testing"

	"lapwright/convert/survey/book"
)

func textCell(s string) book.Cell { return book.Cell{Col: 1, Kind: book.Text, Text: s} }

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
func TestNumbersInAnyWriting(t *testing.T) {
	r := testReader(t)
	for _, c := range []struct {
		text    string
		decimal byte
		want    string // "value unit", or "" for a refusal
	}{
		{"2400", 0, "2400"}, {" 2400 ", 0, "2400"}, {"2400mm", 0, "2400 mm"}, {"2400 MM", 0, "2400 mm"}, {"2.4 m", 0, "12/5 m"},
		{"2.4m.", 0, "12/5 m"}, {"240 cm", 0, "240 cm"}, {"2 400", 0, "2400"}, {"2\u00A0400", 0, "2400"}, {"2\u202F400 mm", 0, "2400 mm"},
		{"1 234 567", 0, "1234567"}, {"2 40", 0, ""}, {"24 00", 0, ""}, {"2,4", 0, "12/5"}, {"2,4 m", 0, "12/5 m"},
		{"2,400", 0, ""}, {"2,400 mm", 0, ""}, {"2,400", '.', "2400"}, {"2,400", ',', "12/5"}, {"2.400", ',', "2400"}, {"2.400", 0, "12/5"},
		{"0,400", 0, "2/5"}, {"1,234,567", 0, "1234567"}, {"1,234.5", 0, "2469/2"}, {"1.234,5", 0, "2469/2"}, {"1.234.567", 0, "1234567"},
		{"12,40", 0, "62/5"}, {"12,40", '.', ""}, {"1,23,456", 0, ""}, {"2,", 0, ""}, {"2.", 0, ""}, {".5", 0, "1/2"},
		{"-48", 0, "-48"}, {"−48 mm", 0, "-48 mm"}, {"+38", 0, "38"}, {"- 5", 0, "-5"}, {"--5", 0, ""}, {"5-", 0, ""},
		{"NaN", 0, ""}, {"Inf", 0, ""}, {"1e3", 0, ""}, {"0x10", 0, ""}, {"", 0, ""}, {"m", 0, ""}, {"2400?", 0, ""}, {"c. 2400", 0, ""},
		{"2400 + 50", 0, ""}, {"2400/2", 0, ""}, {"٣", 0, ""}, {"1234567890123456", 0, ""}, {"2400 mmm", 0, ""}, {"'2400", 0, "2400"}, {"’2400", 0, "2400"},
		{`5'-6 1/2"`, 0, "133/2 in"}, {`5' 6 1/2"`, 0, "133/2 in"}, {"5'6\"", 0, "66 in"}, {"5 ft 6 in", 0, "66 in"}, {"5ft6in", 0, "66 in"},
		{"5'", 0, "60 in"}, {"5 feet", 0, "60 in"}, {`66.5"`, 0, "133/2 in"}, {"6½\"", 0, "13/2 in"}, {"5′ 6½″", 0, "133/2 in"}, {"5' 6", 0, "66 in"},
		{"5'-6 1/2", 0, "133/2 in"}, {`1/2"`, 0, "1/2 in"}, {"6 1/2", 0, ""}, {"5' 13\"", 0, ""}, {"5' 1/0\"", 0, ""}, {"5' 6 3/2\"", 0, ""}, {"5.5 ft", 0, "11/2 ft"},
	} {
		got := ""
		if n, fault := r.parseNumber(c.text, c.decimal); fault == nil {
			got = strings.TrimSpace(n.value.RatString() + " " + n.suffix.name)
		}
		if got != c.want {
			t.Errorf("%q with decimal mark %q is %q, want %q", c.text, c.decimal, got, c.want)
		}
	}
}

func TestTwoReadingsAreBothSaid(t *testing.T) {
	_, fault := testReader(t).parseNumber("2,400", 0)
	if fault == nil || !strings.Contains(fault.what, "2400") || !strings.Contains(fault.what, "2.400") {
		t.Errorf("the fault is %v, want both readings in it", fault)
	}
}

// In whole millimetres a dot before three digits may group them or cut them
// off; what is no length of such a thing, or is said in metres, has one reading.
func TestADotMayHaveTwoReadings(t *testing.T) {
	r := testReader(t)
	left := r.schema("Openings").Field("From left mm")
	m, _ := r.unitOf("m")
	for _, c := range []struct {
		text   string
		column unit
		want   string // "": refused
	}{
		{"1.200", unit{}, ""}, {"1.200 mm", unit{}, ""}, {"1.200 m", unit{}, "1200"}, {"1.200", m, "1200"}, {"1.2", m, "1200"},
		{"900.000", unit{}, "900"}, {"0.900 m", unit{}, "900"}, {"1200.000", unit{}, "1200"}, {"12.00", unit{}, "12"},
	} {
		v, found := r.parseNumeric(textCell(c.text), left, c.column)
		got := ""
		if v.set {
			got = v.length.String()
		}
		if got != c.want || got == "" && (!strings.Contains(found[0].what, "1200 or 1.2")) {
			t.Errorf("%q in a column of %q is read as %q with %v, want %q", c.text, c.column.name, got, found, c.want)
		}
	}
	if v, _ := r.parseNumeric(book.Cell{Kind: book.Number, Text: "1.200"}, left, m); v.length.String() != "1200" {
		t.Errorf("the number 1.2 in metres is read as %v", v.length)
	}
}

// A fraction stands without its mark where the column is one of inches or feet.
func TestFractionsInTheirColumn(t *testing.T) {
	r := testReader(t)
	width := r.schema("Walls").Field("Width mm")
	for _, c := range []struct{ text, unit, want string }{
		{"100 1/2", "in", "2553"}, {"100½", "in", "2553"}, {"100-1/2", "in", "2553"}, {"100 1/2\"", "mm", "2553"}, {"96.25", "in", "2445"},
		{"8 1/4", "ft", "2515"}, {"100 1/2", "mm", ""}, {"100 3/2", "in", ""}, {"8'-4-1/2\"", "mm", "2553"},
	} {
		u, _ := r.unitOf(c.unit)
		v, _ := r.parseNumeric(textCell(c.text), width, u)
		got := ""
		if v.set {
			got = v.length.String()
		}
		if got != c.want {
			t.Errorf("%q in a column of %s is read as %q mm, want %q", c.text, c.unit, got, c.want)
		}
	}
}

// A spreadsheet shows 15 digits of what it stores; the rest is noise of the
// binary form: 0.1 + 0.2 is stored as 0.30000000000000004.
func TestNoiseOfTheBinaryFormIsNotRead(t *testing.T) {
	for raw, want := range map[string]string{
		"0.30000000000000004": "3/10", "2399.9999999999995": "2400", "2.4": "12/5", "2.4E3": "2400", "1E-3": "1/1000", "-7": "-7", "7200": "7200",
	} {
		v, ok := rawNumber(raw)
		w, _ := new(big.Rat).SetString(want)
		if !ok || v.Cmp(w) != 0 {
			t.Errorf("%s is read as %v, want %s", raw, v, want)
		}
	}
	for _, raw := range []string{"1E300", "-1e16", "x", ""} {
		if v, ok := rawNumber(raw); ok {
			t.Errorf("%q is read as %v", raw, v)
		}
	}
}

// FuzzNumber holds the parser to what is true of every text: it does not
// panic, reads plain digits as they are, takes only texts with a digit, and
// reads a number the same with a unit behind it.
func FuzzNumber(f *testing.F) {
	for _, s := range []string{"2400", "2,400", "5'-6 1/2\"", "2.4 m", "-1", "½\"", "1.234,5", "9 999 999", "'"} {
		f.Add(s, byte(0))
		f.Add(s, byte(','))
	}
	r := testReader(f)
	f.Fuzz(func(t *testing.T, s string, mark byte) {
		if mark != ',' && mark != '.' {
			mark = 0
		}
		n, fault := r.parseNumber(s, mark)
		if fault != nil {
			if fault.what == "" || fault.do == "" {
				t.Errorf("%q is refused without words", s)
			}
			return
		}
		if !strings.ContainsAny(s, "0123456789½¼¾⅛⅜⅝⅞") {
			t.Errorf("%q, which has no digit, is read as %v", s, n.value)
		}
		if allDigits(s) && s != "" {
			if want, ok := new(big.Rat).SetString(s); !ok || n.value.Cmp(want) != 0 {
				t.Errorf("%q is read as %v", s, n.value)
			}
		}
		if n.suffix.kind == "" {
			m, fault := r.parseNumber(s+" mm", mark)
			if fault != nil || m.value.Cmp(n.value) != 0 || m.suffix.name != "mm" {
				t.Errorf("%q is read as %v, but with mm behind it as %v (%v)", s, n.value, m.value, fault)
			}
		}
	})
}

// Day and month may stand either way round: a date that can be read both ways is
// refused, as a number with two readings is (ISO 8601 has one order, which stays).
func TestDates(t *testing.T) {
	r := testReader(t)
	for text, want := range map[string]string{
		"2026-04-03": "2026-04-03", "31/03/2026": "2026-03-31", "03/31/2026": "2026-03-31", "4/4/2026": "2026-04-04",
		"3.4.2026": "2026-04-03", "3 April 2026": "2026-04-03", "03/04/2026": "", "3-4-2026": "",
	} {
		v, found := r.parseDate(textCell(text))
		if v.text != want || (want == "") != (len(found) == 1 && strings.Contains(found[0].what, "2026-04-03 or 2026-03-04")) {
			t.Errorf("%s is %q with %v, want %q", text, v.text, found, want)
		}
	}
}

// A suggestion is the nearest word, and of timber classes the nearest number.
func TestNearest(t *testing.T) {
	classes := []string{"C14", "C16", "C18", "C24"}
	for word, want := range map[string]string{"C17": "C16", "c 23": "C24", "Z": ""} {
		if got := nearest(word, classes); got != want {
			t.Errorf("nearest to %s is %q, want %q", word, got, want)
		}
	}
}
