package audit

import (
	"slices"
	"strings"

	"lapwright/engine/measure"
)

// item is one thing that is cut from stock: a piece, a trim, a batten.
type item struct {
	wall, mark, code, colour, pool, stock string

	piece         *Piece // nil for trims and battens
	length, width measure.Length
	wanted, cut   int
	boards        int // rows of the cutting plan that hold it
	last          int // the last of them, counted from 1
}

// stock is the cutting plan under audit.
type stock struct {
	job   *Job
	r     *report
	items []item
	index map[string]int
}

// checkStock checks every row of the cutting plan, and that each item is cut
// as often as it is wanted.
func checkStock(job *Job, r *report) {
	k := stock{job: job, r: r}
	k.gather()
	for i := range job.Boards {
		k.board(i)
	}
	for i := range k.items {
		t := &k.items[i]
		r.start(t.wall)
		if t.cut != t.wanted {
			r.add(t.mark, "cut-count", "it is cut %d times, wanted %d times", t.cut, t.wanted)
		}
		if n, _ := named(t.stock, ""); n != t.boards && (t.stock != "" || t.piece != nil) {
			r.add(t.mark, "stock-named", "its stock is stated as %q, the plan cuts it from %d boards", t.stock, t.boards)
		}
	}
	r.start("")
	k.hand()
}

// named counts the names in a list joined with ";" and looks for one.
func named(list, name string) (n int, found bool) {
	for part := range strings.SplitSeq(list, ";") {
		if part = strings.TrimSpace(part); part != "" {
			n++
			found = found || part == name
		}
	}
	return n, found
}

func (k *stock) gather() {
	n := 0
	for i := range k.job.Walls {
		w := &k.job.Walls[i]
		n += len(w.Pieces) + len(w.Battens) + len(w.Trims)
	}
	k.items, k.index = make([]item, 0, n), make(map[string]int, n)
	for i := range k.job.Walls {
		w := &k.job.Walls[i]
		for j := range w.Pieces {
			p := &w.Pieces[j]
			k.want(item{wall: w.Name, mark: p.Mark, code: p.Code, colour: p.Colour, pool: w.Pool, stock: p.Stock,
				piece: p, length: p.Length, width: p.Width, wanted: p.Quantity})
		}
		for j := range w.Battens {
			b := &w.Battens[j]
			k.want(item{wall: w.Name, mark: b.Mark, code: b.Code, colour: b.Colour, pool: w.Pool, stock: b.Stock,
				length: b.Z.Length(), wanted: w.Quantity})
		}
		for j := range w.Trims {
			t := &w.Trims[j]
			if !t.Roll {
				k.want(item{wall: w.Name, mark: t.Mark, code: t.Code, colour: t.Colour, pool: w.Pool, stock: t.Stock,
					length: t.Length, wanted: t.Quantity})
			}
		}
	}
}

func (k *stock) want(t item) {
	if _, twice := k.index[t.mark]; twice || t.mark == "" {
		k.r.start(t.wall)
		k.r.add(t.mark, "mark", "a mark that is blank or already another's")
		return
	}
	k.index[t.mark] = len(k.items)
	k.items = append(k.items, t)
}

// board checks one row of the plan.
func (k *stock) board(i int) {
	b := &k.job.Boards[i]
	k.r.start("")
	if b.Count < 1 || len(b.Cuts) == 0 {
		k.r.add(b.Name, "board-fit", "%d boards with %d cuts", b.Count, len(b.Cuts))
	}
	for _, c := range b.Cuts {
		k.cut(i, c)
	}
	k.fit(b)
	if b.Shared != 0 {
		k.shared(b)
	}
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
func (k *stock) cut(row int, c Cut) {
	b := &k.job.Boards[row]
	var longest, width measure.Length
	for i, mark := range c.Marks {
		at, ok := k.index[mark]
		if !ok {
			k.r.add(b.Name, "mark", "it cuts %q, which nothing is marked", mark)
			return
		}
		t := &k.items[at]
		t.cut += b.Count
		if t.last != row+1 {
			t.last = row + 1
			t.boards++
		}
		if !listed(t.code, b.Code) || t.colour != b.Colour || t.pool != b.Pool {
			k.r.add(b.Name, "cut-stock", "%s is wanted of %s %s in pool %q, not of %s %s in %q",
				mark, t.code, t.colour, t.pool, b.Code, b.Colour, b.Pool)
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

func (k *stock) single(c Cut) *Piece {
	if len(c.Marks) != 1 {
		return nil
	}
	at, ok := k.index[c.Marks[0]]
	if !ok {
		return nil
	}
	return k.items[at].piece
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
	for i := range k.job.Boards {
		b := &k.job.Boards[i]
		if !b.OnHand {
			continue
		}
		of := kept{b.Code, b.Colour, b.Stock}
		if have[of] -= b.Count; have[of] < 0 {
			k.r.add(b.Name, "hand", "it takes %d of %s, %v long, from stock on hand: %d too many", b.Count, b.Code, b.Stock, -have[of])
		}
	}
}
