package survey

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// value is what a cell was understood as. Only the part that its field's type
// calls for is filled.
type value struct {
	set    bool
	text   string
	length measure.Length
	number float64
	count  int
	yes    bool
	list   []measure.Length
	points measure.Profile
}

// finding is one thing found in a cell.
type finding struct {
	severity engine.Severity
	code     string
	what, do string
}

// kindOf names how a field's value is stored.
func kindOf(f *templates.Field) string {
	length := f.Unit == "mm" || f.Unit == "m"
	switch {
	case f.Form != "":
		return f.Form
	case length && f.Type != "string":
		return "length"
	}
	return f.Type
}

// parse reads a cell as a field's value. u is the unit its column names, if
// any. A nil finding is a value without remark; a stop is no value.
func (r *reader) parse(c book.Cell, f *templates.Field, u unit) (value, []finding) {
	switch c.Kind {
	case book.Blank:
		return value{}, nil
	case book.Fault:
		return value{}, stopAt("type-error", "The cell holds the error "+c.Text, "Mend its formula, or type the value")
	case book.Formula:
		return value{}, stopAt("type-error", "The cell holds a formula whose value is not saved in the file", "Open and save the survey in the spreadsheet program, or type the value")
	case book.Text:
		if f.Form == "openings" {
			c.Text = linesToParts.Replace(c.Text)
		}
		if c.Text = tidy(c.Text); c.Text == "" {
			return value{}, nil
		}
		if isFaultText(c.Text) {
			return value{}, stopAt("type-error", "The cell holds the error "+c.Text, "Mend its formula, or type the value")
		}
	}
	switch kindOf(f) {
	case "string", "openings":
		return r.parseText(c, f)
	case "date":
		return r.parseDate(c)
	case "boolean":
		return r.parseYesNo(c)
	case "lengths":
		return r.parseLengths(c, f, u)
	case "points":
		return r.parsePoints(c, f, u)
	}
	return r.parseNumeric(c, f, u)
}

// linesToParts parts openings in words that stand on lines of their own.
var linesToParts = strings.NewReplacer("\r\n", ";", "\n", ";")

func stopAt(code, what, do string) []finding {
	return []finding{{stop, code, what, do}}
}

// isFaultText recognises an error value written out as text, as in CSV.
func isFaultText(s string) bool {
	return slices.Contains([]string{"#REF!", "#DIV/0!", "#VALUE!", "#NAME?", "#N/A", "#NUM!", "#NULL!", "#SPILL!", "#CALC!", "Err:502", "Err:508", "Err:522"}, s)
}

// plainText returns a cell as text: a number in its shortest form.
func (r *reader) plainText(c book.Cell) string {
	switch c.Kind {
	case book.Number, book.Percent:
		if v, ok := rawNumber(c.Text); ok {
			if c.Kind == book.Percent {
				return decimalText(new(big.Rat).Mul(v, big.NewRat(100, 1))) + "%"
			}
			return decimalText(v)
		}
	case book.Date:
		return r.dateText(c.Text)
	case book.Bool:
		if c.Text == "1" || strings.EqualFold(c.Text, "true") {
			return "TRUE"
		}
		return "FALSE"
	case book.Text:
		return tidy(c.Text)
	}
	return c.Text
}

func decimalText(v *big.Rat) string {
	s := v.FloatString(mostDigits)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// dateText turns a stored day number into a date: day 1 is 1 January 1900 of a
// calendar in which 1900 is a leap year, or day 0 is 1 January 1904.
func (r *reader) dateText(raw string) string {
	days, err := strconv.ParseFloat(raw, 64)
	if err != nil || days < 0 || days > 3e6 {
		return raw
	}
	start := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if r.date1904 {
		start = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return start.AddDate(0, 0, int(days)).Format(time.DateOnly)
}

func (r *reader) parseText(c book.Cell, f *templates.Field) (value, []finding) {
	text := r.plainText(c)
	if rest, ok := strings.CutPrefix(text, "'"); ok && !strings.Contains(rest, "'") && rest != "" {
		text = rest // left by programs that mark text so
		r.untidy = true
	}
	if len(f.Constraints.Enum) > 0 {
		return r.parseWord(text, f)
	}
	if p := f.Constraints.Pattern; p != "" {
		typed := text
		text = strings.ToUpper(text)
		if !regexp.MustCompile("^(?:" + p + ")$").MatchString(text) {
			return value{}, stopAt("constraint-error", strconv.Quote(typed)+" is not what "+f.Name+" may hold", "Write "+strings.ToLower(f.Description[:1])+strings.TrimSuffix(f.Description[1:], "."))
		}
	}
	v := value{set: true, text: text}
	if c.Kind == book.Date && !f.Advisory {
		return v, []finding{{check, "type-error", "The cell holds a date, read as " + text, "If it was typed as a name such as 1-2, the spreadsheet changed it: format the cell as text and type it again"}}
	}
	return v, nil
}

// parseWord reads one of a field's words, in any of its accepted spellings. A
// remark in brackets behind it does not count.
func (r *reader) parseWord(text string, f *templates.Field) (value, []finding) {
	w := spelling(text, f)
	if w == "" || wordKey(w) != wordKey(text) {
		r.untidy = true
	}
	if open := strings.IndexAny(text, "(["); w == "" && open > 0 && strings.ContainsAny(text[len(text)-1:], ")]") {
		w = spelling(text[:open], f)
	}
	if w == "" {
		w = sameWords(text, f)
	}
	if w == "" && f.Advisory {
		w = soleWord(text, f)
	}
	if w != "" {
		return value{set: true, text: w}, nil
	}
	what := strconv.Quote(text) + " is no known word for " + f.Name + suggestion(text, f.Constraints.Enum)
	return value{}, stopAt("constraint-error", what, "Write one of: "+strings.Join(f.Constraints.Enum, ", "))
}

// spelling returns the word of a field that a text is a spelling of, or "".
func spelling(text string, f *templates.Field) string {
	key := wordKey(text)
	for _, w := range f.Constraints.Enum {
		if wordKey(w) == key {
			return w
		}
	}
	for _, w := range f.Constraints.Enum {
		for _, other := range f.Words[w] {
			if wordKey(other) == key {
				return w
			}
		}
	}
	return ""
}

// sameWords returns the word that every part of a text is a spelling of, as
// soffit of "eaves soffit"; else "".
func sameWords(text string, f *templates.Field) string {
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '/' || r == '-' })
	found := ""
	for _, p := range parts {
		w := spelling(p, f)
		if w == "" || found != "" && w != found {
			return ""
		}
		found = w
	}
	return found
}

// soleWord returns the one word of a field that a longer text holds, as door
// in "front door"; "" if it holds none or several.
func soleWord(text string, f *templates.Field) string {
	found := ""
	for _, part := range strings.Fields(text) {
		for _, w := range f.Constraints.Enum {
			if k := wordKey(part); k == wordKey(w) || k == wordKey(w)+"s" {
				if found != "" && found != w {
					return ""
				}
				found = w
			}
		}
	}
	return found
}

// wordKey folds a word; one that is all punctuation, as a decimal mark, stands
// for itself.
func wordKey(s string) string {
	if k := fold(s); k != "" {
		return k
	}
	return tidy(s)
}

// parseDate reads a date in any of the usual writings. Where day and month could
// be either way round, as in 03/04/2026, it is refused.
func (r *reader) parseDate(c book.Cell) (value, []finding) {
	text := r.plainText(c)
	var read []string
	for _, layout := range []string{"2006-01-02", "2.1.2006", "2 January 2006", "2 Jan 2006", "2006-01-02T15:04:05", "2/1/2006", "2-1-2006", "1/2/2006", "1-2-2006"} {
		if t, err := time.Parse(layout, text); err == nil && !slices.Contains(read, t.Format(time.DateOnly)) {
			read = append(read, t.Format(time.DateOnly))
		}
	}
	switch len(read) {
	case 1:
		r.untidy = r.untidy || read[0] != text
		return value{set: true, text: read[0]}, nil
	case 2:
		return value{}, stopAt("type-error", strconv.Quote(text)+" has two readings: "+read[0]+" or "+read[1], "Write it as one of these")
	}
	return value{set: true, text: text}, []finding{{note, "type-error", strconv.Quote(text) + " is no date that is understood; it is kept as text", "Write it as 2026-03-31"}}
}

func (r *reader) parseYesNo(c book.Cell) (value, []finding) {
	switch fold(r.plainText(c)) {
	case "yes", "y", "true", "1", "x", "ja", "✓":
		return value{set: true, yes: true}, nil
	case "no", "n", "false", "0":
		return value{set: true}, nil
	}
	switch r.plainText(c) {
	case "✓", "✔":
		return value{set: true, yes: true}, nil
	case "-", "–":
		return value{set: true}, nil
	}
	return value{}, stopAt("type-error", strconv.Quote(r.plainText(c))+" is neither yes nor no", "Write yes or no")
}

// parseNumeric reads a length, a number or a count.
func (r *reader) parseNumeric(c book.Cell, f *templates.Field, u unit) (value, []finding) {
	if v, ok := quick(c, f, u); ok {
		return v, nil
	}
	n, fault := r.cellNumber(c, f)
	if fault != nil && c.Kind == book.Text && (u.name == "in" || u.name == "ft") {
		n, fault = mixedNumber(c.Text, fault) // its column names the unit
	}
	if fault == nil && c.Kind == book.Text {
		fault = r.dotReadings(c.Text, f, u, n)
	}
	if fault != nil {
		return value{}, stopAt("type-error", fault.what, fault.do)
	}
	r.untidy = r.untidy || n.suffix.kind != "" || c.Kind == book.Text && !bare(c.Text)
	return r.settle(n, f, u)
}

// quick reads the common case without exact fractions: plain digits for a
// count or for whole millimetres, within the limits.
func quick(c book.Cell, f *templates.Field, u unit) (value, bool) {
	n, ok := fewDigits(c.Text)
	if !ok || c.Suffix != "" || c.Kind != book.Number && c.Kind != book.Text || f.Type != "integer" {
		return value{}, false
	}
	if f.Unit != "" && f.Unit != "mm" || u.name != "" && u.name != "mm" {
		return value{}, false
	}
	x := float64(n)
	lo, hi := f.Constraints.Minimum, f.Constraints.Maximum
	if lo != nil && x < *lo || hi != nil && x > *hi || len(f.Plausible) == 2 && (x < f.Plausible[0] || x > f.Plausible[1]) {
		return value{}, false
	}
	return value{set: true, text: c.Text, number: x, count: n, length: measure.MM(int64(n))}, true
}

// fewDigits reads up to nine digits without a leading zero.
func fewDigits(s string) (n int, ok bool) {
	if s == "" || len(s) > 9 || s[0] == '0' && len(s) > 1 {
		return 0, false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + int(s[i]-'0')
	}
	return n, true
}

// bare reports whether a text is a number as a program would write it: how
// anything else was understood has to be told.
func bare(s string) bool {
	return strings.Trim(s, "-.0123456789") == "" && strings.Count(s, ".") <= 1
}

// cellNumber reads a cell as a number with the unit it names itself.
func (r *reader) cellNumber(c book.Cell, f *templates.Field) (number, *numberFault) {
	switch c.Kind {
	case book.Number:
		v, ok := rawNumber(c.Text)
		if !ok {
			return number{}, &numberFault{c.Text + " is too large", "Check the number"}
		}
		n := number{value: v}
		n.suffix, _ = r.unitOf(c.Suffix)
		return n, nil
	case book.Percent:
		v, ok := rawNumber(c.Text)
		if ok && f.Unit == "%" {
			return number{value: v.Mul(v, big.NewRat(100, 1))}, nil
		}
		return number{}, &numberFault{"The cell holds a percentage", "Give a number" + inUnit(f)}
	case book.Date:
		return number{}, &numberFault{"The cell holds a date, " + r.dateText(c.Text), "Give a number" + inUnit(f) + "; format the cell as a number first"}
	case book.Bool:
		return number{}, &numberFault{"The cell holds " + r.plainText(c), "Give a number" + inUnit(f)}
	}
	text := c.Text
	if f.Name == "Price" {
		text = strings.TrimSpace(strings.Trim(tidy(text), "£$€"))
	}
	n, fault := r.parseNumber(text, r.decimal)
	n.typed = tidy(c.Text)
	return n, fault
}

func inUnit(f *templates.Field) string {
	if f.Unit == "" {
		return ""
	}
	return " in " + f.Unit
}

// settle turns a number into the field's unit and holds it to its limits. A
// unit in the cell goes before the column's, and that before the field's own.
func (r *reader) settle(n number, f *templates.Field, column unit) (value, []finding) {
	own, _ := r.unitOf(f.Unit)
	u := own
	if column.kind != "" {
		u = column
	}
	if n.suffix.kind != "" {
		u = n.suffix
	}
	if u.kind != own.kind {
		want := "no unit"
		if f.Unit != "" {
			want = f.Unit
		}
		return value{}, stopAt("type-error", "The value is in "+u.name+" where "+want+" is wanted", "Give a number"+inUnit(f))
	}
	base := n.value
	if u.kind != "" {
		base = new(big.Rat).Mul(n.value, u.factor())
	}
	inOwn := base
	if own.kind != "" {
		inOwn = new(big.Rat).Quo(base, own.factor())
	}
	v, found := r.store(base, inOwn, f, u)
	if !v.set {
		return v, found
	}
	return r.limit(v, inOwn, f, n.typed, found)
}

// store fills a value from a number in base units and in the field's unit.
func (r *reader) store(base, inOwn *big.Rat, f *templates.Field, u unit) (value, []finding) {
	v := value{set: true, text: decimalText(inOwn)}
	v.number, _ = inOwn.Float64()
	switch kindOf(f) {
	case "length":
		return r.storeLength(v, base, f, u)
	case "integer":
		if !inOwn.IsInt() || !inOwn.Num().IsInt64() {
			return value{}, stopAt("type-error", v.text+" is no whole number", "Give a whole number")
		}
		v.count = int(inOwn.Num().Int64())
	}
	return v, nil
}

// storeLength keeps lengths of whole millimetres. A part of a millimetre is
// rounded off and said: it comes from inches or from a division.
func (r *reader) storeLength(v value, micro *big.Rat, f *templates.Field, u unit) (value, []finding) {
	if abs := new(big.Rat).Abs(micro); abs.Cmp(big.NewRat(1e12, 1)) > 0 {
		return value{}, stopAt("constraint-error", v.text+" "+f.Unit+" is longer than any wall", "Check the number and its unit")
	}
	v.length = roundRat(micro)
	if f.Type != "integer" || v.length.Whole() {
		return v, nil
	}
	v.length = v.length.Nearest(measure.Millimetre)
	severity := note
	if u.name == "mm" {
		severity = check
	}
	what := fmt.Sprintf("%s mm is not a whole number of millimetres; %v is taken", v.text, v.length)
	return v, []finding{{severity, "type-error", what, "Measure to the millimetre"}}
}

// roundRat rounds to the nearest whole number, halves up.
func roundRat(x *big.Rat) measure.Length {
	if x.IsInt() {
		return measure.Length(x.Num().Int64())
	}
	twice := new(big.Int).Lsh(x.Num(), 1)
	twice.Add(twice, x.Denom())
	return measure.Length(new(big.Int).Div(twice, new(big.Int).Lsh(x.Denom(), 1)).Int64())
}

// limit compares a value with its field's limits: hard ones and those outside
// which it is questioned. typed is what stands in the cell.
func (r *reader) limit(v value, x *big.Rat, f *templates.Field, typed string, found []finding) (value, []finding) {
	at := func(limit float64) int { return x.Cmp(new(big.Rat).SetFloat64(limit)) }
	said, do := v.text+spaced(f.Unit), "Check the number"
	if f.Unit != "" {
		do += " and its unit"
	}
	if typed != "" && typed != v.text && typed != said {
		said = strconv.Quote(typed) + ", read as " + said + ","
	}
	if r.perhaps(x, f) != "" {
		do += ": it may stand in the header, as in Width (m), or in the cell, as in 7.2 m"
	}
	lo, hi := f.Constraints.Minimum, f.Constraints.Maximum
	switch {
	case lo != nil && at(*lo) < 0:
		return value{}, stopAt("constraint-error", said+" is less than the least allowed, "+templates.Number(*lo)+spaced(f.Unit)+r.perhaps(x, f), do)
	case hi != nil && at(*hi) > 0:
		return value{}, stopAt("constraint-error", said+" is more than the most allowed, "+templates.Number(*hi)+spaced(f.Unit)+r.perhaps(x, f), do)
	case len(f.Plausible) == 2 && (at(f.Plausible[0]) < 0 || at(f.Plausible[1]) > 0):
		found = append(found, finding{check, "deviated-value", said + " is unusual here" + r.perhaps(x, f), do + "; it is taken as it stands"})
	}
	return v, found
}

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// perhaps says in which other unit a length would be plausible.
func (r *reader) perhaps(x *big.Rat, f *templates.Field) string {
	if f.Unit != "mm" || len(f.Plausible) != 2 {
		return ""
	}
	for _, u := range []string{"m", "cm", "in", "ft"} {
		mm := new(big.Rat).Mul(x, new(big.Rat).Quo(r.units[u].factor(), r.units["mm"].factor()))
		v, _ := mm.Float64()
		if v >= f.Plausible[0] && v <= f.Plausible[1] {
			return "; it may be in " + u
		}
	}
	return ""
}
