package survey

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// facts are the walls and openings of a job without their places in a file.
func facts(j *engine.Job) []engine.Wall {
	var out []engine.Wall
	for _, w := range stripped(j).Walls {
		for i := range w.Openings {
			w.Openings[i].Notes = ""
		}
		w.Notes = ""
		out = append(out, w)
	}
	return out
}

// plainTwin is the tidy survey that each untidy one below says the same as.
func plainTwin() sheets {
	return sheets{
		"Walls": {
			{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour"},
			{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk"},
			{"A", "Back", 6010, 2600, "open end", "internal corner", nil},
		},
		"Openings": {
			{"Plot", "Wall", "Opening", "Kind", "From left mm", "Sill mm", "Width mm", "Height mm"},
			{"A", "Front", "Window 1", "window", 700, 1050, 1200, 1200},
			{"A", "Front", "Window 2", "window", 3000, 900, 1500, 1350},
			{"A", "Back", "Door 1", "door", 800, 0, 1010, 2250},
		},
	}
}

func TestUntidySheets(t *testing.T) {
	want := facts(read(t, workbook(t, plainTwin()), Options{}).Job)
	for _, c := range []struct {
		name  string
		sheet sheets
		more  func(*excelize.File)
		codes string // of the flags, in order
	}{
		{name: "headers in other words and another order, below a title", codes: "header-row", sheet: sheets{
			"Walls": {{"Survey of plot A"}, nil, {"Overall width", "Elevation", "Plot no.", "Eaves height", "LH edge", "RH edge", "Finish"},
				{7200, "Front", "A", 4890, "Ext. corner", "abuts", "Chalk"}, {6010, "Back", "A", 2600, "open", "int", nil}},
			"Openings": plainTwin()["Openings"]}},
		{name: "units in headers and cells", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width (m)", "Height [cm]", "Left edge", "Right edge", "Colour"},
				{"A", "Front", 7.2, 489, "external corner", "abutment", "Chalk"}, {"A", "Back", 6.01, "2.6 m", "open end", "internal corner", nil}},
			"Openings": {{"Plot", "Wall", "Opening", "Kind", "From left in mm", "Sill", "Width, cm", "Height"},
				{"A", "Front", "Window 1", "window", "700mm", "1 050", 120, "1.2 m"}, {"A", "Front", "Window 2", "W", "3\u00A0000", "90 cm", "150", "1350 "},
				{"A", "Back", "Door 1", "door", "0,8 m", 0, "101", "2,250.0"}}}},
		{name: "unit said above", codes: "unit-stated header-row", sheet: sheets{
			"Walls": {{"All dimensions in metres"}, {"Plot", "Wall", "Width", "Height", "Left edge", "Right edge", "Colour"},
				{"A", "Front", 7.2, 4.89, "external corner", "abutment", "Chalk"}, {"A", "Back", 6.01, 2.6, "open end", "internal corner", nil}},
			"Openings": plainTwin()["Openings"]}},
		{name: "units in a row of their own", codes: "unit-stated", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width", "Height", "Left edge", "Right edge", "Colour"}, {nil, nil, "(m)", "(cm)"},
				{"A", "Front", 7.2, 489, "external corner", "abutment", "Chalk"}, {"A", "Back", 6.01, 260, "open end", "internal corner", nil}},
			"Openings": plainTwin()["Openings"]}},
		{name: "sheets of other names", codes: "sheet-by-headers", sheet: sheets{
			"Elevations": plainTwin()["Walls"], "Sheet3": plainTwin()["Openings"]}},
		{name: "two tables below each other", codes: "sheet-by-headers header-row sheet-by-headers", sheet: sheets{
			"Survey": append(append(plainTwin()["Walls"], nil, []any{"Openings"}), plainTwin()["Openings"]...)}},
		{name: "two tables beside each other", codes: "sheet-by-headers sheet-by-headers", sheet: sheets{"Survey": beside(plainTwin()["Walls"], plainTwin()["Openings"])}},
		{name: "numbered openings beside their wall", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour", "Window 1 left", "Window 1 sill", "Window 1 width", "Window 1 height",
				"Window 2 left", "Window 2 sill", "Window 2 width (cm)", "Window 2 height", "Door 1 left", "Door 1 sill", "Door 1 W", "Door 1 H"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", 700, 1050, 1200, 1200, 3000, 900, 150, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, nil, nil, nil, nil, nil, nil, nil, nil, 800, 0, 1010, 2250}}}},
		{name: "openings beside their wall, a row each", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Wall width", "Wall height", "Left edge", "Right edge", "Colour", "Opening", "Type", "From left", "Sill", "Width", "Height"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "Window 1", "window", 700, 1050, 1200, 1200},
				{nil, nil, nil, nil, nil, nil, nil, "Window 2", "window", 3000, 900, 1500, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, "Door 1", "door", 800, 0, 1010, 2250}}}},
		{name: "the wall repeated for each opening", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Wall width", "Wall height", "Left edge", "Right edge", "Colour", "Opening", "Type", "From left", "Sill", "Width", "Height"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "Window 1", "window", 700, 1050, 1200, 1200},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "Window 2", "window", 3000, 900, 1500, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, "Door 1", "door", 800, 0, 1010, 2250}}}},
		{name: "headers in two rows", codes: "header-row", sheet: sheets{
			"Walls": {{"Wall", nil, nil, nil, nil, nil, nil, "Opening"}, {"Plot", "Ref", "Width", "Height", "Left edge", "Right edge", "Colour", "Ref", "Type", "From left", "Sill", "Width", "Height"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "Window 1", "window", 700, 1050, 1200, 1200},
				{nil, nil, nil, nil, nil, nil, nil, "Window 2", "window", 3000, 900, 1500, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, "Door 1", "door", 800, 0, 1010, 2250}}}},
		{name: "headers in two rows, the units with the lower", codes: "header-row", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Size", nil, "Left edge", "Right edge", "Colour"}, {nil, nil, "Width (m)", "Height (cm)"},
				{"A", "Front", 7.2, 489, "external corner", "abutment", "Chalk"}, {"A", "Back", 6.01, 260, "open end", "internal corner", nil}},
			"Openings": plainTwin()["Openings"]},
			more: func(f *excelize.File) {
				f.MergeCell("Walls", "C1", "D1")
				f.MergeCell("Walls", "A1", "A2")
				f.MergeCell("Walls", "B1", "B2")
			}},
		{name: "an unknown header over both rows", codes: "header-row extra-label", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Size", nil, "Left edge", "Right edge", "Colour", "Surveyor"}, {nil, nil, "Width", "Height"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "J"}, {"A", "Back", 6010, 2600, "open end", "internal corner", nil, "P"}},
			"Openings": plainTwin()["Openings"]}},
		{name: "numbered openings under merged headers", codes: "header-row", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour", "Window 1", nil, nil, nil, "Window 2", nil, nil, nil, "Door 1"},
				{nil, nil, nil, nil, nil, nil, nil, "Left", "Sill", "Width", "Height", "Left", "Sill", "Width (cm)", "Height", "Left", "Sill", "W", "H"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", 700, 1050, 1200, 1200, 3000, 900, 150, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, nil, nil, nil, nil, nil, nil, nil, nil, 800, 0, 1010, 2250}}},
			more: func(f *excelize.File) {
				f.MergeCell("Walls", "H1", "K1")
				f.MergeCell("Walls", "L1", "O1")
				f.MergeCell("Walls", "P1", "S1")
			}},
		{name: "a wall in each column", codes: "extra-label sheet-turned sheet-turned", sheet: sheets{
			"Walls": {{"Survey of plot A"}, nil, {"Plot", "A", "A"}, {"Wall", "Front", "Back"}, {"Overall width (m)", 7.2, 6.01}, {"Height", 4890, "2.6 m"},
				{"LH edge", "ext", "open"}, {"RH edge", "abuts", "int"}, {"Colour", "Chalk", nil}},
			"Openings": turn(plainTwin()["Openings"])}},
		{name: "a wall in each column, its openings below", codes: "sheet-turned", sheet: sheets{
			"Walls": turn([][]any{{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour", "Window 1 left", "Window 1 sill", "Window 1 width", "Window 1 height",
				"Window 2 left", "Window 2 sill", "Window 2 width (cm)", "Window 2 height", "Door 1 left", "Door 1 sill", "Door 1 W", "Door 1 H"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", 700, 1050, 1200, 1200, 3000, 900, 150, 1350},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, nil, nil, nil, nil, nil, nil, nil, nil, 800, 0, 1010, 2250}})}},
		{name: "plots as headings, remarks on words", codes: "plot-heading plot-heading", sheet: sheets{
			"Walls": {{"Wall", "Width", "Height", "Left edge", "Right edge", "Colour"},
				{"Plot A"}, {"Front", 7200, 4890, "External corner (brick)", "abt [flashing]", "Chalk"}, {"Back", 6010, 2600, "open/free", "int. corner", nil}},
			"Openings": append([][]any{{"Wall", "Opening", "Kind", "From left mm", "Sill mm", "Width mm", "Height mm"}, {"Plot A"}}, without(plainTwin()["Openings"][1:], 0)...)}},
		{name: "openings in words", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour", "Windows and doors"},
				{"A", "Front", 7200, 4890, "external corner", "abutment", "Chalk", "Window 1: 1200 x 1200 @ 1050 at 700; Window 2: 1500 x 1350 @ 900 at 3000"},
				{"A", "Back", 6010, 2600, "open end", "internal corner", nil, "Door 1: 1010 x 2250 @ 0 at 800"}}}},
		{name: "a mapping", sheet: sheets{
			"Mapping": {{"Sheet", "Their header", "Ours"}, {"Schedule", nil, "Walls"}, {"Schedule", "Code", "Wall"}, {"", "Breite", "Width mm"}, {"", "Hoehe", "Height mm"}, {"Walls", "Internal ref", "-"}},
			"Schedule": {{"Plot", "Code", "Breite", "Hoehe (m)", "Left edge", "Right edge", "Colour", "Internal ref"},
				{"A", "Front", 7200, 4.89, "external corner", "abutment", "Chalk", 1}, {"A", "Back", 6010, 2.6, "open end", "internal corner", nil, 2}},
			"Openings": plainTwin()["Openings"]}},
		{name: "merged plots, totals and numbers as text", codes: "merged-cell total-row", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour"}, {"A", "Front", "7200", "4890.0", "EXTERNAL CORNER", "abutment", "Chalk"},
				{nil, "Back", "'6010", " 2600 ", "open end", "internal corner", nil}, {"Total", nil, 13210}},
			"Openings": plainTwin()["Openings"]},
			more: func(f *excelize.File) { f.MergeCell("Walls", "A2", "A3") }},
		{name: "number formats that show a unit", sheet: sheets{
			"Walls": {{"Plot", "Wall", "Width", "Height", "Left edge", "Right edge", "Colour"}, {"A", "Front", 7.2, 4890, "external corner", "abutment", "Chalk"},
				{"A", "Back", 6.01, 2600, "open end", "internal corner", nil}}, "Openings": plainTwin()["Openings"]},
			more: func(f *excelize.File) {
				code := `0.00" m"`
				style, _ := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
				f.SetCellStyle("Walls", "C2", "C3", style)
			}},
	} {
		t.Run(c.name, func(t *testing.T) {
			more := []func(*excelize.File){}
			if c.more != nil {
				more = append(more, c.more)
			}
			s := read(t, workbook(t, c.sheet, more...), Options{})
			got := facts(s.Job)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("read as\n%+v\nwant\n%+v", got, want)
			}
			var codes []string
			for _, f := range s.Flags {
				codes = append(codes, f.Code)
			}
			if strings.Join(codes, " ") != c.codes {
				for _, f := range s.Flags {
					t.Log(f)
				}
				t.Errorf("the flags are %q, want %q", codes, c.codes)
			}
			if s.Plain {
				t.Error("the survey passes for plain")
			}
			accounted(t, s)
		})
	}
}

// A sheet for each plot, without a column for it: the sheets' names say which.
func TestASheetForEachPlot(t *testing.T) {
	walls := func(width int) [][]any {
		return [][]any{{"Wall", "Width", "Height"}, {"Front", width, 2600}, {"Back", width, 2600}}
	}
	openings := [][]any{{"Wall", "From left", "Sill", "Width", "Height"}, {"Front", 700, 900, 1200, 1050}}
	s := read(t, workbook(t, sheets{"Plot 7 walls": walls(7000), "Plot 8 walls": walls(8000), "Plot 7 windows": openings, "Plot 8 windows": openings}), Options{})
	var got []string
	for _, w := range s.Job.Walls {
		got = append(got, fmt.Sprintf("%s %s %v %d", w.Plot, w.Name, w.Width, len(w.Openings)))
	}
	slices.Sort(got)
	if want := []string{"7 Back 7000 0", "7 Front 7000 1", "8 Back 8000 0", "8 Front 8000 1"}; !slices.Equal(got, want) {
		t.Errorf("read as %q, want %q; flags %+v", got, want, s.Flags)
	}
}

// A price may have its currency's sign.
func TestPricesWithASign(t *testing.T) {
	s := read(t, workbook(t, sheets{"Walls": plainTwin()["Walls"], "Products": {{"Role", "Code", "Price"}, {"tape", "T1", "£0.80"}, {"tape", "T2", "1.20 €"}}}), Options{})
	if p := s.Job.Products; len(p) == 0 || p[0].Price != 0.8 || p[1].Price != 1.2 {
		t.Errorf("the products begin with %+v; flags %+v", p[:min(2, len(p))], s.Flags)
	}
}

// without leaves a column out.
func without(rows [][]any, col int) [][]any {
	var out [][]any
	for _, row := range rows {
		out = append(out, append(append([]any{}, row[:col]...), row[col+1:]...))
	}
	return out
}

// beside puts two tables side by side with a blank column between.
func beside(a, b [][]any) [][]any {
	var out [][]any
	for i := range max(len(a), len(b)) {
		var row []any
		if i < len(a) {
			row = append(row, a[i]...)
		}
		for len(row) < len(a[0])+1 {
			row = append(row, nil)
		}
		if i < len(b) {
			row = append(row, b[i]...)
		}
		out = append(out, row)
	}
	return out
}

// turn makes rows of columns.
func turn(rows [][]any) [][]any {
	var out [][]any
	for col := range rows[0] {
		var line []any
		for _, row := range rows {
			if col < len(row) {
				line = append(line, row[col])
			} else {
				line = append(line, nil)
			}
		}
		out = append(out, line)
	}
	return out
}
