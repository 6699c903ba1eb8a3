package convert

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// save writes a file whole or not at all: into a temporary file beside the
// target, synced, closed and renamed. Where the target cannot be replaced, as
// when a spreadsheet holds it open, the new file is kept under the next free
// numbered name. It returns the name written.
func save(target string, write func(io.Writer) error) (string, error) {
	dir := filepath.Dir(target)
	f, err := os.CreateTemp(dir, ".lapwright-*")
	if err != nil {
		return "", &Error{CannotMake, target, "the folder cannot be written to", "choose another with --out", err}
	}
	defer os.Remove(f.Name()) // no effect once renamed
	if err := fill(f, write); err != nil {
		var ours *Error
		if errors.As(err, &ours) {
			return "", err
		}
		return "", &Error{CannotSave, target, "writing failed: " + err.Error(), "free some space or choose another folder with --out", err}
	}
	for _, name := range []string{target, numbered(target)} {
		if err = os.Rename(f.Name(), name); err == nil {
			return name, nil
		}
	}
	return "", &Error{CannotSave, target, "the file cannot be replaced", "close it where it is open, or choose another name with --out", err}
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

// numbered returns the first name of the form "name (2).ext" that is free.
func numbered(path string) string {
	ext := filepath.Ext(path)
	stem := strings.TrimSuffix(path, ext)
	for n := 2; ; n++ {
		name := fmt.Sprintf("%s (%d)%s", stem, n, ext)
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name
		}
	}
}
