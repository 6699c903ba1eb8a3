package survey

import (
	"strconv"
	"strings"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

// Table is a table of text with its headers. The first column says which of our
// sheets a row was read as.
type Table struct {
	Header []string
	Rows   [][]string
}

// AsRead returns the walls and openings that were taken, and what the sheets of
// items say, as they were understood, in our headers and units, each with its
// source sheet and row. A value that is a default is blank as it was in the
// survey.
func (s *Survey) AsRead() []Table {
	walls := Table{Header: []string{"Read as", "Source sheet", "Source row", "Plot", "Wall", "Width mm", "Height mm", "Height right mm",
		"Apex height mm", "Apex from left mm", "Base mm", "Base step from left mm", "Base step mm", "Base profile", "Top profile",
		"Left edge", "Right edge", "Top edge", "Base edge", "Left meets", "Right meets", "Level line", "Batten centres mm",
		"First batten mm", "Colour", "Quantity", "Face length mm", "From face left mm", "Party walls mm", "Notes", "Studs mm", "Pin gauge mm", "Pin mark mm"}}
	openings := Table{Header: []string{"Read as", "Source sheet", "Source row", "Plot", "Wall", "Opening", "Kind", "From left mm",
		"Sill mm", "Sill width mm", "Sill depth mm", "Width mm", "Height mm", "Reveal mm", "Lined", "Notes"}}
	for i := range s.Job.Walls {
		w := &s.Job.Walls[i]
		walls.Rows = append(walls.Rows, wallText(w))
		for j := range w.Openings {
			openings.Rows = append(openings.Rows, openingText(w, &w.Openings[j]))
		}
	}
	return []Table{walls, openings, {Header: []string{"Read as", "Source sheet", "Source row", "Item", "Value"}, Rows: s.items}}
}

// said writes a value as it was understood.
func (v value) said(f *templates.Field) string {
	switch {
	case f.Type == "boolean" && v.yes:
		return "yes"
	case f.Type == "boolean":
		return "no"
	case v.list == nil:
		return v.text
	}
	parts := make([]string, len(v.list))
	for i, l := range v.list {
		if parts[i] = l.String(); f.Unit == "m" {
			parts[i] = strconv.FormatFloat(l.Metres(), 'f', -1, 64)
		}
	}
	return strings.Join(parts, "; ")
}

func wallText(w *engine.Wall) []string {
	return append(source("Walls", w.Origin), w.Plot, w.Name, w.Width.String(), w.Height.String(), blankOr(w.HeightRight),
		blankOr(w.ApexHeight), blankOr(w.ApexLeft), blankOr(w.Base), blankOr(w.StepLeft), blankOr(w.StepBase),
		measure.Points(w.BaseProfile), measure.Points(w.TopProfile),
		string(w.Left), string(w.Right), string(w.Top), string(w.Bottom), w.LeftMeets, w.RightMeets, w.LevelLine,
		blankOr(w.Centres), blankOr(w.FirstBatten), w.Colour, itoa(w.Quantity), blankOr(w.FaceLength), blankOr(w.FaceLeft),
		joined(w.Party), w.Notes, joined(w.Studs), blankOr(w.PinGauge), blankOr(w.PinMark))
}

func openingText(w *engine.Wall, o *engine.Opening) []string {
	lined := "no"
	if o.Lined {
		lined = "yes"
	}
	return append(source("Openings", o.Origin), w.Plot, w.Name, o.Name, o.Kind, o.Left.String(), o.Sill.String(), blankOr(o.SillWidth),
		blankOr(o.SillDepth), o.Width.String(), o.Height.String(), o.Reveal.String(), lined, o.Notes)
}

func source(as string, o engine.Origin) []string {
	switch {
	case o.Sheet == nil:
		return []string{as, "", ""}
	case o.Sheet.Turned:
		return []string{as, o.Sheet.Sheet, book.Column(o.Row)}
	}
	return []string{as, o.Sheet.Sheet, itoa(o.Row)}
}

func blankOr(o engine.Opt) string {
	if !o.Set {
		return ""
	}
	return o.Value.String()
}

func joined(list []measure.Length) string {
	parts := make([]string, len(list))
	for i, l := range list {
		parts[i] = l.String()
	}
	return strings.Join(parts, "; ")
}
