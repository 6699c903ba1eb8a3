package report

import "lapwright/convert/lettering"

// Row heights are worked out here for rows whose text wraps: not every reader
// of workbooks fits a row to its text when it opens one.

const (
	linePoints   = 12.75 // of a line of 10 point text
	pixelsAPoint = 96.0 / 72
	cellPadding  = 12.0 // pixels a cell keeps clear beside its text, indent included
	boldWider    = 1.09
)

// lineCount returns into how many lines a text breaks in a column.
func lineCount(s string, characters float64, l look) int {
	room := lettering.Column(characters) - cellPadding
	switch l {
	case header, headerRight:
		room /= boldWider
	case faint:
		room *= 10 / 9.0
	case small:
		room *= 10 / 8.0
	}
	return lettering.Count(s, room)
}

// fitted returns the height in points a row needs for its wrapped texts, 0
// where one line does.
func fitted(cells []cell, widths []float64) float64 {
	most := 1
	for i, c := range cells {
		s, ok := c.v.(string)
		if !ok || i >= len(widths) || widths[i] == 0 || !wraps(c.l) { // a hidden column shows none
			continue
		}
		n := lineCount(s, widths[i], c.l)
		if c.l == small {
			n = (n*3 + 3) / 4 // three small lines stand where two large ones do, and a bit
		}
		most = max(most, n)
	}
	if most == 1 {
		return 0
	}
	return min(409, float64(most)*linePoints+3) // 409 is the highest row there is
}

func wraps(l look) bool {
	return l == wrapped || l == header || l == headerRight || l == faint || l == small
}
