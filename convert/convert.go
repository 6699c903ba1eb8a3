// Package convert makes takeoffs of surveys, from file to file. It reads a
// survey, runs the engine and writes the takeoff workbook whole or not at all.
package convert

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"unicode"
	"unicode/utf8"

	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/engine"
	"lapwright/templates"
)

// Example as an input stands for the built-in example survey, whose takeoff
// goes into the current folder.
const Example = "\x00example"

const exampleName = "example.xlsx"

// Options of a conversion. The zero value writes beside the survey.
type Options struct {
	Out           string   // file, or folder, to write to
	Keep          []string // files that are not written over
	CheckOnly     bool     // write nothing
	Strict        bool     // write nothing if anything stops a wall
	Effort        engine.Effort
	Accessible    bool   // without what hinders screen readers
	WithoutSurvey bool   // leave the survey's own sheets out
	Products      string // CSV of a catalogue
	Mapping       string // CSV of a header mapping
	SaveMapping   string // file to write what each sheet and header was taken for
	Questions     string // file to write what is to be asked about the survey
	Version       string // of the program, for the record
	Export        []Format
}

// Convert takes off one survey. The report tells what was found even where the
// conversion fails; the error is an [*Error]. A survey of which nothing could be
// taken off fails too; a workbook is written all the same, for its flags.
func Convert(ctx context.Context, in string, o Options) (rep Report, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = failure(shown(in), fmt.Errorf("%v\n%s", p, debug.Stack()))
		}
	}()
	rep = newReport(shown(in))
	src, err := open(ctx, in, o)
	if src == nil {
		return rep, failure(rep.In, asTyped(err, in, o))
	}
	rep.Digest = src.survey.Digest
	beside, err2 := besides(ctx, src, o)
	if rep.Beside = beside; err != nil { // what was asked for besides is wanted most then
		rep.Flags = src.survey.Flags
		return rep, failure(rep.In, asTyped(err, in, o))
	}
	if err2 != nil {
		return rep, err2
	}
	res, err := takeoff(ctx, src.survey, o, nil)
	if err != nil {
		return rep, failure(rep.In, err)
	}
	rep.fill(res)
	if o.Strict && rep.Stops() > 0 {
		return rep, &Error{Refused, rep.In, "has stops, and --strict was asked for: nothing was written", "Mend the flagged cells and run again", nil}
	}
	if o.CheckOnly {
		return rep, nil
	}
	src.nothing = rep.Built == 0
	if err := writeAll(ctx, src, res, &rep, o); err != nil || !src.nothing {
		return rep, err
	}
	return rep, &Error{Unusable, rep.In, "has no wall that could be taken off", "Mend what the sheet Flagged issues of its takeoff lists, and run it again", nil}
}

// shown returns the name of an input as a user knows it.
func shown(in string) string {
	if in == Example {
		return exampleName
	}
	return in
}

// source is a survey as read, with the workbook it came in.
type source struct {
	path   string // where it is, or where the example would be
	survey *survey.Survey
	origin report.Held // the survey that this is a takeoff of, or this one
	book   []byte      // nil: it was no workbook

	nothing bool // could be taken off
}

func open(ctx context.Context, in string, o Options) (*source, error) {
	path := in
	if in == Example {
		dir, err := os.MkdirTemp("", "lapwright")
		if err != nil {
			return nil, err
		}
		defer os.RemoveAll(dir)
		path = filepath.Join(dir, exampleName)
		if err := writeExample(path); err != nil {
			return nil, err
		}
	}
	s, err := survey.Read(ctx, path, survey.Options{Products: o.Products, Mapping: o.Mapping})
	if s == nil {
		return nil, err
	}
	s.Flags = append(s.Flags, unread(path)...)
	src := &source{path: shown(in), survey: s, origin: origin(shown(in), s)}
	if err != nil {
		return src, err
	}
	if ext := strings.ToLower(filepath.Ext(path)); ext == ".xlsx" || ext == ".xlsm" {
		src.book, err = os.ReadFile(path)
	}
	return src, err
}

// origin names the survey that is taken off: where a takeoff is fed in, the one
// that it was made from.
func origin(in string, s *survey.Survey) report.Held {
	if held := report.ReadHeld(s.Held); len(held) == 1 {
		return report.Held{Survey: held[0].Survey, Digest: held[0].Digest}
	}
	return report.Held{Survey: filepath.Base(in), Digest: s.Digest}
}

// held says what the takeoff of a source counts.
func (src *source) held(res *engine.Result) report.Held {
	return report.HeldIn(res, src.origin.Survey, src.origin.Digest)
}

// writeExample writes the example for a moment; it need not last.
func writeExample(path string) error {
	data, err := survey.Example()
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o600)
}

// takeoff runs the engine on what was read. Walls whose rows were not taken,
// but whose outline is known, get a provisional quantity.
func takeoff(ctx context.Context, s *survey.Survey, o Options, layouts *engine.Layouts) (*engine.Result, error) {
	job := s.Job
	job.Currency = cmp.Or(job.Currency, "GBP")
	if o.Effort != engine.EffortAuto {
		job.Effort = o.Effort
	}
	for _, r := range s.Rejected {
		if r.As == "Walls" {
			left := engine.LeftOut{Plot: r.Plot, Name: r.Name, Why: r.Why, Wall: r.Wall}
			job.Left = append(job.Left, left)
		}
	}
	job.Edits = edits(s)
	res, err := layouts.Takeoff(ctx, job)
	if err != nil {
		return nil, err
	}
	res.Flags = append(s.Flags[:len(s.Flags):len(s.Flags)], res.Flags...)
	for i := range res.Flags {
		f := &res.Flags[i]
		f.What, f.Do = capital(f.What), capital(f.Do)
	}
	return res, nil
}

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// failure turns any error into an [*Error].
func failure(in string, err error) error {
	var ours *Error
	var theirs *survey.Error
	switch {
	case errors.As(err, &ours):
		return err
	case errors.As(err, &theirs):
		kind := Unusable
		if theirs.Missing {
			kind = Missing
		}
		return &Error{kind, theirs.File, theirs.What, theirs.Do, err}
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &Error{Interrupted, in, "was interrupted: nothing was written", "Run it again", err}
	}
	why, _, _ := strings.Cut(err.Error(), "\n")
	return &Error{Internal, in, "met a fault of this program (" + why + "): nothing was written", "Please report it with the survey", err}
}

// asTyped names the file that a survey's error names alone by the path that
// was typed, or that leads to it from there.
func asTyped(err error, in string, o Options) error {
	var e *survey.Error
	if !errors.As(err, &e) {
		return err
	}
	named := *e
	for _, p := range []string{in, o.Products, o.Mapping} {
		if filepath.Base(p) == e.File {
			named.File = p
			return &named
		}
	}
	if inside := filepath.Join(in, e.File); isFolder(in) && sameFile(inside, inside) {
		named.File = inside
	}
	return &named
}

// write writes the takeoff workbook.
func write(ctx context.Context, src *source, res *engine.Result, o Options) (Saved, error) {
	in := reportInput(src, res, o)
	if !o.WithoutSurvey {
		in.Survey = src.book
		for _, s := range src.survey.Sums {
			in.Sums = append(in.Sums, report.SheetSum(s))
		}
	}
	return src.target(in.Survey != nil, o).save(func(w io.Writer) error {
		err := report.Write(ctx, w, in)
		if err != nil && ctx.Err() != nil {
			return failure(src.path, ctx.Err())
		}
		return err
	})
}

// reportInput is what the workbook of a takeoff is made from, but for the
// survey's own sheets.
func reportInput(src *source, res *engine.Result, o Options) report.Input {
	return report.Input{
		Result: res, SurveyName: filepath.Base(src.path), Held: src.held(res), Version: o.Version, Digest: digest(src.survey.Digest, o),
		Accessible: o.Accessible, AsRead: asRead(src.survey), Rejected: rejected(src.survey), Rows: rows(src.survey),
		Changes: changes(src.survey, res), Questions: questions(src.survey),
	}
}

// digest identifies a run: the survey, and the options that change its result.
func digest(survey string, o Options) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s %s %s %v %v", survey, o.Version, o.Effort, o.Accessible, o.WithoutSurvey))
	return hex.EncodeToString(sum[:])
}

// Template writes a blank survey workbook, or the filled example, and returns
// its name. An existing file is not replaced.
func Template(path string, example bool) (string, error) {
	return saveNew(path, func(w io.Writer) error { return survey.WriteTemplate(w, example) })
}

// Catalogue writes the built-in catalogue as CSV, to be changed and named as a
// catalogue of one's own, and returns the file's name. An existing file is not
// replaced.
func Catalogue(path string) (string, error) {
	return saveNew(path, func(w io.Writer) error {
		rows, err := templates.Catalogue()
		if err != nil {
			return err
		}
		return csv.NewWriter(w).WriteAll(rows)
	})
}
