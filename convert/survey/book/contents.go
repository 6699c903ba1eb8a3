package book

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"math"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// Contents sums up what stands in the cells of a sheet, added in order of row and
// column, so that it can be told later whether somebody has written there. It takes
// in what spreadsheet programs keep when they save: texts without white space and
// control characters, numbers to about ten digits, and that a formula stands
// somewhere, not what it gives.
type Contents struct {
	sum  hash.Hash
	wait []byte // what is not summed up yet
}

// NewContents begins a sum.
func NewContents() *Contents { return &Contents{sum: sha256.New()} }

// Formula adds a cell with a formula.
func (c *Contents) Formula(row, col int) { c.at(row, col, 'f') }

// Number adds a cell with a number.
func (c *Contents) Number(row, col int, v float64) {
	const dropped = 20 // of 52 binary digits behind the point
	c.at(row, col, 'n')
	c.wait = binary.AppendUvarint(c.wait, (math.Float64bits(v+0)+1<<(dropped-1))>>dropped)
}

// textMost is how much of a text counts, in bytes: less than a cell may hold.
const textMost = 30_000

// Text adds a cell with a text; one that is blank is none.
func (c *Contents) Text(row, col int, text string) {
	before := c.at(row, col, 't')
	begun := len(c.wait)
	for _, r := range text[:min(len(text), textMost)] {
		switch {
		case ' ' < r && r < 0x7f:
			c.wait = append(c.wait, byte(r))
		case !unicode.IsSpace(r) && !unicode.IsControl(r) && r != unicode.ReplacementChar:
			c.wait = utf8.AppendRune(c.wait, r)
		}
	}
	if len(c.wait) == begun {
		c.wait = c.wait[:before]
	}
}

// at begins a cell and returns how much waited before it.
func (c *Contents) at(row, col int, kind byte) (before int) {
	if len(c.wait) > 4096 {
		c.sum.Write(c.wait) // never fails, as package hash says
		c.wait = c.wait[:0]
	}
	before = len(c.wait)
	c.wait = append(c.wait, 0, kind)
	c.wait = binary.AppendUvarint(binary.AppendUvarint(c.wait, uint64(row)), uint64(col))
	return before
}

// Sum returns 16 letters that differ where the contents do.
func (c *Contents) Sum() string {
	c.sum.Write(c.wait)
	c.wait = c.wait[:0]
	return hex.EncodeToString(c.sum.Sum(nil)[:8])
}

// Sum sums up a sheet, without the cells that skip names and, unless formulas
// count, without those that have one.
func (s *Sheet) Sum(formulas bool, skip func(row *Row, c Cell) bool) string {
	sum := NewContents()
	for i := range s.Rows {
		row := &s.Rows[i]
		for _, c := range row.Cells {
			switch v, err := strconv.ParseFloat(c.Text, 64); {
			case skip != nil && skip(row, c):
			case c.Kind == Bool: // some programs save one as a formula
				sum.Text(row.Number, c.Col, c.Text)
			case c.Live || c.Kind == Formula:
				if formulas {
					sum.Formula(row.Number, c.Col)
				}
			case c.Kind == Text, c.Kind == Fault, err != nil:
				sum.Text(row.Number, c.Col, c.Text)
			default:
				sum.Number(row.Number, c.Col, v)
			}
		}
	}
	return sum.Sum()
}
