package convert

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// save writes a file whole or not at all: into a temporary file beside the
// target, synced, closed and renamed. A missing folder is made. Where the
// target cannot be replaced, as when it is read-only or a spreadsheet holds it
// open, the new file is kept under the next free numbered name. It returns the
// name written. When it fails it leaves nothing behind, no folder either.
func save(target string, write func(io.Writer) error) (name string, err error) {
	dir := filepath.Dir(target)
	made, err := makeFolder(dir)
	if err != nil {
		return "", &Error{CannotMake, dir, "cannot be made as a folder (" + reason(err) + ")", "Choose another folder", err}
	}
	defer func() {
		if err != nil {
			removeFolders(made)
		}
	}()
	f, err := os.CreateTemp(dir, ".lapwright-*")
	if err != nil {
		return "", &Error{CannotMake, target, "cannot be made: its folder may not be written to (" + reason(err) + ")", "Choose another folder", err}
	}
	defer os.Remove(f.Name()) // no effect once renamed
	if err := fill(f, write); err != nil {
		var ours *Error
		if errors.As(err, &ours) {
			return "", err
		}
		return "", &Error{CannotSave, target, "could not be written (" + reason(err) + ")", "Free some space or choose another folder", err}
	}
	return rename(f.Name(), target)
}

// rename gives a finished file its name, or the next free numbered one.
func rename(file, target string) (string, error) {
	err := replace(file, target)
	if err == nil {
		return target, nil
	}
	if name := numbered(target); os.Rename(file, name) == nil {
		return name, nil
	}
	return "", &Error{CannotSave, target, "cannot be replaced (" + reason(err) + ")", "Close it where it is open, or choose another name", err}
}

// replace renames a file over another, unless that one is read-only: some
// systems would replace it all the same, others not.
func replace(file, target string) error {
	if info, err := os.Lstat(target); err == nil && info.Mode().Perm()&0o200 == 0 {
		return errors.New("it is read-only")
	}
	return os.Rename(file, target)
}

func fill(f *os.File, write func(io.Writer) error) error {
	defer f.Close()
	buffered := bufio.NewWriterSize(f, 1<<16)
	if err := write(buffered); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return f.Close()
}

// saveFolder writes a folder of files whole or not at all: into a temporary
// folder beside the target, which is then renamed. An earlier folder of that
// name is replaced if it holds nothing but CSV files; else it is somebody's
// own, and the new one gets a numbered name.
func saveFolder(target string, write func(dir string) error) (name string, err error) {
	dir := filepath.Dir(target)
	fresh, err := os.MkdirTemp(dir, ".lapwright-*")
	if err != nil {
		return "", &Error{CannotMake, target, "cannot be made: its folder may not be written to (" + reason(err) + ")", "Choose another folder", err}
	}
	defer os.RemoveAll(fresh) // no effect once renamed
	if err := write(fresh); err != nil {
		return "", &Error{CannotSave, target, "could not be written (" + reason(err) + ")", "Free some space or choose another folder", err}
	}
	if err := os.Chmod(fresh, 0o755); err != nil {
		return "", err
	}
	if onlyTables(target) {
		old := fresh + "-old"
		if os.Rename(target, old) == nil {
			defer os.RemoveAll(old)
		}
	}
	return rename(fresh, target)
}

// onlyTables reports whether a folder holds CSV files and nothing else.
func onlyTables(dir string) bool {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if !e.Type().IsRegular() || filepath.Ext(e.Name()) != ".csv" {
			return false
		}
	}
	return err == nil
}

// makeFolder makes a folder and what is missing above it, and returns those
// it made, the innermost first.
func makeFolder(dir string) (made []string, err error) {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); err == nil || d == filepath.Dir(d) {
			break
		}
		made = append(made, d)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		removeFolders(made)
		return nil, err
	}
	return made, nil
}

// removeFolders removes folders that are empty, the innermost first.
func removeFolders(dirs []string) {
	for _, d := range dirs {
		os.Remove(d)
	}
}

// numbered returns the first name of the form "name (2).ext" that is free.
func numbered(path string) string {
	for n := 2; ; n++ {
		if name := numberedBy(path, n); !exists(name) {
			return name
		}
	}
}

// numberedBy returns a name with a number, "name (2).ext".
func numberedBy(path string, n int) string {
	ext := filepath.Ext(path)
	return fmt.Sprintf("%s (%d)%s", strings.TrimSuffix(path, ext), n, ext)
}
