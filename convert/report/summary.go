package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
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
	for most := 6; most >= 0; most-- { // as many flags as the first page has room for
		if s = b.newSummary(most); s.frontPoints() <= s.page() {
			break
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
	return newForm(false, pageWide, pageHigh, 0, widths...).page
}

func summaryColumns() []column[summaryRow] {
	return []column[summaryRow]{
		{"Section", 16, func(r summaryRow, _ int) cell {
			if name := strings.TrimPrefix(r.section, " "); name != r.section {
				return cell{v: name, l: faint}
			}
			return cell{v: r.section, l: firstText}
		}},
		{"Item", 34, func(r summaryRow, _ int) cell { return long(r.item) }},
		{"Value", 24, func(r summaryRow, at int) cell {
			if r.value == nil {
				return cell{}
			}
			return r.value(at)
		}},
		{"Unit", 8, func(r summaryRow, _ int) cell { return text(r.unit) }},
		{"Remark", 78, func(r summaryRow, _ int) cell { return long(r.remark) }},
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
	if value != "" {
		s.add(item, long(value), "", "")
	}
}

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
	s.add("Walls taken off", count(walls), "drawn", fmt.Sprintf("%s to build, counting those alike and handed.", plural(alike, "wall")))
	if n := len(r.Left); n > 0 {
		s.add("Walls left out", cell{v: n, l: stopped}, "drawn", strings.Join(s.b.lackingLines(), "\n"))
	}
	if n := len(j.Plots); n > 0 {
		s.add("Plots", count(n), "", "")
	}
	if r.Board.Code != "" {
		s.add("Board", long(r.Board.Code), "", fmt.Sprintf("%s, %v x %v x %v mm", r.Board.Description, r.Board.Length, r.Board.Width, r.Board.Thickness))
	}
	s.given("Cut together by", string(j.Pool))
}

func (s *summary) headline() {
	s.begin("Headline")
	b := s.b
	var net, gross float64
	for _, w := range b.res.Walls {
		net += w.Net * float64(w.Quantity)
		gross += w.Gross * float64(w.Quantity)
	}
	s.add("Net area", fixed(net, hundreds), "m2", "Wall faces less openings.")
	s.add("Gross area", fixed(gross, hundreds), "m2", "Wall faces, openings not deducted.")
	t := b.res.Boards()
	s.add("Boards to cut", cell{v: t.Boards, l: bigNumber}, "boards", boundWords(t))
	s.add("Waste", fixed(t.Waste, tenth), "%", "Of the length of board bought, spare not counted.")
	s.add("Least waste possible", fixed(t.Floor, tenth), "%", "The floor: no layout within the rules wastes less.")
	if t.Hand > 0 {
		s.add("Saved against a hand layout", count(t.Hand-t.Boards), "boards", b.handWords(t))
	}
	s.ordered()
}

// handWords says what a hand layout takes, and what the difference is worth.
func (b *book) handWords(t engine.BoardTotals) string {
	name, worth := "the best hand method", 0.0
	for _, p := range b.res.Pools {
		if p.Role == engine.RoleBoard {
			worth += float64(p.Hand-p.Boards) * p.Price
			name = orWords(p.HandName, name)
		}
	}
	return fmt.Sprintf("Against %s, which takes %d; worth %.2f %s.", name, t.Hand, worth, b.currency())
}

func orWords(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func boundWords(t engine.BoardTotals) string {
	switch {
	case t.Boards == 0:
		return ""
	case t.Proven:
		return "As few as any layout within the rules can need: proven."
	}
	return fmt.Sprintf("No layout within the rules needs fewer than %d.", t.Bound)
}

// ordered adds the figures that follow the order's inputs.
func (s *summary) ordered() {
	b := s.b
	t := b.orderTable(b.actual["Order summary"])
	n := len(t.rows)
	col := func(header string) string { return b.rangeRef("Order summary", t.letter(header), n) }
	var boards, cost, kg float64
	for _, r := range t.rows {
		if r.Role == engine.RoleBoard {
			boards += packs(r) * packOf(r)
		}
		cost += amount(r)
		kg += weight(r)
	}
	s.add("Boards to order", live(fmt.Sprintf(`SUMPRODUCT((%s="board")*%s*%s)`, col("Role"), col("Packs"), col("Pack")), boards, grouped),
		"boards", "With spare, in whole packs; follows the Order summary.")
	s.add("Cost", live(b.cellRef("Order summary", b.total), cost, bigMoney), b.currency(), s.costWords())
	total := strings.Replace(b.total, t.letter("Amount"), t.letter("Weight kg"), 1)
	if kg > 0 {
		s.add("Weight", live(b.cellRef("Order summary", total), kg, grouped), "kg", "Of what the order weighs, as far as the products give a weight.")
	}
}

func (s *summary) costWords() string {
	out := "Materials of the Order summary, without tax; follows its prices, packs and spare."
	if l := s.b.lacking(); l != "" {
		out = l + ". " + out
	}
	return out
}

// decisions lists what is flagged, by severity and then by code.
func (s *summary) decisions() {
	s.begin("Flags")
	b := s.b
	t := b.flagTable(b.actual["Flagged issues"])
	severities := b.rangeRef("Flagged issues", t.letter("Severity"), len(t.rows))
	for _, sev := range []struct {
		is  engine.Severity
		say string
	}{
		{engine.Stop, "A stop keeps its wall out of the takeoff until it is mended."},
		{engine.Check, "A check wants a decision before anyone cuts."},
		{engine.Note, "A note is for information."},
	} {
		n := 0
		for _, f := range b.flags {
			if f.Severity == sev.is {
				n++
			}
		}
		s.addLive(sev.is.String(), tally(severities, n), "flags", sev.say)
	}
	for _, g := range s.groups[:s.foremost] {
		s.group(g)
	}
}

func (s *summary) moreFlags() {
	s.begin("More flags")
	for _, g := range s.groups[s.foremost:] {
		s.group(g)
	}
}

// group adds a line for the flags of one code.
func (s *summary) group(g codeGroup) {
	t := s.b.flagTable(s.b.actual["Flagged issues"])
	codes := s.b.rangeRef("Flagged issues", t.letter("Code"), len(t.rows))
	s.addLive(g.code, tally(codes, g.n), g.worst.String(), g.say)
}

// tally counts how often the line's own item stands in a column.
func tally(of string, n int) func(int) cell {
	return func(at int) cell { return live(fmt.Sprintf("COUNTIF(%s,B%d)", of, at), n, whole) }
}

// codeGroup is all flags of one code.
type codeGroup struct {
	code, say string
	worst     engine.Severity
	n         int
}

func byCode(flags []engine.Flag) []codeGroup {
	var out []codeGroup
	at := map[string]int{}
	for _, f := range flags {
		i, ok := at[f.Code]
		if !ok {
			i = len(out)
			at[f.Code] = i
			out = append(out, codeGroup{code: f.Code, worst: f.Severity, say: strings.TrimSpace(f.What + " " + f.Do)})
		}
		out[i].n++
	}
	for i := range out {
		if out[i].n > 1 {
			out[i].say = "First of these: " + out[i].say
		}
		out[i].say = shortened(out[i].say, sayMost)
	}
	return out
}

// sayMost is how many characters of a flag the Summary shows.
const sayMost = 200

func shortened(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return strings.TrimSpace(string(r[:most])) + " ..."
	}
	return s
}

// changes lists what differs from an earlier takeoff.
func (s *summary) changes() {
	s.begin("Changes")
	for i, c := range s.b.in.Changes {
		s.add(fmt.Sprintf("Since the last run %d", i+1), cell{}, "", c)
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
		s.add(u, long("not declared"), "", "Used and not declared by a maker or a designer: a default stands in, or the check is not made.")
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
	s.given("Digest of the input", s.b.in.Digest)
	s.given("Effort", string(s.b.res.Effort))
}
