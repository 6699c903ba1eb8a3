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
	"lapwright/convert/survey/book"
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

// target returns where the takeoff of a source goes, and why not where it would
// have gone but for a file there: an input is never written to, and a takeoff
// that is fed in again is made anew under the next free number, as what has one may
// be of the survey as it stands now. A run of a survey that is repeated replaces what
// it made, numbered or not. fed says that a takeoff of the source can
// be fed in.
func (src *source) target(fed bool, o Options) Saved {
	in := src.path
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
	if !exists(name) {
		return Saved{Name: name}
	}
	k := keeper{report.RunName, src.survey.Edits, func(path string) string {
		if fed {
			return "feed " + path + " in, in place of the survey"
		}
		return "type it into the new one, or into Products"
	}, fed}
	why := src.inTheWay(name, again, o)
	if why == "" {
		why = k.keeps(name)
	}
	if why == "" && src.nothing && counts(name) {
		why = "nothing could be taken off this time"
	}
	if was := surveyOf(name); why == "" && was != "" && was != src.origin.Survey {
		why = "it is the takeoff of another survey, " + was
	}
	if why == "" {
		return Saved{Name: name}
	}
	from := 2
	if again {
		from = NumberOf(in) + 1
	}
	return k.aside(name, why, from, func(name string) bool {
		return again || src.nothing && counts(name) || src.inTheWay(name, false, o) != "" || surveyOf(name) != src.origin.Survey
	})
}

// inTheWay says why a name cannot be that of a takeoff in this run; again, that the
// source is a takeoff itself.
func (src *source) inTheWay(name string, again bool, o Options) string {
	same := func(other string) bool { return sameFile(other, name) }
	switch {
	case same(src.path):
		return "it is what was taken off"
	case slices.ContainsFunc(o.Keep, same):
		return "another survey of this run is there, or its takeoff"
	case again:
		return "a takeoff that is fed in again is made anew under a number"
	}
	return ""
}

// surveyOf names the survey that a takeoff was made of; blank where it is none, or
// does not say.
func surveyOf(path string) string {
	held := HeldIn(path)
	if len(held) != 1 || !IsTakeoff(path) {
		return ""
	}
	return held[0].Survey
}

// counts reports whether a takeoff holds anything that could be built.
func counts(path string) bool {
	return slices.ContainsFunc(HeldIn(path), func(h report.Held) bool { return len(h.Plots) > 0 })
}

// HeldIn says which dwellings of which surveys a workbook counts; nothing where it
// does not say.
func HeldIn(path string) []report.Held {
	b, err := book.NamesIn(path)
	if err != nil {
		return nil
	}
	return report.ReadHeld(b.Text(report.HeldName))
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
