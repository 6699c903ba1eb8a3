package book

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// sheet reads one sheet.
func (s *source) sheet(ref sheetRef, part string) (*Sheet, error) {
	if s.all[part] == nil {
		return nil, damaged("the sheet " + ref.name + " is missing")
	}
	p := &sheetParser{src: s, sheet: &Sheet{File: s.file, Name: ref.name, Hidden: ref.state != "" && ref.state != "visible"}}
	if err := eachTag(part, s.all[part], p.tag); err != nil {
		return nil, err
	}
	var err error
	if p.sheet.Notes, err = s.notes(part); err != nil {
		return nil, err
	}
	return p.sheet, p.finish()
}

// notes counts the comments at a sheet's cells.
func (s *source) notes(part string) (n int, err error) {
	each := func(name string, do func(*tag) error) error { return eachTag(name, s.all[name], do) }
	rels, err := relations(part, s.all, each)
	for _, r := range rels {
		if err == nil && strings.HasSuffix(r.kind, "/comments") && s.all[r.target] != nil {
			err = each(r.target, func(t *tag) error {
				if t.start && t.name == "comment" {
					n++
				}
				return nil
			})
		}
	}
	return n, err
}

// sheetParser follows the tags of a sheet part.
type sheetParser struct {
	src   *source
	sheet *Sheet

	inData   bool
	row      Row
	lastCol  int
	cell     Cell
	style    int
	typ      string
	formula  bool
	valued   bool // a value element stands in the cell, be it empty
	text     []byte
	phonetic bool
}

func (p *sheetParser) tag(t *tag) error {
	switch t.name {
	case "v":
		p.valued = p.valued || t.start
		p.text = append(p.text, t.text...)
	case "t":
		if !p.phonetic {
			p.text = append(p.text, t.text...)
		}
	case "c":
		return p.cellTag(t)
	case "row":
		return p.rowTag(t)
	case "col":
		if t.start && isTrue(t.attr("hidden")) {
			from, err1 := strconv.Atoi(t.attr("min"))
			to, err2 := strconv.Atoi(t.attr("max"))
			if err1 != nil || err2 != nil {
				return p.bad("columns " + t.attr("min") + " to " + t.attr("max"))
			}
			p.sheet.hidden = append(p.sheet.hidden, Range{Col1: from, Col2: to})
		}
	case "f":
		p.formula = p.formula || t.start
	case "rPh":
		p.phonetic = t.start
	case "sheetData":
		p.inData = t.start || (p.inData && !t.end)
	case "mergeCell":
		if t.start {
			return p.merge(t.attr("ref"))
		}
	}
	return nil
}

func (p *sheetParser) rowTag(t *tag) error {
	if t.end && p.inData && len(p.row.Cells) > 0 {
		p.sheet.Rows = append(p.sheet.Rows, p.row)
	}
	if !t.start {
		return nil
	}
	number := p.row.Number + 1
	if r := t.attr("r"); r != "" {
		n, err := strconv.Atoi(r)
		if err != nil || n < 1 || n > mostRows {
			return p.bad("row " + r)
		}
		number = n
	}
	p.row = Row{Number: number, Hidden: isTrue(t.attr("hidden"))}
	if n := len(p.sheet.Rows); n > 0 {
		p.row.Cells = make([]Cell, 0, len(p.sheet.Rows[n-1].Cells))
	}
	p.lastCol = 0
	return nil
}

func (p *sheetParser) bad(what string) error {
	return damaged("sheet " + p.sheet.Name + ", " + what)
}

func (p *sheetParser) cellTag(t *tag) error {
	if t.end {
		return p.endCell()
	}
	if !t.start {
		return nil
	}
	p.cell, p.style, p.typ, p.formula, p.valued, p.text = Cell{Col: p.lastCol + 1}, 0, "", false, false, p.text[:0]
	for _, a := range t.attrs {
		switch a.Name.Local {
		case "r":
			col, row, ok := parseAddress(a.Value)
			if !ok || row != p.row.Number {
				return p.bad("cell " + a.Value + " in row " + strconv.Itoa(p.row.Number))
			}
			p.cell.Col = col
		case "s":
			p.style, _ = strconv.Atoi(a.Value)
		case "t":
			p.typ = a.Value
		}
	}
	p.lastCol = p.cell.Col
	return nil
}

func (p *sheetParser) endCell() error {
	c := p.cell
	if err := p.value(&c); err != nil {
		return err
	}
	if c.Kind == Blank {
		return nil
	}
	c.Live = p.formula
	p.row.Cells = append(p.row.Cells, c)
	return nil
}

// value settles a cell's kind and text from its type, style and value.
func (p *sheetParser) value(c *Cell) error {
	raw := string(p.text)
	switch p.typ {
	case "s":
		if strings.TrimSpace(raw) == "" {
			return nil
		}
		i, err := strconv.Atoi(strings.TrimSpace(raw))
		if err != nil || i < 0 || i >= len(p.src.strings) {
			return p.bad(Address(c.Col, p.row.Number) + " refers to a text that is not there")
		}
		c.Kind, c.Text = Text, p.src.strings[i]
	case "inlineStr", "str":
		c.Kind, c.Text = Text, unescape(raw)
	case "b":
		c.Kind, c.Text = Bool, strings.TrimSpace(raw)
	case "e":
		c.Kind, c.Text = Fault, strings.TrimSpace(raw)
	case "d":
		c.Kind, c.Text = Text, strings.TrimSpace(raw)
	default:
		return p.number(c, strings.TrimSpace(raw))
	}
	switch {
	case c.Text != "":
	case p.formula && !p.valued:
		c.Kind = Formula
	default:
		c.Kind = Blank
	}
	return nil
}

func (p *sheetParser) number(c *Cell, raw string) error {
	if raw == "" {
		if p.formula {
			c.Kind = Formula
		}
		return nil
	}
	v, err := strconv.ParseFloat(raw, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return p.bad(Address(c.Col, p.row.Number) + " holds " + raw + ", which is no number")
	}
	c.Kind, c.Text = Number, raw
	if p.style >= 0 && p.style < len(p.src.formats) {
		f := p.src.formats[p.style]
		c.Kind, c.Suffix = f.kind, f.suffix
	}
	return nil
}

func (p *sheetParser) merge(ref string) error {
	from, to, found := strings.Cut(ref, ":")
	if !found {
		to = from
	}
	c1, r1, ok1 := parseAddress(from)
	c2, r2, ok2 := parseAddress(to)
	if !ok1 || !ok2 || c2 < c1 || r2 < r1 {
		return p.bad("merged cells " + ref)
	}
	p.sheet.Merged = append(p.sheet.Merged, Range{r1, c1, r2, c2})
	return nil
}

// finish puts rows and cells in order; some writers do not. One address given
// twice is a fault.
func (p *sheetParser) finish() error {
	rows := p.sheet.Rows
	if !slices.IsSortedFunc(rows, func(a, b Row) int { return cmp.Compare(a.Number, b.Number) }) {
		slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(a.Number, b.Number) })
	}
	for i := range rows {
		if i > 0 && rows[i].Number == rows[i-1].Number {
			return p.bad("row " + strconv.Itoa(rows[i].Number) + " stands twice")
		}
		cells := rows[i].Cells
		byCol := func(a, b Cell) int { return cmp.Compare(a.Col, b.Col) }
		if !slices.IsSortedFunc(cells, byCol) {
			slices.SortStableFunc(cells, byCol)
		}
		for j := 1; j < len(cells); j++ {
			if cells[j].Col == cells[j-1].Col {
				return p.bad("cell " + Address(cells[j].Col, rows[i].Number) + " stands twice")
			}
		}
	}
	return nil
}
