package layout

// The linear master is the layout and cutting problem without the demand for
// whole numbers: fewest boards so that patterns yield every piece length that
// the chosen segmentations use. Patterns and segmentations are found by column
// generation on both sides (P. C. Gilmore and R. E. Gomory, A linear
// programming approach to the cutting-stock problem, Operations Research 9
// (1961) 849-859, for the patterns; shortest paths for the segmentations).
// Rows for the stagger rules, and for lengths no column uses, join when needed.

// segmentation is a way to lay a type of run.
type segmentation struct {
	typ  int
	cuts []int32
	col  int32
}

// cutting is a pattern column.
type cuttingColumn struct {
	kind  int
	parts []int32
	col   int32
}

type master struct {
	m       *model
	classes []class
	types   []kindOfRun
	typeOf  [][]int // wall -> types of its runs in order
	s       simplex

	lenRow  []int32 // length number -> row, or none
	rowLens []int32 // length numbers that have a row
	typeRow int32   // row of type 0; the others follow
	kindRow []int32 // kind -> row of its limit on hand, or none
	covers  []cover // not in the master yet
	active  []cover
	coverAt []int32 // active cover -> row

	segs  []segmentation
	pats  []cuttingColumn
	known map[string]bool

	unit     float64 // cost of the best kind: the master counts boards of it
	grain    float64 // plans cost whole multiples of it
	table    *table[float64]
	need     []float64 // pieces wanted of a length besides those of the types
	price    []float64 // by length number
	work     int64
	calm     []float64 // prices of the best bound so far
	calmToll []float64
	toll     []float64 // prices of the active covers
	ids      []int32
	list     []candidate
	bound    float64 // that bound in floating point, a guide only
	plain    bool    // it is still that of prices by length
}

// newMaster starts from a solution, whose segmentations and patterns are the
// first columns.
func newMaster(m *model, hands []*solution) *master {
	a := &master{m: m, lenRow: make([]int32, len(m.lens)), known: map[string]bool{},
		price: make([]float64, len(m.lens)), unit: float64(m.kinds[m.best].cost), table: &table[float64]{}}
	a.grain = float64(m.grain()) / a.unit
	a.classes, a.types, a.typeOf = m.classify()
	for i := range a.lenRow {
		a.lenRow[i] = none
	}
	a.start(hands[0])
	for _, h := range hands {
		a.feed(h)
	}
	a.byLength()
	return a
}

// fixedMaster is a master without runs, for given numbers of pieces. The table
// is space to work in.
func fixedMaster(m *model, demand []int32, t *table[float64]) *master {
	a := &master{m: m, lenRow: make([]int32, len(m.lens)), known: map[string]bool{}, need: make([]float64, len(m.lens)),
		price: make([]float64, len(m.lens)), unit: float64(m.kinds[m.best].cost), grain: 1e-9, table: t}
	for id, n := range demand {
		a.lenRow[id] = none
		a.need[id] = float64(n)
	}
	for id, n := range demand {
		if n > 0 {
			a.rowLens = append(a.rowLens, int32(id))
			a.openLength(int32(id), float64(n))
		}
	}
	a.limitHand()
	return a
}

// start sets up the first basis: each type laid in one way, each length cut
// from boards of its own.
func (a *master) start(h *solution) {
	var buf []int32
	need := make([]float64, len(a.m.lens))
	a.typeRow = 0
	for t := range a.types {
		cuts := h.cuts[a.types[t].runs[0]]
		col := a.s.addColumn(column{a: []entry{{int32(t), 1}}})
		a.s.addRow(col, 1, float64(a.types[t].qty), float64(a.types[t].qty))
		a.segs = append(a.segs, segmentation{t, cuts, col})
		a.known[segKey(t, cuts)] = true
		buf = a.m.piecesOf(a.types[t].runs[0], cuts, buf[:0])
		for _, id := range buf {
			need[id] += float64(a.types[t].qty)
		}
		a.surplus(int32(t))
	}
	// Length rows come after the columns that use them: their inverse rows are
	// built from the coefficients given here.
	for t := range a.types {
		seg := &a.segs[t]
		buf = a.m.piecesOf(a.types[t].runs[0], seg.cuts, buf[:0])
		for _, id := range buf {
			if a.lenRow[id] == none {
				a.lenRow[id] = int32(len(a.s.basis)) + int32(len(a.rowLens))
				a.rowLens = append(a.rowLens, id)
			}
			a.s.cols[seg.col].a = addEntry(a.s.cols[seg.col].a, a.lenRow[id], -1)
		}
	}
	for _, id := range a.rowLens {
		a.openLength(id, need[id])
	}
	a.limitHand()
}

func addEntry(es []entry, row int32, by float64) []entry {
	for i := range es {
		if es[i].row == row {
			es[i].val += by
			return es
		}
	}
	return append(es, entry{row, by})
}

// openLength adds the row of a length, with the pattern of that length alone
// as its basic variable. The right side is a little above zero: the row would
// be degenerate otherwise.
func (a *master) openLength(id int32, need float64) {
	row := int32(len(a.s.basis))
	a.lenRow[id] = row
	k := a.m.buy(a.m.lens[id])
	n := a.m.kinds[k].cap / a.m.lens[id]
	parts := make([]int32, n)
	for i := range parts {
		parts[i] = id
	}
	eps := 1e-5 * (1 + float64(uint32(id)*2654435761)/(1<<32))
	col := a.s.addColumn(column{cost: float64(a.m.kinds[k].cost) / a.unit, a: []entry{{row, float64(n)}}})
	a.pats = append(a.pats, cuttingColumn{k, parts, col})
	a.known[patKey(k, parts)] = true
	a.s.addRow(col, float64(n), (need+eps)/float64(n), eps)
	a.surplus(row)
	a.transfers(id)
}

// surplus lets a row be exceeded.
func (a *master) surplus(row int32) { a.s.addColumn(column{a: []entry{{row, -1}}}) }

// transfers lets a longer piece stand for the next shorter one. Patterns can
// do as much, so nothing changes but the duals, which rise with length at once
// (dual cuts: J. M. Valerio de Carvalho, INFORMS J. on Computing 17 (2005)).
func (a *master) transfers(id int32) {
	for k := id - 1; k >= 0; k-- {
		if a.lenRow[k] != none && a.lenRow[k] < int32(len(a.s.basis)) {
			a.s.addColumn(column{a: []entry{{a.lenRow[k], -1}, {a.lenRow[id], 1}}})
			break
		}
	}
	for k := id + 1; int(k) < len(a.lenRow); k++ {
		if a.lenRow[k] != none && a.lenRow[k] < int32(len(a.s.basis)) {
			a.s.addColumn(column{a: []entry{{a.lenRow[id], -1}, {a.lenRow[k], 1}}})
			break
		}
	}
}

// limitHand adds a row for each kind of which some are on hand.
func (a *master) limitHand() {
	a.kindRow = make([]int32, len(a.m.kinds))
	for k, x := range a.m.kinds {
		a.kindRow[k] = none
		if x.hand < 0 {
			continue
		}
		row := int32(len(a.s.basis))
		a.kindRow[k] = row
		col := a.s.addColumn(column{a: []entry{{row, -1}}})
		a.s.addRow(col, -1, float64(x.hand), -float64(x.hand))
	}
}

// feed adds the columns of a solution.
func (a *master) feed(h *solution) {
	for w, order := range a.m.walls {
		for i, r := range order {
			if t := a.typeOf[w][i]; t >= 0 {
				a.addSegmentation(t, h.cuts[r])
			}
		}
	}
	for _, b := range h.boards {
		a.addPattern(b.kind, b.parts)
	}
}

// byLength takes prices in proportion to length as the first that have a bound:
// the duals swing less if they are smoothed from the start.
func (a *master) byLength() {
	k := a.m.kinds[a.m.best]
	share := float64(k.cost) / a.unit / float64(k.cap)
	for i, l := range a.m.lens {
		a.price[i] = float64(l) * share
	}
	for t := range a.types {
		c, _ := cheapest(a.types[t].shape, a.price, nil)
		a.bound += c * float64(a.types[t].qty)
	}
	for _, x := range a.m.kinds {
		if x.hand >= 0 {
			a.bound -= float64(x.hand) * float64(x.cap) * share
		}
	}
	a.calm, a.plain = append(a.calm, a.price...), true
}

func segKey(t int, cuts []int32) string {
	b := []byte{'s', byte(t), byte(t >> 8), byte(t >> 16)}
	for _, c := range cuts {
		b = append(b, byte(c), byte(c>>8))
	}
	return string(b)
}

func patKey(kind int, parts []int32) string {
	b := []byte{'p', byte(kind)}
	for _, c := range parts {
		b = append(b, byte(c), byte(c>>8), byte(c>>16))
	}
	return string(b)
}

// addSegmentation adds a way to lay a type unless it is there, opening rows
// for lengths that are new.
func (a *master) addSegmentation(t int, cuts []int32) bool {
	key := segKey(t, cuts)
	if a.known[key] {
		return false
	}
	a.known[key] = true
	es := []entry{{a.typeRow + int32(t), 1}}
	for _, id := range a.m.piecesOf(a.types[t].runs[0], cuts, nil) {
		if a.lenRow[id] == none {
			a.rowLens = append(a.rowLens, id)
			a.openLength(id, 0)
		}
		es = addEntry(es, a.lenRow[id], -1)
	}
	for i := range a.active {
		if n := a.active[i].count(t, cuts); n > 0 {
			es = append(es, entry{a.coverAt[i], -float64(n)})
		}
	}
	col := a.s.addColumn(column{a: es})
	a.segs = append(a.segs, segmentation{t, cuts, col})
	return true
}

// count is the number of joints that a segmentation has in the cover.
func (c *cover) count(t int, cuts []int32) int {
	n := 0
	for _, tk := range c.points {
		if tk[0] != t {
			continue
		}
		for _, k := range cuts {
			if int(k) == tk[1] {
				n++
			}
		}
	}
	return n
}

// addPattern adds a way to cut a board unless it is there or uses a length
// without a row.
func (a *master) addPattern(k int, parts []int32) bool {
	sorted := append([]int32(nil), parts...)
	for i := 1; i < len(sorted); i++ {
		for j := i; j > 0 && sorted[j] < sorted[j-1]; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	key := patKey(k, sorted)
	if a.known[key] {
		return false
	}
	a.known[key] = true
	var es []entry
	for _, id := range sorted {
		if a.lenRow[id] == none {
			return false
		}
		es = addEntry(es, a.lenRow[id], 1)
	}
	if a.kindRow[k] != none {
		es = append(es, entry{a.kindRow[k], -1})
	}
	col := a.s.addColumn(column{cost: float64(a.m.kinds[k].cost) / a.unit, a: es})
	a.pats = append(a.pats, cuttingColumn{k, sorted, col})
	return true
}
