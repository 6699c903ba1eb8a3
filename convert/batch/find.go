package batch

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
)

// own begins the names of the files that batches write beside takeoffs.
const own = "lapwright-"

// IsBatch reports whether a path is a folder of surveys: any folder but one that
// holds a single survey as CSV files, Walls.csv among them.
func IsBatch(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir() && !isSurvey(path)
}

// Found is what a folder holds.
type Found struct {
	Items   []Item   // in order of name
	Folders int      // below it, that hold some of them
	Left    []string // what was left alone, each with the reason
}

// ErrMany says that a folder holds more surveys than were asked for.
var ErrMany = errors.New("more surveys than asked for")

// Find lists the surveys in a folder and the folders in it: workbooks, and
// folders of CSV files; no more than most where that is not 0. It leaves out
// takeoffs, the files of batches, what an inbox has done or failed, hidden files
// and those by which spreadsheet programs hold a workbook open. A folder below
// that cannot be read is listed as a survey, to be told as one that fails.
// Takeoffs go to the same places below out; where out is blank, beside their
// surveys.
func Find(folder, out string, most int) (Found, error) {
	var f Found
	folders := map[string]bool{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error { // a walk of the path itself would not follow a link
		path := filepath.Join(folder, filepath.FromSlash(name))
		switch {
		case name == "." && err != nil:
			return &convert.Error{Kind: convert.Missing, Path: folder, What: "cannot be read", Do: "Check that you may read it", Err: err}
		case name == ".":
			return nil
		case err == nil && !f.take(path, out, d):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case err == nil && d.IsDir() && !isSurvey(path):
			return nil
		case most > 0 && len(f.Items) == most:
			return ErrMany
		}
		f.Items = append(f.Items, Item{In: path})
		folders[filepath.Dir(path)] = true
		if d.IsDir() {
			return fs.SkipDir
		}
		return nil
	})
	if err != nil {
		return f, err
	}
	delete(folders, filepath.Clean(folder))
	f.Folders = len(folders)
	place(f.Items, folder, out)
	slices.SortFunc(f.Items, func(a, b Item) int { return strings.Compare(a.Name, b.Name) })
	return f, nil
}

// take reports whether a file may be a survey, and whether a folder is looked
// into.
func (f *Found) take(path, out string, d fs.DirEntry) bool {
	switch {
	case d.IsDir() && (d.Name() == doneFolder || d.Name() == failedFolder):
		f.Left = append(f.Left, path+" (of an inbox)")
		return false
	case d.IsDir():
		return !strings.HasPrefix(d.Name(), ".") && !samePath(path, out)
	case !isWorkbook(d.Name()):
		return false
	case convert.IsTakeoff(path):
		f.Left = append(f.Left, path+" (a takeoff)")
		return false
	}
	return true
}

func samePath(a, b string) bool {
	x, err1 := filepath.Abs(a)
	y, err2 := filepath.Abs(b)
	return b != "" && err1 == nil && err2 == nil && x == y
}

// IsOwn reports whether a file is one that batches and merged orders are written
// to, by its name.
func IsOwn(path string) bool { return strings.HasPrefix(filepath.Base(path), own) }

// isAside reports whether a file of that name is none that somebody means as a
// survey: hidden, the lock of an open workbook, a batch's own, or a takeoff.
func isAside(name string) bool {
	_, takeoff := convert.SurveyOf(name)
	return takeoff || strings.HasPrefix(name, "~$") || strings.HasPrefix(name, ".") || IsOwn(name)
}

// isWorkbook reports whether a file of that name may be a survey, or is of a kind
// for which reading says how to make it one.
func isWorkbook(name string) bool {
	if isAside(name) {
		return false
	}
	switch strings.ToLower(filepath.Ext(name)) {
	case ".xlsx", ".xlsm", ".xls", ".xlsb", ".ods":
		return true
	}
	return false
}

// isSurvey reports whether a folder holds one survey as CSV files.
func isSurvey(folder string) bool {
	entries, err := os.ReadDir(folder)
	return err == nil && slices.ContainsFunc(entries, func(e fs.DirEntry) bool {
		ext := filepath.Ext(e.Name())
		switch strings.ToLower(ext) {
		case ".csv", ".tsv", ".txt":
			return !e.IsDir() && strings.HasSuffix(strings.ToLower(strings.TrimSuffix(e.Name(), ext)), "walls")
		}
		return false
	})
}

// place names the items within the batch and says where their takeoffs go. Two
// surveys of one name and different kinds do not share a takeoff.
func place(items []Item, folder, out string) {
	if out == "" {
		out = folder
	}
	taken := map[string]bool{}
	for i := range items {
		it := &items[i]
		rel, err := filepath.Rel(folder, it.In)
		if err != nil {
			rel = filepath.Base(it.In)
		}
		it.Name = filepath.ToSlash(rel)
		stem := strings.TrimSuffix(rel, filepath.Ext(rel))
		if info, err := os.Stat(it.In); err == nil && info.IsDir() {
			stem = rel
		}
		if taken[strings.ToLower(stem)] {
			stem = rel
		}
		taken[strings.ToLower(stem)] = true
		it.Out = filepath.Join(out, stem+suffix)
	}
}

// suffix ends the names of takeoffs.
const suffix = ".takeoff.xlsx"

// Named makes a batch of surveys that are named one by one. Their takeoffs go
// to the folder out, or beside them where it is blank. No survey of the batch
// is written over.
func Named(names []string, out string) []Item {
	items := make([]Item, len(names))
	byBase := map[string][]string{}
	for _, n := range names {
		real, err := filepath.EvalSymlinks(n)
		if err != nil {
			real = n
		}
		k := strings.ToLower(filepath.Base(real))
		byBase[k] = append(byBase[k], n)
	}
	for i, n := range names {
		items[i] = Item{Name: filepath.ToSlash(n), In: n, Out: out}
		items[i].keep = byBase[filepath.Base(items[i].target())]
	}
	return items
}

// target is a name that items share if they could write the same file.
func (it *Item) target() string {
	path, in := it.Out, it.In
	if in == convert.Example {
		in = "example.xlsx"
	}
	if !strings.HasSuffix(strings.ToLower(path), ".xlsx") {
		stem, is := convert.SurveyOf(in)
		if info, err := os.Stat(in); err == nil && info.IsDir() && !is {
			stem = filepath.Clean(in)
		}
		path = stem + suffix
		if it.Out != "" {
			path = filepath.Join(it.Out, filepath.Base(path))
		}
	}
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	return strings.ToLower(path)
}
