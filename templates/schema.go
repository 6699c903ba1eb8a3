// Package templates holds what the program is told rather than computes: one
// schema a sheet of the survey, in the form of a Frictionless Table Schema;
// the built-in neutral catalogue; and the filled example. All of it is text,
// embedded. The schemas drive the reader, the checks, the blank workbook and
// the table of columns in the README, so that these cannot disagree.
package templates

import (
	"embed"
	"encoding/json"
	"fmt"
	"strings"
)

//go:embed *.json *.csv example/*.csv
var files embed.FS

// Names lists the survey's sheets in the order the workbook has them.
func Names() []string {
	return []string{"Job", "Walls", "Openings", "Plots", "Rules", "Products", "Declared", "Mapping", "Offcuts"}
}

// Sheet is one sheet of the survey. A sheet whose orientation is "items" has a
// row for each field: Columns then are its columns, the first names the item
// and the second holds its value.
type Sheet struct {
	Name        string       `json:"name"`
	Title       string       `json:"title"`
	Description string       `json:"description"`
	Orientation string       `json:"orientation"`
	OtherNames  []string     `json:"otherNames"`
	PrimaryKey  []string     `json:"primaryKey"`
	ForeignKeys []ForeignKey `json:"foreignKeys"`
	Columns     []Field      `json:"columns"`
	Fields      []Field      `json:"fields"`
}

// ForeignKey says that fields of a sheet name a row of another one.
type ForeignKey struct {
	Fields    []string `json:"fields"`
	Reference struct {
		Resource string   `json:"resource"`
		Fields   []string `json:"fields"`
	} `json:"reference"`
}

// Field is one column, or one item of a sheet of items. Name, Title,
// Description, Type and Constraints are Table Schema's own. Of the rest: Unit
// is what the value is stored in; Form is "lengths" (a;b;c), "points"
// (x,z;x,z) or "date" of a text; OtherNames are other spellings of the header
// and Words other spellings of the words it may hold; Plausible bounds a value
// that is questioned outside them but taken; About explains the words; a fault
// in an Advisory field keeps nothing out of the takeoff.
type Field struct {
	Name        string              `json:"name"`
	Title       string              `json:"title"`
	Description string              `json:"description"`
	Type        string              `json:"type"`
	Form        string              `json:"form"`
	Unit        string              `json:"unit"`
	Constraints Constraints         `json:"constraints"`
	Plausible   []float64           `json:"plausible"`
	Default     string              `json:"default"`
	Example     string              `json:"example"`
	OtherNames  []string            `json:"otherNames"`
	Words       map[string][]string `json:"words"`
	About       map[string]string   `json:"about"`
	Advisory    bool                `json:"advisory"`
}

// Constraints are the limits a value must keep; nil or empty: none.
type Constraints struct {
	Required bool     `json:"required"`
	Minimum  *float64 `json:"minimum"`
	Maximum  *float64 `json:"maximum"`
	Enum     []string `json:"enum"`
	Pattern  string   `json:"pattern"`
}

// Items reports whether the sheet has a row, not a column, for each field.
func (s *Sheet) Items() bool { return s.Orientation == "items" }

// Header returns the sheet's columns as they stand from left to right.
func (s *Sheet) Header() []Field {
	if s.Items() {
		return s.Columns
	}
	return s.Fields
}

// Field returns the field of that name, or nil.
func (s *Sheet) Field(name string) *Field {
	for i := range s.Fields {
		if s.Fields[i].Name == name {
			return &s.Fields[i]
		}
	}
	return nil
}

// Schema returns the schema of the survey sheet of that name.
func Schema(name string) (*Sheet, error) {
	text, err := files.ReadFile(strings.ToLower(name) + ".json")
	if err != nil {
		return nil, fmt.Errorf("no schema of a sheet %q", name)
	}
	var s Sheet
	if err := json.Unmarshal(text, &s); err != nil {
		return nil, fmt.Errorf("schema of %s: %w", name, err)
	}
	return &s, nil
}

// Schemas returns the schemas of all sheets, in the order of [Names].
func Schemas() ([]*Sheet, error) {
	var out []*Sheet
	for _, name := range Names() {
		s, err := Schema(name)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}
