package report

import (
	"fmt"
	"strings"

	"lapwright/convert/lettering"
)

// summaryRow is one line of the Summary. strong marks a headline figure.
type summaryRow struct {
	section, item string
	value         func(at int) cell
	unit, remark  string
}

// summary gathers the lines of the Summary, section by section.
type summary struct {
	b       *book
	section string
	rows    []summaryRow
	checked []string // cells that say OK or CHECK
	sound   bool     // all of them say OK
	groups  []codeGroup

	foremost int // groups on the first page
	front    int // rows on the first page
}

func (b *book) writeSummary(sheet string) error {
	var s *summary
	for most := 8; most >= 0; most-- { // as many flags as the first page has room for
		if s = b.newSummary(most); s.frontPoints() <= s.page() {
			break
		}
	}
	if b.tables == nil {
		if err := b.nameFigures(s.rows); err != nil {
			return err
		}
	}
	return table[summaryRow]{sheet: sheet, name: "Summary", rows: s.rows, columns: summaryColumns(), breaks: s.front + 2}.write(b)
}

// newSummary gathers the lines; the first page shows the flags of so many
// codes.
func (b *book) newSummary(foremost int) *summary {
	s := &summary{b: b, groups: byCode(b.flags), sound: true}
	s.foremost = min(foremost, len(s.groups))
	s.job()
	s.headline()
	allChecks := len(s.rows)
	s.rows = append(s.rows, summaryRow{})
	s.decisions()
	s.changes()
	s.cautions()
	s.front = len(s.rows) // what a client reads ends here
	s.moreFlags()
	s.setOut()
	s.checks()
	s.rows[allChecks] = s.allChecks()
	s.rules()
	s.assumptions()
	s.made()
	s.nameSections()
	return s
}

// nameSections makes a section's name strong once and faint after.
func (s *summary) nameSections() {
	previous := ""
	for i := range s.rows {
		if name := s.rows[i].section; name == previous {
			s.rows[i].section = " " + name
		} else {
			previous = name
		}
	}
}

// frontPoints is how high the first page's rows are.
func (s *summary) frontPoints() float64 {
	columns := summaryColumns()
	widths, cells := make([]float64, len(columns)), make([]cell, len(columns))
	sum := 2 * lineHeight // the headers
	for i, r := range s.rows[:s.front] {
		for j, c := range columns {
			widths[j], cells[j] = c.width, c.of(r, i+2)
		}
		sum += max(fitted(cells, widths), lineHeight)
	}
	return sum
}

// page is how many points of the Summary go on a printed page.
func (s *summary) page() float64 {
	var widths []float64
	for _, c := range summaryColumns() {
		widths = append(widths, c.width)
	}
	return newForm(false, pageWide, pageHigh, widths...).page
}

func summaryColumns() []column[summaryRow] {
	return []column[summaryRow]{
		{"Section", 18, func(r summaryRow, _ int) cell {
			if name := strings.TrimPrefix(r.section, " "); name != r.section {
				return cell{v: name, l: faint}
			}
			return cell{v: r.section, l: firstText}
		}},
		{"Item", 34, func(r summaryRow, _ int) cell { return long(r.item) }},
		{"Value", valueWide, func(r summaryRow, at int) cell {
			if r.value == nil {
				return cell{}
			}
			return r.value(at)
		}},
		{"Unit", 8, func(r summaryRow, _ int) cell { return text(r.unit) }},
		{"Remark", 81, func(r summaryRow, _ int) cell { return long(r.remark) }},
	}
}

func (s *summary) begin(section string) { s.section = section }

func (s *summary) add(item string, value cell, unit, remark string) {
	s.addLive(item, func(int) cell { return value }, unit, remark)
}

func (s *summary) addLive(item string, value func(at int) cell, unit, remark string) {
	s.rows = append(s.rows, summaryRow{s.section, item, value, unit, remark})
}

// at returns the cell of the Value of the row just added.
func (s *summary) at() string { return fmt.Sprintf("C%d", len(s.rows)+1) }

func (s *summary) given(item, value string) {
	switch {
	case value == "":
	case lettering.Width(value) > lettering.Column(valueWide)-cellPadding: // spares the first page a line
		s.add(item, cell{}, "", value)
	default:
		s.add(item, long(value), "", "")
	}
}

// valueWide is the width of the Summary's values, in characters.
const valueWide = 20

func (s *summary) job() {
	j, r := s.b.res.Job, s.b.res
	s.begin("Job")
	s.given("Job name", j.Name)
	s.given("Site", j.Site)
	s.given("Prepared by", j.PreparedBy)
	s.given("Survey date", j.SurveyDate)
	walls, alike := 0, 0
	for _, w := range r.Walls {
		walls++
		alike += w.Quantity
	}
	s.add("Walls taken off", count(walls), "drawn", strings.TrimSpace(fmt.Sprintf("%s to build, counting those alike and handed. %s", plural(alike, "wall"), handedWalls(r))))
	if n := len(r.Left); n > 0 {
		s.add("Walls left out", cell{v: n, l: stopped}, "drawn", strings.Join(s.b.lackingLines(), "\n"))
	}
	if n := len(j.Plots); n > 0 {
		remark := ""
		if manyPlots(r) {
			remark = "The sheet Plot sheets, at the end, says which sheets are whose."
		}
		s.add("Plots", count(n), "", remark)
	}
	if r.Board.Code != "" {
		s.add("Board", long(r.Board.Code), "", fmt.Sprintf("%s, %v x %v x %v mm", r.Board.Description, r.Board.Length, r.Board.Width, r.Board.Thickness))
	}
	s.given("Cut together by", string(j.Pool))
}

// changes lists what differs from an earlier takeoff.
func (s *summary) changes() {
	s.begin("Since the last run")
	for _, c := range s.b.in.Changes {
		s.add(c.Item, cell{}, "", c.Say)
	}
}

func (s *summary) rules() {
	s.begin("Rules")
	changed := changedRules(s.b.res.Job.Rules)
	for _, r := range changed {
		s.add(r.name, long(r.value), "", "Default: "+r.usual+".")
	}
	if len(changed) == 0 {
		s.add("Rules in force", long("all defaults"), "", "")
	}
	s.begin("Declared")
	for _, d := range s.b.res.Job.Declared {
		s.add(d.Item, long(d.Value), d.Unit, "Source: "+orWords(d.Source, "not stated")+".")
	}
	for _, u := range s.b.res.Undeclared {
		s.add(u, long("not declared"), "", "Not declared by maker or designer: a default stands in, or it is not checked.")
	}
	if len(s.b.res.Job.Declared)+len(s.b.res.Undeclared) == 0 {
		s.add("Declared values", long("none"), "", "Nothing was declared by a maker or a designer.")
	}
}

func (s *summary) assumptions() {
	s.begin("Assumptions")
	w := s.b.res.Wind
	if w.Checked {
		s.add("Wind pressure", quantity(w.Pressure), "Pa", w.Basis)
	} else {
		s.add("Wind pressure", long("not checked"), "", w.Basis)
	}
	for i, n := range s.b.res.Notes {
		s.add(fmt.Sprintf("Assumption %d", i+1), cell{}, "", n)
	}
}

// made says what made the workbook and from what.
func (s *summary) made() {
	s.begin("Made by")
	s.add("Program", long(strings.TrimSpace("lapwright "+s.b.in.Version)), "", "")
	s.given("Survey", s.b.in.SurveyName)
	if s.b.macros {
		s.add("Macros", long("left out"), "", "The survey's macros stay in the survey; this is a plain workbook without any.")
	}
	if s.b.in.Digest != "" {
		s.add("Digest of the input", cell{}, "", s.b.in.Digest)
	}
	s.effort()
	s.add("To print", cell{}, "", "For the site: a sheet a wall and the Saw sheet. For the office: Summary, Order summary and Flagged issues. The other sheets are for looking up and for other programs; they print small.")
}
