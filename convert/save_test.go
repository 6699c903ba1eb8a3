package convert

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func writes(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

// listing returns every file and folder below dir, with what the files hold.
func listing(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		name = filepath.ToSlash(name)
		if d.IsDir() {
			out = append(out, name+"/")
			return nil
		}
		text, err := os.ReadFile(path)
		out = append(out, name+"="+string(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(out)
	return out
}

func put(t *testing.T, path, text string, mode os.FileMode) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), mode); err != nil {
		t.Fatal(err)
	}
}

func TestSaveWholeOrNotAtAll(t *testing.T) {
	full := errors.New("no space left on device")
	half := func(w io.Writer) error {
		if _, err := io.WriteString(w, strings.Repeat("half", 1<<16)); err != nil {
			return err
		}
		return full
	}
	long := strings.Repeat("long", 80) + ".xlsx" // no file system takes a name of 320 bytes
	tests := []struct {
		name   string
		before func(t *testing.T, dir string)
		target string
		write  func(io.Writer) error
		kind   Kind // where it fails
		want   string
		left   []string
	}{
		{"new", nil, "a.xlsx", writes("new"), 0, "a.xlsx", []string{"a.xlsx=new"}},
		{"in a missing folder", nil, "x/y/a.xlsx", writes("new"), 0, "x/y/a.xlsx", []string{"x/", "x/y/", "x/y/a.xlsx=new"}},
		{"over an old one", func(t *testing.T, dir string) { put(t, dir+"/a.xlsx", "old", 0o644) },
			"a.xlsx", writes("new"), 0, "a.xlsx", []string{"a.xlsx=new"}},
		{"over a read-only one", func(t *testing.T, dir string) { put(t, dir+"/a.xlsx", "old", 0o444) },
			"a.xlsx", writes("new"), 0, "a (2).xlsx", []string{"a (2).xlsx=new", "a.xlsx=old"}},
		{"where the rename fails", func(t *testing.T, dir string) {
			if err := os.Mkdir(dir+"/a.xlsx", 0o755); err != nil {
				t.Fatal(err)
			}
			put(t, dir+"/a (2).xlsx", "other", 0o644)
		}, "a.xlsx", writes("new"), 0, "a (3).xlsx", []string{"a (2).xlsx=other", "a (3).xlsx=new", "a.xlsx/"}},
		{"writing fails", func(t *testing.T, dir string) { put(t, dir+"/a.xlsx", "old", 0o644) },
			"a.xlsx", half, CannotSave, "", []string{"a.xlsx=old"}},
		{"writing fails in a missing folder", nil, "x/y/a.xlsx", half, CannotSave, "", nil},
		{"no name can be given", nil, long, writes("new"), CannotSave, "", nil},
		{"the folder is a file", func(t *testing.T, dir string) { put(t, dir+"/x", "file", 0o644) },
			"x/a.xlsx", writes("new"), CannotMake, "", []string{"x=file"}},
		{"a file further up", func(t *testing.T, dir string) { put(t, dir+"/x", "file", 0o644) },
			"x/y/z/a.xlsx", writes("new"), CannotMake, "", []string{"x=file"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			if tt.before != nil {
				tt.before(t, dir)
			}
			name, err := save(filepath.Join(dir, tt.target), tt.write)
			if tt.want == "" && (err == nil || KindOf(err) != tt.kind) {
				t.Errorf("save: got %q, error %v of kind %d, want kind %d", name, err, KindOf(err), tt.kind)
			}
			if tt.want != "" && (err != nil || name != filepath.Join(dir, tt.want)) {
				t.Errorf("save: got %q, %v, want %q", name, err, tt.want)
			}
			if left := listing(t, dir); !slices.Equal(left, tt.left) {
				t.Errorf("left behind: got %.200q, want %q", left, tt.left)
			}
		})
	}
}

func TestSaveIntoAShutFolder(t *testing.T) {
	if os.Geteuid() == 0 || runtime.GOOS == "windows" {
		t.Skip("root may write anywhere, and on Windows no mode shuts a folder")
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if _, err := save(filepath.Join(dir, "a.xlsx"), writes("new")); KindOf(err) != CannotMake {
		t.Errorf("got %v of kind %d, want kind %d", err, KindOf(err), CannotMake)
	}
	if left := listing(t, dir); left != nil {
		t.Errorf("left behind: %q", left)
	}
}

// The unfinished file must not bear the name of the result, so that nobody
// opens half a workbook.
func TestSaveShowsNoHalf(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "a.xlsx")
	put(t, target, "old", 0o644)
	_, err := save(target, func(w io.Writer) error {
		if _, err := io.WriteString(w, strings.Repeat("new", 1<<16)); err != nil {
			return err
		}
		if text, err := os.ReadFile(target); err != nil || string(text) != "old" {
			t.Errorf("while writing, the target holds %.20q (%v), want %q", text, err, "old")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
