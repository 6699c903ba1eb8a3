package report

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/convert/lettering"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// The lists of a wall sheet share one grid, so that they stand below each other
// in one column of the page: what is cut from stock and fixed ends in the stock it
// is cut from and a box each to tick when it is cut and fixed.

// listWidths are those of the grid's cells, in characters: mark, four numbers,
// words, stock and the two boxes.
var listWidths = []float64{8.5, 7, 7, 7, 7.3, 10.5, 7, 4.5, 6}

// Words run over several cells: those of a list that has fewer numbers, and the
// notes of the rod.
const wordsFrom, wordsTo, notesFrom = 3, 6, 5

// wordLines breaks words into lines for the cells from one to before another; at
// least one.
func wordLines(from, to int, words ...string) []string {
	room := -cellPadding
	for _, w := range listWidths[from:to] {
		room += lettering.Column(w)
	}
	var out []string
	for _, w := range words {
		out = append(out, lettering.Lines(w, room)...)
	}
	if len(out) == 0 {
		return []string{""}
	}
	return out
}

// listHead is a list's name above the headers of its cells; those of numbers
// stand right.
func listHead(name string, headers ...cell) [][]cell {
	names := make([]cell, len(listWidths))
	for i := range names {
		names[i].l = heading
	}
	names[0].v = name
	for len(headers) < len(listWidths) {
		headers = append(headers, cell{l: headerLine})
	}
	return [][]cell{names, headers}
}

func wordHead(s string) cell   { return cell{v: orNil(s), l: headerLine} }
func numberHead(s string) cell { return cell{v: s, l: headerLineRight} }

// wallBattens lists the battens as they are fixed.
func wallBattens(w *engine.WallResult) [][]cell {
	out := listHead("Batten marks, mm", wordHead("Batten"), numberHead("Centre"), numberHead("From"), numberHead("To"),
		numberHead("Length"), wordHead("Width"), wordHead("Stock"), wordHead("Cut"), wordHead("Fixed"))
	for i := range w.Battens {
		b := &w.Battens[i]
		out = append(out, []cell{text(b.Mark), mm(b.Centre), mm(b.Z.Lo), mm(b.Z.Hi), mm(b.Z.Length()),
			text(b.Width.String() + " " + b.Why), text(firstStock(b.Stock)), {l: tick}, {l: tick}})
	}
	return out
}

// wallRod lists the course marks, the highest at the top as it stands on the
// rod.
func wallRod(w *engine.WallResult) [][]cell {
	out := listHead("Storey rod, mm: heights above the datum, to mark on a rod", numberHead("Course"), numberHead("Bottom"), numberHead("Top"),
		numberHead("Gauge"), numberHead("Lap"), wordHead("Note"))
	for _, c := range slices.Backward(w.Courses) {
		row := []cell{count(c.Number), {v: c.Bottom.Shown(), l: bigMark}, mm(c.Top), unlessTop(c.Gauge.Shown()), unlessTop(c.Lap.Shown()), {}, {}, {}, {}}
		for _, l := range wordLines(notesFrom, len(listWidths), c.Note) {
			row[notesFrom] = text(l)
			out = append(out, ruledRow(row))
			row = make([]cell, len(listWidths))
		}
	}
	return out
}

// wallCuts is the wall's cut list.
func wallCuts(w *engine.WallResult) [][]cell {
	full := boardWidth(w)
	name := "Cut list, mm"
	if full > 0 {
		name += fmt.Sprintf(": %v wide and sawn square unless said", full)
	}
	out := listHead(name, wordHead("Piece"), numberHead("Left"), numberHead("Length"), wordHead("Shape"), wordHead(""), wordHead(""),
		wordHead("Board"), wordHead("Cut"), wordHead("Fixed"))
	for i := range w.Pieces {
		out = append(out, cutRows(&w.Pieces[i], full)...)
	}
	return out
}

// cutRows is a piece of the cut list; words that are too long for one row go on
// below, so that the columns beside keep their height.
func cutRows(p *engine.Piece, full measure.Length) [][]cell {
	lines := wordLines(wordsFrom, wordsTo, shapeWords(p, full)...)
	out := make([][]cell, len(lines))
	for i, l := range lines {
		box := cell{l: boxFor(i, len(lines))}
		out[i] = []cell{{}, {}, {}, text(l), {}, {}, {}, box, box}
	}
	out[0][0], out[0][1], out[0][2], out[0][6] = text(p.Mark), offset(p, lowerLeft(p).X), mm(p.Length), text(firstStock(p.Stock))
	for _, r := range out {
		ruledRow(r)
	}
	return out
}

// boxFor is the look, in row i of so many, of a box that stands over all of them.
func boxFor(i, rows int) look {
	switch {
	case rows == 1:
		return tick
	case i == 0:
		return tickTop
	case i == rows-1:
		return tickFoot
	}
	return tickSides
}

// wallTrims lists the trims, starters and strips of a wall as they are fixed.
func wallTrims(w *engine.WallResult) [][]cell {
	if len(w.Trims) == 0 {
		return nil
	}
	out := listHead("Trims, mm; From: from the left, of upright ones the height", wordHead("Mark"), numberHead("From"), numberHead("Length"),
		wordHead("What and where"), wordHead(""), wordHead(""), wordHead("Stock"), wordHead("Cut"), wordHead("Fixed"))
	for i := range w.Trims {
		t := &w.Trims[i]
		from := trimStart(t).X
		if t.From.X == t.To.X {
			from = trimStart(t).Z
		}
		out = append(out, ruledRow([]cell{text(t.Mark), mm(from), mm(t.Length), text(t.Role + ", " + t.Where), {}, {}, text(firstStock(t.Stock)), {l: tick}, {l: tick}}))
	}
	return out
}

// ruledRow gives the blank cells of a row the rule under it.
func ruledRow(row []cell) []cell {
	for i := range row {
		row[i] = ruled(row[i])
	}
	return row
}

// stockMark stands between the boards that the pieces of one mark come from.
const stockMark = "; "

// firstStock names the first of several boards and counts the rest, so that they
// keep to their column.
func firstStock(stock string) string {
	first, rest, several := strings.Cut(stock, stockMark)
	if !several {
		return stock
	}
	return fmt.Sprintf("%s+%d", first, 1+strings.Count(rest, stockMark))
}

// boardWidth is how wide most of a wall's boards are.
func boardWidth(w *engine.WallResult) measure.Length {
	count, best := map[measure.Length]int{}, measure.Length(0)
	for i := range w.Pieces {
		l := w.Pieces[i].Width
		if count[l]++; count[l] > count[best] || count[l] == count[best] && l > best {
			best = l
		}
	}
	return best
}
