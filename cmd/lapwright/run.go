package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/convert/batch"
	"lapwright/engine"
)

// version is what --version and the workbooks say; a release build sets it
// with -ldflags.
var version = "dev"

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	out := &output{w: stdout}
	app := newApp(out, stderr)
	args, err := arranged(app, args)
	if err == nil {
		err = app.RunContext(ctx, args)
	}
	if err == nil && out.err != nil {
		err = outputError{fmt.Errorf("standard output cannot be written: %w", out.err)}
	}
	tell(stderr, err)
	return exitCode(err)
}

// tell prints a failure that has not been told yet.
func tell(w io.Writer, err error) {
	switch {
	case err == nil, errors.As(err, new(*toldError)), errors.As(err, new(stopsError)):
		return
	}
	fmt.Fprintln(w, "lapwright:", err)
	if exitCode(err) == exitUsage {
		fmt.Fprintln(w, "See lapwright --help.")
	}
}

// output is standard output, and remembers that it failed.
type output struct {
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// writeTemplate writes a blank survey workbook, the example, or the catalogue.
func writeTemplate(c *cli.Context) error {
	if c.NArg() > 1 {
		return usageError{"template writes one file"}
	}
	name, want, write := "survey", ".xlsx", func(path string) (string, error) { return convert.Template(path, c.Bool("example")) }
	switch {
	case c.Bool("example") && c.Bool("catalogue"):
		return usageError{"the example is a workbook and the catalogue is CSV: ask for one at a time"}
	case c.Bool("example"):
		name = "example"
	case c.Bool("catalogue"):
		name, want, write = "catalogue", ".csv", convert.Catalogue
	}
	name = cmp.Or(c.Args().First(), name)
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case ext == "":
		name += want
	case ext != want && want == ".csv":
		return usageError{"the catalogue ends in .csv, not " + ext}
	case ext != want:
		return usageError{"a survey workbook ends in .xlsx, not " + ext}
	}
	written, err := write(name)
	if err == nil {
		fmt.Fprintln(c.App.Writer, "written:", written)
	}
	return err
}

// convertAll takes off every survey named. One that fails does not stop the
// others; the first failure decides the exit code.
func convertAll(c *cli.Context, checkOnly bool) error {
	o, err := optionsOf(c, checkOnly)
	if err != nil {
		return err
	}
	p := &printer{stdout: c.App.Writer, stderr: c.App.ErrWriter, quiet: c.Bool("quiet"), json: c.Bool("json"), check: checkOnly, bySize: o.Effort == engine.EffortAuto}
	if c.Bool("watch") {
		if err := onlyOne(o, 2); err != nil {
			return err
		}
		return watch(c, o, p)
	}
	if c.IsSet("every") {
		return usageError{"--every is how often --watch looks: add --watch, or leave it out"}
	}
	if !checkOnly {
		job, err := batchOf(c, o, p)
		if err != nil {
			return err
		}
		if job != nil {
			if err := onlyOne(o, 2); err != nil {
				return err
			}
			return job.run(c.Context, p)
		}
	}
	all, err := surveysIn(c, p)
	if err != nil {
		return err
	}
	names, left := chosen(all)
	if c.Bool("example") {
		names = append(names, convert.Example)
	}
	if len(names) == 0 {
		return usageError{"name a survey, or add --example"}
	}
	if len(names) > 1 && o.OutIsFile() {
		return usageError{"--out names one file but there are several surveys: name a folder"}
	}
	if err := onlyOne(o, len(names)); err != nil {
		return err
	}
	for _, why := range left {
		p.message(why)
	}
	err = each(c.Context, names, o, p)
	return errors.Join(err, p.close())
}

// onlyOne refuses what belongs to one survey where there are several.
func onlyOne(o convert.Options, surveys int) error {
	switch {
	case surveys > 1 && o.SaveMapping != "":
		return usageError{"--save-mapping is for one survey at a time"}
	case surveys > 1 && o.Questions != "":
		return usageError{"--questions is for one survey at a time"}
	}
	return nil
}

// each takes off the surveys until interrupted and tells of each in order. What
// one has written, and what is still to be read, no other one writes over.
func each(ctx context.Context, names []string, o convert.Options, p *printer) error {
	entries, err := batch.Run(ctx, batch.Named(names, o.Out), batch.Options{Convert: o, Done: p.report})
	if err != nil {
		return err
	}
	return ended(entries)
}

func optionsOf(c *cli.Context, checkOnly bool) (convert.Options, error) {
	o := convert.Options{
		Out: c.String("out"), CheckOnly: checkOnly, Strict: c.Bool("strict"), Effort: engine.Effort(c.String("effort")),
		Accessible: c.Bool("accessible"), WithoutSurvey: c.Bool("without-survey"),
		Products: c.String("products"), Mapping: c.String("mapping"), Version: version,
		SaveMapping: c.String("save-mapping"), Questions: c.String("questions"),
	}
	formats, err := formatsOf(c)
	if err != nil {
		return o, err
	}
	o.Export = formats
	switch o.Effort {
	case engine.EffortAuto, engine.EffortQuick, engine.EffortNormal, engine.EffortThorough:
	default:
		return o, usageError{"--effort is quick, normal or thorough, not " + string(o.Effort)}
	}
	if ext := strings.ToLower(filepath.Ext(o.Questions)); o.Questions != "" && ext != ".xlsx" && ext != ".txt" {
		return o, usageError{"--questions writes a file that ends in .xlsx or .txt"}
	}
	switch ext := strings.ToLower(filepath.Ext(o.Out)); ext {
	case ".xls", ".xlsm", ".xlsb", ".ods", ".csv", ".pdf", ".json", ".txt":
		return o, usageError{"a takeoff is a workbook that ends in .xlsx, not " + ext}
	}
	return o, nil
}

// formatsOf reads the forms that --export names.
func formatsOf(c *cli.Context) ([]convert.Format, error) {
	formats, err := convert.Formats(c.String("export"))
	if err != nil {
		return nil, usageError{"--export: " + err.Error()}
	}
	return formats, nil
}
