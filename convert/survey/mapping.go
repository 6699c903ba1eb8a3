package survey

import (
	"io"
	"strings"

	"github.com/gocarina/gocsv"

	"lapwright/convert/survey/book"
	"lapwright/templates"
)

// mappingRow is one line of a mapping file, in the headers of the sheet
// Mapping. All fields are text: the library would turn a blank into a zero and
// a misspelt header into nothing.
type mappingRow struct {
	Sheet  string `csv:"Sheet"`
	Header string `csv:"Their header"`
	Ours   string `csv:"Ours"`
}

// WriteMapping writes what the survey's sheets and headers were taken for as a
// mapping that a later survey of the same customer can be read with. Headers
// are listed under our sheet, whatever the next survey calls its own. A column
// of no known meaning is listed to be left out; one that may be misspelt, or
// that another column contradicts, is listed without a meaning, so that the
// next survey asks again until it is filled in. So are, where no walls were found,
// the sheets of no known meaning and their headers.
func (s *Survey) WriteMapping(w io.Writer) error {
	rows := []mappingRow{}
	seen := map[mappingRow]bool{}
	add := func(row mappingRow) {
		if !seen[row] {
			seen[row] = true
			rows = append(rows, row)
		}
	}
	for _, sheet := range s.Sheets {
		if sheet.asked {
			add(mappingRow{sheet.Name, "", ""})
			for _, h := range sheet.Headers {
				if h != "" {
					add(mappingRow{sheet.Name, h, ""})
				}
			}
		}
		if sheet.As == "" || sheet.As == "Mapping" {
			continue
		}
		if sheet.Name != sheet.As && !strings.HasPrefix(sheet.Why, "one of several tables") {
			add(mappingRow{sheet.Name, "", sheet.As})
		}
		for _, c := range sheet.Columns {
			if ours, ok := c.ours(); ok {
				add(mappingRow{sheet.As, c.Header, ours})
			}
		}
	}
	return gocsv.Marshal(rows, w)
}

// ours is what a mapping says of a column: our header with the unit the column
// is in; ok is false where nothing needs to be said.
func (c Column) ours() (ours string, ok bool) {
	switch {
	case c.How == besideWall || c.Header == "" || c.Header == c.Field && c.Unit == c.own:
		return "", false
	case c.How == sizeInCell:
		return "", false // a size is known by its header alone
	case c.Field == "" && c.doubtful:
		return "", true
	case c.Field == "":
		return "-", true
	case c.own != "" && c.Unit != c.own:
		return c.base + " " + c.Unit, true
	}
	return c.Field, true
}

// How a column was understood, where it was not by its header alone.
const (
	besideWall = "opening beside its wall"
	sizeInCell = "width and height in one cell"
)

// mapEntry is one line of a mapping: on their sheet (blank: any), their header
// (blank: the sheet itself) means ours.
// Sheet and header are folded; their is the header as it was written.
type mapEntry struct{ sheet, header, ours, their string }

// leftOpen lists the headers of a sheet for which the mapping has nothing of ours.
func (r *reader) leftOpen(s *book.Sheet, schema *templates.Sheet) string {
	var out []string
	for _, m := range r.unfilled {
		if m.header != "" && m.on(s, schema) {
			out = append(out, m.their)
		}
	}
	return strings.Join(out, ", ")
}

// on reports whether a line of the mapping is of that sheet.
func (m mapEntry) on(s *book.Sheet, schema *templates.Sheet) bool {
	return m.sheet == "" || m.sheet == fold(s.Name) || m.sheet == fold(schema.Name)
}

// mapped returns what the mapping makes of a header.
func (r *reader) mapped(s *book.Sheet, schema *templates.Sheet, header string) (string, bool) {
	base, _, _ := r.splitUnit(header)
	key, bare := fold(header), fold(base)
	for _, m := range r.mapping {
		if (m.header == key || m.header == bare) && m.header != "" && m.on(s, schema) {
			return m.ours, true
		}
	}
	return "", false
}
