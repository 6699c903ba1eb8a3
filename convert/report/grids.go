package report

import (
	"strconv"
	"strings"
)

func (b *book) writeAsRead(sheet string) error {
	return b.writeGrid(sheet, "Survey_as_read", b.in.AsRead)
}

func (b *book) writeRejected(sheet string) error {
	return b.writeGrid(sheet, "Rejected", b.in.Rejected)
}

// writeGrid writes a plain grid as a table. Headers of a survey may repeat or
// be blank, which those of a table may not.
func (b *book) writeGrid(sheet, name string, g *Grid) error {
	var columns []column[[]string]
	for i, h := range uniqueHeaders(g.Header) {
		columns = append(columns, column[[]string]{h, gridWidth(h), func(r []string, _ int) cell {
			if i >= len(r) {
				return cell{}
			}
			return gridCell(h, r[i])
		}})
	}
	return table[[]string]{sheet: sheet, name: name, rows: g.Rows, columns: columns}.write(b)
}

func gridWidth(header string) float64 { return min(max(float64(len(header))*0.8+3, 9), 40) }

// gridCell keeps a text a text; only a length in a column of lengths, written
// as plainly as this program writes one, becomes a number.
func gridCell(header, s string) cell {
	if strings.HasSuffix(header, " mm") || header == "Quantity" {
		v, err := strconv.ParseFloat(s, 64)
		if err == nil && strconv.FormatFloat(v, 'f', -1, 64) == s {
			return decimal(v)
		}
	}
	return long(s)
}

func uniqueHeaders(in []string) []string {
	seen := map[string]bool{}
	out := make([]string, len(in))
	for i, h := range in {
		if strings.TrimSpace(h) == "" {
			h = "Column " + strconv.Itoa(i+1)
		}
		got := h
		for n := 2; seen[strings.ToLower(got)]; n++ {
			got = h + " " + strconv.Itoa(n)
		}
		seen[strings.ToLower(got)] = true
		out[i] = got
	}
	return out
}
