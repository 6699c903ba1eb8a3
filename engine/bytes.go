package engine

import (
	"encoding/binary"
	"iter"
	"math"
	"strings"

	"lapwright/engine/measure"
)

// codec writes values one after another as bytes, or reads them back into the
// variables they came from. One function says for each type what is written and
// what is read, so that the two cannot differ. What is read are parts of one text,
// so that no name is copied.
type codec struct {
	*words
	to    []byte
	from  string
	reads bool

	cuts  chunk[Cut] // of rows that are read
	marks chunk[string]
}

// words numbers the names that many rows share, as roles, codes and colours.
type words struct {
	list []string
	at   map[string]int
}

func (w *words) number(s string) int {
	n, ok := w.at[s]
	if !ok {
		if w.at == nil {
			w.at = map[string]int{}
		}
		n = len(w.list)
		w.at[s], w.list = n, append(w.list, strings.Clone(s))
	}
	return n
}

// written returns what was written since it was asked before.
func (p *codec) written() string {
	out := string(p.to)
	p.to = p.to[:0]
	return out
}

// whole is a whole number: a length is one, and so is a count.
func whole[T ~int | ~int64](p *codec, v *T) {
	if !p.reads {
		p.to = binary.AppendVarint(p.to, int64(*v))
		return
	}
	var n uint64
	for shift := 0; ; shift += 7 {
		b := p.from[0]
		p.from = p.from[1:]
		n |= uint64(b&0x7f) << shift
		if b < 0x80 {
			break
		}
	}
	*v = T(int64(n>>1) ^ -int64(n&1))
}

func (p *codec) flag(v *bool) {
	n := btoi(*v)
	whole(p, &n)
	*v = n != 0
}

func (p *codec) real(v *float64) {
	if !p.reads {
		p.to = binary.LittleEndian.AppendUint64(p.to, math.Float64bits(*v))
		return
	}
	var b [8]byte
	copy(b[:], p.from)
	p.from = p.from[8:]
	*v = math.Float64frombits(binary.LittleEndian.Uint64(b[:]))
}

// text is a name of its own.
func (p *codec) text(v *string) {
	n := len(*v)
	if whole(p, &n); !p.reads {
		p.to = append(p.to, *v...)
		return
	}
	*v, p.from = p.from[:n], p.from[n:]
}

// word is a name that many rows share.
func (p *codec) word(v *string) {
	if !p.reads {
		n := p.number(*v)
		whole(p, &n)
		return
	}
	var n int
	whole(p, &n)
	*v = p.list[n]
}

// list is a list, each of it written by one function; none is told from an empty one.
func list[T any](p *codec, v *[]T, of func(*codec, *T)) {
	n := len(*v)
	if *v == nil {
		n = -1
	}
	if whole(p, &n); p.reads {
		if *v = nil; n >= 0 {
			*v = make([]T, n)
		}
	}
	for i := range *v {
		of(p, &(*v)[i])
	}
}

func (p *codec) batten(b *Batten) {
	p.text(&b.Mark)
	whole(p, &b.Centre)
	whole(p, &b.Width)
	whole(p, &b.Z.Lo)
	whole(p, &b.Z.Hi)
	p.word(&b.Why)
	p.word(&b.Code)
	p.text(&b.Stock)
	p.flag(&b.Tight)
	p.flag(&b.Off)
}

func (p *codec) point(at *measure.Point) {
	whole(p, &at.X)
	whole(p, &at.Z)
}

func (p *codec) trim(t *Trim) {
	p.text(&t.Mark)
	p.word(&t.Role)
	p.word(&t.Code)
	p.word(&t.Colour)
	p.word(&t.Where)
	whole(p, &t.Length)
	p.point(&t.From)
	p.point(&t.To)
	whole(p, &t.Quantity)
	p.text(&t.Stock)
	list(p, &t.Screws, whole[measure.Length])
	p.flag(&t.Loose)
}

func (p *codec) strip(s *Strip) {
	p.word(&s.Role)
	p.text(&s.Where)
	whole(p, &s.Width)
	whole(p, &s.Length)
}

func (p *codec) fixingRow(r *FixingRow) {
	p.word(&r.Zone)
	p.word(&r.Role)
	p.word(&r.Fixing)
	p.word(&r.Where)
	whole(p, &r.Centres)
	whole(p, &r.Count)
	whole(p, &r.PreDrilled)
	whole(p, &r.Visible)
	whole(p, &r.Packers.Lo)
	whole(p, &r.Packers.Hi)
	p.real(&r.Load)
	p.real(&r.Resistance)
	p.real(&r.Use)
	p.word(&r.Basis)
	p.word(&r.Verdict)
}

// lists are what a wall has besides its pieces and screws.
func (p *codec) lists(w *WallResult) {
	list(p, &w.Battens, (*codec).batten)
	list(p, &w.Trims, (*codec).trim)
	list(p, &w.Strips, (*codec).strip)
	list(p, &w.Fixings, (*codec).fixingRow)
}

// cut is one cut of a row. The lists of a row come from larger ones.
func (p *codec) cut(c *Cut) {
	n := len(c.Marks)
	if whole(p, &n); p.reads {
		c.Marks = p.marks.take(n)
	}
	for i := range c.Marks {
		p.text(&c.Marks[i])
	}
	whole(p, &c.Length)
	p.flag(&c.Turned)
	whole(p, &c.Saved)
}

func (p *codec) row(r *CutRow) {
	p.text(&r.Board)
	whole(p, &r.Count)
	whole(p, &r.Offcut)
	whole(p, &r.Shared)
	n := len(r.Cuts)
	if whole(p, &n); p.reads {
		r.Cuts = p.cuts.take(n)
	}
	for i := range r.Cuts {
		p.cut(&r.Cuts[i])
	}
}

// codedRows are the rows of a cutting plan as bytes, block by block.
type codedRows struct {
	blocks []rowBlock
	rows   int
}

// rowBlock is some rows of one lot.
type rowBlock struct {
	lot        *Lot
	rows, cuts int
	text       string
}

// blockMost is about how many bytes of rows stand together: what one row of a
// block is read for holds all of them.
const blockMost = 1 << 15

// add writes further rows.
func (k *codedRows) add(p *codec, rows []CutRow) {
	k.rows += len(rows)
	var b rowBlock
	for i := range rows {
		row := &rows[i]
		p.row(row)
		b.rows, b.cuts = b.rows+1, b.cuts+len(row.Cuts)
		if len(p.to) >= blockMost || i == len(rows)-1 || rows[i+1].Lot != row.Lot {
			b.lot, b.text = row.Lot, p.written()
			k.blocks = append(k.blocks, b)
			b = rowBlock{}
		}
	}
}

// from goes through the rows from one number up to another.
func (k *codedRows) from(from, to int) iter.Seq[*CutRow] {
	return func(yield func(*CutRow) bool) {
		p, first := codec{reads: true}, 0
		for i := range k.blocks {
			b := &k.blocks[i]
			if last := first + b.rows; last > from && !b.read(&p, max(0, from-first), min(to, last)-first, yield) {
				return
			}
			if first += b.rows; first >= to {
				return
			}
		}
	}
}

// of goes through the rows of some blocks.
func (k *codedRows) of(blocks []int) iter.Seq[*CutRow] {
	return func(yield func(*CutRow) bool) {
		p := codec{reads: true}
		for _, i := range blocks {
			if b := &k.blocks[i]; !b.read(&p, 0, b.rows, yield) {
				return
			}
		}
	}
}

// read shows the rows of a block from one number up to another, each made anew,
// until yield wants no more, and reports whether it did.
func (b *rowBlock) read(p *codec, from, to int, yield func(*CutRow) bool) bool {
	p.from = b.text
	for n := range to {
		row := &CutRow{Lot: b.lot}
		if p.row(row); n >= from && !yield(row) {
			return false
		}
	}
	return true
}
