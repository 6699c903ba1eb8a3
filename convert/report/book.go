package report

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/archive"
	surveybook "lapwright/convert/survey/book"
	"lapwright/engine"
)

// book is a workbook being written.
type book struct {
	in         Input
	res        *engine.Result
	file       *excelize.File
	styles     [looks]int // of each look, 0: not made yet
	names      names
	actual     map[string]string // name of the contract -> name in this workbook
	own        []string          // our sheets, in order
	help       []string          // sheets of the survey that are not its data
	kept       map[string]string // the survey's sheets, folded -> as spelt
	flags      []engine.Flag     // as the sheet of flags lists them
	order      span              // rows of the order table
	total      string            // cell of the order's total
	walls      [][]way           // those with a sheet of their own
	wallSheets []string          // their sheets
	saw        []delivery
	tables     []Table // gathers tables that are not to be written as sheets; nil: they are
	macros     bool    // the survey had some, which are left out
	widths     nameWidths
	parts      int // highest number of a sheet's part when it came
	aside      tablesAside
	written    map[string]*surveybook.Contents // of our sheets, as they are written
}

// span is a run of rows of a sheet, both ends included.
type span struct{ first, last int }

// planned is one sheet to write: want is the name it should have, sheet the
// one it was given.
type planned struct {
	want, sheet string
	apart       string // tells walls' sheets of one name apart, blank: no other has it
	drawn       bool   // made to be printed, and no table
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
		actual: map[string]string{}, kept: map[string]string{},
		names: names{}, written: map[string]*surveybook.Contents{},
	}
	b.flags = bySeverity(in.Result.Flags)
	b.walls, b.saw = drawnWalls(in.Result), deliveries(in.Result)
	if in.Survey == nil {
		b.file = excelize.NewFile()
		return b, b.baseFont()
	}
	f, err := excelize.OpenReader(bytes.NewReader(in.Survey), excelize.Options{RawCellValue: true})
	if err != nil {
		return nil, fmt.Errorf("the survey's workbook cannot be read again: %w", err)
	}
	b.file = f
	b.macros = b.dropMacros()
	b.alignLegacy()
	b.numberShapes()
	left, err := b.dropEarlier()
	if err != nil {
		return nil, err
	}
	if !left { // an earlier takeoff that was made without the survey's sheets
		b.in.Survey = nil
		if err := f.Close(); err != nil {
			return nil, err
		}
		b.file = excelize.NewFile()
		return b, b.baseFont()
	}
	for _, s := range f.GetSheetList() {
		b.names.take(s)
		b.kept[strings.ToLower(s)] = s
	}
	return b, nil
}

// newSheet adds an empty sheet at the end.
func (b *book) newSheet(name string) error {
	list := &b.file.WorkBook.Sheets.Sheet
	if n, highest := len(*list), b.highestPart(); n > 0 {
		// The library numbers a new sheet's part after the highest sheet id,
		// and would overwrite a part where ids are not the numbers of parts: a
		// sheet that is there for this moment only has the higher id.
		stand := (*list)[n-1]
		stand.SheetID, stand.Name = max(stand.SheetID, highest), "\x00"
		*list = append(*list, stand)
		defer func() { *list = slices.Delete(*list, n, n+1) }()
	}
	_, err := b.file.NewSheet(name)
	return err
}

// highestPart returns the highest number of a sheet's part in the survey.
func (b *book) highestPart() int {
	if b.parts == 0 {
		for _, part := range b.sheetParts() {
			n := 0
			if _, err := fmt.Sscanf(part, "xl/worksheets/sheet%d.xml", &n); err == nil {
				b.parts = max(b.parts, n)
			}
		}
	}
	return b.parts
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
	words := apart(b.res.Walls[:len(b.walls)])
	for i, ways := range b.walls {
		out = append(out, planned{
			want:  wallName(ways[0].WallResult),
			apart: words[i],
			drawn: true,
			write: func(b *book, sheet string) error { return b.writeWall(sheet, ways) },
		})
	}
	out = append(out,
		planned{want: "Storey rod", write: (*book).writeRod},
		planned{want: "Battens", write: (*book).writeBattens},
		planned{want: "Trims", write: (*book).writeTrims},
		planned{want: "Cutting plan", write: (*book).writeCutting},
		planned{want: "Saw sheet", drawn: true, write: (*book).writeSaw},
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
	if len(b.in.Questions) > 0 {
		out = append(out, planned{want: "Questions", write: (*book).writeQuestions})
	}
	out = append(out, planned{want: "Flagged issues", write: (*book).writeFlags})
	if manyPlots(b.res) {
		out = append(out, planned{want: "Plot sheets", write: (*book).writePlots})
	}
	return out
}

// nameSheets gives the sheets their names: those of the contract come before the
// walls'.
func (b *book) nameSheets(sheets []planned) {
	for i, s := range sheets {
		if fixedSheet(s.want) {
			sheets[i].sheet = b.names.take(s.want)
			b.actual[s.want] = sheets[i].sheet
		}
	}
	for i, s := range sheets {
		if !fixedSheet(s.want) {
			sheets[i].sheet = b.names.takeApart(s.want, s.apart)
			if s.drawn {
				b.wallSheets = append(b.wallSheets, sheets[i].sheet)
			}
		}
	}
}

// reserve makes all sheets empty, in order, before any is streamed: the
// library reads every streamed sheet back when one is added or removed later.
func (b *book) reserve(sheets []planned) error {
	b.nameSheets(sheets)
	for i := range sheets {
		if err := b.newSheet(sheets[i].sheet); err != nil {
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
	case "Summary", "Order summary", "Cut list", "Storey rod", "Battens", "Trims", "Cutting plan", "Saw sheet",
		"Fixing schedule", "Measured quantities", "Survey as read", "Alternatives", "Rejected", "Questions", "Flagged issues", "Plot sheets":
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
	b.putTablesBack()
	b.properties()
	if t := b.file.ContentTypes; t != nil { // the library adds picture types in the order of a map
		sort.SliceStable(t.Defaults, func(i, j int) bool { return t.Defaults[i].Extension < t.Defaults[j].Extension })
	}
	// The library gives a buffer for the whole file to write to, and copies it
	// from there: it stays empty.
	b.file.SetZipWriter(func(io.Writer) excelize.ZipWriter {
		z := archive.New(w)
		z.Seal(namesPart)
		return z
	})
	return b.file.Write(io.Discard)
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
