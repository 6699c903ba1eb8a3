package report

import (
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	surveybook "lapwright/convert/survey/book"
)

// sheetNameMost is the most characters a sheet's name may have.
const sheetNameMost = 31

// names are the sheet names taken so far, folded.
type names map[string]bool

// take returns want as a sheet name that is legal and not yet taken, and takes
// it: what a spreadsheet forbids becomes a dash, the end is cut, and a number
// makes it unique.
func (n names) take(want string) string { return n.takeApart(want, "") }

// takeApart does so with words at the end that tell sheets of one name apart and
// are kept where the name is cut.
func (n names) takeApart(want, words string) string {
	base := legalName(want)
	if words != "" {
		tail := " " + cutName(legalName(words), sheetNameMost/2)
		base = strings.TrimRight(cutName(base, sheetNameMost-utf16Length(tail)), " '") + tail
	}
	got := base
	for i := 2; n[strings.ToLower(got)]; i++ {
		tail := " (" + strconv.Itoa(i) + ")"
		got = strings.TrimRight(cutName(base, sheetNameMost-len(tail)), " '") + tail
	}
	n[strings.ToLower(got)] = true
	return got
}

func utf16Length(s string) int { return len(utf16.Encode([]rune(s))) }

func legalName(want string) string {
	s := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]`, r) || r < ' ' || r == 0xFFFE || r == 0xFFFF {
			return '-'
		}
		return r
	}, want)
	s = strings.Trim(cutName(strings.Trim(s, " '"), sheetNameMost), " '")
	switch strings.ToLower(s) {
	case "":
		return "Wall"
	case "history": // a spreadsheet program keeps this name for itself
		return "History wall"
	}
	return s
}

// cutName cuts s to at most n UTF-16 units, the unit spreadsheets count in.
func cutName(s string, n int) string {
	used := 0
	for i, r := range s {
		used += utf16.RuneLen(r)
		if used > n {
			return s[:i]
		}
	}
	return s
}

// Hidden defined names tell the next run what this one made. Those that begin
// with sheetMark refer each to the first cell of a sheet of ours, and follow it
// when a reader renames it; OrderName refers to the order summary; RunName holds
// what this run came to. mark lists, as a text, sheets of a survey that are no
// data of its own, as a blank survey's page of help.
const (
	ours      = "lapwright_"
	mark      = ours + "sheets"
	sheetMark = ours + "sheet_"
)

// RunName is the hidden name that every takeoff workbook has, and no other;
// OrderName is the one that every workbook with an order of ours has.
const (
	RunName   = ours + "run"
	OrderName = ours + "order"
)

// SealName is the hidden name that keeps the seal of the file; namesPart is the part
// that holds all defined names.
const (
	SealName  = ours + "seal"
	namesPart = "xl/workbook.xml"
)

// writtenName is the hidden name that keeps what the sheets summed up to when they
// were written.
const writtenName = ours + "written"

// markMost is the most characters a text in a formula may have.
const markMost = 255

// signNames writes the marks.
func (b *book) signNames() error {
	if len(b.help) > 0 {
		if err := b.sign(mark, strings.Join(b.help, "|")); err != nil {
			return err
		}
	}
	for i, s := range b.own {
		if err := b.hiddenName(sheetMark+strconv.Itoa(i+1), ref(s)+"!$A$1"); err != nil {
			return err
		}
	}
	return b.hiddenName(OrderName, b.cellRef("Order summary", "$A$1"))
}

// sign writes a text into a hidden defined name, or into as many as it takes,
// numbered.
func (b *book) sign(name, text string) error {
	chunks := chunk(text, markMost)
	for i, c := range chunks {
		full := name
		if len(chunks) > 1 {
			full += "_" + strconv.Itoa(i+1)
		}
		if err := b.hiddenName(full, `"`+strings.ReplaceAll(c, `"`, `""`)+`"`); err != nil {
			return err
		}
	}
	return nil
}

func (b *book) hiddenName(name, refersTo string) error {
	if err := b.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: refersTo}); err != nil {
		return err
	}
	all := b.file.WorkBook.DefinedNames.DefinedName
	all[len(all)-1].Hidden = true
	return nil
}

// chunk cuts s into pieces of at most n UTF-16 units, counting a double quote
// twice because a formula doubles it.
func chunk(s string, n int) []string {
	var out []string
	from, used := 0, 0
	for i, r := range s {
		size := utf16.RuneLen(r)
		if r == '"' {
			size = 2
		}
		if used+size > n {
			out, from, used = append(out, s[from:i]), i, 0
		}
		used += size
	}
	return append(out, s[from:])
}

// signedNames reads the list of sheets that are no data.
func signedNames(f *excelize.File) map[string]bool {
	parts := map[string]string{}
	for _, d := range f.GetDefinedName() {
		s := strings.TrimSuffix(strings.TrimPrefix(d.RefersTo, `"`), `"`)
		parts[d.Name] = strings.ReplaceAll(s, `""`, `"`)
	}
	joined := parts[mark]
	for i := 1; parts[mark+"_"+strconv.Itoa(i)] != ""; i++ {
		joined += parts[mark+"_"+strconv.Itoa(i)]
	}
	out := map[string]bool{}
	for _, s := range strings.Split(joined, "|") {
		out[s] = true
	}
	delete(out, "")
	return out
}

// madeSheets lists the sheets that an earlier takeoff made.
func madeSheets(f *excelize.File) map[string]bool {
	out := map[string]bool{}
	for _, d := range f.GetDefinedName() {
		if strings.HasPrefix(d.Name, sheetMark) {
			out[surveybook.SheetOf(d.RefersTo)] = true
		}
	}
	delete(out, "")
	return out
}
