// Package survey reads the survey of a job, a workbook or CSV files, into an
// [engine.Job] in which every row knows the file, sheet and cell it came from.
// It also writes the blank survey workbook and the filled example.
//
// What a column may hold is said once, in the schemas of package templates.
// Nothing is guessed silently: a value is understood, and how is told, or its
// cell is flagged. All faults are flagged, not the first. A fault keeps its own
// wall out of the job, never another one.
package survey

import (
	"context"
	"errors"
	"fmt"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// Options says what else to read.
type Options struct {
	With     []string // more CSV files of the same survey
	Products string   // CSV of a catalogue; comes before the survey's own
	Mapping  string   // CSV of a header mapping; comes before the survey's own
}

// Survey is what was read.
type Survey struct {
	Job      *engine.Job
	Flags    []engine.Flag // by sheet, row and column
	Sheets   []SheetReport // every sheet of the file, read or not
	Rejected []Rejected    // rows not taken, in the survey's order
	Asks     []Question    // what to ask the customer, in the order of the flags
	Edits    map[EditKey]Edit
	Record   string // what the earlier run kept of itself; blank: there was none
	Held     string // what the earlier run counted, as it kept that; blank: there was none
	Sums     []Sum  // of the survey's own sheets, in their order
	Digest   string // SHA-256 of all input files
	items    [][]string
	Plain    bool // everything stood in our own headers, units and places
}

// SheetReport says what a sheet was taken for and accounts for its rows: Rows
// = Taken + Flagged + Blank.
type SheetReport struct {
	File    string
	Name    string
	As      string // our sheet; blank: not read
	Why     string // how it was recognised, or why it was not read
	Header  int    // row of the headers; 0: none
	Columns []Column
	Headers []string // the header cells from column A on

	Rows    int // from below the headers to the last row with a value
	Taken   int
	Flagged int // rows not taken; each has a flag
	Blank   int
	Hidden  int // hidden rows among them

	asked bool // not read, though a survey that lacks walls may want it
}

// Column says what one column was taken for.
type Column struct {
	Letters string
	Header  string // as it stands in the sheet
	Field   string // our header; blank: not read
	Unit    string // unit its values are in unless a cell names its own
	How     string // "own header", "other name", "mapping"; or why it is not read

	base, own string // our header without its unit, and that unit
	doubtful  bool   // not read, but it may hold what a field of ours wants
	near      string // that field, if its header looks like one
}

// Rejected is a row that was not taken. Cells holds its values from column A
// on, as text; Why names the cells at fault. Wall is the wall as far as it is
// understood, or nil where its outline is not known; Stopped says that the
// row itself is sound and was left out for another row of its wall.
type Rejected struct {
	File, Sheet, As string
	Row             int
	Line            string // what the sheet calls the row: its number, or the letters of a column
	Plot, Name      string
	Cells           []string
	Why             string
	Wall            *engine.Wall
	Stopped         bool
}

// EditKey names a line of an earlier order summary.
type EditKey struct{ Drop, Role, Code, Colour string }

// Edit holds such a line's inputs and quantities as they stand there now and as
// the earlier run issued them; Issued is nil where the workbook does not say.
type Edit struct {
	Now                    engine.Inputs
	Issued                 *engine.Inputs
	Net, Order             float64
	IssuedNet, IssuedOrder float64
}

// Error is a survey that cannot be read at all, through no fault of this
// program. Missing: it is not there.
type Error struct {
	Missing bool
	File    string
	What    string
	Do      string
}

// Error returns whole sentences: what is wrong and what to do.
func (e *Error) Error() string { return e.File + " " + e.What + ". " + e.Do + "." }

// Read reads the survey at path: a workbook, a CSV file, or a folder of CSV
// files. The error is an [*Error] where the input is at fault; where it has no
// walls that are known as such, the survey holds what else was found, for a
// mapping and for questions, and cannot be taken off.
func Read(ctx context.Context, path string, o Options) (s *Survey, err error) {
	defer func() {
		if p := recover(); p != nil {
			s, err = nil, fmt.Errorf("reading %s: %v", path, p)
		}
	}()
	go known() // it is worked out the first time while the file is read
	b, err := book.Open(ctx, path, o.With...)
	if err != nil {
		return nil, refusal(err)
	}
	r, err := newReader(ctx)
	if err != nil {
		return nil, err
	}
	if err := r.extras(ctx, o); err != nil {
		return nil, refusal(err)
	}
	sums := surveySums(b) // before cells are filled in
	err = r.read(b)
	if e := (*Error)(nil); err != nil && !errors.As(err, &e) {
		return nil, err
	}
	s = r.result(b)
	s.Sums = sums
	return s, err
}

func refusal(err error) error {
	var r *book.Refusal
	if errors.As(err, &r) {
		return &Error{Missing: r.Missing, File: r.File, What: r.What, Do: r.Do}
	}
	return err
}
