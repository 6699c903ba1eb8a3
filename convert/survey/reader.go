package survey

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

const (
	note  = engine.Note
	check = engine.Check
	stop  = engine.Stop
)

// reader holds what is known while a survey is read.
type reader struct {
	*vocabulary
	ctx      context.Context
	decimal  byte // the job's decimal mark, or 0
	date1904 bool

	mapping  []mapEntry
	unfilled []mapEntry // lines of the mapping with nothing of ours
	tables   []*table   // sheets that are read, in the file's order
	reports  []*SheetReport
	level    int // of the catalogue lines being read
	listed   [3][]engine.Product
	codes    map[[3]string]int // level, code and colour -> row
	plots    map[string]int    // plot -> row
	plotRows []plotRow

	job      *engine.Job
	flags    []placed
	rejected []Rejected
	lines    []lineItem
	items    [][]string // read from sheets of items, as [Survey.AsRead] lists them
	edits    map[EditKey]Edit
	untidy   bool
	files    bool           // it came as CSV, which has no sheets
	order    map[string]int // sheet -> its place in the file
}

// placed is a flag with what it is sorted by.
type placed struct {
	engine.Flag
	sheet, row, col int
}

// lineItem is a wall or an opening with what was found in its row.
type lineItem struct {
	rec   record
	wall  *engine.Wall
	open  *engine.Opening
	known bool // the outline is known
}

func newReader(ctx context.Context) (*reader, error) {
	v, err := known()
	if err != nil {
		return nil, err
	}
	return v.reader(ctx), nil
}

// flag records a flag at a cell of a sheet.
func (r *reader) flag(s *book.Sheet, row, col int, f engine.Flag) {
	if r.files {
		f.Do = inFiles.Replace(f.Do)
	}
	f.Place = engine.Place{File: s.File, Sheet: s.Name, Cell: s.Address(max(col, 1), max(row, 1))}
	r.flags = append(r.flags, placed{f, r.order[s.File+"\x00"+s.Name], row, col})
}

// inFiles says for CSV files what there is to do in the sheets of a workbook.
var inFiles = strings.NewReplacer("in a Mapping sheet", "with --mapping",
	"name the Decimal mark on the Job sheet", "name the Decimal mark in a Job.csv, in one folder with the walls as Walls.csv")

// read takes the sheets of a book in an order in which each finds what it
// needs: the mapping, then the job for its decimal mark, then the rest.
func (r *reader) read(b *book.Book) error {
	r.date1904, r.level, r.files = b.Date1904, levelSurvey, len(b.Sheets) > 0 && isFile(b.Sheets[0])
	for i, s := range b.Sheets {
		r.order[s.File+"\x00"+s.Name] = i + 1
	}
	if err := r.locate(b); err != nil {
		return err
	}
	for _, name := range []string{"Job", "Rules", "Declared", "Products", "Offcuts", "Plots", "Walls", "Openings"} {
		for _, t := range r.tables {
			if t.schema.Name != name {
				continue
			}
			if err := r.ctx.Err(); err != nil {
				return err
			}
			r.readTable(t)
		}
	}
	r.settleProducts()
	r.link()
	return r.complete(b)
}

func (r *reader) readTable(t *table) {
	switch t.schema.Name {
	case "Job", "Rules", "Declared":
		r.readItems(t)
	case "Walls":
		r.readRows(t, r.takeWall)
	case "Openings":
		r.readRows(t, r.takeOpening)
	case "Plots":
		r.readRows(t, r.takePlot)
	case "Offcuts":
		r.readRows(t, r.takeOffcut)
	case "Products":
		r.readRows(t, r.takeProduct)
	}
}

// result puts what was read in order.
func (r *reader) result(b *book.Book) *Survey {
	slices.SortStableFunc(r.flags, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.row, b.row), cmp.Compare(a.col, b.col))
	})
	s := &Survey{Job: r.job, Rejected: r.rejected, Edits: r.edits, Record: b.Text(keptName), Held: b.Text(heldName), Digest: b.Digest, items: r.items, Plain: !r.untidy && len(b.Notes) == 0}
	for _, f := range r.flags {
		s.Flags = append(s.Flags, f.Flag)
	}
	slices.SortStableFunc(r.reports, func(a, b *SheetReport) int {
		return cmp.Compare(r.order[a.File+"\x00"+a.Name], r.order[b.File+"\x00"+b.Name])
	})
	s.Asks = r.questions(b)
	for _, rep := range r.reports {
		s.Sheets = append(s.Sheets, *rep)
	}
	return s
}
