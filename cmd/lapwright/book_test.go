package main

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
)

// makeBook OUT IN writes a workbook from text: "[Sheet]" starts a sheet, then
// lines of CSV. A value that reads as a number is written as one; a leading
// apostrophe keeps it text.
func makeBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: mkbook out.xlsx in.txt")
	}
	f := excelize.NewFile()
	defer f.Close()
	sheet, row, kept := "", 0, false
	for line := range strings.Lines(ts.ReadFile(args[1])) {
		line = strings.TrimRight(line, "\r\n")
		if strings.HasPrefix(line, "[") && strings.HasSuffix(line, "]") {
			sheet, row = line[1:len(line)-1], 0
			kept = kept || sheet == "Sheet1"
			_, err := f.NewSheet(sheet)
			ts.Check(err)
			continue
		}
		row++
		ts.Check(putRow(f, sheet, row, line))
	}
	if !kept {
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
		if err := putCell(f, sheet, cell, v); err != nil {
			return err
		}
	}
	return nil
}

func putCell(f *excelize.File, sheet, cell, v string) error {
	if v == "" {
		return nil
	}
	if n, err := strconv.ParseFloat(v, 64); err == nil {
		return f.SetCellValue(sheet, cell, n)
	}
	return f.SetCellValue(sheet, cell, strings.TrimPrefix(v, "'"))
}

// setCell FILE SHEET CELL VALUE changes one cell of a workbook.
func setCell(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: setcell file.xlsx sheet cell value")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	ts.Check(putCell(f, args[1], args[2], args[3]))
	ts.Check(f.Save())
}

// dumpBook [-rows N] [-names] FILE [SHEET...] prints sheets of a workbook as
// text on standard output: "[Sheet]", then a line of CSV a row. A sheet name
// may be followed by the columns to print: Storey rod:Course,Gauge mm.
func dumpBook(ts *testscript.TestScript, neg bool, args []string) {
	most := -1
	names := false
	for len(args) > 0 && strings.HasPrefix(args[0], "-") {
		if args[0] == "-names" {
			names, args = true, args[1:]
			continue
		}
		n, err := strconv.Atoi(args[1])
		ts.Check(err)
		most, args = n, args[2:]
	}
	if neg || len(args) == 0 {
		ts.Fatalf("usage: dumpbook [-rows n] [-names] file.xlsx [sheet[:columns]...]")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	sheets := args[1:]
	if len(sheets) == 0 {
		sheets = f.GetSheetList()
	}
	for _, s := range sheets {
		name, columns, _ := strings.Cut(s, ":")
		fmt.Fprintf(ts.Stdout(), "[%s]\n", name)
		if names {
			continue
		}
		rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		ts.Check(err)
		if most >= 0 {
			rows = rows[:min(most, len(rows))]
		}
		w := csv.NewWriter(ts.Stdout())
		ts.Check(w.WriteAll(picked(rows, columns)))
	}
}

// picked keeps the columns whose headers, in row 1, are named; all if none is.
func picked(rows [][]string, columns string) [][]string {
	if columns == "" || len(rows) == 0 {
		return rows
	}
	var out [][]string
	for _, row := range rows {
		var line []string
		for want := range strings.SplitSeq(columns, ",") {
			value := ""
			for i, header := range rows[0] {
				if header == want && i < len(row) {
					value = row[i]
				}
			}
			line = append(line, value)
		}
		out = append(out, line)
	}
	return out
}

// headers FILE LIST wants the sheets of a workbook to begin with the headers
// of a list: "[Sheet]", then a line of headers with | between. More may stand
// to their right.
func headers(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: headers file.xlsx list.txt")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	sheet := ""
	for line := range strings.Lines(ts.ReadFile(args[1])) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "[") {
			sheet = strings.Trim(line, "[]")
			continue
		}
		rows, err := f.GetRows(sheet)
		ts.Check(err)
		if len(rows) == 0 {
			ts.Fatalf("%s: the sheet is empty", sheet)
		}
		if got := strings.Join(rows[0], " | "); !strings.HasPrefix(got+" | ", line+" | ") {
			ts.Fatalf("%s: headers are\n%s\nwant\n%s", sheet, got, line)
		}
	}
}
