package audit

import (
	"iter"
	"slices"
	"strings"

	"lapwright/engine/measure"
)

// item is one thing that is cut from stock: a piece, a trim, a batten. It is kept
// small: there is one for each of a part, long after its wall was looked at.
type item struct {
	mark, stock   string
	of            int32 // index in the stock's groups
	piece         bool
	length, width measure.Length
	wanted, cut   int32
	boards        int32 // rows of the cutting plan that hold it
	last          int32 // the last of them, counted from 1
}

// group is what items of one wall have in common.
type group struct{ wall, pool, code, colour string }

// stock is the cutting plan under audit.
type stock struct {
	job  *Job
	r    *report
	part int            // counted from 1
	head string         // of the mark before; a hyphen: there was none
	met  map[string]int // the heads of all marks, with the part that has them

	// Of the part under audit.
	items    []item
	groups   []group
	last     int // the group of the item before
	index    map[string]int32
	outlines map[string]measure.Polygon // by mark, of pieces that are no rectangles of their length

	onHand []Board
	taken  map[product]float64 // what is ordered; boards bought are added
	lots   map[lot]int         // boards used
}

func newStock(job *Job, want map[product]float64, r *report) *stock {
	return &stock{job: job, r: r, met: map[string]int{}, index: map[string]int32{},
		taken: want, lots: map[lot]int{}, outlines: map[string]measure.Polygon{}}
}

// begin forgets the items of the part before, and makes room for as many as the
// plan cuts: growing by and by would take several times as much.
func (k *stock) begin(cuts int) {
	k.part++
	k.head, k.items, k.groups = "-", k.items[:0], k.groups[:0]
	clear(k.index)
	clear(k.outlines)
	if cuts > cap(k.items) {
		k.items, k.index = make([]item, 0, cuts), make(map[string]int32, cuts)
	}
}

// check checks every row of the part's cutting plan, and that each item is cut as
// often as it is wanted.
func (k *stock) check(boards iter.Seq[*Board]) {
	row := 0
	for b := range boards {
		row++
		k.board(row, b)
	}
	for i := range k.items {
		t := &k.items[i]
		k.r.start(k.groups[t.of].wall)
		if t.cut != t.wanted {
			k.r.add(t.mark, "cut-count", "it is cut %d times, wanted %d times", t.cut, t.wanted)
		}
		if n, _ := named(t.stock, ""); n != int(t.boards) && (t.stock != "" || t.piece) {
			k.r.add(t.mark, "stock-named", "its stock is stated as %q, the plan cuts it from %d boards", t.stock, t.boards)
		}
	}
	k.r.start("")
}

// named counts the names in a list joined with ";" and looks for one.
func named(list, name string) (n int, found bool) {
	if strings.IndexByte(list, ';') < 0 { // nearly always
		list = strings.TrimSpace(list)
		return one(list != ""), list != "" && list == name
	}
	for part := range strings.SplitSeq(list, ";") {
		if part = strings.TrimSpace(part); part != "" {
			n++
			found = found || part == name
		}
	}
	return n, found
}

// gather notes what is wanted for one wall.
func (k *stock) gather(w *Wall) {
	from := len(k.groups)
	k.last = -1
	for j := range w.Pieces {
		p := &w.Pieces[j]
		k.shape(p)
		k.want(from, group{w.Name, w.Pool, p.Code, p.Colour}, item{mark: p.Mark, stock: p.Stock,
			piece: true, length: p.Length, width: p.Width, wanted: int32(p.Quantity)})
	}
	for j := range w.Battens {
		if b := &w.Battens[j]; !b.Roll {
			k.want(from, group{w.Name, w.Pool, b.Code, b.Colour}, item{mark: b.Mark, stock: b.Stock,
				length: b.Z.Length(), wanted: int32(w.Quantity)})
		}
	}
	for j := range w.Trims {
		if t := &w.Trims[j]; !t.Roll {
			k.want(from, group{w.Name, w.Pool, t.Code, t.Colour}, item{mark: t.Mark, stock: t.Stock,
				length: t.Length, wanted: int32(t.Quantity)})
		}
	}
}

// shape keeps a piece's outline where its length does not say it all.
func (k *stock) shape(p *Piece) {
	if square(p.Outline) {
		if xs, _ := bounds(p.Outline); xs.Length() == p.Length {
			return
		}
	}
	if len(p.Outline) > 0 {
		k.outlines[p.Mark] = p.Outline
	}
}

// square reports whether a polygon is four corners joined upright and level.
func square(p measure.Polygon) bool {
	for i, a := range p {
		if b := p[(i+1)%len(p)]; (a.X == b.X) == (a.Z == b.Z) {
			return false
		}
	}
	return len(p) == 4
}

// want notes one item; from is where the groups of its wall begin.
func (k *stock) want(from int, of group, t item) {
	if t.mark == "" || !k.enter(t.mark) {
		k.r.start(of.wall)
		k.r.add(t.mark, "mark", "a mark that is blank or already another's")
		return
	}
	if k.last < from || k.groups[k.last] != of { // nearly always the same as before
		if k.last = from + slices.Index(k.groups[from:], of); k.last < from {
			k.last = len(k.groups)
			k.groups = append(k.groups, of)
		}
	}
	t.of = int32(k.last)
	k.items = append(k.items, t)
}

// enter notes that the next item has that mark; it reports false, and notes
// nothing, if another has it or may have it in another part.
func (k *stock) enter(mark string) bool {
	if head, _, _ := strings.Cut(mark, "-"); head != k.head { // seldom
		if part := k.met[head]; part > 0 && part < k.part {
			return false
		}
		k.head, k.met[head] = head, k.part
	}
	n := len(k.index)
	k.index[mark] = int32(len(k.items))
	if len(k.index) > n {
		return true
	}
	k.index[mark] = int32(slices.IndexFunc(k.items, func(t item) bool { return t.mark == mark }))
	return false
}

// board checks one row of the plan.
func (k *stock) board(row int, b *Board) {
	k.r.start("")
	if b.Count < 1 || len(b.Cuts) == 0 {
		k.r.add(b.Name, "board-fit", "%d boards with %d cuts", b.Count, len(b.Cuts))
	}
	for _, c := range b.Cuts {
		k.cut(row, b, c)
	}
	k.fit(b)
	if b.Shared != 0 {
		k.shared(b)
	}
	if b.OnHand {
		k.onHand = append(k.onHand, *b)
	} else {
		k.taken[product{b.Code, b.Colour}] += float64(b.Count)
	}
	k.lots[lot{b.Pool, b.Code, b.Colour}] += b.Count
}

// fit checks that lengths, kerfs and offcut make the stock length: the last
// cut takes a kerf only where there is as much left.
func (k *stock) fit(b *Board) {
	left := b.Stock + b.Shared
	for i, c := range b.Cuts {
		left -= c.Length
		if i > 0 {
			left -= k.job.Kerf
		}
	}
	offcut := max(0, left-k.job.Kerf)
	if left < 0 || b.Offcut != offcut {
		k.r.add(b.Name, "board-fit", "of %v its cuts leave %v before the last kerf; the offcut is stated as %v", b.Stock, left, b.Offcut)
	}
}

// listed reports whether a list of codes joined by "; " holds the code.
func listed(codes, code string) bool {
	return codes == code || slices.Contains(strings.Split(codes, "; "), code)
}

// cut checks one cut and counts the items it yields.
func (k *stock) cut(row int, b *Board, c Cut) {
	var longest, width measure.Length
	for i, mark := range c.Marks {
		at, ok := k.index[mark]
		if !ok {
			k.r.add(b.Name, "mark", "it cuts %q, which nothing is marked", mark)
			return
		}
		t := &k.items[at]
		t.cut += int32(b.Count)
		if t.last != int32(row) {
			t.last = int32(row)
			t.boards++
		}
		if of := &k.groups[t.of]; !listed(of.code, b.Code) || of.colour != b.Colour || of.pool != b.Pool {
			k.r.add(b.Name, "cut-stock", "%s is wanted of %s %s in pool %q, not of %s %s in %q",
				mark, of.code, of.colour, of.pool, b.Code, b.Colour, b.Pool)
		}
		if _, ok := named(t.stock, b.Name); !ok && t.stock != "" {
			k.r.add(b.Name, "stock-named", "it cuts %s, whose stock is stated as %q", mark, t.stock)
		}
		longest = max(longest, t.length)
		if width += t.width; i > 0 {
			width += k.job.Kerf
		}
	}
	if longest != c.Length || c.Length <= 0 {
		k.r.add(b.Name, "cut-length", "it cuts %v for %v, which is %v long", c.Length, c.Marks, longest)
	}
	if width > b.Width && (b.Width > 0 || len(c.Marks) > 1) {
		k.r.add(b.Name, "pair", "%v are %v wide with the kerfs, the board %v", c.Marks, width, b.Width)
	}
}

// single returns the piece that a cut is, or nil.
func (k *stock) single(c Cut) *item {
	if len(c.Marks) != 1 {
		return nil
	}
	at, ok := k.index[c.Marks[0]]
	if !ok || !k.items[at].piece {
		return nil
	}
	return &k.items[at]
}

// hand checks that no more is taken from stock on hand than is there.
func (k *stock) hand() {
	type kept struct {
		code, colour string
		length       measure.Length
	}
	have := map[kept]int{}
	for _, h := range k.job.Hand {
		have[kept{h.Code, h.Colour, h.Length}] += h.Count
	}
	for i := range k.onHand {
		b := &k.onHand[i]
		of := kept{b.Code, b.Colour, b.Stock}
		if have[of] -= b.Count; have[of] < 0 {
			k.r.add(b.Name, "hand", "it takes %d of %s, %v long, from stock on hand: %d too many", b.Count, b.Code, b.Stock, -have[of])
		}
	}
}
