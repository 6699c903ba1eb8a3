package survey

import (
	"context"
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

// madeSheets lists the sheets of a takeoff in their order; blank for one that is
// gone. Names that refer to a sheet follow it when it is renamed.
func madeSheets(b *book.Book) []string {
	var out []string
	for i := 1; ; i++ {
		at, ok := b.Names[sheetMark+"_"+itoa(i)]
		if !ok {
			return out
		}
		out = append(out, book.SheetOf(at))
	}
}

// ownSheets reads both marks.
func ownSheets(b *book.Book) map[string]bool {
	out := map[string]bool{}
	for _, name := range madeSheets(b) {
		out[name] = true
	}
	delete(out, "")
	for _, name := range strings.FieldsFunc(b.Text(mark), func(r rune) bool { return r == '|' || r == '\n' }) {
		out[name] = true
	}
	return out
}

// keptName is the hidden defined name, or the numbered names, in which a takeoff
// keeps what it came to, for the next run to tell what changed.
const keptName = "lapwright_run"

// heldName is that in which it keeps which dwellings of which survey it counts.
const heldName = "lapwright_held"

// orderName is the hidden defined name that refers to the top left cell of the
// order summary: it follows the sheet when a reader renames it.
const orderName = "lapwright_order"

// orderSheet returns what a workbook of ours calls its order summary.
func orderSheet(names map[string]string) string {
	if at, ok := names[orderName]; ok {
		return book.SheetOf(at)
	}
	return "Order summary"
}

// ReadEdits reads the order summary of a workbook that this program made, and no
// other sheet of it. The flags are of what a reader has typed there that cannot
// be carried over.
func ReadEdits(path string) (map[EditKey]Edit, []engine.Flag, error) {
	s, err := book.Lone(path, orderSheet)
	if err != nil {
		return nil, nil, refusal(err)
	}
	r, err := newReader(context.Background())
	if err != nil {
		return nil, nil, err
	}
	r.readEdits(s)
	var flags []engine.Flag
	for _, f := range r.flags {
		flags = append(flags, f.Flag)
	}
	return r.edits, flags, nil
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
		l := &orderLine{r: r, sheet: s, row: &s.Rows[i+1], cols: cols}
		k := EditKey{l.text("Drop"), l.text("Role"), l.text("Code"), l.text("Colour")}
		if k.Role == "" || k.Code == "" {
			continue
		}
		if e, ok := l.edit(); ok {
			r.edits[k] = e
		}
	}
}

// orderLine is a line of an earlier order summary.
type orderLine struct {
	r     *reader
	sheet *book.Sheet
	row   *book.Row
	cols  map[string]int
}

func (l *orderLine) text(header string) string { return l.r.plainText(l.row.At(l.cols[header])) }

// edit reads what stands on the line. Where an input is no number, what the
// earlier run issued counts, and the cell is flagged.
func (l *orderLine) edit() (Edit, bool) {
	var e Edit
	if in, ok := l.issued(); ok {
		e.Issued = &in
	} else if l.cols["Issued spare %"] > 0 {
		l.flag("Code", "extra-label", "This line was not in the order that this program wrote; it was not read", "Put what it stands for into Products, or add it to the new order by hand")
		return e, false
	}
	for _, in := range []struct {
		header string
		least  float64
		now    *float64
		was    func(engine.Inputs) float64
	}{
		{"Spare %", 0, &e.Now.Spare, func(i engine.Inputs) float64 { return i.Spare }},
		{"Pack", 1e-6, &e.Now.Pack, func(i engine.Inputs) float64 { return i.Pack }},
		{"Unit price", 0, &e.Now.Price, func(i engine.Inputs) float64 { return i.Price }},
	} {
		c := l.row.At(l.cols[in.header])
		v, ok := l.r.editNumber(c)
		if c.Kind == book.Percent && in.header == "Spare %" { // 5 % is 5 of a column of per cent
			v *= 100
		}
		if ok && v >= in.least {
			*in.now = v
			continue
		}
		l.notKept(in.header, ok)
		if e.Issued == nil {
			return e, false
		}
		*in.now = in.was(*e.Issued)
	}
	for header, to := range map[string]*float64{
		"Net quantity": &e.Net, "Order quantity": &e.Order, "Issued net": &e.IssuedNet, "Issued order": &e.IssuedOrder,
	} {
		*to, _ = l.r.editNumber(l.row.At(l.cols[header]))
	}
	// Programs that do not reckon save a formula without its value: nobody typed
	// over it.
	if l.row.At(l.cols["Order quantity"]).Kind == book.Formula {
		e.Order = e.IssuedOrder
	}
	return e, true
}

// issued reads what the earlier run wrote on the line.
func (l *orderLine) issued() (in engine.Inputs, ok bool) {
	var ok1, ok2, ok3 bool
	in.Spare, ok1 = l.r.editNumber(l.row.At(l.cols["Issued spare %"]))
	in.Pack, ok2 = l.r.editNumber(l.row.At(l.cols["Issued pack"]))
	in.Price, ok3 = l.r.editNumber(l.row.At(l.cols["Issued price"]))
	return in, ok1 && ok2 && ok3
}

// wanted says what each input may be.
var wanted = map[string]string{
	"Spare %":    "0 or a number above it, in figures",
	"Pack":       "a number above 0, in figures",
	"Unit price": "0 or a number above it, in figures",
}

// notKept flags an input that cannot be used.
func (l *orderLine) notKept(header string, number bool) {
	what, said := header+" is blank", l.text(header)
	switch {
	case l.row.At(l.cols[header]).Kind == book.Formula:
		what = header + " is a formula whose value is not saved"
	case number:
		what = header + " is " + said + ", which no order can have"
	case said != "":
		what = header + " is " + quote(said) + ", which is no number"
	}
	l.flag(header, "type-error", what+"; it was not kept, and what the rules and Products say counts", "Write "+wanted[header])
}

func (l *orderLine) flag(header, code, what, do string) {
	l.r.flag(l.sheet, l.row.Number, l.cols[header], engine.Flag{Severity: check, Code: code, What: what, Do: do})
}

func (r *reader) editNumber(c book.Cell) (float64, bool) {
	switch c.Kind {
	case book.Number, book.Percent:
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
