package batch

import (
	"cmp"
	"context"
	"errors"
	"fmt"
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
	Left    func(name string)           // told of what is no workbook; may be nil

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

// Watch takes off each workbook that is put into the folder, once it has kept
// its size and time from one look to the next and no spreadsheet program holds
// it open. A survey that was taken off moves to the folder done, its takeoff
// beside it; one that could not be moves to the folder failed, beside a text
// that says why. One that was replaced or taken away meanwhile counts as not
// seen yet. It looks rather than waits to be told, because folders on other
// machines do not tell. It ends with ctx, without an error, or where the folder
// cannot be read, or a file be neither written nor moved.
func (b *Inbox) Watch(ctx context.Context) error {
	if err := b.try(ctx); err != nil {
		return err
	}
	b.seen, b.told = map[string]stamp{}, map[string]bool{}
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

// ready lists the workbooks that are as they were at the last look.
func (b *Inbox) ready() ([]string, error) {
	entries, err := os.ReadDir(b.Folder)
	if err != nil {
		return nil, &convert.Error{Kind: convert.Missing, Path: b.Folder, What: "cannot be read", Do: "Check that it is there and that you may read it", Err: err}
	}
	var out []string
	seen := map[string]stamp{}
	for _, e := range entries {
		now, there := b.stamp(e.Name())
		if e.IsDir() || !there || b.leave(e.Name()) || convert.Lock(filepath.Join(b.Folder, e.Name())) != "" {
			continue
		}
		seen[e.Name()] = now
		if before, ok := b.seen[e.Name()]; ok && before == now {
			out = append(out, e.Name())
		}
	}
	b.seen = seen
	return out, nil
}

func (b *Inbox) stamp(name string) (s stamp, there bool) {
	info, err := os.Stat(filepath.Join(b.Folder, name))
	if err != nil {
		return s, false
	}
	return stamp{info.Size(), info.ModTime()}, true
}

// leave reports whether a file is no survey, and tells so once of one that
// somebody may have put there for it.
func (b *Inbox) leave(name string) bool {
	if isWorkbook(name) {
		return false
	}
	if b.Left != nil && !b.told[name] && !isAside(name) {
		b.told[name] = true
		b.Left(name)
	}
	return true
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
	if b.Done != nil {
		b.Done(report, err)
	}
	if err == nil {
		return move(in, to)
	}
	to = free(filepath.Join(b.Folder, failedFolder, name))
	return errors.Join(move(in, to), explain(to, err))
}

// places returns where a survey that is done goes and where its takeoff does,
// under one number where those names are taken.
func (b *Inbox) places(name string) (to, out string) {
	done := filepath.Join(b.Folder, doneFolder)
	ext := filepath.Ext(name)
	for n := 1; ; n++ {
		stem := numbered(strings.TrimSuffix(name, ext), n)
		to, out = filepath.Join(done, stem+ext), filepath.Join(cmp.Or(b.Out, done), stem+suffix)
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
func explain(survey string, why error) error {
	err := os.WriteFile(survey+".txt", []byte(why.Error()+"\n"), 0o644)
	if err != nil {
		return &convert.Error{Kind: convert.CannotSave, Path: survey + ".txt", What: "could not be written", Do: "Free some space", Err: err}
	}
	return nil
}

func move(from, to string) error {
	err := os.MkdirAll(filepath.Dir(to), 0o755)
	if err == nil {
		err = os.Rename(from, to)
	}
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
