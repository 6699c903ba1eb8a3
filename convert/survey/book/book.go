// Package book reads a spreadsheet file into rows of cells. It knows nothing
// of surveys.
//
// Workbooks are read here from their XML parts and not through the library
// that writes them, because a survey needs what a row iterator does not tell
// (whether a number is a date or a percentage, a formula without a value,
// merged and hidden cells, the true address of a cell) and because a damaged
// part must be an error, not fewer rows. Every part is read to its end and its
// checksum compared before anything is believed.
package book

import (
	"cmp"
	"slices"
	"strconv"
)

// Kind is what a cell holds.
type Kind uint8

// The kinds of cell. A Formula is one whose value the file does not hold; a
// formula with its value is of that value's kind.
const (
	Blank Kind = iota
	Text
	Number
	Bool
	Fault // an error value, as #REF!
	Formula
	Date    // a number shown as a date: Text is the serial number
	Percent // a number shown as a percentage: Text is the fraction
)

// Cell is one cell that is not blank. Text is the raw value, not what the
// number format shows. Suffix is a literal text that the number format shows
// after the number, as " m".
type Cell struct {
	Col    int // 1 is A
	Kind   Kind
	Live   bool // a formula stands there
	Text   string
	Suffix string
}

// Row is one row that holds a cell. Cells stand in order of column.
type Row struct {
	Number int // as the spreadsheet shows it
	Hidden bool
	Cells  []Cell
}

// At returns the cell in a column; its kind is Blank if there is none.
func (r *Row) At(col int) Cell {
	for _, c := range r.Cells {
		if c.Col == col {
			return c
		}
	}
	return Cell{Col: col}
}

// Range is a rectangle of cells, ends included.
type Range struct{ Row1, Col1, Row2, Col2 int }

// Sheet is one sheet, or one CSV file.
type Sheet struct {
	File   string // base name of the file
	Name   string
	Hidden bool
	Rows   []Row // those with cells, in order
	Merged []Range
	Doubts []Doubt // of a text file
	Note   string  // what was unusual about a text file, in words
	Notes  int     // comments at its cells
	Turned bool    // Rows are its columns, and columns its rows

	hidden []Range // columns, from Col1 to Col2
}

// HidesColumn reports whether a column is hidden in the sheet as it is.
func (s *Sheet) HidesColumn(col int) bool {
	return slices.ContainsFunc(s.hidden, func(r Range) bool { return r.Col1 <= col && col <= r.Col2 })
}

// Book is a file, or several CSV files, as read.
type Book struct {
	Sheets   []*Sheet
	Names    map[string]string // defined names and what they refer to
	Date1904 bool
	Digest   string   // SHA-256 of all that was read, in hexadecimal
	Notes    []string // what was unusual about the file, in words
}

// Column returns the letters of a column, 1 being A.
func Column(col int) string {
	var b [4]byte
	i := len(b)
	for ; col > 0 && i > 0; col = (col - 1) / 26 {
		i--
		b[i] = byte('A' + (col-1)%26)
	}
	return string(b[i:])
}

// Address returns a cell's name, as B7.
func Address(col, row int) string { return Column(col) + strconv.Itoa(row) }

const (
	mostRows = 1 << 20
	mostCols = 1 << 14
)

// parseAddress reads a cell's name; ok is false unless it lies on a sheet.
func parseAddress(s string) (col, row int, ok bool) {
	i := 0
	for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' && col <= mostCols {
		col = col*26 + int(s[i]-'A') + 1
		i++
	}
	j := i
	for i < len(s) && s[i] >= '0' && s[i] <= '9' && row <= mostRows {
		row = row*10 + int(s[i]-'0')
		i++
	}
	ok = i == len(s) && i > j && j > 0 && col <= mostCols && row >= 1 && row <= mostRows
	return col, row, ok
}

// Cell returns the cell at a row and column; ok is false if it is blank.
func (s *Sheet) Cell(row, col int) (c Cell, ok bool) {
	i, found := slices.BinarySearchFunc(s.Rows, row, func(r Row, n int) int { return cmp.Compare(r.Number, n) })
	if !found {
		return Cell{Col: col}, false
	}
	c = s.Rows[i].At(col)
	return c, c.Kind != Blank
}

// Fill gives the row cells in columns that are blank in it.
func (r *Row) Fill(cells []Cell) {
	for _, c := range cells {
		if r.At(c.Col).Kind == Blank {
			r.Cells = append(r.Cells, c)
		}
	}
	slices.SortFunc(r.Cells, func(a, b Cell) int { return cmp.Compare(a.Col, b.Col) })
}
