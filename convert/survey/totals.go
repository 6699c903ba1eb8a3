package survey

import (
	"math/big"
	"regexp"

	"lapwright/convert/survey/book"
)

// mostSums is how many rows without a name are added up; a survey of many has
// another fault, which is flagged.
const mostSums = 50

// isSum reports whether a row without a name or any other text holds nothing
// but the sums of the numbers above: totals that nobody named.
func (r *reader) isSum(t *table, row *book.Row) bool {
	name := t.find("Wall")
	if name == nil || row.At(name.col).Kind != book.Blank || len(t.sides) > 0 || t.nameless >= mostSums {
		return false
	}
	t.nameless++
	for _, c := range row.Cells {
		v, ok := rawNumber(c.Text)
		if c.Kind != book.Number || !ok || r.sumAbove(t, row.Number, c.Col).Cmp(v) != 0 {
			return false
		}
	}
	return len(row.Cells) > 0
}

// sumAbove adds up the numbers of a column between the headers and a row.
func (r *reader) sumAbove(t *table, row, col int) *big.Rat {
	sum := new(big.Rat)
	for i := range t.sheet.Rows {
		above := &t.sheet.Rows[i]
		if above.Number >= row {
			break
		}
		if c := above.At(col); above.Number > t.header && c.Kind == book.Number {
			if v, ok := rawNumber(c.Text); ok {
				sum.Add(sum, v)
			}
		}
	}
	return sum
}

// totalWord begins a text that says what a row sums up, as "Total of plot 3".
var totalWord = regexp.MustCompile(`(?i)^(?:(?:grand |sub-?|sub )?totals?|sum)\b`)

// lacks reports whether a needed value is missing in a row. A wall may be named
// Total House; a row of that name without its sizes is none.
func (t *table) lacks(row *book.Row) bool {
	for i := range t.columns {
		if c := &t.columns[i]; c.field.Constraints.Required && row.At(c.col).Kind == book.Blank {
			return true
		}
	}
	return false
}

func isTotal(s string) bool {
	switch fold(s) {
	case "total", "totals", "subtotal", "subtotals", "sum", "grandtotal", "sumtotal", "overall":
		return true
	}
	return false
}
