package report

import (
	"bytes"
	"context"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/lettering"
	"lapwright/engine"
)

// fullInput is a takeoff that has every sheet.
func fullInput(t *testing.T) Input {
	t.Helper()
	return Input{
		Result: fixture(), Survey: surveyBook(t), SurveyName: "survey.xlsx", Version: "0.0", Digest: "d1g3st",
		Rows:     Rows{Read: 5, Taken: 3, Flagged: 1, Blank: 1},
		AsRead:   &Grid{Header: []string{"Plot", "Wall", "Width mm", "Sheet", "Row"}, Rows: [][]string{{"1", "=1+1", "4000", "Walls", "2"}}},
		Rejected: &Grid{Header: []string{"Plot", "", "Reason"}, Rows: [][]string{{"1", "=HYPERLINK(\"x\")", "no width"}}},
	}
}

// once is the workbook of the full input, written once for all tests that
// only read it.
var once struct {
	sync.Once
	data []byte
}

func standard(t *testing.T) []byte {
	t.Helper()
	once.Do(func() { once.data = written(t, fullInput(t)) })
	return once.data
}

func written(t *testing.T, in Input) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(context.Background(), &out, in); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func opened(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// rowsOfSheet reads a sheet as text.
func rowsOfSheet(t *testing.T, f *excelize.File, sheet string) [][]string {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestHeaders holds the headers other programs rely on, letter for letter.
func TestHeaders(t *testing.T) {
	f := opened(t, standard(t))
	for _, tt := range []struct{ sheet, headers string }{
		{"Order summary", "Drop | Role | Code | Description | Colour | Unit | Net quantity | Spare % | Order quantity | Pack | Packs | Unit price | Amount"},
		{"Cut list", "Plot | Wall | Course | Piece | From left mm | Bottom mm | Length mm | Width mm | Left end | Right end | Cut-outs | Colour | Code | Stock board | Quantity | Outline"},
		{"Storey rod", "Plot | Wall | Course | Bottom mm | Top mm | Gauge mm | Lap mm | Note"},
		{"Battens", "Plot | Wall | Batten | Centre mm | Width mm | From mm | To mm | Why | Code | Quantity"},
		{"Trims", "Plot | Wall | Mark | Role | Code | Colour | Where | Length mm | Quantity"},
		{"Cutting plan", "Board | Pool | Code | Colour | Stock mm | Count | Cuts | Offcut mm | Shared mm | From"},
		{"Fixing schedule", "Plot | Wall | Zone | Fixing | Where | Centres mm | Count | Pre-drilled | Visible | Load N | Resistance N | Use % | Basis"},
		{"Flagged issues", "Severity | Code | Plot | Wall | Sheet | Cell | What is wrong | What to do"},
	} {
		got := strings.Join(rowsOfSheet(t, f, tt.sheet)[0], " | ")
		if got != tt.headers && !strings.HasPrefix(got, tt.headers+" | ") {
			t.Errorf("%s: got headers\n%s, want, first,\n%s", tt.sheet, got, tt.headers)
		}
	}
	if head := rowsOfSheet(t, f, "Cut list")[0]; head[len(head)-1] != "Outline" || head[len(head)-2] != "Quantity" {
		t.Errorf("Cut list ends in %q, want Quantity and then Outline", head[len(head)-2:])
	}
}

func TestSheetsInOrder(t *testing.T) {
	f := opened(t, standard(t))
	want := []string{"Walls o'r", "Own notes", "Summary", "Order summary", "Cut list", "1 =1+1", "1 Gable", "Storey rod", "Battens", "Trims",
		"Cutting plan", "Saw sheet", "Fixing schedule", "Measured quantities", "Survey as read", "Alternatives", "Rejected", "Flagged issues"}
	if got := f.GetSheetList(); !slices.Equal(got, want) {
		t.Errorf("got sheets %q, want %q", got, want)
	}
	if got := f.GetSheetName(f.GetActiveSheetIndex()); got != "Summary" {
		t.Errorf("the workbook opens on %q, want Summary", got)
	}
	all := madeSheets(f)
	for i, s := range want {
		if ours := i >= 2; all[s] != ours {
			t.Errorf("sheet %q is marked as ours: %v, want %v", s, all[s], ours)
		}
	}
}

// TestRowsOfTables holds some rows to the takeoff they came from.
func TestRowsOfTables(t *testing.T) {
	f := opened(t, standard(t))
	for _, tt := range []struct {
		sheet string
		row   int
		want  string
	}{
		{"Cut list", 1, "1|=1+1|1|A1.1|0|150|2399|175|square|joint||grey|B-175|B1|2"},
		{"Cut list", 3, "1|=1+1|2|A2.1|0|285|1799|175|square|joint|590,105,220,70|grey|B-175|B1|2|0,0;1799,0;1799,175;810,175;810,105;590,105;590,175;0,175"},
		{"Cut list", 7, "1|Gable|1|G1.1|0|300|2000|175|rake 45.0|rake 45.0||grey|B-175|B3|1|0,0;2000,0;1825.1,175;174.9,175"},
		{"Cut list", 9, "1|Gable|reveal|G-r1|||900|120|square|square|W1 left|grey|B-175|B4|1"},
		{"Storey rod", 1, "1|=1+1|1|150|325|135|40"},
		{"Storey rod", 3, "1|=1+1|3|420|595|||top ripped"},
		{"Battens", 2, "1|=1+1|A-b2|589|50|150|590|grid|T-50|2|S1"},
		{"Trims", 1, "1|=1+1|A-t1|starter|ST||base|4000|2||0|150"},
		{"Cutting plan", 4, "B4|1|B-175|grey|3600|2|A1.2 1599; A3.2 1599|390|0|new|board|2|3198"},
		{"Fixing schedule", 1, "1|=1+1|A|S-40|board|600|30|4|7|120|300|40|declared||0 to 1200; 2800 to 4000|1100|800"},
		{"Fixing schedule", 2, "1|=1+1||S-60|batten|400|16|0|0||||not checked"},
		{"Flagged issues", 1, "stop|opening-outside|1|Rear|Walls o'r|C3|The opening lies outside.|Measure again.|survey.xlsx"},
	} {
		if got := strings.Join(rowsOfSheet(t, f, tt.sheet)[tt.row], "|"); got != tt.want {
			t.Errorf("%s row %d: got\n%s, want\n%s", tt.sheet, tt.row+1, got, tt.want)
		}
	}
}

// TestNamesHaveRoom: a name of one word is no broken one, also in programs that make
// columns a twentieth narrower; a whole sentence wraps.
func TestNamesHaveRoom(t *testing.T) {
	in := fullInput(t)
	for _, tt := range []struct {
		name string
		most float64
	}{{"1", 10}, {"survey004", 12}, {"TERRACE-WEST-04", 30}, {strings.Repeat("very long ", 9), 30}} {
		in.Result.Walls[1].Plot = tt.name
		f := opened(t, written(t, in))
		for _, sheet := range []string{"Cut list", "Storey rod", "Battens", "Trims", "Fixing schedule"} {
			wide, err := f.GetColWidth(sheet, "A")
			if err != nil {
				t.Fatal(err)
			}
			room, most := 0.95*7*wide-12, lettering.Stored(tt.most) // of the column's pixels those beside the text
			if wide > most || wide < most && lettering.Width(tt.name) > room {
				t.Errorf("%s: the column of %q is %v wide, at most %v; %v pixels of %v", sheet, tt.name, wide, most, room, lettering.Width(tt.name))
			}
		}
	}
}

func TestEqualInputsGiveEqualBytes(t *testing.T) {
	first := written(t, fullInput(t))
	for range 3 {
		again := written(t, fullInput(t))
		if bytes.Equal(first, again) {
			continue
		}
		was, is := parts(t, first), parts(t, again)
		for name := range was {
			if was[name] != is[name] {
				t.Errorf("two takeoffs of one input differ in %s", name)
			}
		}
		t.Fatal("two takeoffs of one input differ")
	}
	later := fullInput(t)
	later.Date = time.Date(2024, 5, 1, 0, 0, 0, 0, time.UTC)
	if bytes.Equal(first, written(t, later)) {
		t.Error("the date given stands nowhere in the workbook")
	}
}

func TestWriteStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out bytes.Buffer
	if err := Write(ctx, &out, fullInput(t)); err != context.Canceled || out.Len() > 0 {
		t.Errorf("got %v and %d bytes, want %v and none", err, out.Len(), context.Canceled)
	}
}

// TestEmptyTakeoff writes a job of which nothing could be taken off.
func TestEmptyTakeoff(t *testing.T) {
	res := &engine.Result{Job: &engine.Job{Rules: engine.DefaultRules()}, Left: []engine.LeftWall{{Wall: "A", Why: "it has no width"}}}
	f := opened(t, written(t, Input{Result: res}))
	if got := len(rowsOfSheet(t, f, "Cut list")); got != 1 {
		t.Errorf("the empty cut list has %d rows, want its headers alone", got)
	}
	if s := allText(t, f, "Order summary"); !strings.Contains(s, "ORDER INCOMPLETE: without 1 wall A") {
		t.Errorf("the order does not say what it lacks:\n%s", s)
	}
}

func allText(t *testing.T, f *excelize.File, sheet string) string {
	t.Helper()
	var out []string
	for _, r := range rowsOfSheet(t, f, sheet) {
		out = append(out, strings.Join(r, "|"))
	}
	return strings.Join(out, "\n")
}

// TestTextIsNeverAFormula looks for the survey's own words in every cell that
// has a formula.
func TestTextIsNeverAFormula(t *testing.T) {
	f := opened(t, standard(t))
	for _, sheet := range f.GetSheetList() {
		for r, row := range rowsOfSheet(t, f, sheet) {
			for c := range row {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				formula, err := f.GetCellFormula(sheet, cell)
				if err != nil {
					t.Fatal(err)
				}
				if strings.Contains(formula, "1+1") || strings.Contains(formula, "cmd") || strings.Contains(formula, "HYPERLINK") {
					t.Errorf("%s %s has the formula %q", sheet, cell, formula)
				}
			}
		}
	}
	for sheet, cell := range map[string]string{"Cut list": "B2", "Survey as read": "B2", "Storey rod": "B2", "Walls o'r": "B2"} {
		if got, _ := f.GetCellValue(sheet, cell); got != "=1+1" {
			t.Errorf("%s %s: got %q, want the text =1+1", sheet, cell, got)
		}
	}
}

func TestIncompleteOrderSaysSo(t *testing.T) {
	f := opened(t, standard(t))
	want := "ORDER INCOMPLETE: without 1 wall 1 Rear"
	for _, sheet := range []string{"Summary", "Order summary"} {
		if !strings.Contains(allText(t, f, sheet), want) {
			t.Errorf("%s does not say %q", sheet, want)
		}
		head, err := f.GetHeaderFooter(sheet)
		if err != nil || !strings.Contains(head.OddHeader, want) {
			t.Errorf("the printed header of %s is %q (%v), want it to say %q", sheet, head.OddHeader, err, want)
		}
	}
	if s := allText(t, f, "Order summary"); !strings.Contains(s, "Provisional, by area: 12.5 m2, about 31 boards.") {
		t.Errorf("no provisional quantity in\n%s", s)
	}
}

// TestSummarySaysStockOnHand: the fixture's board of 3,600 costs 9.50. Two of 1,800
// on hand are half that each, 9.50 in 3.60 m. Where nothing is listed nothing is said.
func TestSummarySaysStockOnHand(t *testing.T) {
	in := fullInput(t)
	if s := allText(t, opened(t, written(t, in)), "Summary"); strings.Contains(s, "Stock on hand") {
		t.Errorf("stock on hand is spoken of:\n%s", s)
	}
	job := in.Result.Job
	job.Products = append(job.Products, in.Result.Board)
	job.Offcuts = []engine.Offcut{{Code: "B-175", Length: mmOf(1800), Count: 3}}
	in.Result.Cutting = append(in.Result.Cutting, engine.CutRow{Board: "B9", Lot: &engine.Lot{Role: "board", Code: "B-175", Colour: "grey", Stock: mmOf(1800), OnHand: true}, Count: 2})
	want := "Stock on hand used|2|lengths|Of 3 listed in Offcuts: 3.60 m, not ordered; worth 9.50 GBP at the price of new boards, by length."
	if s := allText(t, opened(t, written(t, in)), "Summary"); !strings.Contains(s, want) {
		t.Errorf("the Summary does not say %q:\n%s", want, s)
	}
}

// TestStopsOfNoWall: a stop at a row of no known wall leaves the order
// incomplete although no wall is listed as left out.
func TestStopsOfNoWall(t *testing.T) {
	in := fullInput(t)
	in.Result.Left = nil
	f := opened(t, written(t, in))
	if s := allText(t, f, "Order summary"); !strings.Contains(s, "ORDER INCOMPLETE: 1 stop on the sheet Flagged issues.") {
		t.Errorf("the order does not say what it lacks:\n%s", s)
	}
	if got := valueBeside(t, f, "Order complete"); got != "CHECK" {
		t.Errorf("Order complete says %q, want CHECK", got)
	}
	in.Result.Flags = in.Result.Flags[:2] // no stop
	f = opened(t, written(t, in))
	if s := allText(t, f, "Order summary"); strings.Contains(s, "INCOMPLETE") || valueBeside(t, f, "Order complete") != "OK" {
		t.Errorf("a whole order is called incomplete:\n%s", s)
	}
}

func TestSummarySays(t *testing.T) {
	in := fullInput(t)
	in.Changes = []Change{{"Walls", "2 walls more"}}
	s := allText(t, opened(t, written(t, in)), "Summary")
	for _, want := range []string{
		"0.1 mg/m3", "EH40/2005", "Control of Asbestos Regulations 2012", "no cavity barrier", "8.2 kg", "licensed",
		"Kerf|3 mm||Default: 4 mm.", "Pull-through|not declared", "d1g3st", "Net area|6.32|m2", "Boards to cut|12|boards",
		"Saved against a hand layout|2|boards|The best hand method, \"full boards from the left\", takes 14; worth 19.00 GBP.", "2 walls more",
		"opening-outside|1|stop", "Source: declared by the maker.", "1 Invented Lane",
	} {
		if !strings.Contains(s, want) {
			t.Errorf("the Summary does not say %q:\n%s", want, s)
		}
	}
}

func TestAccessible(t *testing.T) {
	in := fullInput(t)
	in.Accessible = true
	data := written(t, in)
	for name, part := range parts(t, data) {
		if strings.HasPrefix(name, "xl/tables/") && strings.Contains(part, "<autoFilter") {
			t.Errorf("%s has filters", name)
		}
		if strings.HasPrefix(name, "xl/worksheets/") && strings.Contains(part, "<pane ") {
			t.Errorf("%s has frozen panes", name)
		}
	}
	if core := parts(t, data)["docProps/core.xml"]; !strings.Contains(core, "<dc:language>en-GB</dc:language>") {
		t.Errorf("no language in %s", core)
	}
}

func TestSheetsAMost(t *testing.T) {
	in := fullInput(t)
	in.Result.Job.Rules.WallSheetsMost = 1
	got := opened(t, written(t, in)).GetSheetList()
	if slices.Contains(got, "1 Gable") || !slices.Contains(got, "1 =1+1") {
		t.Errorf("got %q, want the first wall's sheet alone", got)
	}
}

func pictureCells(t *testing.T, f *excelize.File, sheet string) []string {
	t.Helper()
	cells, err := f.GetPictureCells(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return cells
}

// BenchmarkWrite writes the small takeoff with every sheet.
func BenchmarkWrite(b *testing.B) {
	in := Input{Result: fixture()}
	for b.Loop() {
		if err := Write(context.Background(), io.Discard, in); err != nil {
			b.Fatal(err)
		}
	}
}

// Of the rows that were not taken, columns with nothing in them are hidden, but
// for one that a reason names: it is to be filled in.
func TestRejectedCanBeRead(t *testing.T) {
	in := fullInput(t)
	in.Rejected = &Grid{Header: []string{"Sheet", "Row", "Reason", "Wall", "Width mm", "Notes"},
		Rows: [][]string{{"Walls", "4", "C4: Width mm is missing", "East"}, {"Walls", "5", "D5: no number", "South", "", ""}}}
	f := opened(t, written(t, in))
	for col, want := range map[string]bool{"A": true, "C": true, "D": true, "E": true, "F": false} {
		if got, err := f.GetColVisible("Rejected", col); err != nil || got != want {
			t.Errorf("column %s shows: %v, want %v (%v)", col, got, want, err)
		}
	}
	if wide, _ := f.GetColWidth("Rejected", "C"); wide < 40 {
		t.Errorf("the reason is %v wide", wide)
	}
}
