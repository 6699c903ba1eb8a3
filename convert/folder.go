package convert

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/engine"
)

// Own begins the names of the files that batches and merged orders are written
// to.
const Own = "lapwright-"

// IsOwn reports whether a file is one of those, by its name.
func IsOwn(path string) bool { return strings.HasPrefix(filepath.Base(path), Own) }

// IsAside reports whether a file of that name is none that somebody means as a
// survey: hidden, the lock of an open workbook, a batch's own, or a takeoff.
func IsAside(name string) bool {
	_, takeoff := SurveyOf(name)
	return takeoff || IsLock(name) || strings.HasPrefix(name, ".") || IsOwn(name)
}

// IsWorkbook reports whether a file of that name may be a survey, or is of a kind
// for which reading says how to make it one.
func IsWorkbook(name string) bool {
	return !IsAside(name) && slices.Contains([]string{".xlsx", ".xlsm", ".xls", ".xlsb", ".ods"}, strings.ToLower(filepath.Ext(name)))
}

// unread flags what lies in a folder of CSV files and may be a survey too: they
// alone were read.
func unread(folder string) []engine.Flag {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil // it is a file, or reading has said so
	}
	var out []engine.Flag
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		if e.IsDir() && holdsWorkbooks(path) || !e.IsDir() && IsWorkbook(e.Name()) && !IsTakeoff(path) {
			out = append(out, engine.Flag{Severity: engine.Check, Code: "file-unread", Place: engine.Place{File: path},
				What: "The folder was read as one survey, of its CSV files; this was not read", Do: "Take it off by its own name, if it is a survey"})
		}
	}
	return out
}

// holdsWorkbooks reports whether a folder that is not hidden holds what may be a
// survey.
func holdsWorkbooks(folder string) bool {
	entries, err := os.ReadDir(folder)
	return err == nil && !strings.HasPrefix(filepath.Base(folder), ".") &&
		slices.ContainsFunc(entries, func(e os.DirEntry) bool { return !e.IsDir() && IsWorkbook(e.Name()) })
}
