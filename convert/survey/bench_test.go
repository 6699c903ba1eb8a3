package survey

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// manyWalls writes a survey of n walls of 12 columns.
func manyWalls(b *testing.B, n int) string {
	b.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName("Sheet1", "Walls"); err != nil {
		b.Fatal(err)
	}
	w, err := f.NewStreamWriter("Walls")
	if err != nil {
		b.Fatal(err)
	}
	rows := [][]any{{"Plot", "Wall", "Width mm", "Height mm", "Base mm", "Left edge", "Right edge", "Top edge", "Base edge", "Batten centres mm", "Colour", "Quantity"}}
	for i := range n {
		rows = append(rows, []any{fmt.Sprintf("Plot %d", i/4), fmt.Sprintf("Wall %d", i%4), 7200 + i%50, 4890, 150, "external corner", "abutment", "soffit", "ground", 600, "Charcoal", 1})
	}
	for i, row := range rows {
		if err := w.SetRow(fmt.Sprintf("A%d", i+1), row); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "many.xlsx")
	if err := f.SaveAs(path); err != nil {
		b.Fatal(err)
	}
	return path
}

// BenchmarkRead reads 100,000 rows to a job, and the same file with the
// library's own row iterator, which gives bare text.
func BenchmarkRead(b *testing.B) {
	path := manyWalls(b, 100_000)
	b.Run("survey", func(b *testing.B) {
		for b.Loop() {
			s, err := Read(context.Background(), path, Options{})
			if err != nil || len(s.Job.Walls) != 100_000 {
				b.Fatal(err, len(s.Job.Walls))
			}
		}
	})
	b.Run("iterator", func(b *testing.B) {
		for b.Loop() {
			iterate(b, path)
		}
	})
}

func iterate(b *testing.B, path string) {
	b.Helper()
	f, err := excelize.OpenFile(path, excelize.Options{RawCellValue: true})
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	rows, err := f.Rows("Walls")
	if err != nil {
		b.Fatal(err)
	}
	for rows.Next() {
		if _, err := rows.Columns(excelize.Options{RawCellValue: true}); err != nil {
			b.Fatal(err)
		}
	}
	if err := rows.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkReadCSV reads 100,000 rows of CSV, in which every value is text.
func BenchmarkReadCSV(b *testing.B) {
	rows := [][]string{{"Plot", "Wall", "Width mm", "Height mm", "Left edge", "Right edge", "Colour", "Quantity"}}
	for i := range 100_000 {
		rows = append(rows, []string{fmt.Sprintf("Plot %d", i/4), fmt.Sprintf("Wall %d", i%4), "7200", "4890", "external corner", "abutment", "Charcoal", "1"})
	}
	path := filepath.Join(b.TempDir(), "Walls.csv")
	writeCSV(b, path, rows)
	for b.Loop() {
		if s := read(b, path, Options{}); len(s.Job.Walls) != 100_000 {
			b.Fatal(len(s.Job.Walls))
		}
	}
}

// BenchmarkReadFaults reads 20,000 openings of which none finds its wall: the
// suggestions must not take their square.
func BenchmarkReadFaults(b *testing.B) {
	dir := b.TempDir()
	walls := [][]string{{"Wall", "Width mm", "Height mm"}}
	openings := [][]string{{"Wall", "From left mm", "Sill mm", "Width mm", "Height mm"}}
	for i := range 20_000 {
		walls = append(walls, []string{fmt.Sprintf("Wall %d", i), "7200", "4890"})
		openings = append(openings, []string{fmt.Sprintf("Wal %d", i), "700", "900", "1200", "1050"})
	}
	writeCSV(b, filepath.Join(dir, "Walls.csv"), walls)
	writeCSV(b, filepath.Join(dir, "Openings.csv"), openings)
	for b.Loop() {
		if s := read(b, dir, Options{}); len(s.Rejected) != 20_000 {
			b.Fatal(len(s.Rejected))
		}
	}
}
