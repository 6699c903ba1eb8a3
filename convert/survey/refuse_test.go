package survey

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

func exampleBytes(t testing.TB) []byte {
	t.Helper()
	data, err := Example()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// parts returns a workbook's parts with some replaced; a nil part is left out.
func repack(t testing.TB, data []byte, change map[string][]byte) []byte {
	t.Helper()
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	zw := zip.NewWriter(&b)
	for _, f := range zr.File {
		text, replaced := change[f.Name]
		if replaced && text == nil {
			continue
		}
		if !replaced {
			text = part(t, f)
		}
		w, err := zw.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func part(t testing.TB, f *zip.File) []byte {
	t.Helper()
	r, err := f.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	var b bytes.Buffer
	if _, err := b.ReadFrom(r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zipOf(t testing.TB, names map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	zw := zip.NewWriter(&b)
	for name, text := range names {
		w, err := zw.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestRefusals(t *testing.T) {
	good := exampleBytes(t)
	const walls = "xl/worksheets/sheet2.xml"
	sheet := string(part(t, entry(t, good, walls)))
	var locked bytes.Buffer
	f := excelize.NewFile()
	if err := f.Write(&locked, excelize.Options{Password: "x"}); err != nil {
		t.Fatal(err)
	}
	corrupt := bytes.Clone(good)
	for i := len(corrupt) / 2; i < len(corrupt)/2+40; i++ {
		corrupt[i] ^= 0x55
	}
	for _, c := range []struct {
		name string
		data []byte
		want string // in what is said
	}{
		{"empty.xlsx", nil, "is empty"},
		{"spaces.csv", []byte(" \n\n"), "is empty"},
		{"mark.csv", []byte("\xEF\xBB\xBF\r\n"), "is empty"},
		{"old.xls", append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), make([]byte, 600)...), "old kind"},
		{"old-renamed.xlsx", append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), make([]byte, 600)...), "old kind"},
		{"locked.xlsx", locked.Bytes(), "password"},
		{"open.ods", zipOf(t, map[string]string{"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": "<a/>"}), "OpenDocument"},
		{"binary.xlsb", zipOf(t, map[string]string{"[Content_Types].xml": "<Types/>", "xl/workbook.bin": "x"}), "binary workbook"},
		{"letter.docx", zipOf(t, map[string]string{"[Content_Types].xml": "<Types/>", "word/document.xml": "<a/>"}), "text document"},
		{"archive.xlsx", zipOf(t, map[string]string{"survey.txt": "x"}), "zip archive"},
		{"new.xls", good, "Rename it to .xlsx"},
		{"book.csv", good, "named as text"},
		{"text.xlsx", []byte("Wall,Width\nA,1\n"), "plain text"},
		{"page.xls", []byte("<html><table></table></html>"), "web page"},
		{"print.xlsx", []byte("%PDF-1.7"), "PDF"},
		{"photo.xlsx", []byte("\x89PNG\r\n\x1a\n"), "picture"},
		{"noise.xlsx", []byte{1, 2, 0, 3, 4}, "no spreadsheet"},
		{"zeros.csv", []byte("a,b\x00\x00c"), "not a text file"},
		{"short.xlsx", good[:len(good)/2], "damaged"},
		{"corrupt.xlsx", corrupt, "damaged"},
		{"cut.xlsx", repack(t, good, map[string][]byte{walls: []byte(sheet[:len(sheet)/2])}), "damaged"},
		{"nested.xlsx", repack(t, good, map[string][]byte{walls: []byte(strings.Replace(sheet, "</row>", "</c>", 1))}), "damaged"},
		{"address.xlsx", repack(t, good, map[string][]byte{walls: []byte(strings.Replace(sheet, `r="B2"`, `r="B22"`, 1))}), "damaged"},
		{"twice.xlsx", repack(t, good, map[string][]byte{walls: []byte(strings.Replace(sheet, `r="C2"`, `r="B2"`, 1))}), "damaged"},
		{"strings.xlsx", repack(t, good, map[string][]byte{"xl/sharedStrings.xml": nil}), "damaged"},
		{"missing.xlsx", repack(t, good, map[string][]byte{walls: nil}), "damaged"},
		{"styles.xlsx", repack(t, good, map[string][]byte{"xl/styles.xml": []byte("<styleSheet>")}), "damaged"},
		{"theme.xlsx", repack(t, good, map[string][]byte{"xl/theme/theme1.xml": []byte("<a><b></a>")}), "damaged"},
		{"nan.xlsx", repack(t, good, map[string][]byte{walls: []byte(strings.Replace(sheet, "<v>7200</v>", "<v>NaN</v>", 1))}), "no number"},
		{"nothing.csv", []byte("colour,taste\nred,sweet\n"), "no sheet of walls; its sheets are: nothing. Give "},
		{"nearly.csv", []byte("Our schedule\nElevation,Length,Up to\nFront,4000,2700\n"), "Row 2 of nearly has some of the headers, and none that is known as Height mm. Give "},
	} {
		path := filepath.Join(t.TempDir(), c.name)
		if err := os.WriteFile(path, c.data, 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Read(context.Background(), path, Options{})
		var e *Error
		if !asError(err, &e) || e.Missing || !strings.Contains(e.Error(), c.want) || e.Do == "" || e.File != c.name {
			t.Errorf("%s: %v; want an unusable input with %q", c.name, err, c.want)
		}
	}
}

func entry(t testing.TB, data []byte, name string) *zip.File {
	t.Helper()
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range zr.File {
		if f.Name == name {
			return f
		}
	}
	t.Fatalf("no part %s", name)
	return nil
}

func TestMissingInput(t *testing.T) {
	for _, path := range []string{filepath.Join(t.TempDir(), "none.xlsx")} {
		_, err := Read(context.Background(), path, Options{})
		var e *Error
		if !asError(err, &e) || !e.Missing {
			t.Errorf("%v, want a missing input", err)
		}
	}
	_, err := Read(context.Background(), folder(t), Options{Mapping: "none.csv"})
	var e *Error
	if !asError(err, &e) || !e.Missing || e.File != "none.csv" {
		t.Errorf("%v, want a missing mapping", err)
	}
}

func TestAnEndedContextStopsReading(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	path := filepath.Join(t.TempDir(), "example.xlsx")
	if err := os.WriteFile(path, exampleBytes(t), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(ctx, path, Options{}); err != context.Canceled {
		t.Errorf("Read = %v, want %v", err, context.Canceled)
	}
}

// FuzzWorkbook feeds damaged workbooks: whatever comes, an error or a survey
// whose rows are all accounted for, never a panic.
func FuzzWorkbook(f *testing.F) {
	good := exampleBytes(f)
	f.Add(uint32(100), byte(1), uint32(0))
	f.Add(uint32(9999), byte(255), uint32(5000))
	f.Fuzz(func(t *testing.T, at uint32, flip byte, cut uint32) {
		data := bytes.Clone(good)
		data[int(at)%len(data)] ^= flip
		if n := int(cut); n > 0 && n < len(data) {
			data = data[:n]
		}
		path := filepath.Join(t.TempDir(), "x.xlsx")
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		s, err := Read(context.Background(), path, Options{})
		if err != nil {
			var e *Error
			if !asError(err, &e) {
				t.Errorf("the error is not an *Error: %v", err)
			}
			return
		}
		accounted(t, s)
	})
}
