package report

import (
	"fmt"
	"strconv"
	"strings"

	"lapwright/convert/archive"
)

// SheetSum is what a sheet of the survey sums up to.
type SheetSum struct{ Sheet, Sum string }

// addUp takes a cell into the sum of its sheet. The inputs of an order are told of by
// themselves.
func (p *page) addUp(col int, c *cell) {
	switch v := c.v.(type) {
	case nil:
	case string:
		if c.f == "" {
			p.sum.Text(p.row, col, v)
			return
		}
	case int:
		if c.f == "" {
			p.sum.Number(p.row, col, float64(v))
			return
		}
	case float64:
		if c.f == "" && c.l != input && c.l != inputHundreds {
			p.sum.Number(p.row, col, v)
			return
		}
	default:
		p.sum.Text(p.row, col, fmt.Sprint(v))
	}
	if c.f != "" {
		p.sum.Formula(p.row, col)
	}
}

// keepWritten writes into hidden names what each sheet sums up to, so that a later
// run sees where somebody has written since. Comments are counted.
func (b *book) keepWritten() error {
	var made, theirs []string
	for _, s := range b.own {
		made = append(made, b.written[s].Sum())
	}
	if b.in.Survey != nil {
		for _, s := range b.in.Sums {
			comments, err := b.file.GetComments(s.Sheet)
			if err != nil {
				return err
			}
			sum := s.Sum
			if n := len(comments); n > 0 {
				sum += ":" + strconv.Itoa(n)
			}
			theirs = append(theirs, sum)
		}
	}
	if err := b.sign(SealName, archive.Unsealed); err != nil {
		return err
	}
	return b.sign(writtenName, strings.Join(made, ",")+";"+strings.Join(theirs, ","))
}

// Untouched reports whether a workbook of ours is as it was written, by its seal,
// which seal is as it stands in its hidden names: nothing of it need be read then.
func Untouched(path, seal string) bool {
	is, err := archive.SealOf(path, namesPart)
	return err == nil && is == seal
}
