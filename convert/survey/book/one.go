package book

import (
	"archive/zip"
	"path"
	"path/filepath"
	"slices"
)

// Lone reads a single sheet of a workbook, the one that pick names when it is
// told the workbook's defined names, and unpacks no other one. The error is a
// [*Refusal].
func Lone(file string, pick func(names map[string]string) string) (*Sheet, error) {
	zr, err := zip.OpenReader(file)
	if err != nil {
		return nil, cannotRead(err)
	}
	defer zr.Close()
	all := parts{}
	unpack := func(wanted func(name string) bool) error {
		for _, f := range zr.File {
			if !wanted(f.Name) {
				continue
			}
			text, err := readPart(f, mostUnpack)
			if err != nil {
				return err
			}
			all[f.Name] = text
		}
		return nil
	}
	if err := unpack(func(name string) bool { return slices.Contains([]string{"_rels", "xl", "xl/_rels"}, path.Dir(name)) }); err != nil {
		return nil, err
	}
	take := func(name string, do func(*tag) error) error { return eachTag(name, all[name], do) }
	b := &Book{Names: map[string]string{}}
	main, err := mainPart(all, take)
	if err != nil {
		return nil, err
	}
	refs, err := b.workbookPart(main, take)
	if err != nil {
		return nil, err
	}
	rels, err := relations(main, all, take)
	if err != nil {
		return nil, err
	}
	src := &source{file: filepath.Base(file), all: all, take: take}
	if err := src.shared(main, rels); err != nil {
		return nil, err
	}
	wanted := pick(b.Names)
	i := slices.IndexFunc(refs, func(r sheetRef) bool { return r.name == wanted })
	if i < 0 {
		return nil, refuse("has no sheet "+wanted, "Check the name of the sheet")
	}
	part := rels[refs[i].id].target
	if err := unpack(func(name string) bool { return name == part }); err != nil {
		return nil, err
	}
	return src.sheet(refs[i], part)
}
