package report

import (
	"slices"
	"strconv"
	"strings"
)

func (b *book) writeAsRead(sheet string) error {
	return b.writeGrid(sheet, "Survey_as_read", b.in.AsRead)
}

func (b *book) writeRejected(sheet string) error {
	return b.writeGrid(sheet, "Rejected", b.in.Rejected)
}

// idle reports whether a column has nothing in it that a reader might look for
// or would have to fill in: it is hidden, so that the others can be read in
// print. A reason names the column of what is missing.
func (g *Grid) idle(i int) bool {
	return !slices.ContainsFunc(g.Rows, func(r []string) bool {
		return i < len(r) && r[i] != "" || slices.ContainsFunc(r, func(s string) bool { return strings.Contains(s, g.Header[i]) })
	})
}

// writeGrid writes a plain grid as a table. Headers of a survey may repeat or
// be blank, which those of a table may not.
func (b *book) writeGrid(sheet, name string, g *Grid) error {
	var columns []column[[]string]
	for i, h := range uniqueHeaders(g.Header) {
		width := gridWidth(h)
		if name == "Rejected" && g.idle(i) {
			width = 0
		}
		columns = append(columns, column[[]string]{h, width, func(r []string, _ int) cell {
			if i >= len(r) {
				return cell{}
			}
			return gridCell(h, r[i])
		}})
	}
	return table[[]string]{sheet: sheet, name: name, rows: g.Rows, columns: columns}.write(b)
}

func gridWidth(header string) float64 {
	if header == reason {
		return 60
	}
	return min(max(float64(len(header))*0.8+3, 10.5), 40)
}

// reason heads the column that says why a row was not taken.
const reason = "Reason"

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
