package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
)

// expanded returns the names with wildcards filled in, for shells that leave
// them to the program. A name that is a file stays as it is whatever signs it
// holds, and so does a pattern that matches nothing, to be reported missing.
func expanded(names []string) []string {
	var out []string
	for _, n := range names {
		matches := []string{n}
		if _, err := os.Lstat(n); err != nil && strings.ContainsAny(n, "*?[") {
			if found, err := filepath.Glob(n); err == nil && len(found) > 0 {
				matches = found
			}
		}
		for _, m := range matches {
			if !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// chosen splits the names into those to take off and those that a wildcard
// caught with them, each with the reason to leave it: a takeoff whose survey
// is there too, and the file by which a spreadsheet program holds another one.
func chosen(names []string) (take, leave []string) {
	surveys := map[string]string{}
	for _, n := range names {
		if _, is := convert.SurveyOf(n); !is {
			surveys[strings.TrimSuffix(n, filepath.Ext(n))] = n
		}
	}
	for _, n := range names {
		stem, is := convert.SurveyOf(n)
		survey, named := surveys[stem]
		switch {
		case len(names) > 1 && convert.IsLock(n):
			leave = append(leave, n+" is left alone: a spreadsheet program made it while a workbook is open.")
		case is && named:
			leave = append(leave, n+" is left alone: it is the takeoff of "+survey+".")
		default:
			take = append(take, n)
		}
	}
	return take, leave
}
