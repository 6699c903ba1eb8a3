package templates

import (
	"fmt"
	"strconv"
	"strings"
)

// Markdown renders the columns of every sheet as tables for the README.
func Markdown() (string, error) {
	sheets, err := Schemas()
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for i, s := range sheets {
		if i > 0 {
			b.WriteString("\n")
		}
		s.markdown(&b)
	}
	return b.String(), nil
}

func (s *Sheet) markdown(b *strings.Builder) {
	first := "Column"
	fmt.Fprintf(b, "### %s\n\n%s. %s\n\n", s.Name, s.Title, s.Description)
	if s.Items() {
		first = s.Columns[0].Name
		fmt.Fprintf(b, "Columns: %s.\n\n", s.columnNames())
	}
	fmt.Fprintf(b, "| %s | What | Holds | Blank |\n| --- | --- | --- | --- |\n", first)
	for i := range s.Fields {
		f := &s.Fields[i]
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", f.Name, f.Description, f.Holds(), f.Blank())
	}
}

func (s *Sheet) columnNames() string {
	var names []string
	for _, c := range s.Columns {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}

// Holds says in words what the field may hold: words, or a kind of value with
// its unit and limits.
func (f *Field) Holds() string {
	if len(f.Constraints.Enum) > 0 {
		return strings.Join(f.Constraints.Enum, ", ")
	}
	kind := map[string]string{"integer": "whole number", "number": "number", "boolean": "yes or no", "string": "text"}[f.Type]
	if form := map[string]string{"lengths": "numbers with ; between", "points": "points x,z; x,z", "date": "date", "openings": "words"}[f.Form]; form != "" {
		kind = form
	}
	if f.Unit != "" {
		kind += ", " + f.Unit
	}
	return kind + f.limits()
}

func (f *Field) limits() string {
	lo, hi := f.Constraints.Minimum, f.Constraints.Maximum
	switch {
	case lo != nil && hi != nil:
		return ", " + Number(*lo) + " to " + Number(*hi)
	case lo != nil:
		return ", at least " + Number(*lo)
	case hi != nil:
		return ", at most " + Number(*hi)
	}
	return ""
}

// Blank says what a blank cell of the field means.
func (f *Field) Blank() string {
	switch {
	case f.Constraints.Required:
		return "needed"
	case f.Default != "":
		return f.Default
	}
	return ""
}

// Number writes a limit without exponent or needless decimals.
func Number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
