package batch

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"lapwright/convert"
	"lapwright/engine"
)

// An inbox takes off what keeps still and is not held open, moves it to the
// folder done or failed, and never takes one twice.
func TestWatch(t *testing.T) {
	dir := t.TempDir()
	if _, err := convert.Template(filepath.Join(dir, "house.xlsx"), true); err != nil {
		t.Fatal(err)
	}
	if _, err := convert.Template(filepath.Join(dir, "held.xlsx"), true); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "~$held.xlsx"), "x")
	write(t, filepath.Join(dir, "broken.xlsx"), "no workbook")
	write(t, filepath.Join(dir, "done", "house.xlsx"), "an earlier one")
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	told := 0
	box := Inbox{Folder: dir, Every: 20 * time.Millisecond, Convert: convert.Options{Effort: engine.EffortQuick},
		Done: func(convert.Report, error) {
			if told++; told == 2 {
				time.AfterFunc(300*time.Millisecond, cancel) // some more looks
			}
		}}
	if err := box.Watch(ctx); err != nil {
		t.Fatal(err)
	}
	if told != 2 {
		t.Errorf("%d surveys were taken, want 2", told)
	}
	want := []string{"done/house (2).takeoff.xlsx", "done/house (2).xlsx", "done/house.xlsx", "failed/broken.xlsx", "failed/broken.xlsx.txt", "held.xlsx", "~$held.xlsx"}
	got := files(t, dir)
	for _, name := range want {
		if _, ok := got[name]; !ok {
			t.Errorf("%s is missing", name)
		}
	}
	if len(got) != len(want) {
		t.Errorf("the inbox holds %d files, want %d", len(got), len(want))
	}
}

// A file that is still growing is left alone until it keeps still.
func TestWatchWaits(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "house.xlsx")
	box := Inbox{Folder: dir, seen: map[string]stamp{}}
	for i := range 3 {
		write(t, path, string(bytes.Repeat([]byte("x"), i+1)))
		if ready, err := box.ready(); err != nil || len(ready) != 0 {
			t.Fatalf("after write %d: ready %v, %v", i, ready, err)
		}
	}
	if ready, err := box.ready(); err != nil || len(ready) != 1 {
		t.Fatalf("once still: ready %v, %v", ready, err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if ready, err := box.ready(); err != nil || len(ready) != 0 {
		t.Fatalf("once gone: ready %v, %v", ready, err)
	}
}
