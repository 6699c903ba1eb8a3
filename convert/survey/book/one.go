package book

import (
	"archive/zip"
	"path"
	"path/filepath"
	"slices"
)

// outline is a workbook of which only what its sheets share is unpacked.
type outline struct {
	Book
	zr   *zip.ReadCloser
	all  parts
	src  *source
	refs []sheetRef
	rels map[string]relation
}

func openOutline(file string) (*outline, error) {
	zr, err := zip.OpenReader(file)
	if err != nil {
		return nil, cannotRead(err)
	}
	o := &outline{Book: Book{Names: map[string]string{}}, zr: zr, all: parts{}}
	if err := o.read(file); err != nil {
		zr.Close()
		return nil, err
	}
	return o, nil
}

func (o *outline) read(file string) error {
	if err := o.unpack(func(name string) bool { return slices.Contains([]string{"_rels", "xl", "xl/_rels"}, path.Dir(name)) }); err != nil {
		return err
	}
	take := func(name string, do func(*tag) error) error { return eachTag(name, o.all[name], do) }
	main, err := mainPart(o.all, take)
	if err != nil {
		return err
	}
	if o.refs, err = o.workbookPart(main, take); err != nil {
		return err
	}
	o.rels, err = relations(main, o.all, take)
	o.src = &source{file: filepath.Base(file), all: o.all, take: take}
	return err
}

func (o *outline) unpack(wanted func(name string) bool) error {
	for _, f := range o.zr.File {
		if !wanted(f.Name) {
			continue
		}
		text, err := readPart(f, mostUnpack)
		if err != nil {
			return err
		}
		o.all[f.Name] = text
	}
	return nil
}

// NamesIn reads the defined names of a workbook, and no sheet of it. The error is
// a [*Refusal].
func NamesIn(file string) (*Book, error) {
	o, err := openOutline(file)
	if err != nil {
		return nil, err
	}
	return &o.Book, o.zr.Close()
}

// Lone reads a single sheet of a workbook, the one that pick names when it is
// told the workbook's defined names, and unpacks no other one. The error is a
// [*Refusal].
func Lone(file string, pick func(names map[string]string) string) (*Sheet, error) {
	o, err := openOutline(file)
	if err != nil {
		return nil, err
	}
	defer o.zr.Close()
	if err := o.src.shared(o.rels); err != nil {
		return nil, err
	}
	wanted := pick(o.Names)
	i := slices.IndexFunc(o.refs, func(r sheetRef) bool { return r.name == wanted })
	if i < 0 {
		return nil, refuse("has no sheet "+wanted, "Check the name of the sheet")
	}
	part := o.rels[o.refs[i].id].target
	if err := o.unpack(func(name string) bool { return name == part }); err != nil {
		return nil, err
	}
	return o.src.sheet(o.refs[i], part)
}
