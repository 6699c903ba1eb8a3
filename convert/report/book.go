package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/drawing"
	"lapwright/engine"
)

// book is a workbook being written.
type book struct {
	in     Input
	res    *engine.Result
	file   *excelize.File
	styles map[look]int
	names  names
	actual map[string]string // name of the contract -> name in this workbook
	own    []string          // our sheets, in order
	kept   map[string]string // the survey's sheets, folded -> as spelt
	flags  []engine.Flag     // as the sheet of flags lists them
	order  span              // rows of the order table
	total  string            // cell of the order's total
	draw   *drawing.Drawer
}

// span is a run of rows of a sheet, both ends included.
type span struct{ first, last int }

// planned is one sheet to write: want is the name it should have, sheet the
// one it was given.
type planned struct {
	want, sheet string
	write       func(b *book, sheet string) error
}

// earliest stands where no date is given, so that two runs are equal.
var earliest = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func open(in Input) (*book, error) {
	if in.Date.IsZero() {
		in.Date = earliest
	}
	b := &book{
		in: in, res: in.Result,
		styles: map[look]int{}, actual: map[string]string{}, kept: map[string]string{},
		names: names{}, draw: drawing.New(),
	}
	b.flags = bySeverity(in.Result.Flags)
	if in.Survey == nil {
		b.file = excelize.NewFile()
		return b, b.baseFont()
	}
	f, err := excelize.OpenReader(bytes.NewReader(in.Survey), excelize.Options{RawCellValue: true})
	if err != nil {
		return nil, fmt.Errorf("the survey's workbook cannot be read again: %w", err)
	}
	b.file = f
	if err := b.dropEarlier(); err != nil {
		return nil, err
	}
	for _, s := range f.GetSheetList() {
		b.names.take(s)
		b.kept[strings.ToLower(s)] = s
	}
	return b, nil
}

// baseFont makes the face of our sheets the workbook's own: column widths are
// counted in its digits.
func (b *book) baseFont() error {
	if err := b.file.SetDefaultFont(face); err != nil {
		return err
	}
	if f := b.file.Styles.Fonts.Font[0]; f.Sz != nil && f.Sz.Val != nil {
		*f.Sz.Val = 10
	}
	return nil
}

// sheets lists what is to be written, in the order of the workbook.
func (b *book) sheets() []planned {
	out := []planned{
		{want: "Summary", write: (*book).writeSummary},
		{want: "Order summary", write: (*book).writeOrder},
		{want: "Cut list", write: (*book).writeCutList},
	}
	for i := range b.res.Walls {
		if i == b.res.Job.Rules.WallSheetsMost {
			break
		}
		w := &b.res.Walls[i]
		out = append(out, planned{
			want:  strings.TrimSpace(w.Plot + " " + w.Name),
			write: func(b *book, sheet string) error { return b.writeWall(sheet, w) },
		})
	}
	out = append(out,
		planned{want: "Storey rod", write: (*book).writeRod},
		planned{want: "Battens", write: (*book).writeBattens},
		planned{want: "Trims", write: (*book).writeTrims},
		planned{want: "Cutting plan", write: (*book).writeCutting},
		planned{want: "Fixing schedule", write: (*book).writeFixings},
		planned{want: "Measured quantities", write: (*book).writeMeasured},
	)
	if b.in.AsRead != nil {
		out = append(out, planned{want: "Survey as read", write: (*book).writeAsRead})
	}
	out = append(out, planned{want: "Alternatives", write: (*book).writeAlternatives})
	if b.in.Rejected != nil && len(b.in.Rejected.Rows) > 0 {
		out = append(out, planned{want: "Rejected", write: (*book).writeRejected})
	}
	return append(out, planned{want: "Flagged issues", write: (*book).writeFlags})
}

// reserve makes all sheets empty, in order, before any is streamed: the
// library reads every streamed sheet back when one is added or removed later.
func (b *book) reserve(sheets []planned) error {
	walls := map[int]bool{}
	for i, s := range sheets { // the contract's names come before the walls'
		if !fixedSheet(s.want) {
			walls[i] = true
			continue
		}
		sheets[i].sheet = b.names.take(s.want)
		b.actual[s.want] = sheets[i].sheet
	}
	for i := range sheets {
		if walls[i] {
			sheets[i].sheet = b.names.take(sheets[i].want)
		}
		if _, err := b.file.NewSheet(sheets[i].sheet); err != nil {
			return err
		}
		b.own = append(b.own, sheets[i].sheet)
	}
	if b.in.Survey == nil {
		if err := b.file.DeleteSheet("Sheet1"); err != nil {
			return err
		}
	}
	if err := b.activate(b.actual["Summary"]); err != nil {
		return err
	}
	b.layOrder()
	return b.signNames()
}

// fixedSheet reports whether the contract fixes that name.
func fixedSheet(name string) bool {
	switch name {
	case "Summary", "Order summary", "Cut list", "Storey rod", "Battens", "Trims", "Cutting plan",
		"Fixing schedule", "Measured quantities", "Survey as read", "Alternatives", "Rejected", "Flagged issues":
		return true
	}
	return false
}

// save writes the workbook with its parts in one fixed order.
func (b *book) save(w io.Writer) error {
	full := true
	if err := b.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &full}); err != nil {
		return err
	}
	b.properties()
	b.file.SetZipWriter(newSortedZip)
	return b.file.Write(w)
}

// ref returns a sheet's name as a formula or a link writes it.
func ref(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'" }

// cellRef returns a reference to one cell of a sheet of the contract.
func (b *book) cellRef(sheet, cell string) string { return ref(b.actual[sheet]) + "!" + cell }

// rangeRef returns a reference to a column of the table on a sheet of the
// contract, which has its header in row 1 and n rows below it; an empty table
// still has one blank row.
func (b *book) rangeRef(sheet, column string, n int) string {
	return fmt.Sprintf("%s!$%s$2:$%s$%d", ref(b.actual[sheet]), column, column, max(n, 1)+1)
}
