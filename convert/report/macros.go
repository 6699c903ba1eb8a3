package report

import (
	"bytes"
	"path"
	"regexp"
	"slices"
	"strings"
)

// A takeoff is a plain workbook. Spreadsheet programs refuse one whose parts
// say that it has macros while its name says that it has none.

const (
	plainWorkbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
	workbookPart  = "xl/workbook.xml"
)

var (
	workbookType = regexp.MustCompile(`application/vnd\.(?:ms-excel\.(?:sheet|template|addin)\.macroEnabled|openxmlformats-officedocument\.spreadsheetml\.template)\.main\+xml`)
	overrideTag  = regexp.MustCompile(`<(?:\w+:)?Override\s[^>]*?(?:/>|></(?:\w+:)?Override>)`)
)

// dropMacros makes a plain workbook of one with macros, or of a template. It
// reports whether there were any macros.
func (b *book) dropMacros() bool {
	var gone []string
	for _, r := range b.relations(workbookPart) {
		if path.Base(r.Type) == "vbaProject" {
			gone = append(gone, r.Target)
		}
	}
	for i := 0; i < len(gone); i++ { // a project's signatures hang on it
		for _, r := range b.relations(gone[i]) {
			gone = append(gone, r.Target)
		}
	}
	for _, part := range gone {
		b.file.Pkg.Delete(relsOf(part))
		b.file.Pkg.Delete(part)
	}
	if len(gone) > 0 {
		b.editPart(relsOf(workbookPart), func(text []byte) []byte {
			return relTag.ReplaceAllFunc(text, func(tag []byte) []byte {
				if bytes.Contains(tag, []byte(`/vbaProject"`)) {
					return nil
				}
				return tag
			})
		})
		b.file.Relationships.Delete(relsOf(workbookPart))
	}
	b.editPart("[Content_Types].xml", func(text []byte) []byte {
		text = workbookType.ReplaceAll(text, []byte(plainWorkbook))
		return overrideTag.ReplaceAllFunc(text, func(tag []byte) []byte {
			if m := partNameIn.FindSubmatch(tag); m != nil && slices.Contains(gone, string(m[1])) {
				return nil
			}
			return tag
		})
	})
	b.plainTypes(gone)
	return len(gone) > 0
}

// plainTypes does the same to the list of types where the library has read it
// already.
func (b *book) plainTypes(gone []string) {
	if b.file.ContentTypes == nil {
		return
	}
	for i, o := range b.file.ContentTypes.Overrides {
		b.file.ContentTypes.Overrides[i].ContentType = workbookType.ReplaceAllString(o.ContentType, plainWorkbook)
	}
	for _, part := range gone {
		b.dropType("/" + strings.TrimPrefix(part, "/"))
	}
}

func (b *book) editPart(name string, edit func([]byte) []byte) {
	if data, ok := b.file.Pkg.Load(name); ok {
		b.file.Pkg.Store(name, edit(data.([]byte)))
	}
}
