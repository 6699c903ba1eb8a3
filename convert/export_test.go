package convert

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwright/convert/survey/book"
)

// exported takes the example off into a folder, in every form.
func exported(t *testing.T) (rep Report, sheets map[string]*book.Sheet) {
	t.Helper()
	t.Chdir(t.TempDir())
	rep, err := Convert(context.Background(), Example, Options{Effort: "quick", Version: "test", Export: []Format{UBL, JSON, CSV}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := book.Open(context.Background(), rep.Out)
	if err != nil {
		t.Fatal(err)
	}
	sheets = map[string]*book.Sheet{}
	for _, s := range b.Sheets {
		sheets[s.Name] = s
	}
	return rep, sheets
}

// TestExportsSayWhatTheSheetsSay reads every form back by other readers than
// wrote it and compares it with the cells of the workbook.
func TestExportsSayWhatTheSheetsSay(t *testing.T) {
	rep, sheets := exported(t)
	want := []string{"example.takeoff.order.xml", "example.takeoff.json", "example.takeoff csv"}
	if !slices.Equal(rep.Exports, want) {
		t.Fatalf("got %v, want %v", rep.Exports, want)
	}
	t.Run("csv", func(t *testing.T) { tablesAgree(t, want[2], sheets) })
	t.Run("ubl", func(t *testing.T) { orderAgrees(t, want[0], sheets["Order summary"]) })
	t.Run("json", func(t *testing.T) { resultAgrees(t, want[1], sheets) })
}

// tablesAgree compares every CSV file with its sheet, cell by cell.
func tablesAgree(t *testing.T, folder string, sheets map[string]*book.Sheet) {
	seen := 0
	for _, name := range []string{"Summary", "Order summary", "Cut list", "Storey rod", "Battens", "Trims", "Cutting plan", "Fixing schedule", "Measured quantities", "Alternatives", "Flagged issues"} {
		f, err := os.Open(filepath.Join(folder, name+".csv"))
		if err != nil {
			t.Error(err)
			continue
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, row := range rows {
			for j, got := range row {
				seen++
				is := sheets[name].Rows[i].At(j + 1).Text
				if !sameValue(strings.TrimPrefix(got, "'"), is) && i+1 == sheets[name].Rows[i].Number {
					t.Errorf("%s row %d column %d: got %q, the sheet has %q", name, i+1, j+1, got, is)
				}
			}
		}
	}
	if seen < 5000 {
		t.Errorf("only %d cells were compared", seen)
	}
}

func sameValue(a, b string) bool {
	x, err1 := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	return a == b || err1 == nil && err2 == nil && math.Abs(x-y) < 1e-9*max(1, math.Abs(x))
}

// number reads a cell of an order row by its header.
func number(t *testing.T, s *book.Sheet, row int, header string) float64 {
	t.Helper()
	for _, c := range s.Rows[0].Cells {
		if c.Text == header {
			v, _ := strconv.ParseFloat(s.Rows[row].At(c.Col).Text, 64)
			return v
		}
	}
	t.Fatalf("no column %s", header)
	return 0
}

// orderAgrees adds up the order's document and compares it, line by line and
// in all, with the order summary.
func orderAgrees(t *testing.T, file string, s *book.Sheet) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Total float64 `xml:"AnticipatedMonetaryTotal>PayableAmount"`
		Lines []struct {
			Quantity float64 `xml:"Quantity"`
			Amount   float64 `xml:"LineExtensionAmount"`
			Price    float64 `xml:"Price>PriceAmount"`
			Code     string  `xml:"Item>SellersItemIdentification>ID"`
		} `xml:"OrderLine>LineItem"`
	}
	if err := xml.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Lines) < 10 {
		t.Fatalf("only %d lines", len(doc.Lines))
	}
	sum := 0.0
	for i, l := range doc.Lines {
		sum += l.Amount
		bought := number(t, s, i+1, "Packs") * number(t, s, i+1, "Pack")
		if code := s.Rows[i+1].At(3).Text; code != l.Code || !near(l.Quantity, bought) || !near(l.Amount, number(t, s, i+1, "Amount")) || !near(l.Amount, l.Quantity*l.Price) {
			t.Errorf("line %d: got %+v, the sheet has %s, %v, %v", i+1, l, code, bought, number(t, s, i+1, "Amount"))
		}
	}
	foot := 0.0
	for i, r := range s.Rows {
		if strings.HasPrefix(r.At(1).Text, "Total ") {
			foot = number(t, s, i, "Amount")
		}
	}
	if !near(doc.Total, sum) || !near(doc.Total, foot) {
		t.Errorf("the total is %v, its lines come to %v, the sheet says %v", doc.Total, sum, foot)
	}
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// resultAgrees compares the JSON with the flat sheets.
func resultAgrees(t *testing.T, file string, sheets map[string]*book.Sheet) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Units   string
		Figures struct{ Amount float64 }
		Walls   []struct {
			Pieces []struct {
				Piece     string
				Length_mm float64
			}
			Battens, Courses, Trims, Screws []any
		}
		Cutting_plan, Order []any
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	row := 0
	counts := map[string]int{"Cutting plan": len(doc.Cutting_plan)}
	for _, w := range doc.Walls {
		for _, p := range w.Pieces {
			row++
			if mark, l := sheets["Cut list"].Rows[row].At(4).Text, number(t, sheets["Cut list"], row, "Length mm"); mark != p.Piece || math.Abs(l-p.Length_mm) > 0.05 {
				t.Errorf("piece %d: got %+v, the sheet has %s %v", row, p, mark, l)
			}
		}
		counts["Cut list"] += len(w.Pieces)
		counts["Battens"] += len(w.Battens)
		counts["Storey rod"] += len(w.Courses)
		counts["Trims"] += len(w.Trims)
	}
	for name, n := range counts {
		if got := len(sheets[name].Rows) - 1; got != n {
			t.Errorf("%s: the JSON has %d, the sheet %d", name, n, got)
		}
	}
	if !strings.Contains(doc.Units, "mm") {
		t.Error("the units are not named")
	}
}

// TestExportWithoutDate: an order that cannot be dated is refused before
// anything is written; the other forms want no date.
func TestExportWithoutDate(t *testing.T) {
	dir := t.TempDir()
	walls := filepath.Join(dir, "Walls.csv")
	if err := os.WriteFile(walls, []byte("Wall,Width mm,Height mm\nFront,4000,2700\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Convert(context.Background(), walls, Options{Export: []Format{JSON, UBL}})
	if KindOf(err) != Unusable || !strings.Contains(err.Error(), "Issue date") {
		t.Errorf("got %v", err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
	rep, err := Convert(context.Background(), walls, Options{Export: []Format{JSON}})
	if err != nil || len(rep.Exports) != 1 {
		t.Errorf("got %v, %v", rep.Exports, err)
	}
}

// TestTablesFolder: a folder of tables is replaced whole, and a folder that
// holds anything else is kept.
func TestTablesFolder(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "x csv")
	make := func(name string) func(string) error {
		return func(d string) error { return os.WriteFile(filepath.Join(d, name), nil, 0o644) }
	}
	for _, tt := range []struct {
		file, want string
		holds      []string
	}{
		{"a.csv", target, []string{"a.csv"}},
		{"b.csv", target, []string{"b.csv"}},
	} {
		got, err := saveFolder(target, make(tt.file))
		if err != nil || got != tt.want || !slices.Equal(names(t, got), tt.holds) {
			t.Errorf("got %s %v %v, want %s %v", got, names(t, got), err, tt.want, tt.holds)
		}
	}
	if err := os.WriteFile(filepath.Join(target, "mine.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	got, err := saveFolder(target, make("c.csv"))
	if err != nil || got == target || !slices.Equal(names(t, target), []string{"b.csv", "mine.txt"}) {
		t.Errorf("got %s %v; kept %v", got, err, names(t, target))
	}
	if all := names(t, dir); len(all) != 2 {
		t.Errorf("left behind: %v", all)
	}
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestFormats(t *testing.T) {
	got, err := Formats("ubl, JSON,csv")
	if err != nil || !slices.Equal(got, []Format{UBL, JSON, CSV}) {
		t.Errorf("got %v, %v", got, err)
	}
	if _, err := Formats("pdf"); err == nil {
		t.Error("pdf is taken for a form")
	}
}
