package book

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"io"
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
	s := &Sheet{File: file, Name: strings.TrimSuffix(file, filepath.Ext(file))}
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
func delimiter(text string) (comma rune, rest string, skipped int) {
	line, after, _ := strings.Cut(text, "\n")
	if mark, ok := strings.CutPrefix(strings.TrimSpace(line), "sep="); ok && utf8.RuneCountInString(mark) == 1 {
		r, _ := utf8.DecodeRuneInString(mark)
		return r, after, 1
	}
	best, most := ',', 0
	for _, mark := range []rune{',', ';', '\t', '|'} {
		if n := countOutside(text[:min(len(text), 8192)], mark); n > most {
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
func (s *Sheet) readCSV(text string, comma rune, skipped int) error {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.ReuseRecord = comma, -1, true, true
	row, ended := skipped, 0
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return damaged(err.Error())
		}
		line, _ := r.FieldPos(0)
		row += line - ended
		ended = line
		cells := make([]Cell, 0, len(record))
		for i, v := range record {
			ended += strings.Count(v, "\n")
			if strings.TrimSpace(v) != "" {
				cells = append(cells, Cell{Col: i + 1, Kind: Text, Text: strings.Clone(v)})
			}
		}
		if row > mostRows {
			return refuse("has more rows than a spreadsheet holds", "Split the survey by plot")
		}
		if len(cells) > 0 {
			s.Rows = append(s.Rows, Row{Number: row, Cells: cells})
		}
	}
}
