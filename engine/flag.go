package engine

// Place is where a value stood in the survey. The engine copies places into
// flags and never reads them.
type Place struct {
	File  string `json:"file"`
	Sheet string `json:"sheet"`
	Cell  string `json:"cell"` // A1 notation
}

// Origin is where a row stood in the survey: a sheet, the row in it, and which
// column held which field.
type Origin struct {
	Sheet *SheetMap
	Row   int // counted from 1, as the spreadsheet shows it
}

// SheetMap says in which column of a sheet each field stands. It is shared by
// all rows of a sheet.
type SheetMap struct {
	File    string
	Sheet   string
	Columns map[string]string // header of the contract -> column letters
	Last    string            // letters of the column a missing field is shown at

	// Turned says that each row of the table is a column of the sheet: Columns
	// and Last hold row numbers, and an Origin's Row counts columns.
	Turned bool
}

// At returns the place of the field with that header in this row; for a field
// whose column is missing, the row's first cell.
func (o Origin) At(header string) Place {
	if o.Sheet == nil {
		return Place{}
	}
	column, ok := o.Sheet.Columns[header]
	if !ok {
		column = o.Sheet.Last
	}
	switch {
	case o.Sheet.Turned && column == "":
		column = "1"
	case column == "":
		column = "A"
	}
	if o.Sheet.Turned {
		return Place{File: o.Sheet.File, Sheet: o.Sheet.Sheet, Cell: letters(o.Row) + column}
	}
	return Place{File: o.Sheet.File, Sheet: o.Sheet.Sheet, Cell: column + itoa(o.Row)}
}

// letters names a column by its number, 1 being A.
func letters(column int) string {
	var out string
	for ; column > 0; column = (column - 1) / 26 {
		out = string(rune('A'+(column-1)%26)) + out
	}
	return out
}

// Severity grades a flag.
type Severity int

// The three severities: a stop keeps its wall out of the takeoff, a check
// wants a decision before anyone cuts, a note is for information.
const (
	Note Severity = iota
	Check
	Stop
)

// String returns the word the sheets use.
func (s Severity) String() string {
	return [...]string{"note", "check", "stop"}[s]
}

// MarshalText writes the word, for JSON.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Flag is one thing wrong or doubtful: the single shape of problem in the
// whole program. What says what is wrong, Do what to do about it.
type Flag struct {
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`
	Plot     string   `json:"plot,omitempty"`
	Wall     string   `json:"wall,omitempty"`
	Place    Place    `json:"place"`
	What     string   `json:"what"`
	Do       string   `json:"do"`
}
