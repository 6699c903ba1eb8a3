package report

import (
	"encoding/xml"
	"path"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	surveybook "lapwright/convert/survey/book"
)

// A takeoff workbook may come in again as its own survey. What an earlier run
// put in is taken out first: our sheets with all that hangs on them, and our
// colours, comments and links on the survey's sheets.

// dropEarlier takes an earlier takeoff out of the workbook. It reports whether
// sheets of the survey are left.
func (b *book) dropEarlier() (left bool, err error) {
	made, marked := madeSheets(b.file), signedNames(b.file)
	var survey []string
	for _, s := range b.file.GetSheetList() {
		switch {
		case made[s]:
			continue
		case marked[s]:
			b.help = append(b.help, s)
		}
		survey = append(survey, s)
	}
	b.dropNames(made)
	if len(made) == 0 || len(survey) == 0 {
		return len(survey) > 0, nil
	}
	if err := b.dropSheets(made); err != nil {
		return true, err
	}
	for _, s := range survey {
		if err := b.unmark(s); err != nil {
			return true, err
		}
	}
	return true, nil
}

func (b *book) dropSheets(ours map[string]bool) error {
	b.dropParts(ours)
	for _, s := range b.file.GetSheetList() {
		if ours[s] {
			if err := b.file.DeleteSheet(s); err != nil {
				return err
			}
		}
	}
	return nil
}

// dropNames takes our names away: the hidden ones, and those of figures on our
// sheets. Names that the reader made for cells of our sheets stay; they are
// right again once the sheet is made anew.
func (b *book) dropNames(made map[string]bool) {
	if b.file.WorkBook.DefinedNames == nil {
		return
	}
	all := b.file.WorkBook.DefinedNames.DefinedName
	kept := all[:0]
	for _, d := range all {
		figure := d.LocalSheetID == nil && slices.Contains(figureNames(), d.Name) && made[surveybook.SheetOf(d.Data)]
		if !figure && !strings.HasPrefix(d.Name, ours) {
			kept = append(kept, d)
		}
	}
	b.file.WorkBook.DefinedNames.DefinedName = kept
	if len(kept) == 0 {
		b.file.WorkBook.DefinedNames = nil
	}
}

// dropParts removes the tables, drawings and pictures that only our sheets
// use; the library leaves them in the file when a sheet goes.
func (b *book) dropParts(ours map[string]bool) {
	sheets := b.sheetParts()
	var mine []string
	for name, part := range sheets {
		if ours[name] {
			mine = append(mine, part)
		}
	}
	slices.Sort(mine)
	used := b.reach([]string{"xl/workbook.xml"}, mine)
	for part := range b.reach(mine, nil) {
		if used[part] || slices.Contains(mine, part) {
			continue
		}
		b.file.Pkg.Delete(part)
		b.file.Pkg.Delete(relsOf(part))
		b.dropType("/" + part)
	}
}

// dropType takes a part out of the list of content types.
func (b *book) dropType(part string) {
	if b.file.ContentTypes == nil {
		return
	}
	kept := b.file.ContentTypes.Overrides[:0]
	for _, o := range b.file.ContentTypes.Overrides {
		if o.PartName != part {
			kept = append(kept, o)
		}
	}
	b.file.ContentTypes.Overrides = kept
}

// relation is one line of a part's list of relations.
type relation struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
	Mode   string `xml:"TargetMode,attr"`
}

func relsOf(part string) string {
	return path.Join(path.Dir(part), "_rels", path.Base(part)+".rels")
}

// relations reads what a part relates to within the file.
func (b *book) relations(part string) []relation {
	data, ok := b.file.Pkg.Load(relsOf(part))
	if !ok {
		return nil
	}
	var list struct {
		Relations []relation `xml:"Relationship"`
	}
	if xml.Unmarshal(data.([]byte), &list) != nil {
		return nil
	}
	var out []relation
	for _, r := range list.Relations {
		if r.Mode == "External" {
			continue
		}
		if strings.HasPrefix(r.Target, "/") {
			r.Target = strings.TrimPrefix(r.Target, "/")
		} else {
			r.Target = path.Join(path.Dir(part), r.Target)
		}
		out = append(out, r)
	}
	return out
}

// reach returns the parts that can be reached from some, going round others.
func (b *book) reach(from, without []string) map[string]bool {
	seen := map[string]bool{}
	for len(from) > 0 {
		part := from[0]
		from = from[1:]
		if seen[part] || slices.Contains(without, part) {
			continue
		}
		seen[part] = true
		for _, r := range b.relations(part) {
			from = append(from, r.Target)
		}
	}
	return seen
}

// sheetParts returns where each sheet stands in the file.
func (b *book) sheetParts() map[string]string {
	at := map[string]string{}
	for _, r := range b.relations("xl/workbook.xml") {
		at[r.ID] = r.Target
	}
	out := map[string]string{}
	if b.file.WorkBook == nil {
		return out
	}
	for _, s := range b.file.WorkBook.Sheets.Sheet {
		out[s.Name] = at[s.ID]
	}
	return out
}

// unmark takes our comments, links and colours off a sheet of the survey. A
// sheet without our comments is not touched.
func (b *book) unmark(sheet string) error {
	comments, err := b.file.GetComments(sheet)
	if err != nil {
		return err
	}
	for _, c := range comments {
		// some programs save a workbook without the authors of its comments
		if c.Author != author && !strings.Contains(plainComment(c), ourLine) {
			continue
		}
		if err := b.unmarkCell(sheet, c); err != nil {
			return err
		}
	}
	return nil
}

func (b *book) unmarkCell(sheet string, c excelize.Comment) error {
	f := b.file
	if err := f.DeleteComment(sheet, c.Cell); err != nil {
		return err
	}
	if theirs, _, ok := strings.Cut(plainComment(c), ourLine); ok && theirs != "" {
		who, said, _ := strings.Cut(theirs, ": ")
		if err := f.AddComment(sheet, excelize.Comment{Cell: c.Cell, Author: orWords(strings.TrimSpace(who), "Author"), Text: strings.TrimSpace(said)}); err != nil {
			return err
		}
	}
	if has, to, err := f.GetCellHyperLink(sheet, c.Cell); err != nil {
		return err
	} else if has && strings.HasPrefix(to, "'Flagged issues") {
		if err := f.SetCellHyperLink(sheet, c.Cell, "", "None"); err != nil {
			return err
		}
	}
	return b.unfill(sheet, c.Cell)
}

// unfill takes our fill off a cell.
func (b *book) unfill(sheet, cell string) error {
	before, err := b.file.GetCellStyle(sheet, cell)
	if err != nil {
		return err
	}
	if _, err := b.file.NewStyle(&excelize.Style{}); err != nil { // loads the styles
		return err
	}
	formats := b.file.Styles.CellXfs
	if before <= 0 || before >= len(formats.Xf) {
		return nil
	}
	none, off := 0, false
	with := formats.Xf[before]
	with.FillID, with.ApplyFill = &none, &off
	formats.Xf = append(formats.Xf, with)
	formats.Count = len(formats.Xf)
	return b.file.SetCellStyle(sheet, cell, cell, len(formats.Xf)-1)
}
