package report

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// TestSheetNames holds names to the limits of spreadsheets (ECMA-376 and the
// published limits of Excel): at most 31 characters, none of []:*?/\, no
// apostrophe at either end, unique without case, not History.
func TestSheetNames(t *testing.T) {
	n := names{}
	long := strings.Repeat("a very long name ", 4)
	for _, tt := range []struct{ want, got string }{
		{"Plot 1 Front", "Plot 1 Front"},
		{"plot 1 FRONT", "plot 1 FRONT (2)"},
		{`a/b\c:d*e?f[g]`, "a-b-c-d-e-f-g-"},
		{"'quoted'", "quoted"},
		{"o'clock", "o'clock"},
		{"", "Wall"},
		{"  ", "Wall (2)"},
		{"History", "History wall"},
		{long, "a very long name a very long na"},
		{long + "x", "a very long name a very lon (2)"},
		{strings.Repeat("\U0001F3E0", 20), strings.Repeat("\U0001F3E0", 15)}, // two units each
		{"tab\there", "tab-here"},
	} {
		got := n.take(tt.want)
		if got != tt.got {
			t.Errorf("%q: got %q, want %q", tt.want, got, tt.got)
		}
		if l := len(utf16.Encode([]rune(got))); l > 31 {
			t.Errorf("%q has %d characters", got, l)
		}
	}
}

// TestSheetNamesApart: what tells sheets of one name apart stays when the name is
// cut to 31 characters.
func TestSheetNamesApart(t *testing.T) {
	n := names{}
	long := strings.Repeat("a very long name ", 4)
	for _, tt := range []struct{ want, words, got string }{
		{"A North", "drop D1", "A North drop D1"},
		{"A North", "drop D2", "A North drop D2"},
		{"A North", "drop D2", "A North drop D2 (2)"},
		{long, "drop D1", "a very long name a very drop D1"},
		{long, "drop D2", "a very long name a very drop D2"},
		{long, long, "a very long nam a very long nam"},
		{long, strings.Repeat("\U0001F3E0", 20), "a very long name " + strings.Repeat("\U0001F3E0", 7)},
		{"A", "[1]", "A -1-"},
	} {
		got := n.takeApart(tt.want, tt.words)
		if got != tt.got || len(utf16.Encode([]rune(got))) > 31 {
			t.Errorf("%q, %q: got %q, want %q", tt.want, tt.words, got, tt.got)
		}
	}
}

// TestMarksReadBack writes more names than one formula's text holds, and sheets
// whose names want quoting.
func TestMarksReadBack(t *testing.T) {
	b := &book{file: excelize.NewFile(), actual: map[string]string{"Order summary": "o'clock"}}
	b.own = []string{"one", "o'clock", "plot 1 it's \"W\"", "'!'"}
	b.help = strings.Fields(strings.Repeat(`one tw"o three o'clock `, 30))
	b.help = append(b.help, `"`+strings.Repeat(`"`, 29)+`"`)
	if err := b.signNames(); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		want []string
		got  map[string]bool
	}{{"help", b.help, signedNames(b.file)}, {"made", b.own, madeSheets(b.file)}} {
		for _, s := range tt.want {
			if !tt.got[s] {
				t.Errorf("%s: %s does not read back", tt.name, s)
			}
		}
	}
	if a, b := len(signedNames(b.file)), len(madeSheets(b.file)); a != 5 || b != 4 {
		t.Errorf("got %d sheets that are no data and %d made, want 5 and 4", a, b)
	}
	for _, d := range b.file.WorkBook.DefinedNames.DefinedName {
		if !d.Hidden || len(d.Data) > 257 {
			t.Errorf("%s is hidden: %v, and %d long", d.Name, d.Hidden, len(d.Data))
		}
	}
}

func TestRunning(t *testing.T) {
	for _, tt := range []struct {
		s    string
		most int
		want string
	}{
		{"Smith & Co", 60, "Smith && Co"},
		{"12 High Street", 60, " 12 High Street"}, // or 12 would be a letter size
		{"line\nbreak", 60, "line break"},
		{"a & b", 3, "a "}, // no half of a doubled ampersand
		{"", 5, ""},
	} {
		if got := running(tt.s, tt.most); got != tt.want {
			t.Errorf("%q in %d: got %q, want %q", tt.s, tt.most, got, tt.want)
		}
	}
}

func TestRunningTitlesFit(t *testing.T) {
	in := fullInput(t)
	in.Result.Job.Name = strings.Repeat("&9", 200)
	left := in.Result.Left[0]
	for range 50 {
		in.Result.Left = append(in.Result.Left, left)
	}
	f := opened(t, written(t, in)) // an overlong header is an error of the library
	head, err := f.GetHeaderFooter("Summary")
	if err != nil || !strings.Contains(head.OddHeader, "ORDER INCOMPLETE: without 51 walls") {
		t.Errorf("got the header %q (%v)", head.OddHeader, err)
	}
	// the parts of a header print over each other: one of them only (ECMA-376
	// Part 1, 18.3.1.46: &L, &C and &R begin them), and no line over the page
	if strings.Contains(head.OddHeader, "&C") || strings.Contains(head.OddHeader, "&R") || !strings.HasSuffix(head.OddHeader, " more") {
		t.Errorf("the header has more parts than one, or is cut: %q", head.OddHeader)
	}
	_, lacks, _ := strings.Cut(head.OddHeader, "\n")
	if n := len(lacks); n == 0 || n > 120 {
		t.Errorf("what the order lacks takes %d letters: %q", n, lacks)
	}
}

// Without a name of its own the job goes by its survey's.
func TestHeaderNamesTheSurvey(t *testing.T) {
	in := fullInput(t)
	in.Result.Job.Name = ""
	head, err := opened(t, written(t, in)).GetHeaderFooter("Cut list")
	if err != nil || !strings.Contains(head.OddHeader, in.SurveyName) {
		t.Errorf("got the header %q (%v)", head.OddHeader, err)
	}
}
