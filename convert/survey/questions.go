package survey

import (
	"cmp"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"lapwright/convert/survey/book"
	"lapwright/engine"
)

// Question is something to ask the customer about one cell of the survey: what
// was read there, what is wrong with it, and what to answer.
type Question struct {
	Plot, Wall string
	Place      engine.Place
	Read       string // blank: nothing stands there
	Wrong, Ask string // whole sentences
}

// questions turns what stops a wall or wants a decision into questions, one a
// cell. Flags of other files than the survey are not the customer's to answer,
// nor are those of the sheets that this program made, nor what is the office's
// own: its rules and products, and what makers declare.
func (r *reader) questions(b *book.Book) []Question {
	sheets := map[[2]string]*book.Sheet{}
	ours := ownSheets(b)
	for _, s := range b.Sheets {
		if !ours[s.Name] {
			sheets[[2]string{s.File, s.Name}] = s
		}
	}
	var out []Question
	at := map[engine.Place]int{}
	for _, f := range r.flags {
		s := sheets[[2]string{f.Place.File, f.Place.Sheet}]
		if f.Severity < check || s == nil || slices.Contains([]string{"Rules", "Products", "Declared", "Mapping"}, r.nameOf(s)) {
			continue
		}
		wrong, ask := sentence(f.What), askOf(f.Flag, r.measured(s, f))
		if i, ok := at[f.Place]; ok {
			if q := &out[i]; !strings.Contains(q.Wrong, wrong) {
				q.Wrong += " " + wrong
			}
			continue
		}
		at[f.Place] = len(out)
		out = append(out, Question{Plot: f.Plot, Wall: f.Wall, Place: f.Place, Read: r.textAt(s, f), Wrong: wrong, Ask: ask})
	}
	return out
}

// textAt returns what stands at a flag's cell, in words for a reader.
func (r *reader) textAt(s *book.Sheet, f placed) string {
	col, row, err := excelize.CellNameToCoordinates(f.Place.Cell)
	if err != nil {
		return ""
	}
	c, ok := s.Cell(row, col)
	switch {
	case !ok:
		return ""
	case c.Kind == book.Formula:
		return "a formula without its value"
	}
	return r.plainText(c)
}

func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

// nameOf returns which of our sheets a sheet was read as.
func (r *reader) nameOf(s *book.Sheet) string {
	for _, t := range r.tables {
		if t.sheet == s {
			return t.schema.Name
		}
	}
	return ""
}

// measured reports whether a flag is in a column of lengths, so that its unit
// may be in doubt.
func (r *reader) measured(s *book.Sheet, f placed) bool {
	for _, t := range r.tables {
		if t.sheet != s || t.schema.Items() {
			continue
		}
		for _, c := range t.columns {
			if c.col == f.col {
				return fieldUnit(c.field) == "mm" && c.field.Type != "string"
			}
		}
	}
	return false
}

// askOf is the question a flag comes down to.
func askOf(f engine.Flag, measured bool) string {
	if words, ok := strings.CutPrefix(f.Do, "Write one of: "); ok {
		words, _, _ = strings.Cut(words, ";")
		return "Which is it: " + words + "?"
	}
	ask := cmp.Or(asked()[f.Code], usualAsk)
	if ask == valueAsk && !measured {
		return usualAsk
	}
	if _, near, ok := strings.Cut(f.What, nearestIs); ok {
		return "Is it " + near + "? If not: " + ask
	}
	return ask
}

// valueAsk is asked of a length.
const valueAsk = "What is the right value, and in which unit?"

// usualAsk is what is asked where a code has no question of its own.
const usualAsk = "What is right here?"

// asked holds the question of each code.
func asked() map[string]string {
	return map[string]string{
		"missing-cell":     "What should stand here?",
		MissingLabel:       "What is it, for every row?",
		"type-error":       valueAsk,
		"constraint-error": valueAsk,
		"deviated-value":   "Is this right, and in which unit was it measured?",
		"foreign-key":      "Which one is meant, or should it be added?",
		"primary-key":      "Are these two different ones? Then what is each called?",
		"unique-error":     "Which of the two counts?",
		"row-constraint":   "Which of these values is right, and what are the others?",
		"wall-low":         "How high is the wall, from the same level as its base?",
		"opening-outside":  "What are the right sizes and places of the wall and of this opening?",
		"opening-overlap":  "What are the right sizes and places of both openings?",
		"nearly-level":     "Are they meant to be level? Then at which height?",
		"door-sill":        "Is it a door, and how high is its threshold?",
		"narrow-pier":      "Is so little wall left beside the opening, or is a size wrong?",
		"digits-swapped":   "Which size is right?",
		"corner-disagrees": "Which of the two walls is right?",
		"apex-top":         "Is this wall a gable, and do its slopes end under a verge or a soffit?",
		"plan-open":        "Which widths and corners are right?",
		"extra-label":      "What does this hold, and is it wanted?",
		"duplicate-label":  "Which of the two columns counts?",
		"merged-cell":      "For which of the merged cells does the value count?",
		"plot-blank":       "Of which plot are the rows that name none?",
		"remark-row":       "Is this only a remark, or is a wall or an opening meant?",
		"sheet-unread":     "Should this sheet be read too, and as what?",
	}
}
