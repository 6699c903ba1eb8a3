package report

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// figure is a figure of the Summary that has a name of its own, for formulas
// and other workbooks to refer to.
type figure struct{ name, item string }

// figures lists the named ones. Names of a workbook know no case and must not
// read as a cell; a name that the survey has already is left to it, and ours
// begins with Takeoff_ instead.
func figures() []figure {
	return []figure{
		{"Net_area", "Net area"},
		{"Gross_area", "Gross area"},
		{"Boards", "Boards to cut"},
		{"Boards_ordered", "Boards to order"},
		{"Waste_percent", "Waste"},
		{"Order_total", "Cost"},
		{"Order_weight_kg", "Weight"},
		{"Walls_taken_off", "Walls taken off"},
		{"Checks_verdict", "Checks"},
	}
}

const otherwise = "Takeoff_"

// figureNames lists every name a figure may have.
func figureNames() []string {
	var out []string
	for _, f := range figures() {
		out = append(out, f.name, otherwise+f.name)
	}
	return out
}

// nameFigures gives the figures of the Summary their names.
func (b *book) nameFigures(rows []summaryRow) error {
	taken := map[string]bool{}
	for _, d := range b.file.GetDefinedName() {
		taken[strings.ToLower(d.Name)] = true
	}
	for _, f := range figures() {
		for i, r := range rows {
			if r.item != f.item || r.section == "Flags" {
				continue
			}
			name := f.name
			if taken[strings.ToLower(name)] {
				name = otherwise + name
			}
			err := b.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: b.cellRef("Summary", fmt.Sprintf("$C$%d", i+2)), Comment: f.item})
			if err != nil {
				return err
			}
			break
		}
	}
	return nil
}

// Record is what a run came to, kept hidden in its workbook so that the next
// run on it can say what changed.
type Record struct {
	Net      float64      `json:"net"` // m2
	Boards   int          `json:"boards"`
	Waste    float64      `json:"waste"` // per cent
	Cost     float64      `json:"cost"`
	Currency string       `json:"currency"`
	Walls    []RecordWall `json:"walls"`
	Flags    []RecordFlag `json:"flags"`
}

// RecordWall is one wall of a run: its net m2, and how many are built.
type RecordWall struct {
	Name     string  `json:"n"`
	Net      float64 `json:"a"`
	Quantity int     `json:"q"`
}

// RecordFlag counts the flags of one code.
type RecordFlag struct {
	Code  string `json:"c"`
	Worst string `json:"s"`
	Count int    `json:"n"`
}

// Change is one thing that is otherwise than in the run before.
type Change struct{ Item, Say string }

// NewRecord sums up a result.
func NewRecord(res *engine.Result) Record {
	t := res.Boards()
	out := Record{Boards: t.Boards, Waste: t.Waste, Currency: res.Job.Currency}
	for i := range res.Walls {
		w := &res.Walls[i]
		out.Net += w.Net * float64(w.Quantity)
		out.Walls = append(out.Walls, RecordWall{wallName(w), w.Net, w.Quantity})
	}
	for i := range res.Order {
		out.Cost += amount(&res.Order[i])
	}
	out.Net, out.Cost = rounded(out.Net), rounded(out.Cost)
	for _, g := range byCode(bySeverity(res.Flags)) {
		out.Flags = append(out.Flags, RecordFlag{g.code, g.worst.String(), g.n})
	}
	return out
}

// keepRecord writes what this run came to into hidden names.
func (b *book) keepRecord() error {
	text, err := json.Marshal(NewRecord(b.res))
	if err != nil {
		return err
	}
	return b.sign(RunName, string(text))
}
