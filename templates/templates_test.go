package templates

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// The keys that the Table Schema standard gives a field, and ours beside them.
// Source: Frictionless Data, Table Schema 1.0, "Field Descriptors" and
// "Constraints" (from memory).
func TestSchemasAreTableSchemas(t *testing.T) {
	field := []string{"name", "title", "description", "type", "constraints", "example",
		"form", "unit", "plausible", "default", "otherNames", "words", "about", "advisory"}
	constraint := []string{"required", "minimum", "maximum", "enum", "pattern"}
	for _, name := range Names() {
		text, err := files.ReadFile(strings.ToLower(name) + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var raw struct {
			Fields []map[string]json.RawMessage `json:"fields"`
		}
		if err := json.Unmarshal(text, &raw); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, f := range raw.Fields {
			for key := range f {
				if !slices.Contains(field, key) {
					t.Errorf("%s: field %s has the unknown key %q", name, f["name"], key)
				}
			}
			var limits map[string]json.RawMessage
			if f["constraints"] != nil {
				if err := json.Unmarshal(f["constraints"], &limits); err != nil {
					t.Fatal(err)
				}
			}
			for key := range limits {
				if !slices.Contains(constraint, key) {
					t.Errorf("%s: field %s has the unknown constraint %q", name, f["name"], key)
				}
			}
		}
	}
}

func TestEveryFieldIsComplete(t *testing.T) {
	sheets, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		if s.Title == "" || s.Description == "" {
			t.Errorf("%s has no title or description", s.Name)
		}
		for _, f := range append(slices.Clone(s.Fields), s.Columns...) {
			if f.Name == "" || f.Title == "" || f.Description == "" {
				t.Errorf("%s: field %q lacks a name, title or description", s.Name, f.Name)
			}
			if !slices.Contains([]string{"string", "integer", "number", "boolean"}, f.Type) {
				t.Errorf("%s: field %s has the type %q", s.Name, f.Name, f.Type)
			}
			if f.Default != "" && len(f.Constraints.Enum) > 0 && !slices.Contains(f.Constraints.Enum, f.Default) {
				t.Errorf("%s: the default of %s is none of its words", s.Name, f.Name)
			}
			for word := range f.Words {
				if !slices.Contains(f.Constraints.Enum, word) {
					t.Errorf("%s: %s has other spellings of %q, which is none of its words", s.Name, f.Name, word)
				}
			}
			for word := range f.About {
				if !slices.Contains(f.Constraints.Enum, word) {
					t.Errorf("%s: %s explains %q, which is none of its words", s.Name, f.Name, word)
				}
			}
		}
	}
}

// The headers that the workbook promises, in its order.
func TestHeadersOfTheContract(t *testing.T) {
	for name, want := range map[string]string{
		"Walls":    "Plot|Wall|Width mm|Height mm|Height right mm|Apex height mm|Apex from left mm|Base mm|Base step from left mm|Base step mm|Base profile|Top profile|Left edge|Right edge|Top edge|Base edge|Left meets|Right meets|Level line|Batten centres mm|First batten mm|Colour|Quantity|Face length mm|From face left mm|Party walls mm|Notes",
		"Openings": "Plot|Wall|Opening|Kind|From left mm|Sill mm|Sill width mm|Sill depth mm|Width mm|Height mm|Reveal mm|Lined|Notes",
		"Plots":    "Plot|House type|Handed|Colour|Drop|Address",
		"Products": "Role|Code|Description|Colour|Unit|Length mm|Width mm|Thickness mm|Pack|Price|Weight kg|Turns end for end",
		"Rules":    "Rule|Value|Unit|Why",
		"Declared": "Item|Value|Unit|Source",
		"Job":      "Item|Value",
		"Mapping":  "Sheet|Their header|Ours",
		"Offcuts":  "Code|Colour|Length mm|Count",
	} {
		s, err := Schema(name)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, f := range s.Header() {
			names = append(names, f.Name)
		}
		if got := strings.Join(names, "|"); !strings.HasPrefix(got+"|", want+"|") {
			t.Errorf("%s has the headers\n%s\nwant\n%s", name, got, want)
		}
	}
}

func TestCatalogueHasEveryRoleInTwoColours(t *testing.T) {
	rows, err := Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	s, err := Schema("Products")
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range s.Fields {
		if rows[0][i] != f.Name {
			t.Errorf("column %d of the catalogue is %q, want %q", i+1, rows[0][i], f.Name)
		}
	}
	lines, codes := map[string]map[string]bool{}, map[string]bool{}
	for _, row := range rows[1:] {
		if lines[row[0]] == nil {
			lines[row[0]] = map[string]bool{}
		}
		lines[row[0]][row[3]] = true
		if codes[row[1]] {
			t.Errorf("the code %s stands twice", row[1])
		}
		codes[row[1]] = true
	}
	roles := s.Field("Role")
	for _, role := range roles.Constraints.Enum {
		colours := lines[role]
		if len(colours) == 0 || !colours[""] && len(colours) < 2 {
			t.Errorf("the role %s has %d colours; it should have none of its own or two", role, len(colours))
		}
		if roles.About[role] == "" {
			t.Errorf("the role %s is not explained", role)
		}
	}
}

func TestMarkdownListsEveryField(t *testing.T) {
	text, err := Markdown()
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		_, part, found := strings.Cut(text, "### "+s.Name+"\n")
		if !found {
			t.Errorf("no section %s", s.Name)
		}
		part, _, _ = strings.Cut(part, "\n### ")
		for _, f := range s.Fields {
			if !strings.Contains(part, "\n| "+f.Name+" | ") {
				t.Errorf("section %s has no row %s", s.Name, f.Name)
			}
		}
	}
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "|") && strings.Count(line, "|") != 5 {
			t.Errorf("the row has other than four cells: %s", line)
		}
	}
}

func TestUnknownSchema(t *testing.T) {
	if _, err := Schema("Roofs"); err == nil {
		t.Error("a schema of a sheet that does not exist")
	}
	if rows, err := Example("Plots"); rows != nil || err != nil {
		t.Errorf("Example(Plots) = %v, %v, want nothing", rows, err)
	}
}
