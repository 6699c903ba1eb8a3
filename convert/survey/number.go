package survey

import (
	"math/big"
	"strconv"
	"strings"

	"lapwright/templates"
)

// numberFault is why a text is no number, in words for a flag.
type numberFault struct{ what, do string }

// number is a number as it stands in a cell: its value, and the unit behind
// it, if any.
type number struct {
	value  *big.Rat
	suffix unit   // kind is blank if the cell names none
	typed  string // as a text; blank where the cell holds a number
}

// mostDigits is how many digits a number may have: as many as a spreadsheet
// holds.
const mostDigits = 15

// parseNumber reads a text strictly: a sign, digits that may stand in groups
// of three, a decimal mark, a unit; or feet and inches. decimal is the mark the
// job names, '.' or ',', or 0 where it names none; then a comma before three
// digits has two readings and is refused.
func (r *reader) parseNumber(text string, decimal byte) (number, *numberFault) {
	s := tidy(text)
	s = strings.TrimLeft(s, "'’`") // left by programs that mark text so
	if n, ok := r.feetInches(s); ok {
		return n, nil
	}
	digits, rest := splitDigits(s)
	if digits == "" {
		return number{}, noNumber(s)
	}
	value, fault := plainNumber(digits, decimal)
	if fault != nil {
		return number{}, fault
	}
	if rest = strings.TrimSpace(rest); rest == "" {
		return number{value: value}, nil
	}
	u, ok := r.unitOf(rest)
	if !ok {
		return number{}, &numberFault{strconv.Quote(s) + " is no number: " + strconv.Quote(rest) + " is no unit", "Give one number, with its unit if it is not the column's"}
	}
	return number{value: value, suffix: u}, nil
}

// splitDigits parts a text where its number ends.
func splitDigits(s string) (digits, rest string) {
	i := strings.IndexFunc(s, func(r rune) bool {
		return !(r >= '0' && r <= '9' || r == '.' || r == ',' || r == ' ' || r == '-' || r == '+' || r == '−')
	})
	if i < 0 {
		i = len(s)
	}
	digits = strings.TrimRight(s[:i], " ")
	return digits, s[i:]
}

// plainNumber reads a number without a unit.
func plainNumber(s string, decimal byte) (*big.Rat, *numberFault) {
	body, negative := strings.CutPrefix(strings.Replace(s, "−", "-", 1), "-")
	if !negative {
		body = strings.TrimPrefix(body, "+")
	}
	body = strings.TrimSpace(body)
	whole, part, fault := splitMarks(body, decimal)
	if fault != nil {
		return nil, fault
	}
	if len(whole)+len(part) == 0 || len(whole)+len(part) > mostDigits || !allDigits(whole+part) {
		return nil, noNumber(s)
	}
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil {
		return nil, noNumber(s)
	}
	if negative {
		n = -n
	}
	return big.NewRat(n, power10(len(part))), nil
}

func power10(n int) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}

func noNumber(s string) *numberFault {
	return &numberFault{strconv.Quote(s) + " is no number", "Give one number in figures"}
}

func allDigits(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' }) < 0
}

// splitMarks parts a number at its decimal mark and takes group marks out.
func splitMarks(s string, decimal byte) (whole, part string, fault *numberFault) {
	dots, commas := strings.Count(s, "."), strings.Count(s, ",")
	mark := decimal
	switch {
	case dots == 0 && commas == 0:
		mark = '.'
	case decimal != 0:
	case dots > 0 && commas > 0: // the last one is the decimal mark
		mark = s[strings.LastIndexAny(s, ".,")]
	case commas == 1 && canGroup(s, ","):
		return "", "", twoReadings(s)
	case commas == 1, dots > 1 && commas == 0 && canGroup(s, "."):
		mark = ','
	default: // dots are decimals; several commas are groups
		mark = '.'
	}
	group := ","
	if mark == ',' {
		group = "."
	}
	whole, part = s, ""
	if i := strings.IndexByte(s, mark); i >= 0 {
		whole, part = s[:i], s[i+1:]
		if part == "" || !allDigits(part) {
			return "", "", noNumber(s)
		}
	}
	for _, g := range []string{group, " "} {
		if strings.Contains(whole, g) {
			if !canGroup(whole, g) {
				return "", "", noNumber(s)
			}
			whole = strings.ReplaceAll(whole, g, "")
		}
	}
	return whole, part, nil
}

// canGroup reports whether the marks could stand between groups of three: one
// to three digits first, no leading zero, then three each.
func canGroup(s, mark string) bool {
	groups := strings.Split(s, mark)
	if first := groups[0]; first == "" || len(first) > 3 || first[0] == '0' || !allDigits(first) {
		return false
	}
	for _, g := range groups[1:] {
		if len(g) != 3 || !allDigits(g) {
			return false
		}
	}
	return true
}

func twoReadings(s string) *numberFault {
	return &numberFault{
		strconv.Quote(s) + " has two readings: " + strings.ReplaceAll(s, ",", "") + " or " + strings.Replace(s, ",", ".", 1),
		"Write it without a comma, or name the Decimal mark on the Job sheet",
	}
}

// dotReadings refuses a dot before three digits in a length of whole
// millimetres, as in 1.200, where both what it groups and what it cuts off
// could be meant and the job names no decimal mark.
func (r *reader) dotReadings(text string, f *templates.Field, column unit, n number) *numberFault {
	u := unit{name: f.Unit}
	if column.kind != "" {
		u = column
	}
	if n.suffix.kind != "" {
		u = n.suffix
	}
	if r.decimal != 0 || f.Type != "integer" || f.Unit != "mm" || u.name != "mm" {
		return nil
	}
	digits, _ := splitDigits(tidy(text))
	if strings.Count(digits, ".") != 1 || !canGroup(strings.TrimLeft(digits, "+-−"), ".") {
		return nil
	}
	grouped, fault := plainNumber(strings.Replace(digits, ".", "", 1), '.')
	if hi := f.Constraints.Maximum; fault != nil || hi != nil && grouped.Cmp(new(big.Rat).SetFloat64(*hi)) > 0 {
		return nil
	}
	return &numberFault{strconv.Quote(tidy(text)) + " has two readings: " + decimalText(grouped) + " or " + decimalText(n.value), "Write it without a dot, or name the Decimal mark on the Job sheet"}
}

// rawNumber reads the number a spreadsheet stores. It holds 15 digits; what
// stands behind them is noise of its binary form and is rounded away.
func rawNumber(raw string) (*big.Rat, bool) {
	if len(raw) <= mostDigits && allDigits(raw) && raw != "" {
		n, err := strconv.ParseInt(raw, 10, 64)
		return big.NewRat(n, 1), err == nil
	}
	f, err := strconv.ParseFloat(raw, 64)
	if err != nil || f > 1e15 || f < -1e15 {
		return nil, false
	}
	return new(big.Rat).SetString(strconv.FormatFloat(f, 'e', mostDigits-1, 64))
}
