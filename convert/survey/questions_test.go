package survey

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
)

// Every code that stops a wall or wants a decision has a question of its own,
// and none is listed that no flag has.
func TestEveryCodeHasItsQuestion(t *testing.T) {
	var codes []string
	for _, c := range faultCases {
		for _, line := range c.want {
			if f := strings.Fields(line); f[0] != "note" && !slices.Contains(codes, f[1]) {
				codes = append(codes, f[1])
			}
		}
	}
	for _, code := range codes {
		if asked()[code] == "" {
			t.Errorf("the code %s has no question", code)
		}
	}
	for code, ask := range asked() {
		if !slices.Contains(codes, code) {
			t.Errorf("the question of %s is never asked", code)
		}
		if !strings.HasSuffix(ask, "?") {
			t.Errorf("%q is no question", ask)
		}
	}
}

// One question a cell, with what was read there; notes and other files are not
// the customer's to answer.
func TestQuestions(t *testing.T) {
	book := sound()
	book["Walls"][1][2], book["Walls"][2][4], book["Openings"][1][6] = "7,200", "round the bend", nil
	book["Job"] = [][]any{{"Item", "Value"}, {"Board", "LB-1"}}
	catalogue := filepath.Join(t.TempDir(), "Products.csv")
	writeCSV(t, catalogue, [][]string{{"Role", "Code"}, {"tape", ""}})
	s := read(t, workbook(t, book, hidden("Walls", 4)), Options{Products: catalogue})
	var got []string
	for _, q := range s.Asks {
		if q.Place.File != "survey.xlsx" || q.Wrong == "" {
			t.Errorf("the question is not complete: %+v", q)
		}
		got = append(got, strings.Join([]string{q.Wall, q.Place.Sheet + "!" + q.Place.Cell, q.Read, q.Ask}, "|"))
	}
	want := []string{
		"|Job!B2|LB-1|Is it LB-180-36-CH? If not: Which one is meant, or should it be added?",
		"Front|Walls!C2|7,200|What is the right value, and in which unit?",
		"Side|Walls!E3|round the bend|Which is it: external corner, internal corner, abutment, open end?",
		"Front|Openings!G2||What should stand here?",
	}
	if !slices.Equal(got, want) {
		t.Errorf("asked are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !slices.ContainsFunc(s.Flags, func(f engine.Flag) bool { return f.Place.File == "Products.csv" }) {
		t.Error("the file beside the survey is not flagged, so that nothing is shown by its absence")
	}
}

// A question asks what its cell may hold: a unit of lengths only, the nearest
// word where there is one, and nothing of the office's own rules.
func TestQuestionsFitTheirCells(t *testing.T) {
	book := sheets{
		"Job":      {{"Item", "Value"}, {"Timber class", "C17"}, {"Currency", "Pounds"}},
		"Rules":    {{"Rule", "Value"}, {"Kerf", "four"}},
		"Walls":    {{"Wall", "Width mm", "Height mm", "Top profile", "Rigth edge"}, {"Front", 7200, 4890, nil, "open end"}, {"Back", "wide", 4890, "x,2400", nil}},
		"Openings": {{"Wall", "From left mm", "Sill mm", "Width mm", "Height mm", "Quantity"}, {"Front", 700, 900, 1200, 1050, 2}, {"Frnt", 3000, 900, 1200, 1050, nil}},
	}
	got := map[string]string{}
	for _, q := range read(t, workbook(t, book), Options{}).Asks {
		got[q.Place.Sheet+"!"+q.Place.Cell] = q.Ask
	}
	for cell, want := range map[string]string{
		"Job!B2":      "Which is it: C14, C16, C18, C20, C22, C24, C27, C30?",
		"Job!B3":      usualAsk,
		"Walls!B3":    valueAsk,
		"Walls!D3":    usualAsk,
		"Walls!E1":    "Is it Right edge? If not: What does this hold, and is it wanted?",
		"Openings!F2": usualAsk,
		"Openings!A3": "Is it Front? If not: Which one is meant, or should it be added?",
		"Rules!B2":    "",
	} {
		if got[cell] != want {
			t.Errorf("at %s is asked %q, want %q", cell, got[cell], want)
		}
	}
}

// Two faults of one cell are one question.
func TestOneQuestionACell(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": {{"Wall", "Width", "Height"}, {"Front", 7200, 4890}}, "Openings": {
		{"Wall", "From left", "Sill", "Size"}, {"Front", 700, 900, "large"}}}), Options{})
	if len(s.Asks) != 1 || s.Asks[0].Place.Cell != "D2" {
		t.Errorf("asked are %+v, want one question at D2", s.Asks)
	}
}
