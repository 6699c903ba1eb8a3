package report

import (
	"cmp"
	"slices"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Of the grid's cells, the codes of packers run over two, and that of the screw or
// pin over the last two.
const packersFrom, pinFrom = 5, 7

// wallPackers lists where packers stand behind cut upper edges, or under boards'
// lower edges: board by board from the bottom up, from left to right.
func wallPackers(w *engine.WallResult, foot bool) [][]cell {
	list := packingsOf(w, foot)
	if len(list) == 0 {
		return nil
	}
	name, below, fixed := "Packers, mm: height of the screw above the datum, and below the cut", numberHead("Below"), "Screw"
	if foot {
		name, below, fixed = "Packers at lower edges, mm: height of the edge above the datum", wordHead(""), "Pinned with"
	}
	out := listHead(name, wordHead("Piece"), wordHead("Batten"), numberHead("Height"), below, numberHead("Thick"),
		wordHead("Packers"), wordHead(""), wordHead(fixed), wordHead(""))
	under := belowCuts(w)
	for _, i := range list {
		k := &w.Packings[i]
		off := cell{}
		if !foot {
			off = mm(under[i])
		}
		codes := wordLines(packersFrom, pinFrom, strings.Join(k.Packers, " + "))
		pins := wordLines(pinFrom, len(listWidths), orWords(k.Fixing, "?"))
		for n := range max(len(codes), len(pins)) {
			row := make([]cell, len(listWidths))
			if n == 0 {
				row = []cell{text(w.Pieces[k.Piece].Mark), text(shortMark(w, w.Battens[k.Batten].Mark)), mm(k.Z.Nearest(measure.Millimetre)), off, mm(k.Thick), {}, {}, {}, {}}
			}
			if n < len(codes) {
				row[packersFrom] = text(codes[n])
			}
			if n < len(pins) {
				row[pinFrom] = text(pins[n])
			}
			out = append(out, ruledRow(row))
		}
	}
	return out
}

// packingsOf returns the packings of one kind, as indices, in the order in which
// boards are fixed.
func packingsOf(w *engine.WallResult, foot bool) []int {
	var out []int
	for i := range w.Packings {
		if k := &w.Packings[i]; k.Foot == foot && k.Piece < len(w.Pieces) && k.Batten < len(w.Battens) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		p, q := &w.Packings[a], &w.Packings[b]
		return cmp.Or(cmp.Compare(w.Pieces[p.Piece].Course, w.Pieces[q.Piece].Course),
			cmp.Compare(w.Battens[p.Batten].Centre, w.Battens[q.Batten].Centre), cmp.Compare(p.Z, q.Z))
	})
	return out
}

// belowCuts returns, by packing, how far its screw stands below the cut edge,
// measured upright.
func belowCuts(w *engine.WallResult) map[int]measure.Length {
	out := map[int]measure.Length{}
	for _, s := range w.Screws {
		if s.Packing > 0 && s.Piece < len(w.Pieces) && len(w.Pieces[s.Piece].Outline) > 0 {
			out[s.Packing-1] = (topAt(w.Pieces[s.Piece].Outline, s.X) - s.Z).Nearest(measure.Millimetre)
		}
	}
	return out
}
