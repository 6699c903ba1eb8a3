package survey

import (
	"regexp"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// phrase matches one entry of openings in words:
//
//	entry     = [ count ] [ name ] width "x" height [ "@" sill ] [ "at" place { "," place } ]
//	count     = whole ( "no" | "nr" | "off" )
//	name      = a kind of opening in any accepted spelling, or the opening's own name
//	width, height, sill, place = digits [ "." digits ] [ "mm" | "cm" | "m" ]
//
// Entries stand apart by a semicolon or on lines of their own. The sill is
// measured from the datum, places from the wall's left edge: one for each of
// count. So "2 no. window 1200 x 1050 @ 900 at 700, 3000".
var phrase = regexp.MustCompile(`(?i)^(?:(\d{1,3})\s*(?:no|nr|off)\b\.?\s*)?(?:([a-z][a-z0-9 ]*?)[:,]?\s+)?` + amount + `\s*[x×*]\s*` + amount +
	`(?:\s*@\s*` + amount + `)?(?:\s*(?:at|from left)\s+(` + place + `(?:\s*(?:,|&|and)\s*` + place + `)*))?$`)

const (
	amount = `(\d[\d.]*\s*(?:mm|cm|m)?)`
	place  = `\d[\d.]*\s*(?:mm|cm|m)?`
)

// spoken is one opening of a phrase. Missing names what is not said.
type spoken struct {
	opening engine.Opening
	missing string
}

// parsePhrases reads openings in words; ok is false if a part of the text is
// not understood, and bad is that part.
func (r *reader) parsePhrases(text string, u unit) (out []spoken, bad string, ok bool) {
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }) {
		if part = tidy(part); part == "" {
			continue
		}
		m := phrase.FindStringSubmatch(part)
		if m == nil {
			return nil, part, false
		}
		some, ok := r.spokenOf(m, u)
		if !ok {
			return nil, part, false
		}
		out = append(out, some...)
	}
	return out, "", true
}

func (r *reader) spokenOf(m []string, u unit) ([]spoken, bool) {
	count := 1
	if m[1] != "" {
		count, _ = fewDigits(strings.TrimLeft(m[1], "0"))
	}
	one := spoken{opening: engine.Opening{Kind: "window"}}
	r.spokenName(m[2], &one.opening)
	sizes := []*measure.Length{&one.opening.Width, &one.opening.Height, &one.opening.Sill}
	for i, text := range m[3:6] {
		if text == "" {
			one.missing = "the sill"
			continue
		}
		if !r.spokenLength(text, u, sizes[i]) {
			return nil, false
		}
	}
	var places []string
	if m[6] != "" {
		places = regexp.MustCompile(`(?i)\s*(?:,|&|and)\s*`).Split(m[6], -1)
	}
	if count < 1 || len(places) > 0 && len(places) != count {
		return nil, false
	}
	var out []spoken
	for i := range count {
		s := one
		if len(places) == 0 {
			s.missing = strings.TrimPrefix(s.missing+" and the distance from the left", " and ")
		} else if !r.spokenLength(places[i], u, &s.opening.Left) {
			return nil, false
		}
		out = append(out, s)
	}
	return out, true
}

// spokenName takes a word for the kind of an opening, or else for its name.
func (r *reader) spokenName(word string, o *engine.Opening) {
	if word == "" {
		return
	}
	kind := *r.schema("Openings").Field("Kind")
	kind.Advisory = false // the whole word, not one within it
	for _, w := range []string{word, strings.TrimSuffix(strings.ToLower(word), "s")} {
		if v, _ := r.parseWord(w, &kind); v.set {
			o.Kind = v.text
			return
		}
	}
	o.Name = tidy(word)
	if w := soleWord(word, &kind); w != "" {
		o.Kind = w
	}
}

func (r *reader) spokenLength(text string, u unit, to *measure.Length) bool {
	v, found := r.parseNumeric(book.Cell{Kind: book.Text, Text: text}, &templates.Field{Type: "integer", Unit: "mm"}, u)
	*to = v.length
	return v.set && len(found) == 0
}

// takePhrases makes openings of the Openings column of a wall's row.
func (r *reader) takePhrases(rec *record, text string) {
	row, plot, name, of := rec.row, rec.plot, rec.name, rec.t // the lines, and rec with them, move as they grow
	col := of.find("Openings")
	some, bad, ok := r.parsePhrases(text, col.unit)
	if !ok {
		r.at(rec, "Openings", finding{stop, "type-error", quote(bad) + " is not understood as an opening", "Write it as 2 no. window 1200 x 1050 @ 900 at 700, 3000: size, sill above the datum, distances from the left; or give it a row in Openings"})
		return
	}
	r.untidy = r.untidy || len(some) > 0
	t := &table{schema: r.schema("Openings"), sheet: of.sheet, report: &SheetReport{}, header: of.header, key: col.col,
		origin: &engine.SheetMap{File: of.sheet.File, Sheet: of.sheet.Name, Columns: map[string]string{}, Last: book.Column(col.col)}}
	for _, s := range some {
		o := s.opening
		sub := record{t: t, row: row, plot: plot, name: name}
		o.Origin = sub.origin()
		if s.missing != "" {
			r.at(&sub, "", finding{stop, "missing-cell", "An opening of " + o.Width.String() + " x " + o.Height.String() + " lacks " + s.missing, "Add it: 1200 x 1050 @ the sill at the distance from the left"})
		}
		r.lines = append(r.lines, lineItem{rec: sub, open: &o})
	}
}
