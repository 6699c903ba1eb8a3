package convert

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/engine"
)

// besides writes the other files that were asked for: what a survey's headers
// were taken for, and what is to be asked about it. A file that is there may
// hold somebody's work and is kept. It returns the names written.
func besides(ctx context.Context, src *source, o Options) ([]string, error) {
	var out []string
	for _, b := range []struct {
		path  string
		write func(io.Writer) error
	}{
		{o.SaveMapping, src.survey.WriteMapping},
		{o.Questions, func(w io.Writer) error { return writeQuestions(ctx, w, src, o) }},
	} {
		if b.path == "" {
			continue
		}
		name, err := saveNew(b.path, b.write)
		if err != nil {
			return out, err
		}
		out = append(out, name)
	}
	return out, nil
}

// saveNew writes a file that is not there yet.
func saveNew(path string, write func(io.Writer) error) (string, error) {
	if _, err := os.Lstat(path); err == nil {
		return "", &Error{CannotMake, path, "is there already, and is kept", "Name another file", nil}
	}
	return save(path, write)
}

// questions are what to ask the customer, as the workbook lists them.
func questions(s *survey.Survey) []report.Question {
	var out []report.Question
	for _, q := range s.Asks {
		out = append(out, report.Question{Plot: q.Plot, Wall: q.Wall, Sheet: q.Place.Sheet, Cell: q.Place.Cell, Read: q.Read, Wrong: q.Wrong, Ask: q.Ask})
	}
	return out
}

// writeQuestions writes the questions as a workbook, or as plain text where
// the name asks for that.
func writeQuestions(ctx context.Context, w io.Writer, src *source, o Options) error {
	if strings.EqualFold(filepath.Ext(o.Questions), ".txt") {
		return questionText(w, src.survey)
	}
	res := &engine.Result{Job: src.survey.Job}
	return report.WriteQuestions(ctx, w, report.Input{Result: res, Version: o.Version, Accessible: o.Accessible, Questions: questions(src.survey)})
}

func questionText(w io.Writer, s *survey.Survey) error {
	var b strings.Builder
	fmt.Fprintln(&b, strings.TrimSpace("Questions about the survey "+s.Job.Name))
	if len(s.Asks) == 0 {
		b.WriteString("\nThere are none.\n")
	}
	for i, q := range s.Asks {
		place := strings.TrimSpace(q.Plot + " " + q.Wall)
		if place != "" {
			place += ", "
		}
		fmt.Fprintf(&b, "\n%d. %ssheet %s, cell %s\n   Read: %s\n   %s\n   %s\n   Answer: %s\n",
			i+1, place, q.Place.Sheet, q.Place.Cell, cmp.Or(q.Read, "(blank)"), q.Wrong, q.Ask, strings.Repeat("_", 50))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
