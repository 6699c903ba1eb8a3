package survey

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"lapwright/engine"
	"lapwright/templates"
)

// folder writes the example as a folder of CSV files.
func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range templates.Names() {
		rows, err := templates.Example(name)
		if err != nil {
			t.Fatal(err)
		}
		if rows != nil {
			writeCSV(t, filepath.Join(dir, name+".csv"), rows)
		}
	}
	return dir
}

// stripped takes from a job what differs between two files of one survey.
func stripped(j *engine.Job) *engine.Job {
	out := *j
	out.Origins, out.Declared = nil, nil
	out.Walls = nil
	for _, w := range j.Walls {
		w.Origin = engine.Origin{}
		openings := w.Openings
		w.Openings = nil
		for _, o := range openings {
			o.Origin = engine.Origin{}
			w.Openings = append(w.Openings, o)
		}
		out.Walls = append(out.Walls, w)
	}
	for i := range out.Products {
		out.Products[i].Origin = engine.Origin{}
	}
	return &out
}

func TestExampleReadsCleanly(t *testing.T) {
	data, err := Example()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "example.xlsx")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	book := read(t, path, Options{})
	for _, f := range book.Flags {
		t.Errorf("the example is flagged: %+v", f)
	}
	if !book.Plain || len(book.Job.Walls) != 4 || len(book.Rejected) != 0 {
		t.Errorf("plain %v, %d walls, %d rejected; want plain, 4, 0", book.Plain, len(book.Job.Walls), len(book.Rejected))
	}
	csv := read(t, folder(t), Options{})
	if got, want := stripped(csv.Job), stripped(book.Job); !reflect.DeepEqual(got, want) {
		t.Errorf("the example as CSV reads as\n%+v\nas workbook as\n%+v", got, want)
	}
}

func TestTemplateIsTheSameTwice(t *testing.T) {
	for _, example := range []bool{false, true} {
		var a, b bytes.Buffer
		if err := WriteTemplate(&a, example); err != nil {
			t.Fatal(err)
		}
		if err := WriteTemplate(&b, example); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("two workbooks with example %v differ", example)
		}
	}
}

func TestBlankTemplateHasNoWalls(t *testing.T) {
	var b bytes.Buffer
	if err := WriteTemplate(&b, false); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "blank.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Read(context.Background(), path, Options{})
	var unusable *Error
	if !asError(err, &unusable) || unusable.Missing {
		t.Errorf("a blank survey gives %v, want an unusable input", err)
	}
}
