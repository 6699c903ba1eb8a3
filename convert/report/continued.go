package report

import (
	"fmt"
	"strings"
)

// sheetRows is how many rows a sheet may have.
const sheetRows = 1 << 20

// rowsMost is how many rows of a table one sheet holds, below its header.
func (b *book) rowsMost() int {
	if b.in.rowsMost > 0 {
		return b.in.rowsMost
	}
	return sheetRows - 1
}

// sheetsFor is how many sheets a table of n rows takes.
func (b *book) sheetsFor(n int) int { return max(1, (n+b.rowsMost()-1)/b.rowsMost()) }

// continuedName names the sheet on which a table goes on; part 0 is its first.
func continuedName(want string, part int) string {
	if part == 0 {
		return want
	}
	return fmt.Sprintf("%s %d", want, part+1)
}

// continued adds the sheets on which tables go on that are longer than a sheet
// may be.
func (b *book) continued(sheets []planned) []planned {
	var out []planned
	for _, s := range sheets {
		for part := range b.sheetsFor(b.tableRows(s.want)) {
			more := s
			more.want = continuedName(s.want, part)
			more.write = func(b *book, sheet string) error {
				b.in.part = part
				defer func() { b.in.part = 0 }()
				return s.write(b, sheet)
			}
			out = append(out, more)
		}
	}
	return out
}

// settleContinued notes what the sheets on which tables go on were named.
func (b *book) settleContinued(sheets []planned) {
	for _, s := range sheets {
		if stem, _, ok := cutLast(s.want, " "); ok && b.sheetsFor(b.tableRows(stem)) > 1 {
			b.actual[s.want] = s.sheet
		}
	}
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// tableRows is how many rows the table of a sheet has that may grow with the
// job; 0 for other sheets.
func (b *book) tableRows(sheet string) int {
	n := 0
	for i := range b.res.Walls {
		switch sheet {
		case "Cut list":
			n += b.res.Counts(i).Pieces
		case "Storey rod":
			n += len(b.res.Walls[i].Courses)
		case "Battens":
			n += b.res.Counts(i).Battens
		case "Trims":
			n += b.res.Counts(i).Trims
		case "Fixing schedule":
			n += b.res.Counts(i).Fixings
		}
	}
	switch {
	case sheet == "Cutting plan":
		n = b.res.CutCount()
	case sheet == "Measured quantities":
		n = len(b.res.Measured)
	case sheet == "Flagged issues":
		n = len(b.flags)
	case sheet == "Survey as read" && b.in.AsRead != nil:
		n = len(b.in.AsRead.Rows)
	case sheet == "Rejected" && b.in.Rejected != nil:
		n = len(b.in.Rejected.Rows)
	case sheet == "Plot sheets":
		n = len(b.plotRows())
	case sheet == "Questions":
		n = len(b.in.Questions)
	}
	return n
}

// growing are the sheets whose tables may go on on another.
func growing() []string {
	return []string{"Cut list", "Storey rod", "Battens", "Trims", "Cutting plan", "Fixing schedule", "Measured quantities", "Survey as read", "Rejected", "Questions", "Flagged issues", "Plot sheets"}
}

// part returns from and up to which of a table's n rows stand on the sheet being
// written.
func (b *book) part(n int) (from, to int) {
	most := b.rowsMost()
	from = min(b.in.part*most, n)
	return from, min(from+most, n)
}

// over writes a formula for each sheet of a table of n rows and adds them up;
// column gives the range of a column, by its letters, on one sheet.
func (b *book) over(sheet string, n int, form func(column func(letters string) string) string) string {
	var sum []string
	for part := range b.sheetsFor(n) {
		rows := min(n-part*b.rowsMost(), b.rowsMost())
		sum = append(sum, form(func(letters string) string { return b.rangeRef(continuedName(sheet, part), letters, rows) }))
	}
	return strings.Join(sum, "+")
}

// longTables says which tables go on on other sheets.
func (s *summary) longTables() {
	for _, sheet := range growing() {
		if n := s.b.tableRows(sheet); s.b.sheetsFor(n) > 1 {
			last := continuedName(sheet, s.b.sheetsFor(n)-1)
			s.add(sheet, count(n), "rows", fmt.Sprintf("More than a sheet holds: the table goes on to the sheet %s.", last))
		}
	}
}
