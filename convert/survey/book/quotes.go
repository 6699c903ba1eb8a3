package book

import (
	"strings"
	"unicode/utf8"
)

// Doubt is a cell of a text file whose quotation marks leave open where it
// ends. Swallowed says that lines which look like rows of their own are part
// of it.
type Doubt struct {
	Row, Col  int
	Swallowed bool
}

// csvReader splits text into records. It differs from a strict reader in this:
// a quotation mark counts as one only at the beginning of a value and if its
// partner stands at the end of one. A mark whose partner is missing, or stands
// within another line's value, is a character like any other, so that it does
// not swallow the lines below.
type csvReader struct {
	rest  string
	comma byte
}

// csvRecord is one line of values, or several lines where a value holds breaks.
type csvRecord struct {
	values []string
	broken []int // columns of which a quotation mark lacks its partner
	long   []int // columns that hold line breaks
}

// next returns the next record; ok is false at the end.
func (r *csvReader) next() (rec csvRecord, ok bool) {
	if r.rest == "" {
		return rec, false
	}
	for {
		value, broken := r.value()
		rec.values = append(rec.values, value)
		if broken {
			rec.broken = append(rec.broken, len(rec.values))
		}
		if strings.Contains(value, "\n") {
			rec.long = append(rec.long, len(rec.values))
		}
		if r.rest == "" || r.rest[0] != r.comma {
			break
		}
		r.rest = r.rest[1:]
	}
	r.rest = strings.TrimPrefix(strings.TrimPrefix(r.rest, "\r"), "\n")
	return rec, true
}

// value takes one value off the text, up to its delimiter or the line's end.
func (r *csvReader) value() (value string, broken bool) {
	if strings.HasPrefix(r.rest, `"`) {
		if value, n, ok := quoted(r.rest, r.comma); ok {
			r.rest = r.rest[n:]
			return strings.ReplaceAll(value, "\r\n", "\n"), false
		}
		broken = true
	}
	n := strings.IndexFunc(r.rest, func(c rune) bool { return c == rune(r.comma) || c == '\n' })
	if n < 0 {
		n = len(r.rest)
	}
	value, r.rest = r.rest[:n], r.rest[n:]
	return strings.TrimSuffix(value, "\r"), broken
}

// quoted reads a value in quotation marks, in which a doubled mark stands for
// one; n is how much of the text it takes.
func quoted(s string, comma byte) (value string, n int, ok bool) {
	var b strings.Builder
	for i := 1; i < len(s); i++ {
		if s[i] != '"' {
			b.WriteByte(s[i])
			continue
		}
		switch after := s[i+1:]; {
		case strings.HasPrefix(after, `"`):
			b.WriteByte('"')
			i++
		case after == "", after[0] == comma, after[0] == '\n', strings.HasPrefix(after, "\r\n"):
			return b.String(), i + 1, true
		default:
			return "", 0, false
		}
	}
	return "", 0, false
}

// swallows reports whether a value of several lines holds one that could be a
// row of its own: as many delimiters as the file's first line, two at least.
func swallows(value string, comma byte, least int) bool {
	_, after, _ := strings.Cut(value, "\n")
	for line := range strings.Lines(after) {
		if n := strings.Count(line, string(rune(comma))); n >= max(2, least) && utf8.ValidString(line) {
			return true
		}
	}
	return false
}
