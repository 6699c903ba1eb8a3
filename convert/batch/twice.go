package batch

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/convert/report"
	"lapwright/convert/survey/book"
)

// shared is what two orders both count.
type shared struct {
	a, b   string // the workbooks
	survey string
	plots  []string // "": the one dwelling of its survey
	alike  bool     // the survey was the same file; else it bears the same name
}

// sharedBy finds what two orders both count, by the dwellings that each holds: of
// a survey of the same content wherever it was, and of a survey of one name where
// the takeoffs lie in one folder, as an older and a newer one do. Each order is
// named with the first that counts the same.
func sharedBy(sources []source) []shared {
	var out []shared
	first := map[[3]string]int{}
	for i := range sources {
		from := map[int]*shared{}
		for _, h := range sources[i].held {
			for _, plot := range h.Plots {
				j, alike := i, false
				for n, key := range sources[i].keys(h, plot) {
					before, ok := first[key]
					if !ok {
						first[key] = i
					} else if before != i && j == i {
						j, alike = before, n == 0
					}
				}
				if j == i {
					continue
				}
				if from[j] == nil {
					from[j] = &shared{a: sources[j].name, b: sources[i].name, survey: h.Survey, alike: alike}
				}
				from[j].plots = append(from[j].plots, plot)
			}
		}
		for j := range i {
			if from[j] != nil {
				out = append(out, *from[j])
			}
		}
	}
	return out
}

// keys are what a dwelling is known by. A merged order tells not where its
// takeoffs lie.
func (s *source) keys(h report.Held, plot string) [][3]string {
	keys := [][3]string{{"content", h.Digest, plot}}
	if !s.merged {
		keys = append(keys, [3]string{"name in " + path.Dir(path.Clean(s.name)), strings.ToLower(h.Survey), plot})
	}
	return keys
}

// words says what both count.
func (s shared) words() string {
	what := "the survey " + s.survey
	if len(s.plots) > 0 && s.plots[0] != "" {
		const most = 3
		what = "plot " + strings.Join(s.plots[:min(len(s.plots), most)], ", ")
		if n := len(s.plots) - most; n > 0 {
			what += fmt.Sprintf(" and %d more", n)
		}
		what += " of " + s.survey
	}
	if !s.alike {
		what += ", which was changed between them or is of one name only"
	}
	return s.a + " and " + s.b + " both count " + what
}

// refuseTwice tells of the first of what is counted twice, and counts the rest.
func refuseTwice(all []shared) error {
	const most = 4
	var words []string
	for _, s := range all[:min(len(all), most)] {
		words = append(words, s.words())
	}
	if n := len(all) - most; n > 0 {
		words = append(words, "and "+convert.Count(n, "pair")+" more")
	}
	return &convert.Error{Kind: convert.Unusable, Path: "the order", What: "was not merged: " + strings.Join(words, "; "),
		Do: "Leave out of each pair the one that does not count, or add --twice where both do"}
}

// unnamed tells of takeoffs that lie beside those named under higher numbers and
// were made from the same surveys: a newer one goes there where an edited one is
// kept.
func unnamed(sources []source) []string {
	var out []string
	named := map[string]bool{}
	for _, s := range sources {
		named[path.Clean(s.name)] = true
	}
	for _, s := range sources {
		stem, is := convert.SurveyOf(s.name)
		if !is || s.merged || len(s.held) == 0 {
			continue
		}
		files, err := os.ReadDir(filepath.FromSlash(path.Dir(s.name)))
		if err != nil {
			continue
		}
		for _, f := range files {
			other := path.Join(path.Dir(s.name), f.Name())
			of, is := convert.SurveyOf(other)
			if !is || path.Clean(of) != path.Clean(stem) || named[other] || strings.ToLower(path.Ext(other)) != ".xlsx" || convert.NumberOf(other) <= convert.NumberOf(s.name) {
				continue
			}
			held := convert.HeldIn(filepath.FromSlash(other))
			if i := slices.IndexFunc(held, func(h report.Held) bool { return h.Survey == s.held[0].Survey && len(h.Plots) > 0 }); i >= 0 {
				named[other] = true
				changed := ""
				if held[i].Digest != s.held[0].Digest {
					changed = " but was changed between them"
				}
				out = append(out, other+" lies beside "+s.name+", is of the same survey"+changed+", and is not counted")
			}
		}
	}
	return out
}

// outdated tells of takeoffs whose survey lies where it was taken off from and is
// another one now.
func outdated(sources []source) []string {
	var out []string
	for _, s := range sources {
		if s.merged || len(s.held) != 1 {
			continue
		}
		h := s.held[0]
		stem := strings.TrimSuffix(h.Survey, filepath.Ext(h.Survey))
		folder := filepath.Dir(filepath.FromSlash(s.name))
		own, _ := convert.SurveyOf(filepath.Base(s.name))
		switch {
		case own == stem || own == h.Survey:
		case filepath.Base(folder) == PartsFolder(h.Survey):
			folder = filepath.Dir(folder)
		default:
			continue
		}
		survey := filepath.Join(folder, h.Survey)
		if now, err := book.DigestOf(survey); err == nil && now != h.Digest {
			out = append(out, s.name+" is out of date: "+survey+" was changed after it was taken off, or is another survey of that name")
		}
	}
	return out
}
