package report

// story is one list of what is printed in columns side by side, as a newspaper
// has them. Its first rows are its heads and stand again at the top of every
// column it goes on to. A story that is whole keeps to one column if any holds
// it.
type story struct {
	rows  [][]cell
	heads int
	whole bool
}

// flow lays stories out in pages of so many columns of so many rows, filling
// one column after the other, with a blank row between two stories.
func flow(stories []story, columns, rows int) (pages [][][][]cell) {
	page, column := [][][]cell{}, [][]cell{}
	next := func() {
		page, column = append(page, column), nil
		if len(page) == columns {
			pages, page = append(pages, page), nil
		}
	}
	for _, s := range stories {
		if len(s.rows) == 0 {
			continue
		}
		if len(column) > 0 {
			column = append(column, nil)
		}
		least := min(len(s.rows), s.heads+3) // no heads alone at the foot
		if s.whole && len(s.rows) <= rows {
			least = len(s.rows)
		}
		if len(column) > 0 && len(column)+least > rows {
			next()
		}
		for i, r := range s.rows {
			if len(column) == rows {
				next()
				if i > s.heads {
					column = append(column, s.rows[:s.heads]...)
				}
			}
			column = append(column, r)
		}
	}
	if len(column) > 0 {
		page = append(page, column)
	}
	if len(page) > 0 {
		pages = append(pages, page)
	}
	return pages
}

// beside puts the columns of a page next to each other, each so many cells
// wide and one cell apart.
func beside(columns [][][]cell, wide int) [][]cell {
	high := 0
	for _, column := range columns {
		high = max(high, len(column))
	}
	out := make([][]cell, high)
	for i := range out {
		out[i] = make([]cell, len(columns)*(wide+1)-1)
		for k, column := range columns {
			if i < len(column) {
				copy(out[i][k*(wide+1):], column[i])
			}
		}
	}
	return out
}
