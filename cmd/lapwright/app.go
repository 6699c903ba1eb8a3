package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

func newApp(stdout, stderr io.Writer) *cli.App {
	return &cli.App{
		Name:  "lapwright",
		Usage: "from a survey of walls and openings to courses, cuts, an order and fixings",
		UsageText: `lapwright SURVEY...                   write the takeoff of each survey beside it
lapwright COMMAND [options] [FILES]   see lapwright help COMMAND`,
		Description: `A survey is a workbook (.xlsx), a CSV file of walls, or a folder of CSV files.
A folder of workbooks is a batch of surveys.
lapwright template writes a blank one to fill in. The survey is never changed.

Exit codes:
` + exitTable("%4d  %s\n"),
		Version:              version,
		Writer:               stdout,
		ErrWriter:            stderr,
		EnableBashCompletion: true,
		ExitErrHandler:       func(*cli.Context, error) {}, // run decides
		OnUsageError:         usage,
		Commands:             []*cli.Command{takeoffCommand(), checkCommand(), orderCommand(), mergeCommand(), templateCommand(), completionCommand()},
	}
}

// exitTable lists the exit codes, a line each in the form given.
func exitTable(form string) string {
	var b strings.Builder
	for _, e := range exitMeanings {
		fmt.Fprintf(&b, form, e.code, e.meaning)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func readingFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "example", Usage: "take the built-in example survey"},
		&cli.BoolFlag{Name: "json", Usage: "print a report as JSON on standard output"},
		&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print nothing but failures"},
		&cli.StringFlag{Name: "effort", Usage: "how hard to search for the fewest boards: `WORD` is quick, normal or thorough (default: normal, and quick for more than 90 different walls of one survey, however it is split)"},
		&cli.StringFlag{Name: "products", Usage: "a CSV `FILE` with the columns of Products, before the survey's own"},
		&cli.StringFlag{Name: "mapping", Usage: "a CSV `FILE` with the columns of Mapping, for a customer's own headers"},
		&cli.BoolFlag{Name: "many", Usage: fmt.Sprintf("take a folder of more than %d surveys, or the home folder", manySurveys)},
		&cli.StringFlag{Name: "save-mapping", Usage: "write what each sheet and header was taken for to this CSV `FILE`, for --mapping"},
		&cli.StringFlag{Name: "questions", Usage: "write the questions to send back to the customer to this `FILE`, .xlsx or .txt"},
	}
}

func takeoffCommand() *cli.Command {
	return &cli.Command{
		Name:            "takeoff",
		Usage:           "write the takeoff workbook of each survey",
		ArgsUsage:       "SURVEY... or FOLDER",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags: append(append(readingFlags(), batchFlags()...),
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write to this `FILE or FOLDER`, made if missing (default: beside the survey; parts of one go to the folder \"SURVEY takeoffs\")"},
			&cli.BoolFlag{Name: "strict", Usage: "write no workbook if anything stops a wall"},
			&cli.BoolFlag{Name: "accessible", Usage: "no frozen panes, filters or page furniture, for screen readers"},
			exportFlag(),
			&cli.BoolFlag{Name: "without-survey", Usage: "leave the survey's own sheets out of the workbook"},
		),
		Action: func(c *cli.Context) error { return convertAll(c, false) },
	}
}

func exportFlag() cli.Flag {
	return &cli.StringFlag{Name: "export", Usage: "write beside the workbook, in further forms: `LIST` of ubl (the order, UBL 2.1), json and csv (a folder), with commas between"}
}

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:            "check",
		Usage:           "read each survey and print every flag with its cell; write no takeoff",
		ArgsUsage:       "SURVEY...",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags:           readingFlags(),
		Action:          func(c *cli.Context) error { return convertAll(c, true) },
	}
}

func templateCommand() *cli.Command {
	return &cli.Command{
		Name:            "template",
		Usage:           "write a blank survey workbook, the filled example, or the built-in catalogue",
		ArgsUsage:       "[FILE]",
		OnUsageError:    usage,
		HideHelpCommand: true,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "example", Usage: "filled with the built-in example"},
			&cli.BoolFlag{Name: "catalogue", Usage: "the built-in catalogue as CSV, to change and use with --products"},
		},
		Action: writeTemplate,
	}
}
