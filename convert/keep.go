package convert

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/convert/survey/book"
	"lapwright/engine/natural"
)

// Saved is where a file was written. Where something there was kept, Kept is the
// name it would have had, and Why says in words why not, and how to go on.
type Saved struct{ Name, Kept, Why string }

// keeper says which files that are there are not written over.
type keeper struct {
	mark    string                         // of the workbooks that may be
	carried map[survey.EditKey]survey.Edit // edits that the new workbook brings
	how     func(path string) string       // how those of a kept one are carried on
	fed     bool                           // by feeding it in
}

// aside names the file beside one that is kept: the first under a number, from one
// on, that is free or of this kind and of nobody's work. What skip names is passed
// over; what is kept as well is told.
func (k keeper) aside(path, why string, from int, skip func(name string) bool) Saved {
	for n := from; ; n++ {
		name := numberedBy(path, n)
		if exists(name) {
			if skip(name) {
				continue
			}
			if also := k.keeps(name); also != "" {
				why += "; " + filepath.Base(name) + " is kept as well: " + also
				continue
			}
		}
		return Saved{name, path, why}
	}
}

// SaveOrder writes a workbook with an order, whole or not at all, over an earlier
// one; anything else there is kept, and so is what a reader has edited.
func SaveOrder(path string, write func(io.Writer) error) (Saved, error) {
	k := keeper{mark: report.OrderName, how: func(string) string { return "type it into the new one, or into Products" }}
	to := Saved{Name: path}
	if why := k.keeps(path); why != "" {
		to = k.aside(path, why, 2, func(name string) bool { return IsTakeoff(name) || !marked(name, report.OrderName) })
	}
	return to.save(write)
}

// save writes the file and says where it is.
func (s Saved) save(write func(io.Writer) error) (Saved, error) {
	name, err := save(s.Name, write)
	if err == nil && name != s.Name {
		s.Kept, s.Why = s.Name, "it cannot be replaced; it may be open in another program"
	}
	s.Name = name
	return s, err
}

// keeps says why a file that is there is not written over: it is not one of ours
// with that mark, something holds it, or its order has edits that the new one will
// not carry; blank where none of these is so.
func (k keeper) keeps(path string) string {
	info, err := os.Stat(path)
	switch lock := Lock(path); {
	case err != nil:
		return ""
	case info.IsDir():
		return "a folder has that name"
	case !marked(path, k.mark):
		return "this program did not make it"
	case lock != "":
		return "a spreadsheet program has it open (" + filepath.Base(lock) + " lies beside it)"
	case info.Mode().Perm()&0o200 == 0:
		return "it is read-only"
	}
	if typed := editsIn(path, k.carried); typed != "" {
		return "its order was edited (" + typed + "); to carry that on, " + k.how(path)
	}
	return k.written(path)
}

// written says where else somebody has written into a workbook of ours.
func (k keeper) written(path string) string {
	if b, err := book.NamesIn(path); err != nil || report.Untouched(path, b.Text(report.SealName)) {
		return "" // the most common, and reading all takes as long as writing
	}
	w, err := survey.ReadWritten(path)
	copied := "; to carry that on, copy it over"
	switch {
	case err != nil:
		return ""
	case len(w.Made) == 0 && len(w.Survey) == 0:
		return ""
	case len(w.Made) == 0 && k.fed:
		copied = "; to carry that on, " + k.how(path)
	case len(w.Survey) > 0 && k.fed:
		copied += ", and " + k.how(path)
	}
	return "something was written into it since (" + sheetsNamed(append(w.Made, w.Survey...)) + ")" + copied
}

func sheetsNamed(names []string) string {
	if len(names) == 1 {
		return "sheet " + names[0]
	}
	return "sheets " + some(names)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// editsIn says what a reader has typed into the order of an earlier workbook and
// is not carried; blank where nothing, or nothing that can be read.
func editsIn(path string, carried map[survey.EditKey]survey.Edit) string {
	lines, flags, err := survey.ReadEdits(path)
	if err != nil {
		return ""
	}
	var said []string
	for _, k := range sortedKeys(lines) {
		e := lines[k]
		if e.Issued == nil {
			continue
		}
		if now, ok := carried[k]; !ok || now.Now != e.Now {
			said = append(said, editWords(k, edited(e), *e.Issued)...)
		}
		if typedOver(e) {
			said = append(said, lineName(k)+" quantity")
		}
	}
	for _, f := range flags {
		said = append(said, f.Place.Cell+" ("+f.What+")")
	}
	return some(said)
}

// some names the first of a list and counts the rest.
func some(names []string) string {
	out := strings.Join(names[:min(len(names), listed)], ", ")
	if n := len(names) - listed; n > 0 {
		out += fmt.Sprintf(" and %d more", n)
	}
	return out
}

// sortedKeys lists the lines of an order in order.
func sortedKeys(lines map[survey.EditKey]survey.Edit) []survey.EditKey {
	return slices.SortedFunc(maps.Keys(lines), func(a, b survey.EditKey) int {
		return cmp.Or(natural.Compare(a.Drop, b.Drop), cmp.Compare(a.Role, b.Role), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Colour, b.Colour))
	})
}
