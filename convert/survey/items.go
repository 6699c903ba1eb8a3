package survey

import (
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// itemColumns are the columns of a sheet of items; 0: there is none.
type itemColumns struct{ item, value, unit, source int }

// itemColumns finds the columns of a sheet of items by its headers; without
// headers the items are looked for and their values stand right of them.
func (r *reader) itemColumns(t *table) (itemColumns, bool) {
	var c itemColumns
	for i, p := range []*int{&c.item, &c.value, &c.unit, &c.source} {
		if i < len(t.schema.Columns) {
			if col := t.find(t.schema.Columns[i].Name); col != nil {
				*p = col.col
			}
		}
	}
	if c.item > 0 && c.value > 0 {
		return c, true
	}
	index := r.index[t.schema.Name+" items"]
	counts := map[int]int{}
	for i := range t.sheet.Rows[:min(len(t.sheet.Rows), 200)] {
		for _, cell := range t.sheet.Rows[i].Cells {
			if _, ok := r.match(index, cell.Text); ok && cell.Kind == book.Text {
				counts[cell.Col]++
			}
		}
	}
	best := 0
	for col := 1; col <= 20; col++ {
		if counts[col] > counts[best] {
			best = col
		}
	}
	if best == 0 {
		return itemColumns{}, false
	}
	t.header, r.untidy = 0, true
	return itemColumns{item: best, value: best + 1}, true
}

// readItems reads a sheet that has a row for each field.
func (r *reader) readItems(t *table) {
	cols, ok := r.itemColumns(t)
	if !ok {
		if len(t.sheet.Rows) > 0 {
			r.noHeaders(t)
		}
		r.skipAll(t)
		return
	}
	seen := map[string]int{}
	var hidden []span
	last := t.header
	for i := range t.sheet.Rows {
		row := &t.sheet.Rows[i]
		if row.Number <= t.header {
			continue
		}
		t.report.Rows += row.Number - last
		t.report.Blank += row.Number - last - 1
		last = row.Number
		if row.Hidden {
			t.report.Hidden++
			hidden = append(hidden, span{row.Number, row.Number})
		}
		switch r.readItem(t, row, cols, seen) {
		case "blank":
			t.report.Blank++
		case "taken":
			t.report.Taken++
		default:
			t.report.Flagged++
		}
	}
	r.noteHidden(t, hidden)
}

// readItem reads one row of a sheet of items and says what became of it.
func (r *reader) readItem(t *table, row *book.Row, cols itemColumns, seen map[string]int) string {
	name := r.plainText(row.At(cols.item))
	if name == "" {
		return r.itemless(t, row, cols)
	}
	h, ok := r.match(r.index[t.schema.Name+" items"], name)
	if !ok {
		return r.unknownItem(t, row, cols, name)
	}
	f := h.field
	if first := seen[f.Name]; first > 0 {
		r.flag(t.sheet, row.Number, cols.item, engine.Flag{Severity: check, Code: "unique-error",
			What: f.Name + " stands in " + book.Address(cols.item, first) + " already; this row was not read", Do: "Leave one of them"})
		return "flagged"
	}
	seen[f.Name] = row.Number
	u, ok := r.itemUnit(t, row, cols, h)
	if !ok {
		return "flagged"
	}
	if t.schema.Name != "Declared" { // where a flag points, be it blank
		r.job.Origins[f.Name] = engine.Place{File: t.sheet.File, Sheet: t.sheet.Name, Cell: book.Address(cols.value, row.Number)}
	}
	v, found := r.parse(row.At(cols.value), f, u)
	for _, x := range found {
		if x.severity == stop { // the default stands in, so that walls go on
			x.severity, x.do = check, x.do+"; until then "+fallback(f)
		}
		r.flag(t.sheet, row.Number, cols.value, engine.Flag{Severity: x.severity, Code: x.code, What: f.Name + ": " + x.what, Do: x.do})
	}
	if !v.set && len(found) > 0 {
		return "flagged"
	}
	if v.set {
		r.takeItem(t, row, cols, f, v)
	}
	return "taken"
}

func fallback(f *templates.Field) string {
	if f.Default == "" {
		return "it counts as not given"
	}
	return "the default counts, " + f.Default
}

func (r *reader) itemless(t *table, row *book.Row, cols itemColumns) string {
	for _, c := range row.Cells {
		if r.plainText(c) != "" {
			r.flag(t.sheet, row.Number, c.Col, engine.Flag{Severity: note, Code: "stray-cell",
				What: "This row names no item and was not read", Do: "Name the item in " + book.Address(cols.item, row.Number) + ", if it is one"})
			return "flagged"
		}
	}
	return "blank"
}

// unknownItem flags an item that is not ours. What is declared is kept under
// its own name.
func (r *reader) unknownItem(t *table, row *book.Row, cols itemColumns, name string) string {
	var known []string
	for _, f := range t.schema.Fields {
		known = append(known, f.Name)
	}
	r.flag(t.sheet, row.Number, cols.item, engine.Flag{Severity: check, Code: "extra-label",
		What: quote(name) + " is no item of " + t.schema.Name + " and was not used" + suggestion(name, known),
		Do:   "Write it as one of our items, or leave it for your own use"})
	return "flagged"
}

// itemUnit is the unit a row's value is in: what its unit column says, else
// what its item says.
func (r *reader) itemUnit(t *table, row *book.Row, cols itemColumns, h headerName) (unit, bool) {
	u := h.unit
	if cols.unit == 0 {
		return u, true
	}
	text := r.plainText(row.At(cols.unit))
	if text == "" || text == "-" {
		return u, true
	}
	own, _ := r.unitOf(h.field.Unit)
	given, ok := r.unitOf(text)
	if ok && given.kind == own.kind {
		return given, true
	}
	if own.kind == "" {
		return u, true // a count or a word: what stands there is no unit of ours
	}
	r.flag(t.sheet, row.Number, cols.unit, engine.Flag{Severity: check, Code: "type-error",
		What: quote(text) + " is no unit for " + h.field.Name + "; the row was not read", Do: "Give it in " + h.field.Unit})
	return u, false
}

func (r *reader) takeItem(t *table, row *book.Row, cols itemColumns, f *templates.Field, v value) {
	r.items = append(r.items, []string{t.schema.Name, t.sheet.Name, itoa(row.Number), f.Name, v.said(f)})
	switch t.schema.Name {
	case "Job":
		r.takeJob(f.Name, v)
	case "Rules":
		setRule(&r.job.Rules, f.Name, v)
	case "Declared":
		letters := book.Column(cols.value)
		r.job.Declared = append(r.job.Declared, engine.Declared{
			Item: f.Name, Value: v.text, Unit: f.Unit, Source: r.plainText(row.At(cols.source)),
			Origin: engine.Origin{Row: row.Number, Sheet: &engine.SheetMap{File: t.sheet.File, Sheet: t.sheet.Name,
				Columns: map[string]string{"Item": book.Column(cols.item), "Value": letters}, Last: letters}},
		})
	}
}

// takeJob sets one item of the job.
func (r *reader) takeJob(name string, v value) {
	j := r.job
	texts := map[string]*string{
		"Job name": &j.Name, "Site": &j.Site, "Prepared by": &j.PreparedBy, "Survey date": &j.SurveyDate,
		"Board": &j.Board, "Colour": &j.Colour, "Pressure source": &j.Wind.PressureSource,
		"Terrain category": &j.Wind.Terrain, "Timber class": &j.Wind.TimberClass, "Currency": &j.Currency,
		"Order number": &j.Order.Number, "Issue date": &j.Order.IssueDate, "Buyer": &j.Order.Buyer,
		"Buyer endpoint": &j.Order.BuyerEndpoint, "Seller": &j.Order.Seller,
		"Seller endpoint": &j.Order.SellerEndpoint, "Seller country": &j.Order.SellerCountry,
	}
	numbers := map[string]*float64{
		"Peak velocity pressure Pa": &j.Wind.PeakPressure, "Basic wind velocity m/s": &j.Wind.BasicVelocity, "Air density": &j.Wind.AirDensity,
	}
	lengths := map[string]*measure.Length{
		"Building height m": &j.Wind.BuildingHeight, "Building depth m": &j.Wind.BuildingDepth, "Building width m": &j.Wind.BuildingWidth,
	}
	switch {
	case texts[name] != nil:
		*texts[name] = v.text
	case numbers[name] != nil:
		*numbers[name] = v.number
	case lengths[name] != nil:
		*lengths[name] = v.length
	case name == "Cut together by":
		j.Pool = engine.Pool(v.text)
	case name == "Storey heights m":
		j.Storeys = v.list
	case name == "Decimal mark":
		r.decimal = strings.TrimSpace(v.text)[0]
	}
}

// setRule sets one rule by its trade name.
func setRule(rules *engine.Rules, name string, v value) {
	switch p := ruleOf(rules, name).(type) {
	case *measure.Length:
		*p = v.length
	case *int:
		*p = v.count
	case *float64:
		*p = v.number
	case *bool:
		*p = v.yes
	case *[]measure.Length:
		*p = v.list
	}
}

// ruleOf returns where a rule of that trade name is kept.
func ruleOf(r *engine.Rules, name string) any {
	return map[string]any{
		"Lap least": &r.LapLeast, "Lap most": &r.LapMost, "Gauge step most": &r.GaugeStepMost,
		"Ground clearance": &r.GroundClearance, "Ventilation gap": &r.VentilationGap, "Soffit gap": &r.SoffitGap,
		"Level tolerance": &r.LevelTolerance, "Strip least": &r.StripLeast,
		"Batten centres": &r.BattenCentres, "Batten width": &r.BattenWidth, "Wide batten width": &r.WideBattenWidth,
		"Batten depth": &r.BattenDepth, "Cavity least": &r.CavityLeast,
		"Joint gap": &r.JointGap, "Stagger bays": &r.StaggerBays, "Joint repeat courses": &r.JointRepeat,
		"Piece least": &r.PieceLeast, "Whole courses": &r.WholeCourses, "Kerf": &r.Kerf, "Trim joint lap": &r.TrimJointLap, "Trim least": &r.TrimLeast,
		"Allowance external corner": &r.AllowExternal, "Allowance internal corner": &r.AllowInternal,
		"Allowance abutment": &r.AllowAbutment, "Allowance open end": &r.AllowOpenEnd,
		"Allowance jamb": &r.AllowJamb, "Allowance lined jamb": &r.AllowLinedJamb, "Allowance verge": &r.AllowVerge,
		"Pre-drill within": &r.PreDrillWithin, "End distance least": &r.EndDistanceLeast, "Edge distance": &r.EdgeDistance, "Batten end distance least": &r.BattenEndLeast,
		"Trim fixing centres": &r.TrimFixing, "Strip fixing centres": &r.StripFixing, "Batten fixing centres": &r.BattenFixing,
		"Penetration least": &r.PenetrationLeast, "Reveal trims": &r.RevealTrims, "Void threshold": &r.VoidThreshold, "Membrane lap": &r.MembraneLap,
		"Tape spare": &r.TapeSpare, "Paint coverage": &r.PaintCoverage, "Spare cut": &r.SpareCut, "Spare other": &r.SpareOther,
		"Ventilation opening": &r.VentilationOpening, "Wall sheets most": &r.WallSheetsMost, "Centres tried": &r.CentresTried,
	}[name]
}
