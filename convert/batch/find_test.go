package batch

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lapwright/convert"
	"lapwright/engine"
)

func names(f Found) string {
	var out []string
	for _, it := range f.Items {
		out = append(out, it.Name)
	}
	return strings.Join(out, ", ")
}

// A folder's surveys are found in it and below it, in order of name, and what is
// no survey of it is left alone, with the reason where somebody could miss it.
func TestFind(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{
		"b.xlsx", "a/x.xlsm", "a-z.xlsx", "plot 10.xlsx", "plot 9.xlsx", "old/plan.xls", "old/plan.ods", "csv/Walls.csv", "csv/Openings.csv",
		"b.takeoff.xlsx", "lapwright-batch.xlsx", "~$b.xlsx", ".hidden.xlsx", ".git/c.xlsx", "notes.txt",
		"done/d.xlsx", "inbox/failed/e.xlsx", "out/f.xlsx", "old/theirs.csv", "b.takeoff csv/Trims.csv",
	} {
		write(t, filepath.Join(dir, filepath.FromSlash(name)), "x")
	}
	if _, err := convert.Convert(context.Background(), convert.Example, convert.Options{Out: filepath.Join(dir, "renamed.xlsx"), Effort: engine.EffortQuick}); err != nil {
		t.Fatal(err)
	}
	f, err := Find(dir, filepath.Join(dir, "out"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := names(f), "a-z.xlsx, a/x.xlsm, b.xlsx, csv, old/plan.ods, old/plan.xls, plot 9.xlsx, plot 10.xlsx"; got != want {
		t.Errorf("found %s, want %s", got, want)
	}
	if got, want := strings.Join(f.Folders, ", "), filepath.Join(dir, "a")+", "+filepath.Join(dir, "old"); got != want { // csv is itself a survey
		t.Errorf("in the folders %s, want %s", got, want)
	}
	left := strings.ReplaceAll(strings.Join(f.Left, ", "), dir+string(filepath.Separator), "")
	if want := "done (of an inbox), " + filepath.Join("inbox", "failed") + " (of an inbox), " + filepath.Join("old", "theirs.csv") + " (a CSV file: name it by itself), renamed.xlsx (a takeoff)"; left != want {
		t.Errorf("left alone: %s, want %s", left, want)
	}
	if _, err := Find(dir, "", 3); !errors.Is(err, ErrMany) {
		t.Errorf("of eight no more than three: got %v", err)
	}
	if f, err := Find(dir, filepath.Join(dir, "out"), 8); err != nil || len(f.Items) != 8 {
		t.Errorf("of eight no more than eight: got %s, %v", names(f), err)
	}
}

// A link to a folder is that folder.
func TestFindThroughALink(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "real", "a.xlsx"), "x")
	link := filepath.Join(dir, "link")
	if err := os.Symlink(filepath.Join(dir, "real"), link); err != nil {
		t.Skip(err)
	}
	f, err := Find(link, "", 0)
	if err != nil || names(f) != "a.xlsx" || f.Items[0].In != filepath.Join(link, "a.xlsx") {
		t.Errorf("found %+v, %v", f, err)
	}
}

// A folder below that may not be read fails by itself and stops no other.
func TestFindWithLockedFolder(t *testing.T) {
	if runtime.GOOS == "windows" || os.Getuid() == 0 {
		t.Skip("nothing is locked here")
	}
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a", "Walls.csv"), "Wall,Width mm,Height mm\nFront,4000,2700\n")
	locked := filepath.Join(dir, "locked")
	if err := os.Mkdir(locked, 0); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(locked, 0o755)
	out := t.TempDir()
	if err := once(t, context.Background(), dir, out, Shard{}, false, nil); convert.KindOf(err) != convert.Missing {
		t.Errorf("got %v", err)
	}
	if report := files(t, out)["lapwright-batch.json"]; strings.Count(report, `"result": "done"`) != 1 || strings.Count(report, `"failure": "input missing"`) != 1 {
		t.Errorf("the report is\n%s", report)
	}
}
