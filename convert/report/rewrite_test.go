package report_test

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// copied is a takeoff workbook as a list of what to write.
type copied struct {
	styles map[int]*excelize.Style
	sheets []copiedSheet
}

type copiedSheet struct {
	name     string
	rows     []copiedRow
	pictures map[string][]byte // by cell
}

type copiedRow struct {
	number int
	cells  []any // excelize.Cell, with the style it has where it was read
}

// written is a takeoff workbook to read: its parts, and the library's view of
// it for styles and pictures. To say a cell's style the library would hold its
// sheet whole.
type written struct {
	*zip.ReadCloser
	file  *excelize.File
	names []string
	parts map[string]*zip.File // by sheet
	texts []string             // that cells share
}

// text is what a cell or a shared string says, whole or in runs.
type text struct {
	Whole string   `xml:"t"`
	Runs  []string `xml:"r>t"`
}

func (t text) String() string { return t.Whole + strings.Join(t.Runs, "") }

func must(b *testing.B, err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// open reads all of a workbook but its rows and pictures.
func open(b *testing.B, name string) *written {
	z, err := zip.OpenReader(name)
	must(b, err)
	f, err := excelize.OpenFile(name)
	must(b, err)
	w := &written{z, f, f.GetSheetList(), map[string]*zip.File{}, nil}
	var book struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
	}
	var links struct {
		To []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	var shared struct {
		Texts []text `xml:"si"`
	}
	w.decode(b, "xl/workbook.xml", &book)
	w.decode(b, "xl/_rels/workbook.xml.rels", &links)
	w.decode(b, "xl/sharedStrings.xml", &shared)
	for _, t := range shared.Texts {
		w.texts = append(w.texts, t.String())
	}
	for _, s := range book.Sheets {
		for _, l := range links.To {
			if l.ID == s.ID {
				w.parts[s.Name] = w.part(path.Join("xl", l.Target))
			}
		}
	}
	return w
}

func (w *written) Close() error {
	w.file.Close()
	return w.ReadCloser.Close()
}

func (w *written) part(name string) *zip.File {
	for _, f := range w.File {
		if f.Name == name {
			return f
		}
	}
	return nil
}

func (w *written) decode(b *testing.B, name string, v any) {
	part := w.part(name)
	if part == nil {
		return
	}
	r, err := part.Open()
	must(b, err)
	defer r.Close()
	must(b, xml.NewDecoder(r).Decode(v))
}

// style is a style of the workbook, the usual one where the library knows none.
func (w *written) style(id int) *excelize.Style {
	style, err := w.file.GetStyle(id)
	if err != nil {
		return &excelize.Style{}
	}
	return style
}

// pictures are those of a sheet of usual size: a sheet of a large table has none.
func (w *written) pictures(b *testing.B, sheet string) map[string][]byte {
	out := map[string][]byte{}
	if w.parts[sheet].UncompressedSize64 > 16<<20 {
		return out
	}
	at, err := w.file.GetPictureCells(sheet)
	must(b, err)
	for _, cell := range at {
		pics, err := w.file.GetPictures(sheet, cell)
		must(b, err)
		for _, p := range pics {
			out[cell] = p.File
		}
	}
	return out
}

// rows hands out the rows of a sheet, so many at a time.
func (w *written) rows(b *testing.B, sheet string, each func([]copiedRow)) {
	const most = 20_000
	r, err := w.parts[sheet].Open()
	must(b, err)
	defer r.Close()
	var rows []copiedRow
	for d := xml.NewDecoder(r); ; {
		t, err := d.Token()
		if err == io.EOF {
			break
		}
		must(b, err)
		if el, ok := t.(xml.StartElement); ok && el.Name.Local == "row" {
			rows = append(rows, w.row(b, d, &el))
		}
		if len(rows) == most {
			each(rows)
			rows = nil
		}
	}
	each(rows)
}

func (w *written) row(b *testing.B, d *xml.Decoder, el *xml.StartElement) copiedRow {
	var r struct {
		Number int `xml:"r,attr"`
		Cells  []struct {
			At    string `xml:"r,attr"`
			Style int    `xml:"s,attr"`
			Kind  string `xml:"t,attr"`
			Value string `xml:"v"`
			Text  text   `xml:"is"`
		} `xml:"c"`
	}
	must(b, d.DecodeElement(&r, el))
	out := copiedRow{number: r.Number}
	for _, c := range r.Cells {
		column, _, err := excelize.CellNameToCoordinates(c.At)
		must(b, err)
		for len(out.cells) < column-1 {
			out.cells = append(out.cells, nil)
		}
		cell := excelize.Cell{StyleID: c.Style}
		switch v, err := strconv.ParseFloat(c.Value, 64); {
		case c.Kind == "s":
			n, err := strconv.Atoi(c.Value)
			must(b, err)
			cell.Value = w.texts[n]
		case c.Kind == "inlineStr":
			cell.Value = c.Text.String()
		case c.Value == "":
		case c.Kind == "" || c.Kind == "n":
			must(b, err)
			cell.Value = v
		default:
			cell.Value = c.Value
		}
		out.cells = append(out.cells, cell)
	}
	return out
}

// load reads a workbook whole.
func load(b *testing.B, name string) copied {
	w := open(b, name)
	defer w.Close()
	c := copied{styles: map[int]*excelize.Style{}}
	for _, sheet := range w.names {
		s := copiedSheet{name: sheet, pictures: w.pictures(b, sheet)}
		w.rows(b, sheet, func(rows []copiedRow) { s.rows = append(s.rows, rows...) })
		for _, r := range s.rows {
			for _, v := range r.cells {
				if cell, ok := v.(excelize.Cell); ok && c.styles[cell.StyleID] == nil {
					c.styles[cell.StyleID] = w.style(cell.StyleID)
				}
			}
		}
		c.sheets = append(c.sheets, s)
	}
	return c
}

// rewriteInParts writes a workbook that need not fit in memory once more, as
// [rewrite] does: the clock runs while rows just read are written.
func rewriteInParts(b *testing.B, path, to string) (took, encoding cost, cells int) {
	in := open(b, path)
	defer in.Close()
	styles := map[int]*excelize.Style{}
	for id := range in.file.Styles.CellXfs.Count {
		styles[id] = in.style(id)
	}
	var f *excelize.File
	var ids map[int]int
	took = timed(func() {
		var err error
		f, ids, err = begin(styles, in.names)
		must(b, err)
	})
	defer f.Close()
	for _, name := range in.names {
		s := copiedSheet{name: name, pictures: in.pictures(b, name)}
		var w *excelize.StreamWriter
		took = took.plus(timed(func() {
			var err error
			w, err = s.begin(f)
			must(b, err)
		}))
		in.rows(b, name, func(rows []copiedRow) {
			for _, r := range rows {
				cells += len(r.cells)
			}
			took = took.plus(timed(func() { must(b, put(w, rows, ids)) }))
		})
		took = took.plus(timed(func() { must(b, w.Flush()) }))
		images := s.images(b)
		encoding = encoding.plus(timed(func() { encode(b, images) }))
	}
	return took.plus(timed(func() { must(b, finish(f, to)) })), encoding, cells
}

// save writes a copy: sheets first, then rows by stream, pictures stored as
// they are, compressors used again.
func (c copied) save(path string) error {
	var names []string
	for _, s := range c.sheets {
		names = append(names, s.name)
	}
	f, ids, err := begin(c.styles, names)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, s := range c.sheets {
		w, err := s.begin(f)
		if err != nil {
			return err
		}
		if err := put(w, s.rows, ids); err != nil {
			return err
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	return finish(f, path)
}

// begin makes a workbook with styles and sheets, and says which style is which
// there.
func begin(styles map[int]*excelize.Style, sheets []string) (*excelize.File, map[int]int, error) {
	f, ids := excelize.NewFile(), map[int]int{}
	for was, s := range styles {
		id, err := f.NewStyle(s)
		if err != nil {
			return f, ids, err
		}
		ids[was] = id
	}
	for i, name := range sheets {
		if i == 0 {
			if err := f.SetSheetName("Sheet1", name); err != nil {
				return f, ids, err
			}
		} else if _, err := f.NewSheet(name); err != nil {
			return f, ids, err
		}
	}
	return f, ids, nil
}

// begin places the pictures of a sheet and returns where its rows go.
func (s copiedSheet) begin(f *excelize.File) (*excelize.StreamWriter, error) {
	w, err := f.NewStreamWriter(s.name)
	if err != nil {
		return nil, err
	}
	for cell, png := range s.pictures {
		if err := f.AddPictureFromBytes(s.name, cell, &excelize.Picture{Extension: ".png", File: png}); err != nil {
			return nil, err
		}
	}
	return w, nil
}

func put(w *excelize.StreamWriter, rows []copiedRow, ids map[int]int) error {
	var line []any
	for _, row := range rows {
		line = line[:0]
		for _, v := range row.cells {
			if c, ok := v.(excelize.Cell); ok {
				c.StyleID = ids[c.StyleID]
				v = c
			}
			line = append(line, v)
		}
		if err := w.SetRow("A"+strconv.Itoa(row.number), line); err != nil {
			return err
		}
	}
	return nil
}

func finish(f *excelize.File, path string) error {
	f.SetZipWriter(func(w io.Writer) excelize.ZipWriter { return newStoring(w) })
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := f.Write(out); err != nil {
		return err
	}
	if err := out.Sync(); err != nil {
		return err
	}
	return out.Close()
}
