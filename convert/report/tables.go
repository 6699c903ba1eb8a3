package report

import "strings"

// Table is one of the workbook's tables with its values, live ones as they
// stand now.
type Table struct {
	Sheet  string
	Header []string
	Rows   [][]any // string, int, float64 or nil
}

// Tables returns the tables that [Write] would write, but for the sheets that
// are made to be printed. A table that goes on on other sheets is one.
func Tables(in Input) ([]Table, error) {
	in.Survey, in.rowsMost = nil, 0
	b, err := open(in)
	if err != nil {
		return nil, err
	}
	defer b.file.Close()
	return b.collect(b.sheets())
}

// OrderTables returns the tables that [WriteOrder] would write.
func OrderTables(in OrderBook) ([]Table, error) {
	b, err := in.open()
	if err != nil {
		return nil, err
	}
	defer b.file.Close()
	return b.collect(in.sheets())
}

// collect lets the sheets write their tables into a list.
func (b *book) collect(sheets []planned) ([]Table, error) {
	b.nameSheets(sheets)
	b.layOrder()
	b.tables = []Table{}
	for _, s := range sheets {
		if s.drawn {
			continue
		}
		if err := s.write(b, s.want); err != nil {
			return nil, err
		}
	}
	return b.tables, nil
}

// values returns the table as it would be written; hidden columns are left out.
func (t table[T]) values() Table {
	out := Table{Sheet: strings.ReplaceAll(t.name, "_", " ")}
	for _, c := range t.columns {
		if c.width > 0 {
			out.Header = append(out.Header, c.header)
		}
	}
	at := 1
	for r := range t.some(0, t.count()) {
		at++
		line := make([]any, 0, len(out.Header))
		for _, c := range t.columns {
			if c.width > 0 {
				line = append(line, c.of(r, at).v)
			}
		}
		out.Rows = append(out.Rows, line)
	}
	return out
}
