package survey

import (
	"strings"

	"lapwright/engine"
)

func (r *reader) takePlot(rec record) {
	p := engine.Plot{
		Name: rec.plot, HouseType: rec.get("House type").text, Handed: rec.get("Handed").yes, Colour: rec.get("Colour").text,
		Drop: rec.get("Drop").text, Address: rec.get("Address").text, Origin: rec.origin(),
	}
	if first, twice := r.plots[plotKey(p.Name)]; twice && !rec.stopped {
		r.at(&rec, "Plot", finding{stop, "primary-key", "The plot " + p.Name + " stands in row " + itoa(first) + " already", "Leave one of them, or name it otherwise"})
	}
	if rec.stopped {
		r.reject(&rec, nil, false)
		return
	}
	r.plots[plotKey(p.Name)] = rec.row.Number
	rec.values = nil
	r.plotRows = append(r.plotRows, plotRow{p, rec})
}

// plotRow is a plot with its row, until its house type is known to exist.
type plotRow struct {
	plot engine.Plot
	rec  record
}

func (r *reader) takeOffcut(rec record) {
	o := engine.Offcut{Code: rec.get("Code").text, Colour: rec.get("Colour").text, Length: rec.get("Length mm").length, Count: 1, Origin: rec.origin()}
	if c := rec.get("Count"); c.set {
		o.Count = c.count
	}
	if rec.stopped {
		r.reject(&rec, nil, false)
		return
	}
	r.job.Offcuts = append(r.job.Offcuts, o)
}

func (r *reader) takeMapping(rec record) {
	their := rec.get("Their header").text
	m := mapEntry{fold(rec.get("Sheet").text), fold(their), rec.get("Ours").text, their}
	if m.ours == "" {
		r.unfilled = append(r.unfilled, m)
	}
	if rec.stopped {
		return
	}
	r.mapping = append(r.mapping, m)
	var known []string
	for _, s := range r.schemas {
		if _, ok := r.match(r.index[s.Name], m.ours); ok || m.ours == "" || m.ours == "-" || m.header == "" && r.byName(m.ours) != nil {
			return
		}
		for _, f := range s.Header() {
			known = append(known, f.Name)
		}
	}
	r.at(&rec, "Ours", finding{check, mappingCode, quote(m.ours) + " is none of our headers" + suggestion(m.ours, known), "Write one of our headers, or - to leave the column out"})
}

// mappingCode is the code of a mapping's own faults.
const mappingCode = "mapping-unknown"

// takeProduct makes a product of a row of Products.
func (r *reader) takeProduct(rec record) {
	if rec.stopped {
		r.reject(&rec, nil, false)
		return
	}
	p := engine.Product{
		Role: rec.get("Role").text, Code: rec.get("Code").text, Description: rec.get("Description").text,
		Colour: rec.get("Colour").text, Unit: rec.or("Unit"),
		Length: rec.get("Length mm").length, Width: rec.get("Width mm").length, Thickness: rec.get("Thickness mm").length,
		Pack: 1, Price: rec.get("Price").number, Weight: rec.get("Weight kg").number, Turns: rec.get("Turns end for end").yes, Origin: rec.origin(),
	}
	if v := rec.get("Pack"); v.set {
		p.Pack = v.number
	}
	k := [3]string{itoa(r.level), key(p.Code), key(p.Colour)}
	if first, twice := r.codes[k]; twice {
		r.at(&rec, "Code", finding{stop, "unique-error", "The code " + p.Code + " stands in row " + itoa(first) + " already; this row was not read", "Give each product and stock length a code of its own"})
		r.reject(&rec, nil, false)
		return
	}
	r.codes[k] = rec.row.Number
	r.listed[r.level] = append(r.listed[r.level], p)
}

// The levels of catalogue lines; a role listed at a higher one replaces that
// role below it.
const (
	levelBuiltIn = iota
	levelSurvey
	levelOption
)

// settleProducts puts the catalogue together, role by role.
func (r *reader) settleProducts() {
	from := map[string]int{}
	for level, list := range r.listed {
		for _, p := range list {
			from[p.Role] = max(from[p.Role], level)
		}
	}
	for level := levelOption; level >= levelBuiltIn; level-- {
		for _, p := range r.listed[level] {
			if from[p.Role] == level {
				r.job.Products = append(r.job.Products, p)
			}
		}
	}
	r.noteReplaced(levelSurvey, levelBuiltIn, "built-in rows")
	r.noteReplaced(levelOption, levelBuiltIn, "built-in rows")
	r.noteReplaced(levelOption, levelSurvey, "rows of the survey's own Products")
}

// noteReplaced says at the first row of a catalogue which rows of a lower one
// its roles stand in for: one row of a role is enough to replace them all.
func (r *reader) noteReplaced(by, of int, rows string) {
	if len(r.listed[by]) == 0 {
		return
	}
	gone := map[string][]string{}
	for _, p := range r.listed[of] {
		gone[p.Role] = append(gone[p.Role], p.Code)
	}
	var said []string
	for _, p := range r.listed[by] {
		if codes := gone[p.Role]; codes != nil {
			said = append(said, p.Role+" ("+strings.Join(codes, ", ")+")")
			delete(gone, p.Role)
		}
	}
	if len(said) == 0 {
		return
	}
	first := r.listed[by][0].Origin
	r.flags = append(r.flags, placed{engine.Flag{Severity: note, Code: "catalogue-replaced", Place: first.At("Role"),
		What: "The rows of this catalogue stand in for all " + rows + " of their roles: " + strings.Join(said, "; "),
		Do:   "Nothing, if that is right; to keep one, copy its row here (lapwright template --catalogue writes the built-in ones)"},
		r.order[first.Sheet.File+"\x00"+first.Sheet.Sheet], first.Row, 1})
}
