package survey

import (
	"regexp"

	"lapwright/convert/survey/book"
)

// linkText matches the place of a cell in column A, as a link writes it.
var linkText = regexp.MustCompile(`^#?(?:'(?:[^']|'')+'|[^'!]+)!\$?A\$?[1-9][0-9]*$`)

// dropLinkTexts blanks the cells that hold the place of a flag and nothing
// else. A takeoff links a flagged cell of its survey to the sheet of flags; a
// library that saves the workbook again may fill a blank cell that has a link
// with the link's own text, which is no value of the survey.
func dropLinkTexts(b *book.Book, ours map[string]bool) {
	if len(ours) == 0 {
		return
	}
	for _, s := range b.Sheets {
		if ours[s.Name] {
			continue
		}
		rows := s.Rows[:0]
		for _, row := range s.Rows {
			kept := row.Cells[:0]
			for _, c := range row.Cells {
				if c.Kind != book.Text || !linkText.MatchString(c.Text) || !ours[book.SheetOf(unhashed(c.Text))] {
					kept = append(kept, c)
				}
			}
			if row.Cells = kept; len(kept) > 0 {
				rows = append(rows, row)
			}
		}
		s.Rows = rows
	}
}

func unhashed(s string) string {
	if s[0] == '#' {
		return s[1:]
	}
	return s
}
