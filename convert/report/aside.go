package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// The library reads all tables there are to number one more, and names its
// part by that number, whatever part bears that name. So tables are kept aside
// until the workbook is saved, and one that is nothing but the highest number
// stands for them.

const (
	tableParts   = "xl/tables/table"
	standInTable = tableParts + "0.xml"
)

// tablesAside are the parts of the tables kept aside.
type tablesAside struct {
	parts   map[string][]byte
	highest int
}

// setTablesAside keeps the tables there are aside.
func (b *book) setTablesAside() {
	t := &b.aside
	if t.parts == nil {
		t.parts = map[string][]byte{}
	}
	b.file.Pkg.Range(func(k, v any) bool {
		name := k.(string)
		number, err := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, tableParts), ".xml"))
		if err != nil || name == standInTable || path.Dir(name) != path.Dir(tableParts) {
			return true
		}
		t.parts[name] = v.([]byte)
		t.highest = max(t.highest, number, tableID(t.parts[name]))
		b.file.Pkg.Delete(name)
		return true
	})
	b.file.Pkg.Store(standInTable, fmt.Appendf(nil, `<table id="%d"/>`, t.highest))
}

// putTablesBack puts them where they belong.
func (b *book) putTablesBack() {
	b.setTablesAside() // the last one too
	b.file.Pkg.Delete(standInTable)
	for name, part := range b.aside.parts {
		if b.in.Accessible { // filters hinder screen readers
			part = withoutElement(part, "autoFilter")
		}
		b.file.Pkg.Store(name, part)
	}
}

// tableID reads the number of a table from the head of its part.
func tableID(part []byte) int {
	d := xml.NewDecoder(bytes.NewReader(part))
	for {
		token, err := d.RawToken()
		if err != nil {
			return 0
		}
		root, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range root.Attr {
			if a.Name.Local == "id" && a.Name.Space == "" {
				n, _ := strconv.Atoi(a.Value)
				return n
			}
		}
		return 0
	}
}
