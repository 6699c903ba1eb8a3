package report

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
)

// The library finds the comments of a sheet by the number of its old-style
// drawing: it takes vmlDrawing3 to belong with comments3. Programs number the
// two apart, or name them in another way, and a comment added then would go to
// another sheet or into a part that nothing refers to. So they are renamed
// alike before anything is added.

var (
	legacyID   = regexp.MustCompile(`<(?:\w+:)?legacyDrawing\s[^>]*?id="([^"]*)"`)
	relTag     = regexp.MustCompile(`<(?:\w+:)?Relationship\s[^>]*>`)
	relTarget  = regexp.MustCompile(`\sTarget="([^"]*)"`)
	relName    = regexp.MustCompile(`\sId="([^"]*)"`)
	partNameIn = regexp.MustCompile(`PartName="/([^"]*)"`)
)

// legacyParts are the drawing and the comments of one sheet.
type legacyParts struct {
	sheet, drawing, comments string
	more                     []string // other drawings: of the page header
}

// alignLegacy renames the comments and old-style drawings of all sheets so
// that they stand by their numbers.
func (b *book) alignLegacy() {
	var all []legacyParts
	for _, sheet := range b.worksheets() {
		if l := b.legacyOf(sheet); l.drawing != "" || l.comments != "" || len(l.more) > 0 {
			all = append(all, l)
		}
	}
	to, aligned := map[string]string{}, true
	next := len(all)
	for i, l := range all {
		if l.drawing != "" {
			to[l.drawing] = fmt.Sprintf("xl/drawings/vmlDrawing%d.vml", i+1)
		}
		if l.comments != "" {
			to[l.comments] = fmt.Sprintf("xl/comments%d.xml", i+1)
		}
		for _, m := range l.more {
			next++
			to[m] = fmt.Sprintf("xl/drawings/vmlDrawing%d.vml", next)
		}
	}
	for from, name := range to {
		aligned = aligned && from == name
	}
	if !aligned {
		b.renameParts(to)
		for _, l := range all {
			b.retarget(l.sheet, to)
		}
	}
}

// worksheets lists the parts of the worksheets, in the order of their names.
func (b *book) worksheets() []string {
	var out []string
	b.file.Pkg.Range(func(k, _ any) bool {
		if name := k.(string); path.Dir(name) == "xl/worksheets" {
			out = append(out, name)
		}
		return true
	})
	slices.Sort(out)
	return out
}

func (b *book) legacyOf(sheet string) legacyParts {
	out := legacyParts{sheet: sheet}
	id := ""
	if data, ok := b.file.Pkg.Load(sheet); ok {
		if m := legacyID.FindSubmatch(data.([]byte)); m != nil {
			id = string(m[1])
		}
	}
	for _, r := range b.relations(sheet) {
		switch kind := path.Base(r.Type); {
		case kind == "comments":
			out.comments = r.Target
		case kind == "vmlDrawing" && r.ID == id:
			out.drawing = r.Target
		case kind == "vmlDrawing":
			out.more = append(out.more, r.Target)
		}
	}
	return out
}

// renameParts gives parts, and the lists of what they relate to, other names.
func (b *book) renameParts(to map[string]string) {
	moved := map[string]any{}
	for from, name := range to {
		for _, pair := range [][2]string{{from, name}, {relsOf(from), relsOf(name)}} {
			if data, ok := b.file.Pkg.LoadAndDelete(pair[0]); ok {
				moved[pair[1]] = data
			}
		}
	}
	for name, data := range moved {
		b.file.Pkg.Store(name, data)
	}
	b.retype(to)
}

// retype follows renamed parts in the list of content types. What is listed
// under a new name already is of no part: two lines of one name are a fault.
func (b *book) retype(to map[string]string) {
	stale := map[string]bool{}
	for _, name := range to {
		if _, moves := to[name]; !moves {
			stale[name] = true
		}
	}
	b.editPart("[Content_Types].xml", func(text []byte) []byte {
		return overrideTag.ReplaceAllFunc(text, func(tag []byte) []byte {
			m := partNameIn.FindSubmatch(tag)
			switch {
			case m == nil:
				return tag
			case stale[string(m[1])]:
				return nil
			case to[string(m[1])] != "":
				return partNameIn.ReplaceAll(tag, []byte(`PartName="/`+to[string(m[1])]+`"`))
			}
			return tag
		})
	})
	if b.file.ContentTypes == nil {
		return
	}
	for name := range stale {
		b.dropType("/" + name)
	}
	for i, o := range b.file.ContentTypes.Overrides {
		if now, ok := to[strings.TrimPrefix(o.PartName, "/")]; ok {
			b.file.ContentTypes.Overrides[i].PartName = "/" + now
		}
	}
}

// retarget makes a sheet refer to its renamed parts, as the library writes it.
func (b *book) retarget(sheet string, to map[string]string) {
	name := relsOf(sheet)
	data, ok := b.file.Pkg.Load(name)
	if !ok {
		return
	}
	at := map[string]string{}
	for _, r := range b.relations(sheet) {
		at[r.ID] = r.Target
	}
	b.file.Relationships.Delete(name)
	b.file.Pkg.Store(name, relTag.ReplaceAllFunc(data.([]byte), func(tag []byte) []byte {
		id := relName.FindSubmatch(tag)
		if id == nil {
			return tag
		}
		now, ok := to[at[string(id[1])]]
		if !ok {
			return tag
		}
		return relTarget.ReplaceAll(tag, []byte(` Target="..`+strings.TrimPrefix(now, "xl")+`"`))
	}))
}
