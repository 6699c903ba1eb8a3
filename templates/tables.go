package templates

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"strings"
)

// Catalogue returns the built-in neutral catalogue: its first row holds the
// headers of the Products sheet. Codes and prices are invented.
func Catalogue() ([][]string, error) { return table("catalogue.csv") }

// Example returns the rows of one sheet of the filled example, headers first,
// or nil if the example has no such sheet. The building is invented.
func Example(sheet string) ([][]string, error) {
	name := "example/" + strings.ToLower(sheet) + ".csv"
	if _, err := fs.Stat(files, name); err != nil {
		return nil, nil
	}
	return table(name)
}

func table(name string) ([][]string, error) {
	text, err := files.ReadFile(name)
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return rows, nil
}
