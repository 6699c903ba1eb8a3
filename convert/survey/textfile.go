package survey

import (
	"cmp"
	"slices"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// flagText tells what was unusual about a text file: its letters, and marks
// of quotation that leave open where a value ends.
func (r *reader) flagText(s *book.Sheet) {
	if s.Note != "" {
		r.flag(s, 1, 1, engine.Flag{Severity: note, Code: "encoding", What: "The file " + s.Note, Do: "Nothing, if its letters are right; saved as CSV UTF-8 it leaves no doubt"})
	}
	for _, d := range s.Doubts {
		f := engine.Flag{Severity: check, Code: "quote-open", What: "The quotation mark here has no partner; it was read as a letter of the value, which ends where the next column or line begins",
			Do: "Take it out, or double it"}
		if d.Swallowed {
			f.Severity = stop
			f.What, f.Do = swallowedWhat, "Take the quotation marks out of this value, or put the lines into rows of their own"
		}
		r.flag(s, d.Row, d.Col, f)
	}
}

const swallowedWhat = "The value goes on over several lines that look like rows of their own; they were not read as rows"

// swallowed leaves out a row in which a value may have swallowed others.
func (rec *record) swallowed() {
	all := rec.t.sheet.Doubts // in order of row
	from, _ := slices.BinarySearchFunc(all, rec.row.Number, func(d book.Doubt, row int) int { return cmp.Compare(d.Row, row) })
	for _, d := range all[from:] {
		if d.Row != rec.row.Number {
			break
		}
		if d.Swallowed {
			rec.stopped = true
			rec.why = append(rec.why, rec.t.sheet.Address(d.Col, d.Row)+": "+swallowedWhat)
		}
	}
}
