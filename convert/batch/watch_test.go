package batch

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
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

// What is made of a survey that was replaced or taken away while it was worked
// on is withdrawn, nobody is told, and the new one is taken off when it keeps
// still.
func TestWatchReplaced(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "house.xlsx")
	told := 0
	box := Inbox{Folder: dir, Out: filepath.Join(dir, "out"), Convert: convert.Options{Effort: engine.EffortQuick, Export: []convert.Format{convert.CSV, convert.JSON}},
		Done: func(convert.Report, error) { told++ }, seen: map[string]stamp{}}
	if _, err := convert.Template(path, true); err != nil {
		t.Fatal(err)
	}
	box.seen["house.xlsx"] = stamp{size: 1} // as if another file of that name had been there
	if err := box.take(context.Background(), "house.xlsx"); err != nil {
		t.Fatal(err)
	}
	if got := files(t, dir); len(got) != 1 || told != 0 {
		t.Errorf("after it was replaced the inbox holds %d files, and %d were told of; want the survey alone", len(got), told)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := box.take(context.Background(), "house.xlsx"); err != nil || told != 0 {
		t.Errorf("taken away: %v, %d told", err, told)
	}
	if _, err := convert.Template(path, true); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		ready, err := box.ready()
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range ready {
			if err := box.take(context.Background(), name); err != nil {
				t.Fatal(err)
			}
		}
	}
	if got := files(t, dir); got["done/house.xlsx"] == "" || got["out/house.takeoff.xlsx"] == "" || told != 1 {
		t.Errorf("once still: %d told, the inbox holds %d files", told, len(got))
	}
}

// A survey and its takeoff get the same number where either name is taken; both
// kinds of lock keep a workbook from being taken; what is no workbook is told of
// once and stays.
func TestWatchNamesAndLocks(t *testing.T) {
	dir := t.TempDir()
	var left []string
	box := Inbox{Folder: dir, seen: map[string]stamp{}, told: map[string]bool{}, Left: func(path, _ string) { left = append(left, filepath.Base(path)) }}
	write(t, filepath.Join(dir, "done", "a.takeoff.xlsx"), "x")
	write(t, filepath.Join(dir, "done", "a (2).xlsx"), "x")
	deep := filepath.Join("plot 1", "a.xlsx")
	if to, out := box.places(deep); to != filepath.Join(dir, "plot 1", "done", "a.xlsx") || out != filepath.Join(dir, "plot 1", "done", "a.takeoff.xlsx") {
		t.Errorf("one in a folder goes to %s, its takeoff to %s", to, out)
	}
	box.Out = filepath.Join(dir, "out")
	if _, out := box.places(deep); out != filepath.Join(dir, "out", "plot 1", "a.takeoff.xlsx") {
		t.Errorf("the takeoff of one in a folder goes to %s", out)
	}
	box.Out = ""
	if to, out := box.places("a.xlsx"); filepath.Base(to) != "a (3).xlsx" || filepath.Base(out) != "a (3).takeoff.xlsx" {
		t.Errorf("the survey goes to %s, its takeoff to %s", to, out)
	}
	for _, name := range []string{"a.xlsx", "~$a.xlsx", "b.xlsx", ".~lock.b.xlsx#", "c.xlsx", "notes.pdf", ".hidden", "c.takeoff.xlsx", "lapwright-order.xlsx"} {
		write(t, filepath.Join(dir, name), "x")
	}
	var ready []string
	for range 3 {
		var err error
		if ready, err = box.ready(); err != nil {
			t.Fatal(err)
		}
	}
	if len(ready) != 1 || ready[0] != "c.xlsx" {
		t.Errorf("ready: %v, want c.xlsx alone", ready)
	}
	if got := strings.Join(left, ", "); got != "c.takeoff.xlsx, notes.pdf" {
		t.Errorf("told of %s, want c.takeoff.xlsx and notes.pdf once", got)
	}
}

// A catalogue that cannot be read with any survey moves none to failed.
func TestWatchWithBrokenCatalogue(t *testing.T) {
	dir := t.TempDir()
	if _, err := convert.Template(filepath.Join(dir, "house.xlsx"), true); err != nil {
		t.Fatal(err)
	}
	box := Inbox{Folder: dir, Every: time.Millisecond, Convert: convert.Options{Products: filepath.Join(dir, "nowhere.csv")}}
	if err := box.Watch(context.Background()); convert.KindOf(err) != convert.Missing {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "house.xlsx")); err != nil {
		t.Error("the survey was moved")
	}
}
