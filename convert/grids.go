package convert

import (
	"lapwright/convert/report"
	"lapwright/convert/survey"
)

// rows accounts for every row of the survey's sheets.
func rows(s *survey.Survey) report.Rows {
	var out report.Rows
	for _, sheet := range s.Sheets {
		if sheet.As == "" {
			continue
		}
		out.Read += sheet.Rows
		out.Taken += sheet.Taken
		out.Flagged += sheet.Flagged
		out.Blank += sheet.Blank
	}
	return out
}

// rejected returns the rows that were not taken, in their own columns, with
// the reason; nil if there are none.
func rejected(s *survey.Survey) *report.Grid {
	if len(s.Rejected) == 0 {
		return nil
	}
	headers := map[[2]string][]string{}
	for _, sheet := range s.Sheets {
		headers[[2]string{sheet.File, sheet.Name}] = sheet.Headers
	}
	g := newGrid("Sheet", "Row", "Reason")
	for _, r := range s.Rejected {
		row := []string{r.Sheet, r.Line, r.Why}
		for i, v := range r.Cells {
			if h := headers[[2]string{r.File, r.Sheet}]; i < len(h) && h[i] != "" {
				row = g.put(row, h[i], v)
			}
		}
		g.Rows = append(g.Rows, row)
	}
	return &g.Grid
}

// grid is a table whose columns are found by their header as rows come in.
type grid struct {
	report.Grid
	at map[string]int
}

func newGrid(header ...string) *grid {
	return &grid{report.Grid{Header: header}, map[string]int{}}
}

// put sets the value under a header in a row, making the column if need be.
func (g *grid) put(row []string, header, value string) []string {
	k, ok := g.at[header]
	if !ok {
		k = len(g.Header)
		g.at[header] = k
		g.Header = append(g.Header, header)
	}
	for len(row) <= k {
		row = append(row, "")
	}
	row[k] = value
	return row
}

// asRead returns the survey as it was understood, in one table; nil where
// they stood in our own form already, or none was taken.
func asRead(s *survey.Survey) *report.Grid {
	if s.Plain {
		return nil
	}
	g := newGrid()
	for _, table := range s.AsRead() {
		for _, row := range table.Rows {
			var out []string
			for i, v := range row {
				out = g.put(out, table.Header[i], v)
			}
			g.Rows = append(g.Rows, out)
		}
	}
	if len(g.Rows) == 0 { // nothing was understood
		return nil
	}
	return &g.Grid
}
