package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/lettering"
	surveybook "lapwright/convert/survey/book"
)

// layout says how a sheet is set up to be printed.
type layout struct {
	headerRow bool // row 1 is frozen and repeats on each page
	portrait  bool
}

const paperA4 = 9 // ECMA-376 Part 1, 18.3.1.63 pageSetup

// What is left of A4 between the margins, in millimetres, across and upright.
const (
	pageWide, pageHigh               = 276.0, 178.0
	pageUprightWide, pageUprightHigh = 189.0, 265.0
)

// newPage begins a sheet: set-up first, as the stream writer wants it. The
// sheet does not say which cells it uses (ECMA-376 Part 1, 18.3.1.35, leaves
// that open): the library would say A1, and readers that stop there exist.
func (b *book) newPage(sheet string, l layout) (*page, error) {
	fit, grid, row := true, false, lineHeight
	if err := b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{
		FitToPage: &fit, DefaultRowHeight: &row, CustomHeight: &fit, // whatever the survey's own letter size
	}); err != nil {
		return nil, err
	}
	if err := b.file.SetSheetDimension(sheet, ""); err != nil {
		return nil, err
	}
	if !l.headerRow {
		if err := b.file.SetSheetView(sheet, 0, &excelize.ViewOptions{ShowGridLines: &grid}); err != nil {
			return nil, err
		}
	}
	sw, err := b.file.NewStreamWriter(sheet)
	if err != nil {
		return nil, err
	}
	p := &page{b: b, sw: sw, sheet: sheet, sum: surveybook.NewContents()}
	b.written[sheet] = p.sum
	if err := p.print(l); err != nil {
		return nil, err
	}
	return p, p.freeze(l)
}

func (p *page) freeze(l layout) error {
	if !l.headerRow || p.b.in.Accessible {
		return nil
	}
	return p.sw.SetPanes(&excelize.Panes{
		Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft",
		Selection: []excelize.Selection{{SQRef: "A2", ActiveCell: "A2", Pane: "bottomLeft"}},
	})
}

// print sets paper, margins, titles, header and footer.
func (p *page) print(l layout) error {
	f, size, way, wide, high := p.b.file, paperA4, "landscape", 1, 0
	if l.portrait {
		way = "portrait"
	}
	if err := f.SetPageLayout(p.sheet, &excelize.PageLayoutOptions{
		Size: &size, Orientation: &way, FitToWidth: &wide, FitToHeight: &high,
	}); err != nil {
		return err
	}
	side, top, edge := 0.4, 0.6, 0.25 // inches; two lines of a header stand between edge and top
	if err := f.SetPageMargins(p.sheet, &excelize.PageLayoutMarginsOptions{
		Left: &side, Right: &side, Top: &top, Bottom: &top, Header: &edge, Footer: &edge,
	}); err != nil {
		return err
	}
	if l.headerRow {
		if err := p.titleRow(1); err != nil {
			return err
		}
	}
	return p.runningTitles()
}

// smallest is how far a table is shrunk to take fewer pages: its letters of 10
// points are then a little over 6 on paper, as in a timetable. Tables are there
// to be searched; what is read on the scaffold is on the wall sheets.
const smallest = 0.64

// compact lets a table take as few pages as it does at that size, where it
// would take more at the full width.
func (p *page) compact() error {
	wide := 0.0
	for _, w := range p.wide {
		if w > 0 {
			wide += lettering.Column(w)
		}
	}
	const points = pageHigh / 25.4 * 72
	scale := min(1, pageWide/25.4*96/wide)
	pages := func(scale float64) int { return int(math.Ceil((p.used - p.header) / (points/scale - p.header))) }
	least := pages(min(scale, smallest))
	if least == 0 || pages(scale) == least {
		return nil
	}
	return p.b.file.SetPageLayout(p.sheet, &excelize.PageLayoutOptions{FitToHeight: &least})
}

// titleRow makes a row repeat at the top of each printed page below it.
func (p *page) titleRow(row int) error {
	return p.b.file.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$%d:$%d", ref(p.sheet), row, row), Scope: p.sheet,
	})
}

// runningMost is the most characters a page header or footer may have; three
// parts and their codes share it.
const runningMost = 255

// runningTitles sets what stands above and below each printed page. The parts
// of a header print over each other where they are long, so one that says what
// the order lacks has but one part, of two lines.
func (p *page) runningTitles() error {
	job := running(orWords(p.b.res.Job.Name, p.b.in.SurveyName), 60)
	const regular, strong = `&"Arial,Regular"`, `&"Arial,Bold"`
	sheet := strong + "&9" + running(p.sheet, 40)
	head := "&L" + regular + "&8" + job + "&C" + sheet
	if p.b.lacking() != "" {
		head = "&L" + sheet + regular + "&8   " + job + "\n"
		room := max(runningMost-utf8.RuneCountInString(head), 0)
		head += running(p.b.lackingIn(min(room, lackMost)), room)
	}
	foot := "&L" + regular + "&8lapwright " + running(p.b.in.Version, 30) + "&R" + regular + "&8Page &P of &N"
	return p.b.file.SetHeaderFooter(p.sheet, &excelize.HeaderFooterOptions{OddHeader: head, OddFooter: foot})
}

// lackMost is how many letters of 8 points go across an upright page.
const lackMost = 120

// running makes a text fit a page header: an ampersand begins a code there, a
// leading digit would be read as part of the font size.
func running(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, s)
	if s != "" && s[0] >= '0' && s[0] <= '9' {
		s = " " + s
	}
	out, used := strings.Builder{}, 0
	for _, r := range s {
		part := string(r)
		if r == '&' {
			part = "&&"
		}
		if used += utf8.RuneCountInString(part); used > most {
			break
		}
		out.WriteString(part)
	}
	return out.String()
}

// activate makes a sheet the one the workbook opens on. The survey's sheets
// are changed as bytes: read and written again, they would lose what the
// library does not know.
func (b *book) activate(sheet string) error {
	index, err := b.file.GetSheetIndex(sheet)
	if err != nil {
		return err
	}
	b.file.Pkg.Range(func(k, v any) bool {
		if name := k.(string); strings.HasPrefix(name, "xl/worksheets/sheet") {
			b.file.Pkg.Store(name, deselect(v.([]byte)))
		}
		return true
	})
	wb := b.file.WorkBook
	if wb.BookViews == nil || len(wb.BookViews.WorkBookView) == 0 {
		b.file.SetActiveSheet(index)
		return nil
	}
	wb.BookViews.WorkBookView[0].ActiveTab = index
	wb.BookViews.WorkBookView[0].FirstSheet = 0
	return nil
}

// deselect takes a sheet out of the group of selected sheets: typing into one
// of a group types into all.
func deselect(part []byte) []byte {
	head := part[:min(len(part), 8192)]
	i := bytes.Index(head, []byte(` tabSelected="1"`))
	if i < 0 {
		return part
	}
	return slices.Delete(slices.Clone(part), i, i+len(` tabSelected="1"`))
}

// withoutElement cuts one childless element out of a part.
func withoutElement(part []byte, name string) []byte {
	i := bytes.Index(part, []byte("<"+name))
	if i < 0 {
		return part
	}
	for _, end := range []string{"></" + name + ">", "/>"} {
		if j := bytes.Index(part[i:], []byte(end)); j >= 0 {
			return append(append([]byte{}, part[:i]...), part[i+j+len(end):]...)
		}
	}
	return part
}

// properties writes the title, language and date of the workbook.
func (b *book) properties() {
	const path = "docProps/core.xml"
	if _, ok := b.file.Pkg.Load(path); !ok {
		return
	}
	when := b.in.Date.UTC().Format("2006-01-02T15:04:05Z")
	name := b.res.Job.Name
	if name != "" {
		name = ": " + name
	}
	b.file.Pkg.Store(path, []byte(fmt.Sprintf(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>Takeoff%s</dc:title><dc:creator>lapwright</dc:creator><dcterms:created xsi:type="dcterms:W3CDTF">%s</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">%s</dcterms:modified><dc:language>en-GB</dc:language></cp:coreProperties>`, escape(name), when, when)))
}

func escape(s string) string {
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(s)) // writes to memory only
	return out.String()
}
