package convert

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/engine"
)

// Format is a form in which a result is written beside its workbook.
type Format string

// The forms. UBL is the order alone.
const (
	UBL  Format = "ubl"
	JSON Format = "json"
	CSV  Format = "csv"
)

// Formats reads a list of forms, with commas between.
func Formats(list string) ([]Format, error) {
	var out []Format
	for _, word := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		f := Format(strings.ToLower(word))
		if f != UBL && f != JSON && f != CSV {
			return nil, fmt.Errorf("%q is none of ubl, json and csv", word)
		}
		out = append(out, f)
	}
	return out, nil
}

// Export is a result in other forms, checked before anything is written.
type Export struct {
	Formats []Format
	Order   exchange.Order
	Tables  func() ([]report.Table, error)
	JSON    func(io.Writer) error
}

var isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

// Check reports why the order cannot be written, as far as that is known; in
// is the survey.
func (e Export) Check(in string) error {
	for _, f := range e.Formats {
		if f == UBL && !isoDate.MatchString(e.Order.Parties.IssueDate) {
			return &Error{Unusable, in, "gives no date for its order, which a UBL order must have",
				"Fill in Issue date in the sheet Job, as 2026-03-31, or leave ubl out of --export", nil}
		}
	}
	return nil
}

// name is where a form stands beside a workbook of that name.
func (f Format) name(book string) string {
	stem := strings.TrimSuffix(book, filepath.Ext(book))
	switch f {
	case UBL:
		return stem + ".order.xml"
	case JSON:
		return stem + ".json"
	}
	return stem + " csv"
}

func (e Export) ubl(w io.Writer) error { return exchange.UBL(w, e.Order) }

// Write writes each form beside a workbook of that name, each whole or not at
// all, and returns their names.
func (e Export) Write(book string) ([]string, error) {
	var out []string
	for _, f := range e.Formats {
		name := f.name(book)
		var err error
		switch f {
		case UBL:
			name, err = save(name, e.ubl)
		case JSON:
			name, err = save(name, e.JSON)
		case CSV:
			name, err = e.writeTables(name)
		}
		if err != nil {
			return out, err
		}
		out = append(out, name)
	}
	return out, nil
}

// Earlier returns the forms that lie beside a workbook of that name, are not
// written now, and are not what would be: an earlier run left them, and whoever
// sends one on sends another job than the workbook. They are kept, as nothing in
// them tells whether somebody has written into them since.
func (e Export) Earlier(book string) []string {
	var out []string
	for _, f := range []Format{UBL, JSON, CSV} {
		if name := f.name(book); !slices.Contains(e.Formats, f) && exists(name) && !e.stands(f, name) {
			out = append(out, name)
		}
	}
	return out
}

// stands reports whether a file, or a folder of tables, is what would be written.
func (e Export) stands(f Format, name string) bool {
	switch f {
	case UBL:
		return holds(name, e.ubl)
	case JSON:
		return holds(name, e.JSON)
	}
	tables, err := e.Tables()
	files, err2 := os.ReadDir(name)
	return err == nil && err2 == nil && len(files) == len(tables) && !slices.ContainsFunc(tables, func(t report.Table) bool {
		return !holds(filepath.Join(name, t.Sheet+".csv"), func(w io.Writer) error { return exchange.CSV(w, t.Header, t.Rows) })
	})
}

// holds reports whether a file holds the bytes that are written.
func holds(name string, write func(io.Writer) error) bool {
	is, err := os.ReadFile(name)
	sum := sha256.New()
	return err == nil && write(sum) == nil && sha256.Sum256(is) == [sha256.Size]byte(sum.Sum(nil))
}

func (e Export) writeTables(folder string) (string, error) {
	tables, err := e.Tables()
	if err != nil {
		return "", err
	}
	return saveFolder(folder, func(dir string) error {
		for _, t := range tables {
			f, err := os.Create(filepath.Join(dir, t.Sheet+".csv"))
			if err != nil {
				return err
			}
			if err := fill(f, func(w io.Writer) error { return exchange.CSV(w, t.Header, t.Rows) }); err != nil {
				return err
			}
		}
		return nil
	})
}

// exportOf returns a takeoff in the forms asked for.
func exportOf(src *source, res *engine.Result, o Options) (Export, error) {
	lacks := report.Lacks(res)
	d := digest(src.survey.Digest, o)
	e := Export{
		Formats: o.Export,
		Order:   exchange.OrderOf(res, "lapwright-"+d[:12], lacks),
		Tables:  func() ([]report.Table, error) { return report.Tables(reportInput(src, res, o)) },
		JSON: func(w io.Writer) error {
			return exchange.JSON(w, res, exchange.Run{Program: strings.TrimSpace("lapwright " + o.Version), Survey: filepath.Base(src.path), Digest: d, Lacks: lacks})
		},
	}
	return e, e.Check(src.path)
}

// writeAll writes the workbook, and beside it what else was asked for.
func writeAll(ctx context.Context, src *source, res *engine.Result, rep *Report, o Options) error {
	e, err := exportOf(src, res, o)
	if err != nil {
		return err
	}
	saved, err := write(ctx, src, res, o)
	rep.Held = src.held(res)
	rep.Out, rep.Kept, rep.Why = saved.Name, saved.Kept, saved.Why
	if err != nil {
		return err
	}
	rep.Earlier = e.Earlier(rep.Out)
	rep.PlainUBL = e.Order.Plain()
	rep.Exports, err = e.Write(rep.Out)
	return err
}
