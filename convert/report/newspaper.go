package report

import (
	"iter"
	"slices"
	"strings"
)

// story is one list of what is printed in columns side by side, as a newspaper
// has them. Its first rows are its heads and stand again at the top of every
// column it goes on to. A story that is whole keeps to one column if any holds
// it.
type story struct {
	rows  [][]cell
	heads int
	whole bool
}

// entry is the row and those below that go on with what it says: they have no
// first cell, or are set in.
func (s story) entry(at int) [][]cell {
	end := at + 1
	for end < len(s.rows) && goesOn(s.rows[end]) {
		end++
	}
	return s.rows[at:end]
}

func goesOn(row []cell) bool {
	words, is := row[0].v.(string)
	return row[0].v == nil || is && strings.HasPrefix(words, setIn)
}

// flow lays stories out in pages of so many columns of so many rows, filling
// one column after the other, with a blank row between two stories. An entry that
// goes on over several rows is not broken where a column holds it.
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
		least := min(len(s.rows), s.heads) // no heads alone at the foot
		for least < len(s.rows) && least < s.heads+3 {
			least += len(s.entry(least))
		}
		if s.whole && len(s.rows) <= rows {
			least = len(s.rows)
		}
		if len(column) > 0 && len(column)+least > rows {
			next()
		}
		for i := 0; i < len(s.rows); {
			entry := s.entry(i)
			if whole := s.heads+len(entry) <= rows; len(column) == rows || whole && len(column)+len(entry) > rows {
				next()
				if i > s.heads {
					column = append(column, s.rows[:s.heads]...)
				}
			}
			entry = entry[:min(len(entry), rows-len(column))]
			column = append(column, entry...)
			i += len(entry)
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

// closest lays stories out as flow does, and lets one that is whole go behind others
// where it would leave a column half empty and fewer columns do.
func closest(stories []story, columns, rows int) (best [][][][]cell) {
	taken := func(pages [][][][]cell) int {
		n := 0
		for _, page := range pages {
			n += len(page)
		}
		return n
	}
	best = flow(stories, columns, rows)
	at := slices.IndexFunc(stories, func(s story) bool { return s.whole })
	if at < 0 {
		return best
	}
	for to := at + 1; to < len(stories); to++ {
		moved := slices.Insert(slices.Delete(slices.Clone(stories), at, at+1), to, stories[at])
		if pages := flow(moved, columns, rows); taken(pages) < taken(best) {
			best = pages
		}
	}
	return best
}

// beside goes through the rows of a page's columns next to each other, each so many
// cells wide and one cell apart; every row is written over the one before.
func beside(columns [][][]cell, wide int) iter.Seq[[]cell] {
	return func(yield func([]cell) bool) {
		high := 0
		for _, column := range columns {
			high = max(high, len(column))
		}
		row := make([]cell, len(columns)*(wide+1)-1)
		for i := range high {
			clear(row)
			for k, column := range columns {
				if i < len(column) {
					copy(row[k*(wide+1):], column[i])
				}
			}
			if !yield(row) {
				return
			}
		}
	}
}
