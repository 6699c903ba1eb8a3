// Package report writes a takeoff as a workbook: the survey's own sheets in
// front, then one sheet a table, with live formulas where a reader may change
// a price, a pack or a spare, and one sheet a wall to be printed and taken up
// the scaffold.
package report

import (
	"context"
	"io"
	"time"

	"lapwright/engine"
)

// Input is what a takeoff workbook is made from. Only Result is needed.
type Input struct {
	Result *engine.Result

	// Survey is the survey's own workbook, whose sheets come first; nil where
	// it was no workbook, or where its sheets are not wanted.
	Survey     []byte
	SurveyName string     // as the Summary names it
	Sums       []SheetSum // what its sheets sum up to

	Held Held // what the order counts

	Version string    // of the program
	Digest  string    // of the input and the options
	Date    time.Time // stands in the workbook's properties; zero: a fixed date

	Accessible bool // no frozen panes and no filters, which hinder screen readers

	AsRead    *Grid // the survey's rows as understood, nil: they were in our own form
	Rejected  *Grid // the survey's rows that were not taken
	Questions []Question
	Rows      Rows
	Changes   []Change // since the takeoff that came in as the survey, nil: none did

	rowsMost int // of a table that one sheet holds; 0: what a sheet may
	part     int // of the table being written
}

// Grid is a plain table of text, its first row apart.
type Grid struct {
	Header []string
	Rows   [][]string
}

// Rows accounts for every row of the survey: Read is the sum of the others
// unless a row was lost.
type Rows struct{ Read, Taken, Flagged, Blank int }

// Write writes the takeoff workbook. Equal inputs give equal bytes. It stops
// between sheets when ctx is done.
func Write(ctx context.Context, w io.Writer, in Input) (err error) {
	b, err := open(in)
	if err != nil {
		return err
	}
	defer func() {
		if e := b.file.Close(); err == nil {
			err = e
		}
	}()
	defer b.drawAhead(ctx)()
	sheets := b.continued(b.sheets())
	if err := b.reserve(sheets); err != nil {
		return err
	}
	b.settleContinued(sheets)
	if err := b.keepRecord(); err != nil {
		return err
	}
	if err := b.keepHeld([]Held{in.Held}); err != nil {
		return err
	}
	if err := b.markSurvey(); err != nil {
		return err
	}
	return b.finish(ctx, w, sheets)
}

// finish writes the sheets, stopping between two of them when ctx is done, and
// saves the workbook.
func (b *book) finish(ctx context.Context, w io.Writer, sheets []planned) error {
	for _, s := range sheets {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := s.write(b, s.sheet); err != nil {
			return err
		}
	}
	if err := b.keepWritten(); err != nil {
		return err
	}
	return b.save(w)
}
