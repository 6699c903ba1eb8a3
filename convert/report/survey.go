package report

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
)

// author signs our comments, by which they are known again.
const author = "lapwright"

// ourLine stands in a comment between what the survey said there and what we
// say.
const ourLine = author + ":\n"

// cellName is a cell in A1 notation, within the bounds of a sheet or nearly.
var cellName = regexp.MustCompile(`^[A-Z]{1,3}[1-9][0-9]{0,6}$`)

// flagged is a cell of the survey with the rows of its flags.
type flagged struct {
	sheet, cell string
	worst       engine.Severity
	rows        []int // indexes in flags
}

// flaggedCells groups the flags by cell, in the order of the flags.
func (b *book) flaggedCells() []flagged {
	var out []flagged
	at := map[string]int{}
	for i, f := range b.flags {
		sheet, ok := b.surveySheet(f.Place)
		if !ok || !cellName.MatchString(f.Place.Cell) {
			continue
		}
		key := sheet + "\x00" + f.Place.Cell
		n, ok := at[key]
		if !ok {
			n = len(out)
			at[key] = n
			out = append(out, flagged{sheet: sheet, cell: f.Place.Cell, worst: f.Severity})
		}
		out[n].worst = max(out[n].worst, f.Severity)
		out[n].rows = append(out[n].rows, i)
	}
	return out
}

// markSurvey colours each flagged cell of the survey, says in a comment what
// is wrong, and links it to its flag. Sheets without flags are not touched.
func (b *book) markSurvey() error {
	m := marker{b: b, styles: map[[2]int]int{}, fills: map[engine.Severity]int{}, noted: map[string]map[string]excelize.Comment{}, links: map[string]map[string]bool{}}
	for _, c := range b.flaggedCells() {
		if err := m.mark(c); err != nil {
			return fmt.Errorf("cell %s of the survey's sheet %q: %w", c.cell, c.sheet, err)
		}
	}
	return nil
}

type marker struct {
	b      *book
	styles map[[2]int]int          // style before, severity -> style after
	fills  map[engine.Severity]int // severity -> a style with its fill
	noted  map[string]map[string]excelize.Comment
	links  map[string]map[string]bool
}

func (m *marker) mark(c flagged) error {
	if err := m.colour(c); err != nil {
		return err
	}
	if err := m.comment(c); err != nil {
		return err
	}
	if has, err := m.linked(c); err != nil || has {
		return err // the survey's own link stays
	}
	return m.b.file.SetCellHyperLink(c.sheet, c.cell, m.b.flagPlace(c.rows[0]), "Location")
}

// linked reports whether the survey has a link at the cell. The library looks
// through all links of a sheet for each cell it is asked about, so they are
// listed once.
func (m *marker) linked(c flagged) (bool, error) {
	if m.links[c.sheet] == nil {
		cells, err := m.b.file.GetHyperLinkCells(c.sheet, "")
		if err != nil {
			return false, err
		}
		m.links[c.sheet] = map[string]bool{}
		for _, cell := range cells {
			m.links[c.sheet][cell] = true
		}
	}
	return m.links[c.sheet][c.cell], nil
}

// colour gives the cell the fill of its severity and leaves the rest of its
// style as it was.
func (m *marker) colour(c flagged) error {
	f := m.b.file
	before, err := f.GetCellStyle(c.sheet, c.cell)
	if err != nil {
		return err
	}
	key := [2]int{before, int(c.worst)}
	after, ok := m.styles[key]
	if !ok {
		if after, err = m.filled(before, c.worst); err != nil {
			return err
		}
		m.styles[key] = after
	}
	return f.SetCellStyle(c.sheet, c.cell, c.cell, after)
}

// filled copies a cell format with another fill. The library's own way, to
// read the format and make a new one of it, loses what it does not know.
func (m *marker) filled(before int, s engine.Severity) (int, error) {
	fill, ok := m.fills[s]
	if !ok {
		colour := map[engine.Severity]string{engine.Stop: fillStop, engine.Check: fillCheck, engine.Note: fillNote}[s]
		id, err := m.b.file.NewStyle(&excelize.Style{Fill: solid(colour)})
		if err != nil {
			return 0, err
		}
		fill = id
		m.fills[s] = fill
	}
	formats := m.b.file.Styles.CellXfs
	if before < 0 || before >= len(formats.Xf) {
		return fill, nil
	}
	with := formats.Xf[before]
	with.FillID, with.ApplyFill = formats.Xf[fill].FillID, formats.Xf[fill].ApplyFill
	formats.Xf = append(formats.Xf, with)
	formats.Count = len(formats.Xf)
	return len(formats.Xf) - 1, nil
}

// comment says at the cell what is wrong and what to do; what the survey had
// to say there itself comes first.
func (m *marker) comment(c flagged) error {
	f := m.b.file
	if _, ok := m.noted[c.sheet]; !ok {
		m.noted[c.sheet] = map[string]excelize.Comment{}
		old, err := f.GetComments(c.sheet)
		if err != nil {
			return err
		}
		for _, n := range old {
			m.noted[c.sheet][n.Cell] = n
		}
	}
	var lines []string
	if old, ok := m.noted[c.sheet][c.cell]; ok {
		if strings.HasPrefix(old.Author, "tc=") {
			return nil // stands for a thread of comments, which is kept elsewhere
		}
		lines = append(lines, orWords(strings.TrimSpace(old.Author), "Author")+": "+plainComment(old))
		if err := f.DeleteComment(c.sheet, c.cell); err != nil {
			return err
		}
	}
	lines = append(lines, strings.TrimSuffix(ourLine, "\n"))
	for _, i := range c.rows {
		fl := m.b.flags[i]
		lines = append(lines, fmt.Sprintf("%s (%s): %s", strings.ToUpper(fl.Severity.String()), fl.Code, said(fl)))
	}
	said := strings.Join(lines, "\n")
	return f.AddComment(c.sheet, excelize.Comment{
		Cell: c.cell, Author: author, Width: 320, Height: uint(40 + 16*(len(said)/44+len(lines))),
		Paragraph: []excelize.RichTextRun{{Text: said}},
	})
}

func plainComment(c excelize.Comment) string {
	s := c.Text
	for _, r := range c.Paragraph {
		s += r.Text
	}
	return s
}
