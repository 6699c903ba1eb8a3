package convert

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lapwright/convert/report"
	"lapwright/convert/survey"
)

const suffix = ".takeoff.xlsx"

// takeoffName matches the end, without its extension, of the name of a takeoff
// or of a numbered one.
var takeoffName = regexp.MustCompile(`(?i)\.takeoff(?: \((\d+)\))?$`)

// SurveyOf returns the name, without extension, of the survey that a takeoff
// of this name was made from; ok is false for the name of no takeoff.
func SurveyOf(path string) (stem string, ok bool) {
	stem = strings.TrimSuffix(path, filepath.Ext(path))
	cut := takeoffName.ReplaceAllString(stem, "")
	return cut, cut != stem
}

// NumberOf returns the number that stands in the name of a takeoff, 1 where none
// does.
func NumberOf(path string) int {
	if m := takeoffName.FindStringSubmatch(strings.TrimSuffix(path, filepath.Ext(path))); m != nil {
		if n, err := strconv.Atoi(m[1]); err == nil {
			return n
		}
	}
	return 1
}

// OutIsFile reports whether Out names a single file.
func (o Options) OutIsFile() bool {
	return strings.EqualFold(filepath.Ext(o.Out), ".xlsx") && !isFolder(o.Out)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// target returns where the takeoff of a survey goes, and why not where it would
// have gone but for a file there: an input is never written to, and a takeoff
// that is fed in again is made anew under a numbered name. Edits are those that
// the survey brings, and fed says that a takeoff of it can be fed in.
func target(in string, edits map[survey.EditKey]survey.Edit, fed bool, o Options) Saved {
	stem, again := SurveyOf(in)
	if isFolder(in) {
		stem, again = filepath.Clean(in), false
	}
	name := stem + suffix
	switch {
	case o.OutIsFile():
		name, again = o.Out, false
	case o.Out != "":
		name = filepath.Join(o.Out, filepath.Base(name))
	}
	same := func(other string) bool { return sameFile(other, name) }
	switch _, err := os.Lstat(name); {
	case err != nil:
		return Saved{Name: name}
	case same(in):
		return aside(name, "it is what was taken off")
	case slices.ContainsFunc(o.Keep, same):
		return aside(name, "another survey of this run is there, or its takeoff")
	case again:
		return aside(name, "a takeoff that is fed in again is made anew under a number")
	}
	how := "type it into the new one, or into Products"
	if fed {
		how = "feed " + name + " in, in place of the survey"
	}
	why := keeps(name, report.RunName, edits, how)
	if why == "" {
		if was := survey.SurveyNamed(name); was != "" && was != filepath.Base(in) {
			why = "it is the takeoff of another survey, " + was
		}
	}
	return asideFor(name, why)
}

// IsTakeoff reports whether a file is a takeoff workbook, by the mark inside.
func IsTakeoff(path string) bool { return marked(path, report.RunName) }

// marksWithin is how far into the list of sheets and names a mark is looked for;
// a takeoff of many thousand walls has it behind some megabytes.
const marksWithin = 1 << 26

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
	text, err := io.ReadAll(io.LimitReader(f, marksWithin))
	return err == nil && bytes.Contains(text, []byte(name))
}

func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
