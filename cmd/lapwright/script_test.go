package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"lapwright": func() {
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			code := run(ctx, os.Args, os.Stdout, os.Stderr)
			stop()
			os.Exit(code)
		},
	})
}

// TestScripts runs the command line as a person would type it. Two commands of
// our own make a workbook from text and show one as text; a third checks an
// exit code.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "testdata", "script"),
		RequireExplicitExec: true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"mkbook":   makeBook,
			"dumpbook": dumpBook,
			"exits":    exits,
		},
	})
}

// makeBook OUT IN writes a workbook from text: "[Sheet]" starts a sheet, then
// lines of CSV. A value that reads as a number is written as one; a leading
// apostrophe keeps it text.
func makeBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: mkbook out.xlsx in.txt")
	}
	f := excelize.NewFile()
	defer f.Close()
	sheet, row := "", 0
	for line := range strings.Lines(ts.ReadFile(args[1])) {
		line = strings.TrimRight(line, "\r\n")
		if strings.HasPrefix(line, "[") && strings.HasSuffix(line, "]") {
			sheet, row = line[1:len(line)-1], 0
			_, err := f.NewSheet(sheet)
			ts.Check(err)
			continue
		}
		row++
		ts.Check(putRow(f, sheet, row, line))
	}
	if f.GetSheetName(0) != sheet {
		ts.Check(f.DeleteSheet("Sheet1"))
	}
	ts.Check(f.SaveAs(ts.MkAbs(args[0])))
}

func putRow(f *excelize.File, sheet string, row int, line string) error {
	if line == "" {
		return nil
	}
	fields, err := csv.NewReader(strings.NewReader(line)).Read()
	if err != nil {
		return err
	}
	for i, v := range fields {
		cell, err := excelize.CoordinatesToCellName(i+1, row)
		if err != nil {
			return err
		}
		var value any = strings.TrimPrefix(v, "'")
		if n, err := strconv.ParseFloat(v, 64); err == nil {
			value = n
		}
		if v == "" {
			continue
		}
		if err := f.SetCellValue(sheet, cell, value); err != nil {
			return err
		}
	}
	return nil
}

// dumpBook FILE [SHEET...] prints sheets of a workbook as text on standard
// output: "[Sheet]", then a line of CSV a row.
func dumpBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: dumpbook file.xlsx [sheet...]")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]), excelize.Options{RawCellValue: true})
	ts.Check(err)
	defer f.Close()
	sheets := args[1:]
	if len(sheets) == 0 {
		sheets = f.GetSheetList()
	}
	for _, s := range sheets {
		rows, err := f.GetRows(s, excelize.Options{RawCellValue: true})
		ts.Check(err)
		fmt.Fprintf(ts.Stdout(), "[%s]\n", s)
		w := csv.NewWriter(ts.Stdout())
		ts.Check(w.WriteAll(rows))
	}
}

// exits CODE COMMAND... runs a command and wants that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		if _, e := fmt.Sscanf(err.Error(), "exit status %d", &got); e != nil {
			ts.Fatalf("%v", err)
		}
	}
	if got != want {
		ts.Fatalf("%s: got exit code %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}
