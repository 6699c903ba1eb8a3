package book

import (
	"strconv"
	"strings"
)

// format is what a number format makes of a number.
type format struct {
	kind   Kind   // Number, Date or Percent
	suffix string // literal text after the number
}

// styles reads which number format each cell style has.
func (s *source) styles(name string) error {
	codes := map[string]string{}
	inCells := false
	return s.take(name, func(t *tag) error {
		switch {
		case t.name == "numFmt" && t.start:
			codes[t.attr("numFmtId")] = t.attr("formatCode")
		case t.name == "cellXfs":
			inCells = t.start || (inCells && !t.end)
		case t.name == "xf" && t.start && inCells:
			id := t.attr("numFmtId")
			s.formats = append(s.formats, formatOf(id, codes[id]))
		}
		return nil
	})
}

// formatOf classes a number format by its code, or where it has none by its
// number: ECMA-376 part 1, 18.8.30 lists the numbers with a fixed meaning.
func formatOf(id, code string) format {
	if code != "" {
		return formatCode(code)
	}
	n, _ := strconv.Atoi(id)
	switch {
	case n == 9 || n == 10:
		return format{kind: Percent}
	case n >= 14 && n <= 22, n >= 27 && n <= 36, n >= 45 && n <= 47, n >= 50 && n <= 58:
		return format{kind: Date}
	}
	return format{kind: Number}
}

// formatCode looks at the first section of a format code: a letter of a date
// outside quotes and brackets makes a date, a bare per cent sign a percentage.
func formatCode(code string) format {
	f := format{kind: Number}
	var literal strings.Builder
	for i := 0; i < len(code); i++ {
		switch c := code[i]; {
		case c == ';':
			i = len(code)
		case c == '"':
			end := strings.IndexByte(code[i+1:], '"')
			if end < 0 {
				return f
			}
			literal.WriteString(code[i+1 : i+1+end])
			i += end + 1
		case c == '[':
			end := strings.IndexByte(code[i:], ']')
			if end < 0 {
				return f
			}
			if elapsed(code[i+1 : i+end]) {
				return format{kind: Date}
			}
			i += end
		case c == '\\' || c == '_' || c == '*':
			i++
			if c == '\\' && i < len(code) {
				literal.WriteByte(code[i])
			}
		case c == '%':
			return format{kind: Percent}
		case strings.IndexByte("dmyhsDMYHS", c) >= 0:
			return format{kind: Date}
		case strings.IndexByte("0#?", c) >= 0:
			literal.Reset()
		case strings.HasPrefix(code[i:], "General"):
			i += len("General") - 1
			literal.Reset()
		}
	}
	f.suffix = strings.TrimSpace(literal.String())
	return f
}

// elapsed reports whether a bracket holds an elapsed time, as [h].
func elapsed(s string) bool {
	return s != "" && strings.Trim(strings.ToLower(s), "hms") == ""
}
