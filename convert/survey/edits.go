package survey

import (
	"strings"

	"lapwright/convert/survey/book"
)

// mark is the hidden defined name by which a workbook tells which of its
// sheets this program made: their names as a text with | between, in as many
// numbered names as it takes. Names of sheets alone do not tell: a survey may
// have a sheet of its own called Summary.
const mark = "lapwright_sheets"

// ownSheets reads the mark.
func ownSheets(b *book.Book) map[string]bool {
	text := constants(b.Names[mark])
	for i := 1; ; i++ {
		piece, ok := b.Names[mark+"_"+itoa(i)]
		if !ok {
			break
		}
		text += constants(piece)
	}
	out := map[string]bool{}
	for _, name := range strings.FieldsFunc(text, func(r rune) bool { return r == '|' || r == '\n' }) {
		out[name] = true
	}
	return out
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

// readEdits reads the inputs of an earlier order summary.
func (r *reader) readEdits(s *book.Sheet) {
	if s.Name != "Order summary" || len(s.Rows) == 0 {
		return
	}
	cols := map[string]int{}
	for _, c := range s.Rows[0].Cells {
		cols[r.plainText(c)] = c.Col
	}
	for i := range s.Rows[1:] {
		row := &s.Rows[i+1]
		text := func(header string) string { return r.plainText(row.At(cols[header])) }
		k := EditKey{text("Drop"), text("Role"), text("Code")}
		spare, ok1 := r.editNumber(row.At(cols["Spare %"]))
		pack, ok2 := r.editNumber(row.At(cols["Pack"]))
		price, ok3 := r.editNumber(row.At(cols["Unit price"]))
		if k.Role != "" && k.Code != "" && ok1 && ok2 && ok3 {
			r.edits[k] = Edit{spare, pack, price}
		}
	}
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
