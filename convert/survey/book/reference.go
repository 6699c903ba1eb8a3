package book

import (
	"strconv"
	"strings"
)

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

// Text reads a text that is kept in a defined name, or in as many as it took,
// numbered from 1.
func (b *Book) Text(name string) string {
	text := constants(b.Names[name])
	for i := 1; ; i++ {
		piece, ok := b.Names[name+"_"+strconv.Itoa(i)]
		if !ok {
			return text
		}
		text += constants(piece)
	}
}

// constants joins the text constants of a formula.
func constants(formula string) string {
	var b strings.Builder
	for {
		_, after, found := strings.Cut(formula, `"`)
		if !found {
			return b.String()
		}
		for {
			text, rest, _ := strings.Cut(after, `"`)
			b.WriteString(text)
			if !strings.HasPrefix(rest, `"`) {
				formula = rest
				break
			}
			b.WriteByte('"')
			after = rest[1:]
		}
	}
}
