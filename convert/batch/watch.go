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
)

// Inbox is a folder into which surveys are put to be taken off.
type Inbox struct {
	Folder  string
	Out     string        // where takeoffs go; blank: beside the surveys that are done
	Every   time.Duration // how often it is looked into
	Convert convert.Options
	Done    func(convert.Report, error) // told each outcome; may be nil

	seen map[string]stamp
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
// that says why. It looks rather than waits to be told, because folders on
// other machines do not tell. It ends with ctx, without an error, or where a
// file can be neither written nor moved.
func (b *Inbox) Watch(ctx context.Context) error {
	b.seen = map[string]stamp{}
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

// ready lists the workbooks that are as they were at the last look.
func (b *Inbox) ready() ([]string, error) {
	entries, err := os.ReadDir(b.Folder)
	if err != nil {
		return nil, &convert.Error{Kind: convert.Missing, Path: b.Folder, What: "cannot be read", Do: "Check that it is there and that you may read it", Err: err}
	}
	var out []string
	seen := map[string]stamp{}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || e.IsDir() || !isWorkbook(e.Name()) {
			continue
		}
		now := stamp{info.Size(), info.ModTime()}
		if _, err := os.Lstat(filepath.Join(b.Folder, "~$"+e.Name())); err == nil {
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

// take takes off one survey and moves it.
func (b *Inbox) take(ctx context.Context, name string) error {
	in := filepath.Join(b.Folder, name)
	done := filepath.Join(b.Folder, doneFolder)
	to := free(filepath.Join(done, name))
	stem := strings.TrimSuffix(filepath.Base(to), filepath.Ext(to))
	o := b.Convert
	o.Out = free(filepath.Join(cmp.Or(b.Out, done), stem+suffix))
	report, err := convert.Convert(ctx, in, o)
	switch convert.KindOf(err) {
	case convert.Interrupted, convert.CannotMake, convert.CannotSave:
		if err != nil {
			return err
		}
	}
	if b.Done != nil {
		b.Done(report, err)
	}
	delete(b.seen, name)
	if err == nil {
		return move(in, to)
	}
	to = free(filepath.Join(b.Folder, failedFolder, name))
	return errors.Join(move(in, to), explain(to, err))
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
	if strings.HasSuffix(path, suffix) {
		ext = suffix
	}
	got := path
	for n := 2; ; n++ {
		if _, err := os.Lstat(got); err != nil {
			return got
		}
		got = fmt.Sprintf("%s (%d)%s", strings.TrimSuffix(path, ext), n, ext)
	}
}
