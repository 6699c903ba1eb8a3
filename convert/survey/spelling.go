package survey

import (
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// spellings maps a name, compared without regard to case and spaces, to the
// spelling it is kept in. The engine compares names letter by letter.
type spellings map[string]string

// of returns the spelling kept for a name; the first one met is kept.
func (s spellings) of(name string) string { return s.by(key(name), name) }

func (s spellings) by(k, name string) string {
	if kept, ok := s[k]; ok {
		return kept
	}
	s[k] = tidy(name)
	return s[k]
}

// settleNames gives every name that means the same thing one spelling: plots
// and walls that of their first row in Walls, products and colours that of the
// catalogue.
func (r *reader) settleNames(groups []*group) {
	plots, walls, lines := spellings{}, spellings{}, spellings{}
	for _, g := range groups {
		w := g.wall.wall
		w.Plot = plots.by(plotKey(w.Plot), w.Plot)
		walls[wallKey(w.Plot, w.Name)] = w.Name
	}
	for _, g := range groups {
		w := g.wall.wall
		w.LevelLine = lines.of(w.LevelLine)
		for _, meets := range []*string{&w.LeftMeets, &w.RightMeets} {
			if kept, ok := walls[wallKey(w.Plot, *meets)]; ok {
				*meets = kept
			}
		}
	}
	for i := range r.job.Plots {
		p := &r.job.Plots[i]
		p.HouseType = plots.by(plotKey(p.HouseType), p.HouseType)
	}
	if b := r.board(); r.job.Board != "" && b != nil {
		r.job.Board = b.Code
	}
	r.settleColours(groups)
}

// settleColours flags a colour that no board of the catalogue has.
func (r *reader) settleColours(groups []*group) {
	colours, codes, known := spellings{}, spellings{}, map[string]bool{}
	var names []string
	for i := range r.job.Products {
		p := &r.job.Products[i]
		p.Colour = colours.of(p.Colour)
		codes.of(p.Code)
		if p.Role == "board" && !known[key(p.Colour)] {
			known[key(p.Colour)] = true
			names = append(names, p.Colour)
		}
	}
	ok := func(c *string) bool {
		*c = colours.of(*c)
		return *c == "" || known[key(*c)] || known[""]
	}
	missing := func(c string) string {
		return "The catalogue has no board in the colour " + quote(c) + suggestion(c, names)
	}
	do := "Write one of " + several(names) + ", or add the boards to Products"
	if place := r.job.Origins["Colour"]; !ok(&r.job.Colour) {
		r.flags = append(r.flags, placed{engine.Flag{Severity: check, Code: "foreign-key", Place: place, What: missing(r.job.Colour), Do: do}, r.order[place.File+"\x00"+place.Sheet], 0, 0})
	}
	type in struct {
		t      *table
		colour string
	}
	var first []in // one flag a sheet and colour: a site of one colour is one question
	rows := map[in][]*record{}
	unknown := func(rec *record, colour string) {
		k := in{rec.t, colour}
		if rows[k] == nil {
			first = append(first, k)
		}
		rows[k] = append(rows[k], rec)
	}
	for _, g := range groups {
		if c := &g.wall.wall.Colour; !ok(c) {
			unknown(&g.wall.rec, *c)
		}
	}
	for i := range r.plotRows {
		if p := &r.plotRows[i]; !ok(&p.plot.Colour) && !p.rec.stopped {
			unknown(&p.rec, p.plot.Colour)
		}
	}
	for _, k := range first {
		r.atRows(rows[k], "Colour", finding{check, "foreign-key", missing(k.colour), do})
	}
	for i := range r.job.Plots {
		ok(&r.job.Plots[i].Colour)
	}
	for i := range r.job.Offcuts {
		o := &r.job.Offcuts[i]
		o.Code = codes.of(o.Code)
		ok(&o.Colour)
	}
}

// several names the first of some choices, and says that there are more.
func several(names []string) string {
	const most = 12
	out := strings.Join(names[:min(len(names), most)], ", ")
	if len(names) > most {
		out += " and others in Products"
	}
	return out
}

// rejectedAgain recognises the list of rows that were not taken, corrected and
// fed in: walls and openings in one table, with the sheet, row and reason in
// front. It returns each kind as a table of its own, or nil.
func (r *reader) rejectedAgain(s *book.Sheet) []region {
	if len(s.Rows) == 0 || fold(s.Name) != "rejected" {
		return nil
	}
	head := &s.Rows[0]
	own := map[string]int{}
	for _, c := range head.Cells {
		own[r.plainText(c)] = c.Col
	}
	if own["Sheet"] == 0 || own["Row"] == 0 || own["Reason"] == 0 {
		return nil
	}
	skip := max(own["Sheet"], own["Row"], own["Reason"])
	parts := map[bool]*book.Sheet{}
	for _, opening := range []bool{false, true} {
		p := &book.Sheet{File: s.File, Name: s.Name}
		p.Rows = append(p.Rows, book.Row{Number: head.Number, Cells: rightOf(head, skip)})
		parts[opening] = p
	}
	for i := range s.Rows[1:] {
		row := &s.Rows[i+1]
		p := parts[r.isOpening(head, row)]
		p.Rows = append(p.Rows, book.Row{Number: row.Number, Hidden: row.Hidden, Cells: rightOf(row, skip)})
	}
	return []region{{r.schema("Walls"), r.only(parts[false], "Walls")}, {r.schema("Openings"), r.only(parts[true], "Openings")}}
}

func rightOf(row *book.Row, col int) []book.Cell {
	for i, c := range row.Cells {
		if c.Col > col {
			return row.Cells[i:]
		}
	}
	return nil
}

// isOpening reports whether a row has a value in a column that only openings
// have.
func (r *reader) isOpening(head, row *book.Row) bool {
	for _, c := range row.Cells {
		h := head.At(c.Col)
		_, wall := r.match(r.index["Walls"], h.Text)
		_, opening := r.match(r.index["Openings"], h.Text)
		if h.Kind == book.Text && opening && !wall && r.plainText(c) != "" {
			return true
		}
	}
	return false
}

// only leaves out of a part the columns that its table does not know, which
// are the other table's.
func (r *reader) only(s *book.Sheet, name string) *book.Sheet {
	keep := map[int]bool{}
	for _, c := range s.Rows[0].Cells {
		_, keep[c.Col] = r.match(r.index[name], c.Text)
	}
	for i := range s.Rows {
		var cells []book.Cell
		for _, c := range s.Rows[i].Cells {
			if keep[c.Col] {
				cells = append(cells, c)
			}
		}
		s.Rows[i].Cells = cells
	}
	return s
}
