package convert

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
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

// Write writes each form beside a workbook of that name, each whole or not at
// all, and returns their names.
func (e Export) Write(book string) ([]string, error) {
	stem := strings.TrimSuffix(book, filepath.Ext(book))
	var out []string
	for _, f := range e.Formats {
		var name string
		var err error
		switch f {
		case UBL:
			name, err = save(stem+".order.xml", func(w io.Writer) error { return exchange.UBL(w, e.Order) })
		case JSON:
			name, err = save(stem+".json", e.JSON)
		case CSV:
			name, err = e.writeTables(stem + " csv")
		}
		if err != nil {
			return out, err
		}
		out = append(out, name)
	}
	return out, nil
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
	if err != nil || len(o.Export) == 0 {
		return err
	}
	rep.PlainUBL = e.Order.Plain()
	rep.Exports, err = e.Write(rep.Out)
	return err
}
