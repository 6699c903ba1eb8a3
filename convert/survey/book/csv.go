package book

import (
	"bytes"
	"encoding/binary"
	"path/filepath"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

func (b *Book) addCSV(data []byte, file string) error {
	text, note, err := decode(data)
	if err != nil {
		return err
	}
	if note != "" {
		b.Notes = append(b.Notes, file+" "+note)
	}
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n") // as old programs end a line
	}
	s := &Sheet{File: file, Name: strings.TrimSuffix(file, filepath.Ext(file)), Note: note}
	comma, text, skipped := delimiter(text)
	if err := s.readCSV(text, comma, skipped); err != nil {
		return err
	}
	b.Sheets = append(b.Sheets, s)
	return nil
}

// decode turns a text file into UTF-8: byte-order marks are obeyed, and what
// is not UTF-8 is taken for Windows-1252, with a note.
func decode(data []byte) (text, note string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return fromUTF16(data[2:], binary.LittleEndian), "", nil
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return fromUTF16(data[2:], binary.BigEndian), "", nil
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return "", "", refuse("is not a text file", "Save the survey as CSV from the spreadsheet program")
	}
	if utf8.Valid(data) {
		return string(data), "", nil
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil {
		return "", "", refuse("holds characters of an unknown kind", "Save it again as CSV UTF-8")
	}
	return string(out), "is not UTF-8; it was read as Windows-1252", nil
}

func fromUTF16(data []byte, order binary.ByteOrder) string {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return string(utf16.Decode(units))
}

// delimiter finds what stands between values: what a first line sep= names,
// else the mark that most lines of the head hold, quotes left out.
func delimiter(text string) (comma byte, rest string, skipped int) {
	line, after, _ := strings.Cut(text, "\n")
	if mark, ok := strings.CutPrefix(strings.TrimSpace(line), "sep="); ok && len(mark) == 1 && mark != `"` {
		return mark[0], after, 1
	}
	best, most := byte(','), 0
	for _, mark := range []byte{',', ';', '\t', '|'} {
		if n := countOutside(text[:min(len(text), 8192)], rune(mark)); n > most {
			best, most = mark, n
		}
	}
	return best, text, 0
}

// countOutside counts the lines that hold the mark outside quotes, and then
// the marks: a comma for a decimal mark stands in fewer lines or less often.
func countOutside(text string, mark rune) int {
	lines, marks, seen, quoted := 0, 0, false, false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '\n' && !quoted:
			seen = false
		case r == mark && !quoted:
			marks++
			if !seen {
				lines++
			}
			seen = true
		}
	}
	return lines*1000 + marks
}

// readCSV counts rows as a spreadsheet shows them: blank lines count, and a
// value of several lines does not make more rows.
func (s *Sheet) readCSV(text string, comma byte, skipped int) error {
	r := csvReader{rest: text, comma: comma}
	first := -1 // delimiters of the first line that holds any
	for row := skipped + 1; ; row++ {
		rec, ok := r.next()
		if !ok {
			return nil
		}
		if row > mostRows {
			return refuse("has more rows than a spreadsheet holds", "Split the survey by plot")
		}
		if first < 1 {
			first = len(rec.values) - 1
		}
		cells := make([]Cell, 0, len(rec.values))
		for i, v := range rec.values {
			if strings.TrimSpace(v) != "" {
				cells = append(cells, Cell{Col: i + 1, Kind: Text, Text: strings.Clone(v)})
			}
		}
		for _, col := range rec.broken {
			s.Doubts = append(s.Doubts, Doubt{Row: row, Col: col})
		}
		for _, col := range rec.long {
			if swallows(rec.values[col-1], comma, first) {
				s.Doubts = append(s.Doubts, Doubt{Row: row, Col: col, Swallowed: true})
			}
		}
		if len(cells) > 0 {
			s.Rows = append(s.Rows, Row{Number: row, Cells: cells})
		}
	}
}
