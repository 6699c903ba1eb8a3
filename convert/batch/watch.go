package batch

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"lapwright/convert"
	"lapwright/engine"
)

// Inbox is a folder into which surveys are put to be taken off.
type Inbox struct {
	Folder  string
	Out     string        // where takeoffs go; blank: beside the surveys that are done
	Every   time.Duration // how often it is looked into
	Convert convert.Options
	Done    func(convert.Report, error) // told each outcome; may be nil
	Left    func(path, why string)      // told of what is left alone; may be nil
	Begun   func()                      // told that the folder can be looked into; may be nil

	seen map[string]stamp
	told map[string]bool
}

// stamp tells whether a file has changed.
type stamp struct {
	size int64
	time time.Time
}

// Folders of an inbox, for what was taken off and what could not be.
const (
	doneFolder   = "done"
	failedFolder = "failed"
)

// Watch takes off each workbook and CSV file that is put into the folder, or one
// within it, and each folder of the CSV files of one survey, once it has kept its size
// and time from one look to the next and no spreadsheet program holds it open. A survey that was taken off moves to the folder done
// beside it, and its takeoff too unless it goes below Out; one that could not be,
// or of which nothing was, moves to the folder failed, with a text that says why;
// what is no survey stays, and such a text names it. One that was replaced or taken
// away meanwhile counts as not seen yet. It looks rather than waits to be told, because folders on other
// machines do not tell. It ends with ctx, without an error, or where the folder
// cannot be read, or a file be neither written nor moved.
func (b *Inbox) Watch(ctx context.Context) error {
	if err := b.try(ctx); err != nil {
		return err
	}
	b.seen, b.told = map[string]stamp{}, map[string]bool{}
	if _, err := os.ReadDir(b.Folder); err != nil {
		return b.unreadable(err)
	}
	if b.Begun != nil {
		b.Begun()
	}
	for {
		items, err := b.ready()
		if err != nil {
			return err
		}
		for _, it := range items {
			if err := b.take(ctx, it); err != nil {
				if convert.KindOf(err) == convert.Interrupted {
					return nil
				}
				return err
			}
		}
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(b.Every):
		}
	}
}

// try reads the example with a catalogue or mapping that comes with every
// survey: were it at fault, all would be moved to failed.
func (b *Inbox) try(ctx context.Context) error {
	if b.Convert.Products == "" && b.Convert.Mapping == "" {
		return nil
	}
	_, err := convert.Convert(ctx, convert.Example, convert.Options{CheckOnly: true, Effort: engine.EffortQuick, Products: b.Convert.Products, Mapping: b.Convert.Mapping})
	return err
}

// ready lists the surveys, in the folder and in those within it, that are as they
// were at the last look, and tells of what is none.
func (b *Inbox) ready() ([]string, error) {
	var out []string
	seen := map[string]stamp{}
	err := fs.WalkDir(os.DirFS(b.Folder), ".", func(name string, d fs.DirEntry, err error) error {
		name = filepath.FromSlash(name)
		path := filepath.Join(b.Folder, name)
		switch {
		case name == "." && err != nil:
			return b.unreadable(err)
		case name == ".":
			return nil
		case err == nil && d.IsDir() && (isBox(d.Name()) || !enters(path, b.Out)):
			return fs.SkipDir
		case err != nil || d.IsDir() && !isFolderOfTables(path): // a folder that may not be read yet is looked into again
			return nil
		}
		var after error
		why := leave(d.Name(), samePath(b.Folder, b.Out))
		if d.IsDir() {
			after, why = fs.SkipDir, ""
		}
		now, there := b.stamp(name)
		if !there || why == aside || convert.Lock(path) != "" {
			return after
		}
		seen[name] = now
		switch before, ok := b.seen[name]; {
		case !ok || before != now:
		case why == "":
			out = append(out, name)
		case !b.told[name]:
			b.told[name] = true
			return b.left(path, why)
		}
		return after
	})
	b.seen = seen
	return out, err
}

func (b *Inbox) unreadable(err error) error {
	return &convert.Error{Kind: convert.Missing, Path: b.Folder, What: "cannot be read", Do: "Check that it is there and that you may read it", Err: err}
}

func (b *Inbox) stamp(name string) (s stamp, there bool) {
	info, err := os.Stat(filepath.Join(b.Folder, name))
	if err != nil {
		return s, false
	}
	s = stamp{info.Size(), info.ModTime()}
	files, err := os.ReadDir(filepath.Join(b.Folder, name))
	if err != nil {
		return s, true // it is a file
	}
	for _, f := range files {
		if of, is := b.stamp(filepath.Join(name, f.Name())); is {
			s.size += of.size
			if of.time.After(s.time) {
				s.time = of.time
			}
		}
	}
	return s, true
}

// isFolderOfTables reports whether a folder holds one survey as CSV files and
// nothing else that may be one, so that it may move as a whole.
func isFolderOfTables(folder string) bool {
	return holdsOnlyFiles(folder) && (isSurvey(folder) || lacksWalls(folder))
}

// aside is why a file is left alone that nobody puts there as a survey: no reason
// to tell.
const aside = "aside"

// leave says why a file of that name is no survey; blank where it may be one. An
// inbox that is also where takeoffs go has them beside surveys.
func leave(name string, takeoffsToo bool) string {
	_, takeoff := convert.SurveyOf(name)
	switch {
	case convert.IsWorkbook(name) || isTable(name):
		return ""
	case takeoff && !convert.IsOwn(name) && !takeoffsToo:
		return "it is a takeoff by its name"
	case convert.IsAside(name):
		return aside
	}
	return "it is no workbook and no CSV file"
}

// left tells of a file that is no survey, on the screen and in the folder failed
// beside it, where somebody looks who misses its takeoff.
func (b *Inbox) left(path, why string) error {
	if b.Left != nil {
		b.Left(path, why)
	}
	named := filepath.Join(filepath.Dir(path), failedFolder, filepath.Base(path))
	if there(named + ".txt") {
		return nil
	}
	if err := makeFor(named); err != nil {
		return err
	}
	return explain(named, path+" is left alone: "+why+".")
}

// take takes off one survey and moves it.
func (b *Inbox) take(ctx context.Context, name string) error {
	in := filepath.Join(b.Folder, name)
	to, out := b.places(name)
	o := b.Convert
	o.Out = out
	report, err := convert.Convert(ctx, in, o)
	if k := convert.KindOf(err); err != nil && (k == convert.Interrupted || k == convert.CannotMake || k == convert.CannotSave) {
		return err
	}
	before := b.seen[name]
	delete(b.seen, name)
	if now, there := b.stamp(name); !there || now != before {
		return withdraw(report)
	}
	failed := filepath.Join(filepath.Dir(in), failedFolder)
	var stuck error
	if err != nil && b.Out == "" { // a takeoff of nothing
		stuck = moveAll(&report, failed)
	}
	if b.Done != nil {
		b.Done(report, err)
	}
	if err == nil {
		return move(in, to)
	}
	to = free(filepath.Join(failed, filepath.Base(name)))
	return errors.Join(stuck, move(in, to), explain(to, err.Error()))
}

// moveAll moves what was written of a survey to another folder.
func moveAll(r *convert.Report, folder string) error {
	for _, name := range append([]*string{&r.Out}, pointers(r.Exports)...) {
		if *name == "" {
			continue
		}
		to := free(filepath.Join(folder, filepath.Base(*name)))
		if err := move(*name, to); err != nil {
			return err
		}
		*name = to
	}
	return nil
}

func pointers(names []string) []*string {
	out := make([]*string, len(names))
	for i := range names {
		out[i] = &names[i]
	}
	return out
}

// places returns where a survey that is done goes and where its takeoff does,
// under one number where those names are taken.
func (b *Inbox) places(name string) (to, out string) {
	done := filepath.Join(b.Folder, filepath.Dir(name), doneFolder)
	takeoffs := done
	if b.Out != "" {
		takeoffs = filepath.Join(b.Out, filepath.Dir(name))
	}
	ext := filepath.Ext(name)
	for n := 1; ; n++ {
		stem := numbered(strings.TrimSuffix(filepath.Base(name), ext), n)
		to, out = filepath.Join(done, stem+ext), filepath.Join(takeoffs, stem+suffix)
		if !there(to) && !there(out) {
			return to, out
		}
	}
}

// withdraw removes what was made of a survey that is no longer there.
func withdraw(r convert.Report) error {
	for _, name := range append(r.Exports, r.Out) {
		if name == "" {
			continue
		}
		if err := os.RemoveAll(name); err != nil {
			return &convert.Error{Kind: convert.CannotSave, Path: name, What: "is of a survey that was replaced meanwhile, and cannot be removed", Do: "Remove it", Err: err}
		}
	}
	return nil
}

// explain writes beside a survey why it was not taken off.
func explain(survey, why string) error {
	err := os.WriteFile(survey+".txt", []byte(why+"\n"), 0o644)
	if err != nil {
		return &convert.Error{Kind: convert.CannotSave, Path: survey + ".txt", What: "could not be written", Do: "Free some space", Err: err}
	}
	return nil
}

// makeFor makes the folder that a file goes to.
func makeFor(to string) error { return cannotMove(to, os.MkdirAll(filepath.Dir(to), 0o755)) }

func move(from, to string) error {
	if err := makeFor(to); err != nil {
		return err
	}
	return cannotMove(to, os.Rename(from, to))
}

func cannotMove(to string, err error) error {
	if err != nil {
		return &convert.Error{Kind: convert.CannotMake, Path: to, What: "cannot be moved there (" + err.Error() + ")", Do: "Check that you may write in the folder", Err: err}
	}
	return nil
}

// free returns the path, or the first numbered one that is free.
func free(path string) string {
	ext := filepath.Ext(path)
	for n := 1; ; n++ {
		if got := numbered(strings.TrimSuffix(path, ext), n) + ext; !there(got) {
			return got
		}
	}
}

// numbered returns the n-th name that is tried.
func numbered(stem string, n int) string {
	if n == 1 {
		return stem
	}
	return fmt.Sprintf("%s (%d)", stem, n)
}

func there(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
