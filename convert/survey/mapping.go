package survey

import (
	"io"

	"github.com/gocarina/gocsv"
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
// mapping that a later survey of the same customer can be read with. Columns
// that were not read are listed to be left out, so that they can be filled in.
func (s *Survey) WriteMapping(w io.Writer) error {
	rows := []mappingRow{}
	for _, sheet := range s.Sheets {
		if sheet.As == "" || sheet.As == "Mapping" {
			continue
		}
		if sheet.Name != sheet.As {
			rows = append(rows, mappingRow{sheet.Name, "", sheet.As})
		}
		for _, c := range sheet.Columns {
			switch {
			case c.How == "opening beside its wall" || c.Header == "":
			case c.Field == "":
				rows = append(rows, mappingRow{sheet.Name, c.Header, "-"})
			case c.Header != c.Field:
				rows = append(rows, mappingRow{sheet.Name, c.Header, c.ours()})
			}
		}
	}
	return gocsv.Marshal(rows, w)
}

// ours is our header with the unit the column is in.
func (c Column) ours() string {
	if c.own != "" && c.Unit != c.own {
		return c.base + " " + c.Unit
	}
	return c.Field
}
