package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/convert/batch"
)

// manySurveys is how many surveys a folder may hold and be taken off without
// being asked for by --many: more is mostly a slip, a folder too high up.
const manySurveys = 1000

// foundIn lists the surveys of a folder; nil for what is no folder of surveys.
func foundIn(c *cli.Context, name, out string) (*batch.Found, error) {
	if !batch.IsBatch(name) {
		return nil, nil
	}
	most := manySurveys
	if c.Bool("many") {
		most = 0
	} else if what := tooHigh(name); what != "" {
		return nil, usageError{name + " is " + what + ": name the folder of the surveys, or add --many"}
	}
	found, err := batch.Find(name, out, most)
	switch {
	case errors.Is(err, batch.ErrMany):
		return nil, usageError{fmt.Sprintf("%s holds more than %d surveys: name a folder nearer to them, or add --many", name, most)}
	case err == nil && len(found.Items) == 0 && found.Takeoffs > 0 && len(found.Left) == 0:
		return nil, &convert.Error{Kind: convert.Unusable, Path: name, What: "holds no survey, only " + convert.Count(found.Takeoffs, "takeoff"),
			Do: "Name the folder of the surveys, or a takeoff by itself to make it anew"}
	case err != nil || len(found.Items) == 0:
		return nil, err
	}
	return &found, nil
}

// tooHigh says what a folder is in which nobody means every workbook.
func tooHigh(folder string) string {
	abs, err := filepath.Abs(folder)
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		abs = real
	}
	home, _ := os.UserHomeDir()
	switch {
	case err != nil:
	case abs == filepath.Dir(abs):
		return "the root of all folders"
	case abs == filepath.Clean(home):
		return "your home folder"
	}
	return ""
}

// found says what a folder holds.
func (p *printer) found(folder string, f *batch.Found) {
	say := convert.Count(len(f.Items), "survey") + " in " + folder
	if len(f.Folders) > 0 {
		say += ", some of them in " + firstOf(f.Folders)
	}
	if len(f.Left) > 0 {
		say += "; left alone: " + firstOf(f.Left)
	}
	p.message(say)
}

// firstOf names the first of a list and counts the rest.
func firstOf(list []string) string {
	const told = 5
	out := strings.Join(list[:min(len(list), told)], ", ")
	if n := len(list) - told; n > 0 {
		out += fmt.Sprintf(" and %d more", n)
	}
	return out
}

// surveysIn puts the surveys of a folder in the place of its name.
func surveysIn(c *cli.Context, p *printer) ([]string, error) {
	var out []string
	for _, n := range expanded(c.Args().Slice()) {
		found, err := foundIn(c, n, "")
		if err != nil {
			return nil, err
		}
		if found == nil {
			out = append(out, n)
			continue
		}
		p.found(n, found)
		for _, it := range found.Items {
			out = append(out, it.In)
		}
	}
	return out, nil
}
