package survey

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/convert/survey/book"
)

// complete refuses a survey in which nothing stands that could be taken off.
func (r *reader) complete(b *book.Book) error {
	file := ""
	if len(b.Sheets) > 0 {
		file = b.Sheets[0].File
	}
	for _, t := range r.tables {
		if t.schema.Name == "Walls" && t.report.Rows > t.report.Blank {
			return nil
		}
		if t.schema.Name == "Walls" {
			return &Error{File: file, What: "has no walls: the sheet " + t.sheet.Name + " has no rows under its headers", Do: "Fill in a row for each wall"}
		}
	}
	ours := ownSheets(b)
	var names []string
	for _, s := range b.Sheets {
		if !ours[s.Name] {
			names = append(names, s.Name)
		}
	}
	if len(names) == 0 && len(ours) > 0 {
		return &Error{File: file, What: "is a takeoff without its survey, which was left out or was no workbook", Do: "Take off the survey itself"}
	}
	do := "Name the sheet Walls, with the headers Wall, Width mm and Height mm, or say in a Mapping sheet which headers mean them"
	switch {
	case r.files && slices.ContainsFunc(r.reports, isRead):
		do = "Put the walls into the same folder, as Walls.csv with the headers Wall, Width mm and Height mm, and take off the folder"
	case r.files:
		do = "Give it the headers Wall, Width mm and Height mm, or say with --mapping which headers mean them; --save-mapping writes one to fill in"
	}
	return &Error{File: file, What: "has no sheet of walls; its sheets are: " + strings.Join(names, ", ") + r.nearlyWalls(b, ours) + r.mistyped(), Do: do}
}

// isRead reports whether a sheet was taken for one that says something of walls.
func isRead(rep *SheetReport) bool {
	return rep.As != "" && rep.As != "Mapping" && rep.As != "Products"
}

// nearlyWalls says what the sheet that comes nearest to one of walls lacks, and
// flags its headers, so that a mapping and the questions can ask for them.
func (r *reader) nearlyWalls(b *book.Book, ours map[string]bool) string {
	schema, say := r.schema("Walls"), ""
	var sheet *book.Sheet
	var head *book.Row
	least := 3 // as many as are needed: no header is known
	for _, s := range b.Sheets {
		row, _ := r.headerRow(s, schema)
		switch {
		case ours[s.Name] || slices.ContainsFunc(r.reports, func(rep *SheetReport) bool {
			return isRead(rep) && rep.File == s.File && rep.Name == s.Name
		}):
		case row == nil && sheet == nil:
			if row = firstWords(s); row != nil {
				sheet, head = s, row
			}
		case row == nil:
		default:
			if lacks := r.lacks(s, row, schema); len(lacks) < least {
				least, sheet, head = len(lacks), s, row
				say = fmt.Sprintf(". Row %d of %s has some of the headers, and none that is known as %s", row.Number, s.Name, strings.Join(lacks, " or "))
			}
		}
	}
	if sheet != nil {
		r.doubt(sheet, head)
	}
	for _, rep := range r.reports {
		r.unknown(rep, b)
	}
	return say
}

// unknown has a mapping ask for a sheet that is not known, and for its headers.
func (r *reader) unknown(rep *SheetReport, b *book.Book) {
	if rep.Why != notKnown {
		return
	}
	for _, s := range b.Sheets {
		if row := firstWords(s); s.File == rep.File && s.Name == rep.Name && row != nil {
			rep.asked, rep.Header, rep.Headers = true, row.Number, r.texts(row)
		}
	}
}

// doubt reads a row of headers as one of walls, all that is not known in doubt.
func (r *reader) doubt(s *book.Sheet, head *book.Row) {
	r.reports = slices.DeleteFunc(r.reports, func(rep *SheetReport) bool { return rep.File == s.File && rep.Name == s.Name })
	t := &table{schema: r.schema("Walls"), sheet: s, report: r.report(s, "Walls", "nearest to walls"), header: head.Number, next: 1}
	r.columnsOf(t, head)
	r.missingLabels(t)
	for i := range t.report.Columns {
		t.report.Columns[i].doubtful = true
	}
}

// firstWords returns the first row of a sheet that may be one of headers: it
// holds two texts or more.
func firstWords(s *book.Sheet) *book.Row {
	for i := range s.Rows[:min(len(s.Rows), headersLookedFor)] {
		n := 0
		for _, c := range s.Rows[i].Cells {
			if c.Kind == book.Text && tidy(c.Text) != "" {
				n++
			}
		}
		if n > 1 {
			return &s.Rows[i]
		}
	}
	return nil
}

// mistyped repeats what was flagged of the mapping, or that a file named for one is
// none: it may be why no walls were found.
func (r *reader) mistyped() string {
	say := ""
	for _, f := range r.flags {
		switch {
		case f.Code == mappingCode:
			say += ". In the mapping, " + f.What
		case f.Code == MissingLabel && slices.ContainsFunc(r.reports, func(rep *SheetReport) bool {
			return rep.As == "Mapping" && rep.File == f.Place.File && rep.Name == f.Place.Sheet
		}):
			say += ". Of " + f.Place.File + ", named for the mapping: " + f.What
		}
	}
	return say
}
