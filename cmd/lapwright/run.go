package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
	"lapwright/engine"
)

// version is what --version and the workbooks say; a release build sets it
// with -ldflags.
var version = "dev"

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	app := newApp(stdout, stderr)
	args, err := arranged(app, args)
	if err == nil {
		err = app.RunContext(ctx, args)
	}
	var stops *stopsError
	if errors.As(err, &stops) {
		return exitStops
	}
	var told *reportedError
	if err != nil && !errors.As(err, &told) {
		fmt.Fprintln(stderr, "lapwright:", err)
	}
	return exitCode(err)
}

// stopsError says that the work was done but stops left part of it out.
type stopsError struct{}

func (*stopsError) Error() string { return "stops left part out" }

func newApp(stdout, stderr io.Writer) *cli.App {
	return &cli.App{
		Name:                 "lapwright",
		Usage:                "from a survey of walls and openings to courses, cuts, an order and fixings",
		UsageText:            "lapwright SURVEY...            the takeoff of each survey, beside it\nlapwright COMMAND [options] [FILES]",
		Version:              version,
		Writer:               stdout,
		ErrWriter:            stderr,
		EnableBashCompletion: true,
		Suggest:              true,
		ExitErrHandler:       func(*cli.Context, error) {}, // run decides
		OnUsageError:         usage,
		Commands:             []*cli.Command{takeoffCommand(), checkCommand(), templateCommand(), completionCommand()},
	}
}

// usage turns the library's complaint about an option into ours.
func usage(_ *cli.Context, err error, _ bool) error {
	return usageError{err.Error() + "; see lapwright --help"}
}

func readingFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "example", Usage: "take the built-in example survey"},
		&cli.BoolFlag{Name: "json", Usage: "print a report as JSON on standard output"},
		&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print nothing but failures"},
		&cli.StringFlag{Name: "effort", Usage: "how hard to search for the fewest boards: quick, normal or thorough (default: by size)"},
		&cli.StringFlag{Name: "products", Usage: "a CSV `FILE` with the columns of Products, before the survey's own"},
		&cli.StringFlag{Name: "mapping", Usage: "a CSV `FILE` with the columns of Mapping, for a customer's own headers"},
	}
}

func takeoffCommand() *cli.Command {
	return &cli.Command{
		Name:         "takeoff",
		Usage:        "write the takeoff workbook of each survey",
		ArgsUsage:    "SURVEY...",
		OnUsageError: usage,
		Flags: append(readingFlags(),
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write to this `FILE or FOLDER` (default: beside the survey)"},
			&cli.BoolFlag{Name: "strict", Usage: "write no workbook if anything stops a wall"},
			&cli.BoolFlag{Name: "accessible", Usage: "no frozen panes, filters or page furniture, for screen readers"},
			&cli.BoolFlag{Name: "without-survey", Usage: "leave the survey's own sheets out of the workbook"},
		),
		Action: func(c *cli.Context) error { return convertAll(c, false) },
	}
}

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:         "check",
		Usage:        "the same, writing nothing: print every flag with its cell",
		ArgsUsage:    "SURVEY...",
		OnUsageError: usage,
		Flags:        readingFlags(),
		Action:       func(c *cli.Context) error { return convertAll(c, true) },
	}
}

func templateCommand() *cli.Command {
	return &cli.Command{
		Name:         "template",
		Usage:        "write a blank survey workbook, or the filled example",
		ArgsUsage:    "[FILE]",
		OnUsageError: usage,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "example", Usage: "filled with the built-in example"},
		},
		Action: writeTemplate,
	}
}

func writeTemplate(c *cli.Context) error {
	if c.NArg() > 1 {
		return usageError{"template writes one file"}
	}
	name := c.Args().First()
	if name == "" {
		name = "survey.xlsx"
		if c.Bool("example") {
			name = "example.xlsx"
		}
	}
	written, err := convert.Template(name, c.Bool("example"))
	if err == nil {
		fmt.Fprintln(c.App.Writer, written)
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
	names := expanded(c.Args().Slice())
	if c.Bool("example") {
		names = append(names, convert.Example)
	}
	if len(names) == 0 {
		return usageError{"name a survey, or add --example"}
	}
	if len(names) > 1 && o.OutIsFile() {
		return usageError{"--out names one file but there are several surveys: name a folder"}
	}
	out := printer{stdout: c.App.Writer, stderr: c.App.ErrWriter, quiet: c.Bool("quiet"), json: c.Bool("json"), check: checkOnly}
	var failed error
	stops := false
	for _, name := range names {
		report, err := convert.Convert(c.Context, name, o)
		out.report(report, err)
		failed = errors.Join(failed, err)
		stops = stops || report.Stops() > 0
	}
	if err := out.close(); err != nil {
		return err
	}
	if failed != nil {
		return &reportedError{failed}
	}
	if stops {
		return &stopsError{}
	}
	return nil
}

func optionsOf(c *cli.Context, checkOnly bool) (convert.Options, error) {
	effort := engine.Effort(c.String("effort"))
	switch effort {
	case engine.EffortAuto, engine.EffortQuick, engine.EffortNormal, engine.EffortThorough:
	default:
		return convert.Options{}, usageError{"--effort is quick, normal or thorough, not " + quoted(string(effort))}
	}
	return convert.Options{
		Out: c.String("out"), CheckOnly: checkOnly, Strict: c.Bool("strict"), Effort: effort,
		Accessible: c.Bool("accessible"), WithoutSurvey: c.Bool("without-survey"),
		Products: c.String("products"), Mapping: c.String("mapping"), Version: version,
	}, nil
}
