package book

import "strings"

// SheetOf returns the sheet that a reference to a cell names, blank if none.
func SheetOf(reference string) string {
	i := strings.LastIndexByte(reference, '!')
	if i < 0 {
		return ""
	}
	name := strings.TrimPrefix(reference[:i], "$")
	if len(name) > 1 && name[0] == '\'' && name[len(name)-1] == '\'' {
		name = strings.ReplaceAll(name[1:len(name)-1], "''", "'")
	}
	return name
}
