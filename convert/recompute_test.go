package convert

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// always tells LibreOffice to compute every formula anew when it loads a file.
const always = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`

// recomputed has another program compute a workbook anew.
func recomputed(t *testing.T, tool, in string) string {
	t.Helper()
	program, err := exec.LookPath(tool)
	if err != nil || testing.Short() {
		t.Skip("slow, or not installed")
	}
	dir := t.TempDir()
	out := filepath.Join(dir, filepath.Base(in))
	args := []string{"--recalc", in, out}
	if tool == "soffice" {
		if err := os.MkdirAll(filepath.Join(dir, "profile", "user"), 0o755); err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(dir, "profile", "user", "registrymodifications.xcu"), always, 0o644)
		args = []string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to", "xlsx", "--outdir", dir, in}
	}
	if said, err := exec.Command(program, args...).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	return out
}

// TestRecomputedLikeTheEngine edits spare, pack and price of three lines. What
// other spreadsheet programs then compute is what the engine gives when the
// edited workbook is taken off again; the values that stood in the workbook
// are those of before the edits, and would show if nothing were computed.
func TestRecomputedLikeTheEngine(t *testing.T) {
	for _, tool := range []string{"soffice", "ssconvert"} {
		t.Run(tool, func(t *testing.T) {
			c := newCircle(t)
			before := c.rep.Amount
			c.set(ours, "H2", 12.5)
			c.set(ours, "J3", 7)
			c.set(ours, "L4", 3.99)
			other := recomputed(t, tool, c.path)
			c.run()
			if cents := math.Abs(before - c.rep.Amount); cents < 1 {
				t.Fatalf("the edits change the cost by %v only", cents)
			}
			f, err := excelize.OpenFile(other, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			rows, err := f.GetRows(ours)
			if err != nil {
				t.Fatal(err)
			}
			for i, l := range c.rep.Order {
				for header, want := range map[string]float64{"Net quantity": l.Net, "Spare %": l.Spare, "Order quantity": l.Order, "Pack": l.Pack, "Packs": l.Packs, "Unit price": l.Price, "Amount": l.Amount} {
					sameFigure(t, l.Code+" "+header, column(rows, i+1, header), want)
				}
			}
			sameFigure(t, "the total", column(rows, len(c.rep.Order)+2, "Amount"), c.rep.Amount)
			for name, want := range map[string]float64{
				"Order_total": c.rep.Amount, "Boards": float64(c.rep.Boards), "Net_area": c.rep.NetArea, "Waste_percent": c.rep.Waste, "Walls_taken_off": float64(c.rep.Walls),
			} {
				sameFigure(t, name, named(t, f, name), want)
			}
			// the survey gives no price for what it does not list, and that
			// alone is to be checked
			if got, want := toCheck(t, f), []string{"Checks", "Every order line has a price"}; !slices.Equal(got, want) {
				t.Errorf("to be checked: %q, want %q", got, want)
			}
		})
	}
}

// toCheck lists the items of the Summary that say CHECK.
func toCheck(t *testing.T, f *excelize.File) []string {
	t.Helper()
	rows, err := f.GetRows("Summary")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, r := range rows {
		if len(r) > 2 && r[2] == "CHECK" {
			out = append(out, r[1])
		}
	}
	return out
}

func sameFigure(t *testing.T, what, got string, want float64) {
	t.Helper()
	if v, err := strconv.ParseFloat(got, 64); err != nil || math.Abs(v-want) > 1e-6 {
		t.Errorf("%s: computed %q, the engine says %v", what, got, want)
	}
}

func column(rows [][]string, row int, header string) string {
	for i, h := range rows[0] {
		if h == header && row < len(rows) && i < len(rows[row]) {
			return rows[row][i]
		}
	}
	return fmt.Sprintf("no %s in row %d", header, row+1)
}

// named returns the value of the cell that a name of the workbook refers to.
func named(t *testing.T, f *excelize.File, name string) string {
	t.Helper()
	for _, d := range f.GetDefinedName() {
		if d.Name != name || d.Scope != "Workbook" {
			continue
		}
		sheet, cell, _ := strings.Cut(strings.ReplaceAll(d.RefersTo, "$", ""), "!")
		v, err := f.GetCellValue(strings.Trim(sheet, "'"), cell)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	t.Errorf("the workbook has no name %s", name)
	return ""
}

// TestNamesOfTheSurveyStay: a survey that has a name Boards of its own keeps
// it, however often it goes round; a reader's name for one of our cells and a
// sheet that refers to it live on.
func TestNamesOfTheSurveyStay(t *testing.T) {
	c := newCircle(t)
	c.edit(func(f *excelize.File) error {
		if err := f.DeleteDefinedName(&excelize.DefinedName{Name: "Boards"}); err != nil {
			return err
		}
		for name, at := range map[string]string{"boards": "Walls!$A$1", "To_quote": "'" + ours + "'!$M$2"} {
			if err := f.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: at}); err != nil {
				return err
			}
		}
		if _, err := f.NewSheet("Quote"); err != nil {
			return err
		}
		return f.SetCellFormula("Quote", "A1", "Order_total*1.2")
	})
	for range 2 {
		c.run()
		f, err := excelize.OpenFile(c.path, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		sameFigure(t, "Takeoff_Boards", named(t, f, "Takeoff_Boards"), float64(c.rep.Boards))
		sameFigure(t, "To_quote", named(t, f, "To_quote"), c.rep.Order[0].Amount)
		if got := named(t, f, "boards"); got != "Wall" {
			t.Errorf("the survey's own name now leads to %q", got)
		}
		if formula, _ := f.GetCellFormula("Quote", "A1"); formula != "Order_total*1.2" {
			t.Errorf("the reader's own sheet has the formula %q", formula)
		}
		seen := map[string]int{}
		for _, d := range f.GetDefinedName() {
			if seen[strings.ToLower(d.Name)+" "+d.Scope]++; seen[strings.ToLower(d.Name)+" "+d.Scope] > 1 {
				t.Errorf("the name %s stands twice", d.Name)
			}
		}
		f.Close()
	}
}
