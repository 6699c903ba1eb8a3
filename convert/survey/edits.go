package survey

import (
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// mark is the hidden defined name by which a blank survey tells which of its
// sheets are no data: their names as a text with | between, in as many
// numbered names as it takes.
const mark = "lapwright_sheets"

// sheetMark begins the numbered hidden names of a takeoff, each of which refers
// to the first cell of a sheet that it made. Names of sheets alone do not tell:
// a survey may have a sheet of its own called Summary, and readers rename ours.
const sheetMark = "lapwright_sheet"

// ownSheets reads both marks.
func ownSheets(b *book.Book) map[string]bool {
	out := map[string]bool{}
	for i := 1; ; i++ { // names that refer to a sheet follow it when it is renamed
		at, ok := b.Names[sheetMark+"_"+itoa(i)]
		if !ok {
			break
		}
		out[book.SheetOf(at)] = true
	}
	delete(out, "") // of a sheet that is gone
	for _, name := range strings.FieldsFunc(hiddenText(b, mark), func(r rune) bool { return r == '|' || r == '\n' }) {
		out[name] = true
	}
	return out
}

// hiddenText reads a text from a hidden name, or from as many as it took.
func hiddenText(b *book.Book, name string) string {
	text := constants(b.Names[name])
	for i := 1; ; i++ {
		piece, ok := b.Names[name+"_"+itoa(i)]
		if !ok {
			return text
		}
		text += constants(piece)
	}
}

// constants joins the text constants of a formula.
func constants(formula string) string {
	var b strings.Builder
	for {
		_, after, found := strings.Cut(formula, `"`)
		if !found {
			return b.String()
		}
		for {
			text, rest, _ := strings.Cut(after, `"`)
			b.WriteString(text)
			if !strings.HasPrefix(rest, `"`) {
				formula = rest
				break
			}
			b.WriteByte('"')
			after = rest[1:]
		}
	}
}

// keptName is the hidden defined name, or the numbered names, in which a takeoff
// keeps what it came to, for the next run to tell what changed.
const keptName = "lapwright_run"

// orderName is the hidden defined name that refers to the top left cell of the
// order summary: it follows the sheet when a reader renames it.
const orderName = "lapwright_order"

// isOrder reports whether a sheet of ours is the order summary.
func isOrder(b *book.Book, s *book.Sheet) bool {
	if at, ok := b.Names[orderName]; ok {
		return book.SheetOf(at) == s.Name
	}
	return s.Name == "Order summary"
}

// readEdits reads the lines of an earlier order summary.
func (r *reader) readEdits(s *book.Sheet) {
	if len(s.Rows) == 0 {
		return
	}
	cols := map[string]int{}
	for _, c := range s.Rows[0].Cells {
		cols[r.plainText(c)] = c.Col
	}
	for i := range s.Rows[1:] {
		row := &s.Rows[i+1]
		text := func(header string) string { return r.plainText(row.At(cols[header])) }
		k := EditKey{text("Drop"), text("Role"), text("Code"), text("Colour")}
		now, ok := r.inputs(row, cols, "Spare %", "Pack", "Unit price")
		if k.Role == "" || k.Code == "" || !ok {
			continue
		}
		e := Edit{Now: now}
		if issued, ok := r.inputs(row, cols, "Issued spare %", "Issued pack", "Issued price"); ok {
			e.Issued = &issued
		}
		for header, to := range map[string]*float64{
			"Net quantity": &e.Net, "Order quantity": &e.Order, "Issued net": &e.IssuedNet, "Issued order": &e.IssuedOrder,
		} {
			*to, _ = r.editNumber(row.At(cols[header]))
		}
		r.edits[k] = e
	}
}

// inputs reads the three inputs of a line.
func (r *reader) inputs(row *book.Row, cols map[string]int, spare, pack, price string) (in engine.Inputs, ok bool) {
	var ok1, ok2, ok3 bool
	in.Spare, ok1 = r.editNumber(row.At(cols[spare]))
	in.Pack, ok2 = r.editNumber(row.At(cols[pack]))
	in.Price, ok3 = r.editNumber(row.At(cols[price]))
	return in, ok1 && ok2 && ok3
}

func (r *reader) editNumber(c book.Cell) (float64, bool) {
	switch c.Kind {
	case book.Number:
		v, ok := rawNumber(c.Text)
		if !ok {
			return 0, false
		}
		f, _ := v.Float64()
		return f, true
	case book.Text:
		n, fault := r.parseNumber(c.Text, r.decimal)
		if fault != nil || n.suffix.kind != "" {
			return 0, false
		}
		f, _ := n.value.Float64()
		return f, true
	}
	return 0, false
}
