package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// checks are sums the workbook does for itself and answers in words. They
// compare tables with each other, so that an edit in one of them shows.
func (s *summary) checks() {
	s.begin("Checks")
	s.rowsCheck()
	sawn, fit := s.sawn()
	s.piecesCheck(sawn)
	s.sawCheck(fit)
	s.orderCheck()
	s.completeCheck()
	s.priceCheck()
	s.longTables()
}

// verdict adds a line that says OK or CHECK.
func (s *summary) verdict(item, test string, ok bool, remark string) {
	word := "OK"
	if !ok {
		word = "CHECK"
	}
	s.add(item, live(fmt.Sprintf(`IF(%s,"OK","CHECK")`, test), word, verdict), "", remark)
	s.checked = append(s.checked, s.at())
	s.sound = s.sound && ok
}

// allChecks is the one line that says whether any check failed.
func (s *summary) allChecks() summaryRow {
	word := "OK"
	if !s.sound {
		word = "CHECK"
	}
	test := strings.Join(s.checked, `="OK",`) + `="OK"`
	return summaryRow{"Headline", "Checks", func(int) cell {
		return live("IF(AND("+test+`),"OK","CHECK")`, word, verdict)
	}, "", "Sums the workbook does for itself, listed under Checks below."}
}

func (s *summary) rowsCheck() {
	r := s.b.in.Rows
	if r == (Rows{}) {
		return
	}
	s.add("Survey rows read", count(r.Read), "rows", "Of every sheet that was read, those of Job, Rules and Declared among them.")
	read := s.at()
	s.add("Survey rows taken", count(r.Taken), "rows", "")
	taken := s.at()
	s.add("Survey rows flagged, not taken", count(r.Flagged), "rows", "")
	flagged := s.at()
	s.add("Survey rows blank", count(r.Blank), "rows", "")
	s.verdict("Rows read = taken + flagged + blank", fmt.Sprintf("%s=%s+%s+%s", read, taken, flagged, s.at()),
		r.Read == r.Taken+r.Flagged+r.Blank, "No row of the survey was lost.")
}

// sawn counts the pieces that the cutting plan cuts of boards, and says whether the
// cuts of every row fit their board.
func (s *summary) sawn() (pieces int, fit bool) {
	fit = true
	for r := range s.b.res.CutRows(0, s.b.res.CutCount()) {
		if r.Role == engine.RoleBoard || r.Role == engine.RoleReveal {
			pieces += r.Count * piecesOf(r)
		}
		fit = fit && r.Stock+r.Shared-lengthOf(r)-r.Offcut >= -measure.Tenth/2
	}
	return pieces, fit
}

func (s *summary) piecesCheck(sawn int) {
	b := s.b
	list, plan := b.cutList(b.actual["Cut list"]), b.cuttingPlan(b.actual["Cutting plan"])
	listed := 0
	for i := range b.res.Walls {
		listed += b.res.Counts(i).Built
	}
	s.add("Pieces in the cut list", live(b.over("Cut list", list.count(), func(col func(string) string) string {
		return "SUM(" + col(list.letter("Quantity")) + ")"
	}), listed, whole), "pieces", "")
	first := s.at()
	s.add("Pieces in the cutting plan", live(b.over("Cutting plan", plan.count(), func(col func(string) string) string {
		of := func(header string) string { return col(plan.letter(header)) }
		return fmt.Sprintf(`SUMPRODUCT(((%[1]s="%[2]s")+(%[1]s="%[3]s"))*%[4]s*%[5]s)`, of("Role"), engine.RoleBoard, engine.RoleReveal, of("Count"), of("Pieces"))
	}), sawn, whole), "pieces", "")
	s.verdict("Pieces listed = pieces sawn", first+"="+s.at(), listed == sawn, "Every piece comes from a board, none twice.")
}

func (s *summary) sawCheck(fit bool) {
	b := s.b
	plan := b.cuttingPlan(b.actual["Cutting plan"])
	test := b.over("Cutting plan", plan.count(), func(col func(string) string) string {
		of := func(header string) string { return col(plan.letter(header)) }
		return fmt.Sprintf("SUMPRODUCT((%s+%s-%s-%s<-0.05)*1)", of("Stock mm"), of("Shared mm"), of("Cut mm"), of("Offcut mm"))
	})
	s.verdict("Cuts and offcuts fit their boards", test+"=0", fit, "No board is cut longer than itself; the rest is the saw's kerf.")
}

func (s *summary) orderCheck() {
	b := s.b
	t := b.orderTable(b.actual["Order summary"])
	of := func(header string) string { return b.rangeRef("Order summary", t.letter(header), len(t.rows)) }
	s.verdict("Order covers what is needed", fmt.Sprintf("SUMPRODUCT((%s*%s<%s)*1)=0", of("Packs"), of("Pack"), of("Net quantity")),
		covers(t.rows), "Packs times pack is at least the net quantity in every row.")
}

func covers(rows []orderRow) bool {
	for _, r := range rows {
		if packs(r)*packOf(r) < r.Net {
			return false
		}
	}
	return true
}

func (s *summary) completeCheck() {
	b := s.b
	s.add("Walls left out of the order", count(len(b.res.Left)), "walls", b.lacking())
	s.verdict("Order complete", fmt.Sprintf(`AND(%s=0,%s=0)`, s.at(), b.countFlags("Severity", `"stop"`)), b.lacking() == "", "No wall left out and no stop.")
}

// priceCheck counts the lines that the total leaves out for want of a price.
func (s *summary) priceCheck() {
	b := s.b
	t := b.orderTable(b.actual["Order summary"])
	of := func(header string) string { return b.rangeRef("Order summary", t.letter(header), len(t.rows)) }
	n := unpriced(t.rows)
	s.add("Order lines without a price", live(fmt.Sprintf(`SUMPRODUCT((%s<>"")*(%s=0))`, of("Role"), of("Unit price")), n, whole), "lines", "The cost leaves them out.")
	s.verdict("Every order line has a price", s.at()+"=0", n == 0, "Type prices into the Order summary, or give them in Products.")
}
