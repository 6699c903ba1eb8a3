package survey

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"lapwright/convert/survey/book"
)

// Sum is what a sheet sums up to, as [book.Contents] has it.
type Sum struct{ Sheet, Sum string }

// surveySums sums up the sheets of a workbook that no takeoff made. What formulas
// give changes by itself, and where they stand is not ours.
func surveySums(b *book.Book) []Sum {
	made := madeSheets(b)
	var out []Sum
	for _, s := range b.Sheets {
		if !slices.Contains(made, s.Name) {
			out = append(out, Sum{s.Name, s.Sum(false, isOurLink)})
		}
	}
	return out
}

// isOurLink reports whether a cell holds nothing but the place of its flag, which
// some programs write there where they save a link at a blank cell.
func isOurLink(_ *book.Row, c book.Cell) bool {
	return c.Kind == book.Text && strings.HasPrefix(c.Text, "'Flagged issues")
}

// writtenName is the hidden name in which a workbook of ours keeps what its sheets
// summed up to when it was written.
const writtenName = "lapwright_written"

// The sums of sheets stand apart by a comma, those that were made from those of the
// survey by a semicolon; a colon and the number of its comments may follow each.

// Written is where somebody has written into a workbook that this program made.
type Written struct {
	Made   []string // sheets that the program made, and makes anew
	Survey []string // sheets of the survey, and such as were added
}

// Stamp tells a takeoff from any other, whatever was written into it since; blank
// where a file is none.
func Stamp(path string) string {
	b, err := book.NamesIn(path)
	if err != nil {
		return ""
	}
	return b.Text(keptName) + b.Text(writtenName)
}

// ReadWritten compares a workbook that this program made with what it kept of it.
// What a reader may change in the order is left out: [ReadEdits] tells of it.
func ReadWritten(path string) (Written, error) {
	var w Written
	b, err := book.Open(context.Background(), path)
	if err != nil {
		return w, refusal(err)
	}
	kept := b.Text(writtenName)
	if kept == "" {
		return w, nil
	}
	made, survey, _ := strings.Cut(kept, ";")
	names, order := madeSheets(b), orderSheet(b.Names)
	for i, sum := range fields(made) {
		at := slices.IndexFunc(b.Sheets, func(s *book.Sheet) bool { return i < len(names) && s.Name == names[i] })
		if at < 0 {
			continue // it is gone, and nothing with it that was written
		}
		var skip func(*book.Row, book.Cell) bool
		if names[i] == order {
			skip = orderInputs(b.Sheets[at])
		}
		if s := b.Sheets[at]; noted(s.Sum(true, skip), s.Notes) != sum {
			w.Made = append(w.Made, s.Name)
		}
	}
	theirs := fields(survey)
	for i, s := range surveySums(b) {
		at := slices.IndexFunc(b.Sheets, func(other *book.Sheet) bool { return other.Name == s.Sheet })
		if i >= len(theirs) || !slices.Contains(theirs, noted(s.Sum, b.Sheets[at].Notes)) {
			w.Survey = append(w.Survey, s.Sheet)
		}
	}
	return w, nil
}

func fields(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

func noted(sum string, notes int) string {
	if notes > 0 {
		sum += ":" + strconv.Itoa(notes)
	}
	return sum
}

// orderInputs names the cells of an order's lines that are a reader's to change.
func orderInputs(s *book.Sheet) func(*book.Row, book.Cell) bool {
	role, inputs := 0, map[int]bool{}
	if len(s.Rows) > 0 {
		for _, c := range s.Rows[0].Cells {
			if _, is := wanted[c.Text]; is {
				inputs[c.Col] = true
			} else if c.Text == "Role" {
				role = c.Col
			}
		}
	}
	return func(row *book.Row, c book.Cell) bool {
		return row.Number > 1 && inputs[c.Col] && row.At(role).Kind != book.Blank
	}
}
