package book

import (
	"context"
	"path"
	"slices"
	"strconv"
	"strings"

	"lapwright/engine/parallel"
)

// sheetRef is a sheet as the workbook part lists it.
type sheetRef struct{ name, id, state string }

func (b *Book) addWorkbook(ctx context.Context, data []byte, file string) error {
	all, err := unpack(ctx, data)
	if err != nil {
		return err
	}
	read := map[string]bool{}
	take := func(name string, do func(*tag) error) error {
		read[name] = true
		return eachTag(name, all[name], do)
	}
	main, err := mainPart(all, take)
	if err != nil {
		return err
	}
	refs, err := b.workbookPart(main, take)
	if err != nil {
		return err
	}
	rels, err := relations(main, all, take)
	if err != nil {
		return err
	}
	src := &source{file: file, all: all, take: take}
	if err := src.shared(rels); err != nil {
		return err
	}
	// A sheet of another kind, a chart or a macro, has no cells and is passed over.
	refs = slices.DeleteFunc(refs, func(r sheetRef) bool { return !strings.HasSuffix(rels[r.id].kind, "/worksheet") })
	for _, r := range refs {
		read[rels[r.id].target] = true
	}
	if err := b.addSheets(ctx, src, refs, rels); err != nil {
		return err
	}
	return readRest(ctx, all, read)
}

// addSheets reads sheets side by side; of several faults it reports that of
// the first sheet.
func (b *Book) addSheets(ctx context.Context, src *source, refs []sheetRef, rels map[string]relation) error {
	sheets, errs := make([]*Sheet, len(refs)), make([]error, len(refs))
	parallel.Each(len(refs), func(_, i int) {
		if errs[i] = ctx.Err(); errs[i] == nil {
			sheets[i], errs[i] = src.sheet(refs[i], rels[refs[i].id].target)
		}
	})
	for i, err := range errs {
		if err != nil {
			return err
		}
		b.Sheets = append(b.Sheets, sheets[i])
	}
	return nil
}

// readRest checks the XML parts that hold no cells.
func readRest(ctx context.Context, all parts, read map[string]bool) error {
	var names []string
	for name := range all {
		if !read[name] && isXML(name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := wellFormed(name, all[name]); err != nil {
			return err
		}
	}
	return nil
}

type relation struct{ kind, target string }

type taker func(name string, do func(*tag) error) error

// mainPart finds the workbook part through the package's own relations.
func mainPart(all parts, take taker) (string, error) {
	rels, err := relations("", all, take)
	if err != nil {
		return "", err
	}
	for _, r := range rels {
		if strings.HasSuffix(r.kind, "/officeDocument") && all[r.target] != nil {
			return r.target, nil
		}
	}
	if all["xl/workbook.xml"] != nil {
		return "xl/workbook.xml", nil
	}
	return "", refuse("holds no workbook", "Save the survey as an Excel workbook (.xlsx)")
}

// relations reads the relations of a part: identifier -> kind and target.
func relations(of string, all parts, take taker) (map[string]relation, error) {
	dir, base := path.Split(of)
	name := dir + "_rels/" + base + ".rels"
	out := map[string]relation{}
	if all[name] == nil {
		return out, nil
	}
	err := take(name, func(t *tag) error {
		if t.start && t.name == "Relationship" && t.attr("TargetMode") != "External" {
			target := t.attr("Target")
			if !strings.HasPrefix(target, "/") {
				target = dir + target
			}
			out[t.attr("Id")] = relation{t.attr("Type"), strings.TrimPrefix(path.Clean(target), "/")}
		}
		return nil
	})
	return out, err
}

func (b *Book) workbookPart(main string, take taker) (refs []sheetRef, err error) {
	name := ""
	err = take(main, func(t *tag) error {
		switch {
		case t.start && t.name == "sheet":
			refs = append(refs, sheetRef{t.attr("name"), t.attr("id"), t.attr("state")})
		case t.start && t.name == "workbookPr":
			b.Date1904 = isTrue(t.attr("date1904"))
		case t.start && t.name == "definedName":
			name = t.attr("name")
		case t.name == "definedName" && t.text != nil:
			b.Names[name] += string(t.text)
		}
		return nil
	})
	if err == nil && len(refs) == 0 {
		err = damaged("it lists no sheets")
	}
	return refs, err
}

func isTrue(s string) bool { return s == "1" || s == "true" || s == "on" }

// source is what the sheets of a workbook share.
type source struct {
	file    string
	all     parts
	take    taker
	strings []string
	formats []format // by style
}

func (s *source) shared(rels map[string]relation) error {
	for _, r := range rels {
		if s.all[r.target] == nil {
			continue
		}
		var err error
		switch {
		case strings.HasSuffix(r.kind, "/sharedStrings"):
			err = s.sharedStrings(r.target)
		case strings.HasSuffix(r.kind, "/styles"):
			err = s.styles(r.target)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// sharedStrings reads the table of texts. Phonetic runs are left out.
func (s *source) sharedStrings(name string) error {
	var text []byte
	phonetic := false
	return s.take(name, func(t *tag) error {
		switch {
		case t.name == "si" && t.start:
			text = text[:0]
		case t.name == "si" && t.end:
			s.strings = append(s.strings, unescape(string(text)))
		case t.name == "rPh" && (t.start || t.end):
			phonetic = t.start
		case t.name == "t" && !phonetic:
			text = append(text, t.text...)
		}
		return nil
	})
}

// unescape undoes the _xHHHH_ form in which the file format writes control
// characters.
func unescape(s string) string {
	i := strings.Index(s, "_x")
	if i < 0 || len(s) < i+7 || s[i+6] != '_' {
		return s
	}
	n, err := strconv.ParseUint(s[i+2:i+6], 16, 16)
	if err != nil {
		return s
	}
	return s[:i] + string(rune(n)) + unescape(s[i+7:])
}
