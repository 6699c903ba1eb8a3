package survey

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// sound is a survey without a fault. Columns of Walls: A Plot, B Wall, C Width,
// D Height, E and F edges, G and H meets, I Quantity, J Notes. Of Openings: A
// Plot, B Wall, C Opening, D Kind, E From left, F Sill, G Width, H Height, I
// Reveal, J Lined.
func sound() sheets {
	return sheets{
		"Walls": {
			{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Left meets", "Right meets", "Quantity", "Notes"},
			{nil, "Front", 7200, 4890, "external corner", "external corner", nil, "Side", 1, nil},
			{nil, "Side", 6000, 4890, "external corner", "abutment", "Front", nil, nil, "by the gate"},
			{nil, "Back", 7200, 2600, "open end", "internal corner", nil, nil, 2, nil},
		},
		"Openings": {
			{"Plot", "Wall", "Opening", "Kind", "From left mm", "Sill mm", "Width mm", "Height mm", "Reveal mm", "Lined"},
			{nil, "Front", "W1", "window", 700, 1050, 1200, 1200, nil, nil},
			{nil, "Front", "W2", "window", 3000, 900, 1500, 1350, 90, "yes"},
			{nil, "Side", "D1", "door", 800, 0, 1010, 2250, 0, "no"},
		},
	}
}

// A wanted flag is "severity code Sheet!Cell".
var faultCases = []struct {
	name string
	set  map[string]any // cells that differ from the sound survey
	more func(*excelize.File)
	want []string
	left []string // walls not taken off
}{
	{name: "none"},
	{name: "text for a number", set: m{"Walls!C3": "six metres"}, want: w("stop type-error Walls!C3", leftDoor), left: w("Side")},
	{name: "two readings", set: m{"Walls!C3": "6,000"}, want: w("stop type-error Walls!C3", leftDoor), left: w("Side")},
	{name: "a dot with two readings", set: m{"Openings!E4": "1.200"}, want: w("stop type-error Openings!E4", "note left-out Walls!B3"), left: w("Side")},
	{name: "a date for a number", more: cellDate("Walls", "C3"), want: w("stop type-error Walls!C3", leftDoor), left: w("Side")},
	{name: "a percentage for a number", more: cellFormat("Walls", "D3", 9), want: w("stop type-error Walls!D3", leftDoor), left: w("Side")},
	{name: "yes for a number", set: m{"Walls!D4": true}, want: w("stop type-error Walls!D4"), left: w("Back")},
	{name: "another kind of unit", set: m{"Walls!D4": "2600 kg"}, want: w("stop type-error Walls!D4"), left: w("Back")},
	{name: "formula without value", more: cellFormula("Walls", "C4", "7000+200"), want: w("stop type-error Walls!C4"), left: w("Back")},
	{name: "part of a count", set: m{"Walls!I4": 2.5}, want: w("stop type-error Walls!I4"), left: w("Back")},
	{name: "part of a millimetre", set: m{"Walls!C4": 7200.5}, want: w("check type-error Walls!C4")},
	{name: "an error value", set: m{"Openings!E4": "#REF!"}, want: w("stop type-error Openings!E4", "note left-out Walls!B3"), left: w("Side")},
	{name: "metres in a column of millimetres", set: m{"Walls!C4": 7.2}, want: w("stop constraint-error Walls!C4"), left: w("Back")},
	{name: "negative width", set: m{"Openings!G2": -1200}, want: w("stop constraint-error Openings!G2", "note left-out Walls!B2", "note left-out Openings!C3"), left: w("Front")},
	{name: "unknown word", set: m{"Walls!E4": "externl cornr"}, want: w("stop constraint-error Walls!E4"), left: w("Back")},
	{name: "an apex under no known edge", set: m{"Walls!K1": "Ridge height mm", "Walls!K3": 7250}, want: w("check apex-top Walls!K3")},
	{name: "an apex under a verge", set: m{"Walls!K1": "Ridge height mm", "Walls!K3": 7250, "Walls!L1": "Top edge", "Walls!L3": "verge"}},
	{name: "unusual size", set: m{"Walls!C4": 72000}, want: w("check deviated-value Walls!C4")},
	{name: "missing width", set: m{"Walls!C4": nil}, want: w("stop missing-cell Walls!C4"), left: w("Back")},
	{name: "missing sill", set: m{"Openings!F4": nil}, want: w("stop missing-cell Openings!F4", "note left-out Walls!B3"), left: w("Side")},
	{name: "wall without name", set: m{"Walls!B4": nil}, want: w("stop missing-cell Walls!B4"), left: w("the wall in row 4")},
	{name: "names in other dress", set: m{"Walls!B3": "'Si\u00ADde\u200E", "Openings!B4": "\u202ASide\u202C"}},
	{name: "wall twice", set: m{"Walls!B4": "FRONT "}, want: w("stop primary-key Walls!B4"), left: w("FRONT")},
	{name: "opening twice", set: m{"Openings!C3": "W1"}, want: w("check primary-key Openings!C3")},
	{name: "opening without its wall", set: m{"Openings!B4": "Sied"}, want: w("stop foreign-key Openings!B4")},
	{name: "opening of another plot", set: m{"Openings!A4": "7"}, want: w("stop foreign-key Openings!B4", "check plot-blank Openings!A2")},
	{name: "meets no wall", set: m{"Walls!H2": "Nowhere"}, want: w("check foreign-key Walls!H2")},
	{name: "meets itself", set: m{"Walls!G3": "Side"}, want: w("check row-constraint Walls!G3")},
	{name: "beyond the wall", set: m{"Openings!E4": 5500}, want: w("stop opening-outside Openings!E4", "note left-out Walls!B3"), left: w("Side")},
	{name: "above the wall", set: m{"Openings!H4": 5000}, want: w("stop opening-outside Openings!H4", "note left-out Walls!B3"), left: w("Side")},
	{name: "below the boards", set: m{"Openings!F4": -3000}, want: w("check opening-outside Openings!F4")},
	{name: "overlap", set: m{"Openings!E3": 1800}, want: w("stop opening-overlap Openings!E3", "note left-out Walls!B2", "note left-out Openings!C2"), left: w("Front")},
	{name: "lower than a board", set: m{"Walls!D4": 320}, want: w("stop wall-low Walls!D4", "check deviated-value Walls!D4"), left: w("Back")},
	{name: "lined without depth", set: m{"Openings!J2": "yes"}, want: w("stop row-constraint Openings!I2", "note left-out Walls!B2", "note left-out Openings!C3"), left: w("Front")},
	{name: "neither yes nor no", set: m{"Openings!J4": "perhaps"}, want: w("stop type-error Openings!J4", "note left-out Walls!B3"), left: w("Side")},
	{name: "column missing", set: m{"Walls!D1": nil, "Walls!D2": nil, "Walls!D3": nil, "Walls!D4": nil},
		want: w("stop missing-label Walls!K1", "note left-out Openings!C2", "note left-out Openings!C3", leftDoor), left: w("Front", "Side", "Back")},
	{name: "misspelt column", set: m{"Walls!I1": "Quantitty"}, want: w("check extra-label Walls!I1")},
	{name: "misspelt needed column", set: m{"Walls!D1": "Heigth"},
		want: w("check extra-label Walls!D1", "stop missing-label Walls!K1", "note left-out Openings!C2", "note left-out Openings!C3", leftDoor), left: w("Front", "Side", "Back")},
	{name: "unknown column of lengths", set: m{"Walls!K1": "Kickboard", "Walls!K2": 450, "Walls!K4": "0.45 m"}, want: w("check extra-label Walls!K1")},
	{name: "unknown column that counts rows", set: m{"Walls!K1": "Serial", "Walls!K2": 1, "Walls!K3": 2, "Walls!K4": 3}, want: w("note extra-label Walls!K1")},
	{name: "unknown column of areas", set: m{"Walls!K1": "Area m2", "Walls!K2": 35.2, "Walls!K3": 29.3, "Walls!K4": 18.7}, want: w("note extra-label Walls!K1")},
	{name: "unknown column of edges", set: m{"Walls!F1": "RH", "Walls!F2": "EC", "Walls!F3": "abut", "Walls!F4": "?"}, want: w("check extra-label Walls!F1", "check corner-disagrees Walls!E3")},
	{name: "unknown column of words", set: m{"Walls!K1": "Surveyor", "Walls!K2": "J", "Walls!K3": "J", "Walls!K4": "P"}, want: w("note extra-label Walls!K1")},
	{name: "column of their own", set: m{"Walls!K1": "Scaffold lift", "Walls!K2": "2"}, want: w("note extra-label Walls!K1")},
	{name: "column twice", set: m{"Walls!K1": "Qty", "Walls!K2": 3}, want: w("check duplicate-label Walls!K1")},
	{name: "no headers", set: m{"Openings!A1": nil, "Openings!B1": nil, "Openings!C1": nil, "Openings!D1": nil, "Openings!E1": nil,
		"Openings!F1": nil, "Openings!G1": nil, "Openings!H1": nil, "Openings!I1": nil, "Openings!J1": nil}, want: w("stop missing-label Openings!A1")},
	{name: "blank row", set: m{"Walls!B7": "Porch", "Walls!C7": 1800, "Walls!D7": 2400}, want: w("note blank-row Walls!B5")},
	{name: "totals", set: m{"Walls!B6": "Total", "Walls!C6": 20400}, want: w("note total-row Walls!B6", "note blank-row Walls!B5")},
	{name: "totals without a word", set: m{"Walls!C6": 20400, "Walls!I6": 3}, want: w("note total-row Walls!C6", "note blank-row Walls!B5")},
	{name: "a row without a name that sums nothing", set: m{"Walls!C5": 20401, "Walls!D5": 2600}, want: w("stop missing-cell Walls!B5"), left: w("the wall in row 5")},
	{name: "totals in more words", set: m{"Walls!B5": "Sum of all walls", "Walls!C5": 20400}, want: w("note total-row Walls!B5")},
	{name: "a wall named as a total", set: m{"Walls!B4": "Total House"}},
	{name: "note under the table", set: m{"Walls!L5": "all sizes checked"}, want: w("note stray-cell Walls!L5")},
	{name: "hidden row", more: hidden("Walls", 3), want: w("note hidden-row Walls!B3")},
	{name: "hidden column", more: hiddenColumn("Walls", "D"), want: w("note hidden-column Walls!D1")},
	{name: "hidden column of their own", set: m{"Walls!L1": "Checked by", "Walls!L2": "A"}, more: hiddenColumn("Walls", "L"), want: w("note extra-label Walls!L1")},
	{name: "merged down", set: m{"Walls!D3": nil, "Walls!D2": 4890}, more: merged("Walls", "D2", "D3"), want: w("note merged-cell Walls!D2")},
	{name: "merged across", set: m{"Walls!D4": nil}, more: merged("Walls", "C4", "D4"), want: w("check merged-cell Walls!C4", "stop missing-cell Walls!D4"), left: w("Back")},
	{name: "sheet of their own", set: m{"Access!A1": "Ring the bell"}, want: w("note sheet-unread Access!A1")},
	{name: "two sheets of walls", set: m{"Wall schedule!A1": "Wall"}, want: w("check sheet-unread Wall schedule!A1")},
	{name: "walls by their headers", set: m{"Windows!A1": "Wall", "Windows!B1": "Left", "Windows!C1": "Sill", "Windows!D1": "W", "Windows!E1": "H"}, want: w("check sheet-unread Windows!A1")},
	{name: "an item unknown", set: m{"Job!A1": "Item", "Job!B1": "Value", "Job!A2": "Weather", "Job!B2": "fair"}, want: w("check extra-label Job!A2")},
	{name: "an item twice", set: m{"Rules!A1": "Rule", "Rules!B1": "Value", "Rules!A2": "Kerf", "Rules!B2": 4, "Rules!A3": "Saw cut", "Rules!B3": 5}, want: w("check unique-error Rules!A3")},
	{name: "a rule that is no number", set: m{"Rules!A1": "Rule", "Rules!B1": "Value", "Rules!A2": "Kerf", "Rules!B2": "thin"}, want: w("check type-error Rules!B2")},
	{name: "a rule in another unit", set: m{"Rules!A1": "Rule", "Rules!B1": "Value", "Rules!C1": "Unit", "Rules!A2": "Kerf", "Rules!B2": 4, "Rules!C2": "kg"}, want: w("check type-error Rules!C2")},
	{name: "no such board", set: m{"Job!A1": "Item", "Job!B1": "Value", "Job!A2": "Board", "Job!B2": "LB-180"},
		want: w("stop foreign-key Job!B2", "note left-out Openings!C2", "note left-out Openings!C3", leftDoor), left: w("Front", "Side", "Back")},
	{name: "laps that no gauge keeps", set: m{"Rules!A1": "Rule", "Rules!B1": "Value", "Rules!A2": "Lap least", "Rules!B2": 60},
		want: w("stop row-constraint Rules!B2", "note left-out Openings!C2", "note left-out Openings!C3", leftDoor), left: w("Front", "Side", "Back")},
	{name: "lap as wide as the board", set: m{"Rules!A1": "Rule", "Rules!B1": "Value", "Rules!A2": "Lap most", "Rules!B2": 180},
		want: w("stop row-constraint Rules!B2", "note left-out Openings!C2", "note left-out Openings!C3", leftDoor), left: w("Front", "Side", "Back")},
	{name: "colour that no board has", set: m{"Walls!K1": "Colour", "Walls!K3": "Charcole"}, want: w("check foreign-key Walls!K3")},
	{name: "several openings in one row", set: m{"Openings!K1": "Qty", "Openings!K4": 2}, want: w("stop constraint-error Openings!K4", "note left-out Walls!B3"), left: w("Side")},
	{name: "a kind in other words", set: m{"Openings!D4": "front door", "Openings!D3": "Kitchen windows"}},
	{name: "an unknown kind", set: m{"Openings!D3": "oriel"}, want: w("check constraint-error Openings!D3")},
	{name: "plot in some rows only", set: m{"Walls!A4": "7"}, want: w("check plot-blank Walls!A2")},
	{name: "size in one cell", set: m{"Openings!G1": "Size (w x h)", "Openings!H1": nil, "Openings!G2": "1200 x 1200", "Openings!G3": "150 X 135cm", "Openings!G4": "1.01m × 2.25m", "Openings!H2": nil, "Openings!H3": nil, "Openings!H4": nil}},
	{name: "no size in one cell", set: m{"Openings!G1": "Size", "Openings!H1": nil, "Openings!G2": "1200 x 1200", "Openings!G3": "1500 x 1350", "Openings!G4": "large", "Openings!H2": nil, "Openings!H3": nil, "Openings!H4": nil},
		want: w("stop type-error Openings!G4", "note left-out Walls!B3"), left: w("Side")},
	{name: "half a size in one cell", set: m{"Openings!G1": "Size", "Openings!H1": nil, "Openings!G2": "1200 x 1200", "Openings!G3": "1500 x 1350", "Openings!G4": 1010, "Openings!H2": nil, "Openings!H3": nil, "Openings!H4": nil},
		want: w("stop type-error Openings!G4", "note left-out Walls!B3"), left: w("Side")},
	{name: "many blank rows", set: m{"Walls!B50009": "Porch", "Walls!C50009": 1800, "Walls!D50009": 2400}, want: w("note blank-row Walls!B5")},
	{name: "hidden sheet", more: func(f *excelize.File) { f.SetSheetVisible("Openings", false) }, want: w("note hidden-sheet Openings!C1")},
	{name: "remark under the table", set: m{"Walls!B5": "All sizes to be checked on site"}, want: w("check remark-row Walls!B5")},
	{name: "no edges", set: m{"Walls!E1": "Lift", "Walls!F1": "Access"}, want: w("check extra-label Walls!E1", "check extra-label Walls!F1", "note default-used Walls!K1")},
	{name: "plots as headings", set: m{"Walls!A1": "Survey no", "Walls!B5": "Plot 2", "Walls!B6": "Front", "Walls!C6": 5000, "Walls!D6": 2600}, want: w("note extra-label Walls!A1", "note plot-heading Walls!B5")},
	{name: "a board of one's own", set: m{"Products!A1": "Role", "Products!B1": "Code", "Products!C1": "Length", "Products!D1": "Width", "Products!A2": "board", "Products!B2": "B1", "Products!C2": 3000, "Products!D2": 180}, want: w("note catalogue-replaced Products!A2")},
	{name: "product twice", set: m{"Products!A1": "Role", "Products!B1": "Code", "Products!A2": "tape", "Products!B2": "T1", "Products!A3": "tape", "Products!B3": "T1"}, want: w("check unique-error Products!B3", "note catalogue-replaced Products!A2")},
	{name: "plot without its type", set: m{"Plots!A1": "Plot", "Plots!B1": "House type", "Plots!A2": "1", "Plots!B2": "A"}, want: w("stop foreign-key Plots!B2", "check foreign-key Walls!A2")},
	{name: "date for a name", more: cellDate("Walls", "B4"), want: w("check type-error Walls!B4")},
	{name: "uneven soffit", set: m{"Walls!K1": "Height right", "Walls!K4": 2605}, want: w("note nearly-level Walls!K4")},
	{name: "door above the base", set: m{"Openings!F4": 900}, want: w("check door-sill Openings!F4")},
	{name: "door on a floor", set: m{"Openings!F4": 2400, "Job!A1": "Item", "Job!B1": "Value", "Job!A2": "Storey heights m", "Job!B2": 2.4}},
	{name: "little wall beside an opening", set: m{"Openings!E4": 20}, want: w("check narrow-pier Openings!E4")},
	{name: "sills nearly level", set: m{"Openings!F3": 1040}, want: w("check nearly-level Openings!F3")},
	{name: "heads nearly level", set: m{"Openings!H3": 1360}, want: w("check nearly-level Openings!H3")},
	{name: "digits swapped", set: m{"Openings!B5": "Back", "Openings!E5": 500, "Openings!F5": 900, "Openings!G5": 1200, "Openings!H5": 1200,
		"Openings!B6": "Back", "Openings!E6": 3000, "Openings!F6": 900, "Openings!G6": 2100, "Openings!H6": 1200}, want: w("check digits-swapped Openings!G6")},
	{name: "corner of two kinds", set: m{"Walls!E3": "internal corner"}, want: w("check corner-disagrees Walls!E3")},
	{name: "corner of two heights", set: m{"Walls!D3": 4500}, want: w("check corner-disagrees Walls!D3")},
	{name: "corner with another wall", set: m{"Walls!G3": "Back"}, want: w("check corner-disagrees Walls!G3")},
	{name: "plan that stays open", set: m{"Walls!D4": 4890, "Walls!F3": "external corner", "Walls!H3": "Back", "Walls!E4": "external corner", "Walls!F4": "external corner", "Walls!G4": "Side",
		"Walls!H4": "Left", "Walls!B5": "Left", "Walls!C5": 6100, "Walls!D5": 4890, "Walls!E5": "external corner", "Walls!F5": "external corner", "Walls!G5": "Back", "Walls!H5": "Front", "Walls!G2": "Left"},
		want: w("check plan-open Walls!C5")},
	{name: "openings in words", set: m{"Walls!K1": "Windows", "Walls!K4": "2 no. 1200 x 1050 @ 900 at 700, 3000; vent 150x150 @ 2200 at 6500"}},
	{name: "openings in words without places", set: m{"Walls!K1": "Windows", "Walls!K4": "1200 x 1050 @ 900"}, want: w("stop missing-cell Walls!K4", "note left-out Walls!B4"), left: w("Back")},
	{name: "openings in unknown words", set: m{"Walls!K1": "Windows", "Walls!K4": "two big ones"}, want: w("stop type-error Walls!K4"), left: w("Back")},
	{name: "headers in row 3", more: insertRows("Walls", 1, 2), set: m{"Walls!A1": "Plot"}, want: nil},
}

const leftDoor = "note left-out Openings!C4"

type m = map[string]any

func w(s ...string) []string { return s }

func cellDate(sheet, cell string) func(*excelize.File) {
	return func(f *excelize.File) {
		style, _ := f.NewStyle(&excelize.Style{NumFmt: 14})
		f.SetCellValue(sheet, cell, 45000)
		f.SetCellStyle(sheet, cell, cell, style)
	}
}

func cellFormat(sheet, cell string, format int) func(*excelize.File) {
	return func(f *excelize.File) {
		style, _ := f.NewStyle(&excelize.Style{NumFmt: format})
		f.SetCellStyle(sheet, cell, cell, style)
	}
}

func cellFormula(sheet, cell, formula string) func(*excelize.File) {
	return func(f *excelize.File) {
		f.SetCellValue(sheet, cell, nil)
		f.SetCellFormula(sheet, cell, formula)
	}
}

func hidden(sheet string, row int) func(*excelize.File) {
	return func(f *excelize.File) { f.SetRowVisible(sheet, row, false) }
}

func hiddenColumn(sheet, col string) func(*excelize.File) {
	return func(f *excelize.File) { f.SetColVisible(sheet, col, false) }
}

func merged(sheet, from, to string) func(*excelize.File) {
	return func(f *excelize.File) { f.MergeCell(sheet, from, to) }
}

func insertRows(sheet string, at, n int) func(*excelize.File) {
	return func(f *excelize.File) { f.InsertRows(sheet, at, n) }
}

// with changes cells of a survey.
func with(s sheets, set map[string]any) func(*excelize.File) {
	return func(f *excelize.File) {
		for _, at := range sortedKeys(set) {
			sheet, cell, _ := strings.Cut(at, "!")
			if i, _ := f.GetSheetIndex(sheet); i < 0 {
				f.NewSheet(sheet)
			}
			f.SetCellValue(sheet, cell, set[at])
		}
	}
}

func sortedKeys(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func flagLines(s *Survey) []string {
	var out []string
	for _, f := range s.Flags {
		out = append(out, fmt.Sprintf("%v %s %s!%s", f.Severity, f.Code, f.Place.Sheet, f.Place.Cell))
	}
	slices.Sort(out)
	return out
}

func TestFaults(t *testing.T) {
	for _, c := range faultCases {
		t.Run(c.name, func(t *testing.T) {
			changes := []func(*excelize.File){with(sound(), c.set)}
			if c.more != nil {
				changes = append(changes, c.more)
			}
			s := read(t, workbook(t, sound(), changes...), Options{})
			slices.Sort(c.want)
			if got := flagLines(s); !slices.Equal(got, c.want) {
				t.Errorf("flags\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
			}
			var left []string
			for _, r := range s.Rejected {
				if r.As == "Walls" {
					left = append(left, r.Name)
				}
			}
			if !slices.Equal(left, c.left) {
				t.Errorf("walls left out: %q, want %q", left, c.left)
			}
			for _, f := range s.Flags {
				if f.What == "" || f.Do == "" || f.Place.File != "survey.xlsx" {
					t.Errorf("the flag is not complete: %+v", f)
				}
			}
			accounted(t, s)
		})
	}
}

// accounted checks that no row of a sheet is lost.
func accounted(t *testing.T, s *Survey) {
	t.Helper()
	for _, r := range s.Sheets {
		if r.Rows != r.Taken+r.Flagged+r.Blank {
			t.Errorf("%s: %d rows are %d taken, %d flagged, %d blank", r.Name, r.Rows, r.Taken, r.Flagged, r.Blank)
		}
		if r.As == "Walls" {
			rejected := 0
			for _, x := range s.Rejected {
				if x.As == "Walls" {
					rejected++
				}
			}
			beside := slices.ContainsFunc(r.Columns, func(c Column) bool { return strings.HasPrefix(c.How, "opening beside") }) // a row may only add openings
			if len(s.Job.Walls) > r.Taken || len(s.Job.Walls) < r.Taken && !beside || rejected > r.Flagged {
				t.Errorf("%d walls of %d rows taken, %d rejected of %d flagged", len(s.Job.Walls), r.Taken, rejected, r.Flagged)
			}
		}
	}
}

// Every code that the reader can give has a case above.
func TestEveryCodeHasItsCase(t *testing.T) {
	covered := map[string]bool{}
	for _, c := range faultCases {
		for _, line := range c.want {
			covered[strings.Fields(line)[1]] = true
		}
	}
	for _, extra := range []string{"sheet-by-headers", "header-row", "unit-stated", "quote-open", "sheet-turned", "several-walls"} { // TestUntidySheets, TestOpenQuotes, TestTurned, mapping.txtar
		covered[extra] = true
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	code := regexp.MustCompile(`(?:\.ask\([^\n]*?|Code: |finding\{\w+, |stopAt\(|noteRows\(t, \w+, )"([a-z]+(?:-[a-z]+)+)"`)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range code.FindAllStringSubmatch(string(text), -1) {
			if !covered[m[1]] {
				t.Errorf("%s gives the code %s, of which there is no case", name, m[1])
			}
		}
	}
}
