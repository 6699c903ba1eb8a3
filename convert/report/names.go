package report

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// sheetNameMost is the most characters a sheet's name may have.
const sheetNameMost = 31

// names are the sheet names taken so far, folded.
type names map[string]bool

// take returns want as a sheet name that is legal and not yet taken, and takes
// it: what a spreadsheet forbids becomes a dash, the end is cut, and a number
// makes it unique.
func (n names) take(want string) string {
	base := legalName(want)
	got := base
	for i := 2; n[strings.ToLower(got)]; i++ {
		tail := " (" + strconv.Itoa(i) + ")"
		got = strings.TrimRight(cutName(base, sheetNameMost-len(tail)), " '") + tail
	}
	n[strings.ToLower(got)] = true
	return got
}

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

// Two hidden defined names list sheets: mark those that are no survey's data
// and are not to be read as one, made those a takeoff made and makes anew. A
// blank survey's page of help is the first and not the second.
const (
	mark = "lapwright_sheets"
	made = "lapwright_takeoff"
)

// markMost is the most characters a text in a formula may have.
const markMost = 255

// signNames writes both lists.
func (b *book) signNames() error {
	if err := b.sign(mark, append(slices.Clone(b.help), b.own...)); err != nil {
		return err
	}
	return b.sign(made, b.own)
}

// sign writes names joined by | into a hidden defined name, or into as many as
// it takes, numbered.
func (b *book) sign(name string, sheets []string) error {
	chunks := chunk(strings.Join(sheets, "|"), markMost)
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

// signedNames reads a list of sheets back from a workbook.
func signedNames(f *excelize.File, name string) map[string]bool {
	parts := map[string]string{}
	for _, d := range f.GetDefinedName() {
		s := strings.TrimSuffix(strings.TrimPrefix(d.RefersTo, `"`), `"`)
		parts[d.Name] = strings.ReplaceAll(s, `""`, `"`)
	}
	joined := parts[name]
	for i := 1; parts[name+"_"+strconv.Itoa(i)] != ""; i++ {
		joined += parts[name+"_"+strconv.Itoa(i)]
	}
	out := map[string]bool{}
	for _, s := range strings.Split(joined, "|") {
		out[s] = true
	}
	delete(out, "")
	return out
}
