package batch

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/engine/natural"
)

// IsBatch reports whether a path is a folder of surveys: any folder but one that
// holds a single survey as CSV files, Walls.csv among them.
func IsBatch(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir() && !isSurvey(path)
}

// Found is what a folder holds.
type Found struct {
	Items    []Item   // in order of name
	Folders  []string // below it, that hold some of them
	Left     []string // what was left alone, each with the reason
	Takeoffs int      // by their names, left alone too
}

// ErrMany says that a folder holds more surveys than were asked for.
var ErrMany = errors.New("more surveys than asked for")

// Find lists the surveys in a folder and the folders in it: workbooks, and
// folders of CSV files, also where those lack the walls; no more than most where that is not 0. It leaves out
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
		case err == nil && d.IsDir() && !isSurvey(path) && !lacksWalls(path):
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
	f.Folders = slices.SortedFunc(maps.Keys(folders), natural.Compare)
	place(f.Items, folder, out)
	slices.SortFunc(f.Items, func(a, b Item) int { return natural.Compare(a.Name, b.Name) })
	return f, nil
}

// take reports whether a file may be a survey, and whether a folder is looked
// into. What it leaves alone it says, where somebody could miss it.
func (f *Found) take(path, out string, d fs.DirEntry) bool {
	if _, is := convert.SurveyOf(d.Name()); is && !d.IsDir() {
		f.Takeoffs++
	}
	switch {
	case d.IsDir() && isBox(d.Name()):
		f.Left = append(f.Left, path+" (of an inbox)")
		return false
	case d.IsDir():
		return enters(path, out)
	case isTable(d.Name()):
		f.Left = append(f.Left, path+" (a CSV file: name it by itself)")
		return false
	case !convert.IsWorkbook(d.Name()):
		return false
	case convert.IsTakeoff(path):
		f.Left = append(f.Left, path+" (a takeoff)")
		return false
	}
	return true
}

// isBox reports whether a folder of that name is one in which an inbox keeps what
// it is done with.
func isBox(name string) bool { return name == doneFolder || name == failedFolder }

// enters reports whether a folder is looked into: no hidden one, nor the one that
// takeoffs go to, nor tables written with --export.
func enters(path, out string) bool {
	name := filepath.Base(path)
	book, tables := strings.CutSuffix(name, " csv")
	return !strings.HasPrefix(name, ".") && !samePath(path, out) && !(tables && convert.IsAside(book+suffix))
}

// isTable reports whether a file of that name may be a survey in CSV.
func isTable(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return !convert.IsAside(name) && (ext == ".csv" || ext == ".tsv")
}

func samePath(a, b string) bool {
	x, err1 := filepath.Abs(a)
	y, err2 := filepath.Abs(b)
	return b != "" && err1 == nil && err2 == nil && x == y
}

// isSurvey reports whether a folder holds one survey as CSV files.
func isSurvey(folder string) bool {
	entries, err := os.ReadDir(folder)
	return err == nil && slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return isTableOf(e, "walls") })
}

// lacksWalls reports whether a folder holds what belongs to walls, as CSV files, but
// no walls, nor anything else that may be a survey: one that lost a file, to be
// told as one that fails.
func lacksWalls(folder string) bool {
	entries, err := os.ReadDir(folder)
	return err == nil && holdsOnlyFiles(folder) && slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return isTableOf(e, "openings", "plots", "job") })
}

// holdsOnlyFiles reports whether a folder holds neither workbooks nor folders, so
// that its CSV files are all that may be a survey.
func holdsOnlyFiles(folder string) bool {
	entries, err := os.ReadDir(folder)
	return err == nil && !slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.IsDir() || convert.IsWorkbook(e.Name()) })
}

// isTableOf reports whether a file is one of CSV of which the name ends in one of
// the words.
func isTableOf(e fs.DirEntry, words ...string) bool {
	ext := filepath.Ext(e.Name())
	if e.IsDir() || !slices.Contains([]string{".csv", ".tsv", ".txt"}, strings.ToLower(ext)) {
		return false
	}
	stem := strings.ToLower(strings.TrimSuffix(e.Name(), ext))
	return slices.ContainsFunc(words, func(w string) bool { return strings.HasSuffix(stem, w) })
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
