package survey

import (
	"regexp"
	"slices"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// phrase matches one entry of openings in words:
//
//	entry  = [ count ] [ name ] width "x" height [ "@" sill ] [ "at" place { "," place } ]
//	count  = whole ( "no" | "nr" | "off" ) | digit "x"
//	name   = a kind of opening in any accepted spelling, or the opening's own
//	         name, or a mark with a kind behind it, as D1 door
//	width  = amount [ "w" ]
//	height = amount [ "h" ]
//	sill, place = amount
//	amount = digits [ "." digits ] [ "mm" | "cm" | "m" ] | feet and inches
//
// Entries stand apart by a semicolon or on lines of their own. The sill is
// measured from the datum, places from the wall's left edge: one for each of
// count. So "2 no. window 1200 x 1050 @ 900 at 700, 3000". A word such as none,
// or a dash, says that there are no openings.
var phrase = regexp.MustCompile(`(?i)^(?:(?:(\d{1,3})\s*(?:no|nr|off)\b\.?|(\d)\s*[x×])\s*)?(?:([a-z][a-z0-9 ]*?)[:,]?\s+)?` +
	`(` + amount + `)(?:\s*\(?w(?:ide)?\)?)?\s*[x×*]\s*(` + amount + `)(?:\s*\(?h(?:igh)?\)?)?` +
	`(?:\s*@\s*(` + amount + `))?(?:\s*(?:at|from left)\s+(` + amount + `(?:\s*(?:,|&|and)\s*` + amount + `)*))?$`)

// amount matches a length: 1200, 1.2m, 3'-6 1/2", 5ft 6in, 42".
const (
	amount   = `(?:` + imperial + `|\d[\d.]*\s*(?:mm|cm|m)?)`
	imperial = `\d{1,3}\s*(?:'|′|’|ft)(?:\s*-?\s*` + inchesOf + `)?|` + inchesOf
	inchesOf = `\d{1,3}(?:\.\d+)?(?:\s*[½¼¾⅛⅜⅝⅞]|[\s-]+\d{1,2}/\d{1,2})?\s*(?:"|″|”|in)`
)

// saysNone reports whether a text says that there are no openings.
func saysNone(text string) bool {
	switch fold(text) {
	case "", "none", "nil", "na", "no", "nothing", "noopenings", "nowindows", "0":
		return true
	}
	return false
}

// spoken is one opening of a phrase. Missing names what is not said.
type spoken struct {
	opening engine.Opening
	missing string
	rounded []finding
}

// parsePhrases reads openings in words; ok is false if a part of the text is
// not understood, and bad is that part.
func (r *reader) parsePhrases(text string, u unit) (out []spoken, bad string, ok bool) {
	if saysNone(text) {
		return nil, "", true
	}
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
	if m[1]+m[2] != "" {
		count, _ = fewDigits(strings.TrimLeft(m[1]+m[2], "0"))
	}
	one := spoken{opening: engine.Opening{Kind: "window"}}
	r.spokenName(m[3], &one.opening)
	sizes := []*measure.Length{&one.opening.Width, &one.opening.Height, &one.opening.Sill}
	for i, text := range m[4:7] {
		if text == "" {
			one.missing = "the sill"
			continue
		}
		if !one.length(r, text, u, sizes[i]) {
			return nil, false
		}
	}
	var places []string
	if m[7] != "" {
		places = regexp.MustCompile(`(?i)\s*(?:,|&|and)\s*`).Split(m[7], -1)
	}
	if count < 1 || len(places) > count {
		return nil, false
	}
	var out []spoken
	for i := range count {
		s := one
		if i >= len(places) {
			s.missing = strings.TrimPrefix(s.missing+" and the distance from the left", " and ")
		} else if !s.length(r, places[i], u, &s.opening.Left) {
			return nil, false
		}
		out = append(out, s)
	}
	return out, true
}

// markAndKind matches a mark with a figure and a word behind it.
var markAndKind = regexp.MustCompile(`(?i)^([a-z]+\d+[a-z]?) ([a-z]+)$`)

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
	if m := markAndKind.FindStringSubmatch(o.Name); m != nil {
		if v, _ := r.parseWord(m[2], &kind); v.set { // D1 door: a mark and a kind, not one name
			o.Name, o.Kind = m[1], v.text
		}
	}
}

// length reads one amount. A part of a millimetre, as inches give, is rounded
// off and said.
func (s *spoken) length(r *reader, text string, u unit, to *measure.Length) bool {
	v, found := r.parseNumeric(book.Cell{Kind: book.Text, Text: text}, &templates.Field{Type: "integer", Unit: "mm"}, u)
	*to = v.length
	for _, f := range found {
		if f.severity != note {
			return false
		}
		s.rounded = append(slices.Clip(s.rounded), f)
	}
	return v.set
}

// takePhrases makes openings of the Openings column of a wall's row.
func (r *reader) takePhrases(rec *record, text string) {
	row, plot, name, of := rec.row, rec.plot, rec.name, rec.t // the lines, and rec with them, move as they grow
	col := of.find("Openings")
	some, bad, ok := r.parsePhrases(text, col.unit)
	if !ok {
		r.at(rec, "Openings", finding{stop, "type-error", quote(bad) + " is not understood as an opening", "Write it as 2 no. window 1200 x 1050 @ 900 at 700, 3000: size, sill above the datum, and a distance from the left for each opening counted; or give it a row in Openings"})
		return
	}
	r.untidy = r.untidy || len(some) > 0
	t := &table{schema: r.schema("Openings"), sheet: of.sheet, report: &SheetReport{}, header: of.header, key: col.col,
		origin: newOrigin(of.sheet)}
	t.origin.Last = of.sheet.ColumnName(col.col)
	for _, s := range some {
		o := s.opening
		sub := record{t: t, row: row, plot: plot, name: name}
		o.Origin = sub.origin()
		for _, f := range s.rounded {
			r.at(&sub, "", f)
		}
		if s.missing != "" {
			r.at(&sub, "", finding{stop, "missing-cell", "An opening of " + o.Width.String() + " x " + o.Height.String() + " lacks " + s.missing, "Add it: 1200 x 1050 @ the sill at the distance from the left"})
		}
		r.lines = append(r.lines, lineItem{rec: sub, open: &o})
	}
}
