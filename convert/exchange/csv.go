package exchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// CSV writes a table: UTF-8, commas, a point before decimals. A text that a
// spreadsheet would read as a formula gets an apostrophe before it, by which
// spreadsheets know a text; numbers are left alone.
func CSV(w io.Writer, header []string, rows [][]any) error {
	out := csv.NewWriter(w)
	line := make([]string, len(header))
	for i, h := range header {
		line[i] = inert(h)
	}
	if err := out.Write(line); err != nil {
		return err
	}
	for _, r := range rows {
		for i := range line {
			line[i] = ""
			if i < len(r) {
				line[i] = field(r[i])
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func field(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return inert(v)
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

// inert makes a text that begins like a formula a text for any spreadsheet.
func inert(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r\n", rune(s[0])) {
		return "'" + s
	}
	return s
}
