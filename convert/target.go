package convert

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"lapwright/convert/report"
)

const suffix = ".takeoff.xlsx"

// takeoffName matches the end, without its extension, of the name of a takeoff
// or of a numbered one.
var takeoffName = regexp.MustCompile(`(?i)\.takeoff( \(\d+\))?$`)

// SurveyOf returns the name, without extension, of the survey that a takeoff
// of this name was made from; ok is false for the name of no takeoff.
func SurveyOf(path string) (stem string, ok bool) {
	stem = strings.TrimSuffix(path, filepath.Ext(path))
	cut := takeoffName.ReplaceAllString(stem, "")
	return cut, cut != stem
}

// OutIsFile reports whether Out names a single file.
func (o Options) OutIsFile() bool {
	return strings.EqualFold(filepath.Ext(o.Out), ".xlsx") && !isFolder(o.Out)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// target returns where the takeoff of a survey goes, and the name it would
// have had but for a file that must be kept: an input is never written to, and
// a takeoff that is fed in again is made anew under a numbered name.
func target(in string, o Options) (name, kept string) {
	stem, again := SurveyOf(in)
	if isFolder(in) {
		stem, again = filepath.Clean(in), false
	}
	name = stem + suffix
	switch {
	case o.OutIsFile():
		name, again = o.Out, false
	case o.Out != "":
		name = filepath.Join(o.Out, filepath.Base(name))
	}
	same := func(other string) bool { return sameFile(other, name) }
	_, err := os.Lstat(name)
	if same(in) || slices.ContainsFunc(o.Keep, same) || again && err == nil || !replaceable(name) {
		return numbered(name), name
	}
	return name, ""
}

// replaceable reports whether a file of that name may be written over: there is
// none, or it is a takeoff by its name or by the mark inside. Anything else is
// somebody's work and is kept.
func replaceable(path string) bool {
	if info, err := os.Stat(path); err != nil || info.IsDir() || strings.HasSuffix(strings.ToLower(path), suffix) {
		return true // a folder refuses by itself
	}
	return IsTakeoff(path)
}

// IsTakeoff reports whether a file is a takeoff workbook, by the mark inside.
func IsTakeoff(path string) bool { return marked(path, report.RunName) }

// Unless returns the path, or the first numbered one that is free where
// something is there that is no workbook of ours with that mark.
func Unless(path, mark string) string {
	if _, err := os.Lstat(path); err == nil && !marked(path, mark) {
		return numbered(path)
	}
	return path
}

// marked reports whether a file is a workbook with that hidden name.
func marked(path, name string) bool {
	z, err := zip.OpenReader(path)
	if err != nil {
		return false
	}
	defer z.Close()
	f, err := z.Open("xl/workbook.xml")
	if err != nil {
		return false
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, 1<<20))
	return err == nil && bytes.Contains(text, []byte(name))
}

func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
