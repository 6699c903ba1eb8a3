package convert

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/exchange"
	"lapwright/engine"
)

// circle is a takeoff workbook as its reader has it open.
type circle struct {
	t    *testing.T
	path string
	rep  Report
}

// newCircle takes off a survey of two walls with a board of its own and a
// sheet that is called as one of ours.
func newCircle(t *testing.T) *circle {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	rows := map[string][][]any{
		"Walls": {{"Wall", "Width mm", "Height mm", "Colour"}, {"Front", 4000, 2700, "Grey"}, {"Rear", 4000, 2700, "Grey"}},
		"Products": {{"Role", "Code", "Description", "Colour", "Unit", "Length mm", "Width mm", "Thickness mm", "Pack", "Price"},
			{"board", "OWN-36", "Board", "Grey", "piece", 3600, 180, 10, 2, 20}, {"board", "OWN-36", "Board", "Blue", "piece", 3600, 180, 10, 2, 30}},
		"Order summary": {{"the survey's own"}},
	}
	for _, sheet := range []string{"Walls", "Products", "Order summary"} {
		if _, err := f.NewSheet(sheet); err != nil {
			t.Fatal(err)
		}
		for i, row := range rows[sheet] {
			if err := f.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := f.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	for _, cell := range []string{"A2", "C3"} { // the first is flagged as well, for want of its edges
		if err := f.AddComment("Walls", excelize.Comment{Cell: cell, Author: "surveyor", Text: "ask the client"}); err != nil {
			t.Fatal(err)
		}
	}
	in := filepath.Join(t.TempDir(), "house.xlsx")
	if err := f.SaveAs(in); err != nil {
		t.Fatal(err)
	}
	c := &circle{t: t, path: in}
	c.run()
	return c
}

// run takes off the workbook again and goes on with the new one.
func (c *circle) run() {
	c.t.Helper()
	before, err := os.ReadFile(c.path)
	if err != nil {
		c.t.Fatal(err)
	}
	rep, err := Convert(c.t.Context(), c.path, Options{Effort: engine.EffortQuick})
	if err != nil {
		c.t.Fatal(err)
	}
	if after, _ := os.ReadFile(c.path); string(after) != string(before) || rep.Out == c.path {
		c.t.Errorf("%s was written to", c.path)
	}
	c.path, c.rep = rep.Out, rep
}

// edit opens the workbook and saves it with something changed.
func (c *circle) edit(change func(f *excelize.File) error) {
	c.t.Helper()
	f, err := excelize.OpenFile(c.path)
	if err == nil {
		err = change(f)
	}
	if err == nil {
		err = f.Save()
	}
	if err != nil {
		c.t.Fatal(err)
	}
	f.Close()
}

func (c *circle) set(sheet, cell string, value any) {
	c.t.Helper()
	c.edit(func(f *excelize.File) error { return f.SetCellValue(sheet, cell, value) })
}

// rows reads a sheet.
func (c *circle) rows(sheet string) [][]string {
	c.t.Helper()
	f, err := excelize.OpenFile(c.path, excelize.Options{RawCellValue: true})
	if err != nil {
		c.t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(sheet)
	if err != nil {
		c.t.Fatal(err)
	}
	return rows
}

// line returns a line of the order by code and colour.
func (c *circle) line(code, colour string) exchange.OrderLine {
	c.t.Helper()
	for _, l := range c.rep.Order {
		if l.Code == code && (colour == "" || l.Colour == colour) {
			return l
		}
	}
	c.t.Fatalf("the order has no %s %s: %+v", code, colour, c.rep.Order)
	return exchange.OrderLine{}
}

// since returns what the Summary says has changed.
func (c *circle) since() string {
	c.t.Helper()
	var out []string
	for _, row := range c.rows("Summary") {
		if strings.TrimSpace(row[0]) == "Since the last run" {
			out = append(out, row[1]+": "+row[4])
		}
	}
	return strings.Join(out, "\n")
}

func (c *circle) says(want ...string) {
	c.t.Helper()
	got := c.since()
	for _, w := range want {
		if !strings.Contains(got, w) {
			c.t.Errorf("the Summary says\n%s\nwithout %q", got, w)
		}
	}
}

// ours is the name our order has beside the survey's own sheet.
const ours = "Order summary (2)"

// TestRoundAgain goes round as an estimator does: edits, runs, edits again.
// Every expected figure follows from the order's own rule: packs of the net
// quantity with its spare, at the price that stands in the line.
func TestRoundAgain(t *testing.T) {
	c := newCircle(t)
	if got := c.since(); got != "" {
		t.Errorf("the first run says what changed:\n%s", got)
	}
	net := c.line("OWN-36", "Grey").Net
	c.run()
	c.says("Nothing: The same boards, cost, walls and flags")

	// a price and a spare are edited; row 2 is the board
	if rows := c.rows(ours); rows[1][2] != "OWN-36" {
		t.Fatalf("row 2 of the order is %v", rows[1])
	}
	c.set(ours, "L2", 25)
	c.set(ours, "H2", 10)
	c.run()
	l := c.line("OWN-36", "Grey")
	if l.Price != 25 || l.Spare != 10 || l.Pack != 2 || l.Amount != l.Packs*2*25 || l.Order < net*1.1 || l.Order >= net*1.1+1 {
		t.Errorf("after the edits the line is %+v", l)
	}
	c.says("Cost: ", "Your inputs kept: OWN-36 Grey spare 10 % (the rules say 0), OWN-36 Grey price 25 (Products: 20).")

	// the catalogue changes pack and price: the pack was never edited, so it follows
	c.set("Products", "I2", 4)
	c.set("Products", "J2", 22)
	c.run()
	if l := c.line("OWN-36", "Grey"); l.Price != 25 || l.Pack != 4 {
		t.Errorf("after the catalogue changed the line is %+v, want the price 25 kept and packs of 4", l)
	}
	c.says("price 25 (Products: 22)", "Products and rules: OWN-36 Grey pack 4, was 2, OWN-36 Grey price 22, was 20.")

	// put back to what was issued: no edit any more, and the catalogue counts again
	c.set(ours, "L2", 22)
	c.set("Products", "J2", 23)
	c.run()
	if l := c.line("OWN-36", "Grey"); l.Price != 23 || l.Spare != 10 {
		t.Errorf("with the edit taken back the line is %+v, want the catalogue's 23", l)
	}
	if got := len(listing(t, filepath.Dir(c.path))); got != 6 {
		t.Errorf("five runs and a survey left %d files", got)
	}
}

// TestRoundAgainWalls edits the survey's own sheets in the takeoff.
func TestRoundAgainWalls(t *testing.T) {
	c := newCircle(t)
	boards, cost := c.rep.Boards, c.rep.Amount
	c.edit(func(f *excelize.File) error { // Rear becomes Side in blue, a wider wall is added; ours are renamed
		for cell, v := range map[string]any{"A3": "Side", "D3": "Blue", "A4": "Yard", "B4": 6000, "C4": 2500, "D4": "Grey"} {
			if err := f.SetCellValue("Walls", cell, v); err != nil {
				return err
			}
		}
		if err := f.SetCellValue(ours, "I2", 999); err != nil { // typed over its formula
			return err
		}
		if err := f.SetSheetName("Cut list", "Old cuts"); err != nil {
			return err
		}
		names := f.WorkBook.DefinedNames.DefinedName // which follow, in a spreadsheet program
		for i := range names {
			names[i].Data = strings.Replace(names[i].Data, "'Cut list'", "'Old cuts'", 1)
		}
		return f.SetSheetName("Front", "Front wall")
	})
	c.run()
	c.says("Walls added: Side, Yard.", "Walls removed: Rear.", "Quantity not kept: OWN-36 Grey 999, now ",
		fmt.Sprintf("Boards to cut: %d, were %d (%+d).", c.rep.Boards, boards, c.rep.Boards-boards),
		fmt.Sprintf("Cost: %.2f GBP, was %.2f (%+.2f).", c.rep.Amount, cost, c.rep.Amount-cost))
	f, err := excelize.OpenFile(c.path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want := "Walls, Products, Order summary, Summary, Order summary (2), Cut list, Front, Side, Yard, "
	if got := strings.Join(f.GetSheetList(), ", "); !strings.HasPrefix(got, want) {
		t.Errorf("the sheets are %s, want %s...", got, want)
	}

	// two colours of one code are two lines, each with its own edit
	rows := c.rows(ours)
	for i, row := range rows {
		if len(row) > 4 && row[2] == "OWN-36" && row[4] == "Blue" {
			c.set(ours, "L"+strconv.Itoa(i+1), 31)
		}
	}
	c.run()
	if blue, grey := c.line("OWN-36", "Blue").Price, c.line("OWN-36", "Grey").Price; blue != 31 || grey != 20 {
		t.Errorf("the prices are %v and %v, want 31 for blue and 20 for grey", blue, grey)
	}
	c.set("Walls", "D3", "Grey") // the blue line goes
	c.run()
	c.says("Edits with no line: OWN-36 Blue.")
}

// TestRoundAgainSavedElsewhere has other programs save the workbook between
// the edit and the run.
func TestRoundAgainSavedElsewhere(t *testing.T) {
	for _, tool := range []struct {
		name string
		args func(in, dir string) []string
	}{
		{"soffice", func(in, dir string) []string {
			return []string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to", "xlsx", "--outdir", dir, in}
		}},
		{"ssconvert", func(in, dir string) []string { return []string{in, filepath.Join(dir, filepath.Base(in))} }},
	} {
		t.Run(tool.name, func(t *testing.T) {
			program, err := exec.LookPath(tool.name)
			if err != nil || testing.Short() {
				t.Skip("slow, or not installed")
			}
			c := newCircle(t)
			for round := range 2 {
				c.set(ours, "L2", 25+round)
				c.set("Walls", "A4", "Yard")
				c.set("Walls", "B4", 5000+100*round)
				c.set("Walls", "C4", 2500)
				dir := t.TempDir()
				if said, err := exec.Command(program, tool.args(c.path, dir)...).CombinedOutput(); err != nil {
					t.Fatalf("%v\n%s", err, said)
				}
				c.path = filepath.Join(dir, filepath.Base(c.path))
				c.run()
				if l := c.line("OWN-36", ""); l.Price != float64(25+round) || l.Pack != 2 {
					t.Errorf("round %d: the line is %+v", round, l)
				}
			}
			c.says("Walls changed: Yard (11.98 m2 net, was 11.75).", "price 26 (Products: 20)")
			c.comments()
			if names := len(c.sheets()); names != 18 {
				t.Errorf("%d sheets, want 18: %q", names, c.sheets())
			}
		})
	}
}

func (c *circle) sheets() []string {
	c.t.Helper()
	f, err := excelize.OpenFile(c.path)
	if err != nil {
		c.t.Fatal(err)
	}
	defer f.Close()
	return f.GetSheetList()
}

// comments wants the surveyor's two comments, and ours once a cell.
func (c *circle) comments() {
	c.t.Helper()
	f, err := excelize.OpenFile(c.path)
	if err != nil {
		c.t.Fatal(err)
	}
	defer f.Close()
	list, err := f.GetComments("Walls")
	if err != nil {
		c.t.Fatal(err)
	}
	theirs := 0
	for _, n := range list {
		text := n.Text
		for _, run := range n.Paragraph {
			text += run.Text
		}
		theirs += strings.Count(text, "ask the client")
		if strings.Count(text, "lapwright:") > 1 {
			c.t.Errorf("%s says it twice: %q", n.Cell, text)
		}
	}
	if theirs != 2 {
		c.t.Errorf("the surveyor's comments stand %d times, want 2: %+v", theirs, list)
	}
}
