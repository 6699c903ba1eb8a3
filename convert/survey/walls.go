package survey

import (
	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/engine/measure"
)

func opt(v value) engine.Opt {
	if !v.set {
		return engine.Opt{}
	}
	return measure.Some(v.length)
}

// or returns the value's text, or the default of its field.
func (rec *record) or(name string) string {
	if v := rec.get(name); v.set {
		return v.text
	}
	return rec.t.schema.Field(name).Default
}

// takeWall makes a wall of a row of Walls.
func (r *reader) takeWall(rec record) {
	w := &engine.Wall{
		Plot: rec.plot, Name: rec.name, Origin: rec.origin(),
		Width: rec.get("Width mm").length, Height: rec.get("Height mm").length,
		HeightRight: opt(rec.get("Height right mm")), ApexHeight: opt(rec.get("Apex height mm")), ApexLeft: opt(rec.get("Apex from left mm")),
		Base: opt(rec.get("Base mm")), StepLeft: opt(rec.get("Base step from left mm")), StepBase: opt(rec.get("Base step mm")),
		BaseProfile: rec.get("Base profile").points, TopProfile: rec.get("Top profile").points,
		Left: engine.Edge(rec.or("Left edge")), Right: engine.Edge(rec.or("Right edge")),
		Top: engine.Edge(rec.or("Top edge")), Bottom: engine.Edge(rec.or("Base edge")),
		LeftMeets: rec.get("Left meets").text, RightMeets: rec.get("Right meets").text, LevelLine: rec.get("Level line").text,
		Centres: opt(rec.get("Batten centres mm")), FirstBatten: opt(rec.get("First batten mm")), Studs: rec.get("Studs mm").list,
		Colour: rec.get("Colour").text, Quantity: 1,
		FaceLength: opt(rec.get("Face length mm")), FaceLeft: opt(rec.get("From face left mm")), Party: rec.get("Party walls mm").list,
		PinGauge: opt(rec.get("Pin gauge mm")), PinMark: opt(rec.get("Pin mark mm")), Notes: rec.get("Notes").text,
	}
	if q := rec.get("Quantity"); q.set {
		w.Quantity = q.count
	}
	known := rec.get("Width mm").set && rec.get("Height mm").set
	if !rec.stopped {
		r.checkWall(&rec, w)
	}
	phrases := rec.get("Openings")
	rec.values = nil
	r.lines = append(r.lines, lineItem{rec: rec, wall: w, known: known})
	if phrases.set {
		r.takePhrases(&r.lines[len(r.lines)-1].rec, phrases.text)
	}
}

// takeOpening makes an opening of a row of Openings.
func (r *reader) takeOpening(rec record) {
	o := &engine.Opening{
		Name: rec.get("Opening").text, Origin: rec.origin(), Kind: rec.or("Kind"),
		Left: rec.get("From left mm").length, Sill: rec.get("Sill mm").length,
		SillWidth: opt(rec.get("Sill width mm")), SillDepth: opt(rec.get("Sill depth mm")),
		Width: rec.get("Width mm").length, Height: rec.get("Height mm").length,
		Reveal: rec.get("Reveal mm").length, Lined: rec.get("Lined").yes, Notes: rec.get("Notes").text,
	}
	if c := rec.t.find("Kind"); c != nil && !rec.get("Kind").set && rec.row.At(c.col).Kind != book.Blank {
		o.Kind = "other" // a word that is not known, and flagged
	}
	if n := rec.get("Quantity").count; n > 1 {
		r.at(&rec, "Quantity", finding{stop, "constraint-error", itoa(n) + " openings stand in one row, which has one place", "Give each opening a row of its own"})
	}
	if !rec.stopped {
		r.checkOpening(&rec, o)
	}
	rec.values = nil
	r.lines = append(r.lines, lineItem{rec: rec, open: o})
}

// checkWall compares the cells of a wall's row with each other.
func (r *reader) checkWall(rec *record, w *engine.Wall) {
	bad := func(field, what, do string) {
		r.at(rec, field, finding{stop, "row-constraint", what, do})
	}
	if apex := w.ApexHeight; apex.Set && apex.Value <= max(w.Height, w.HeightRight.Or(w.Height)) {
		bad("Apex height mm", "The apex is no higher than the wall's sides", "Give the apex from the same datum, or leave it blank")
	}
	if w.ApexHeight.Set && !rec.get("Top edge").set { // a schedule may give the roof's ridge for every wall
		r.at(rec, "Apex height mm", finding{check, "apex-top", "An apex is given but no top edge: the wall is taken for a gable whose slopes end under a soffit, without trims",
			"Say verge or soffit in Top edge, or leave the apex blank if the wall ends level"})
	}
	if w.ApexLeft.Set && !w.ApexHeight.Set {
		bad("Apex height mm", "The apex has a place but no height", "Give its height, or leave its place blank")
	}
	if w.ApexLeft.Set && w.ApexLeft.Value > w.Width {
		bad("Apex from left mm", "The apex lies beyond the wall's right edge", "Measure it from the wall's left edge")
	}
	if w.StepLeft.Set != w.StepBase.Set {
		missing := "Base step mm"
		if w.StepBase.Set {
			missing = "Base step from left mm"
		}
		bad(missing, "A step of the base needs its place and its height", "Fill in both, or neither")
	}
	if w.StepLeft.Set && (w.StepLeft.Value == 0 || w.StepLeft.Value >= w.Width) {
		bad("Base step from left mm", "The base steps outside the wall", "Measure from the wall's left edge, between its edges")
	}
	r.checkProfiles(rec, w)
	if w.FaceLength.Set && w.FaceLength.Value < w.FaceLeft.Or(0)+w.Width {
		r.at(rec, "Face length mm", finding{check, "row-constraint", "The whole face is shorter than this wall and what lies left of it", "Check Face length and From face left"})
	}
	if n := len(w.Party); n > 0 && (w.Party[0] < 0 || w.Party[n-1] > w.Width) {
		r.at(rec, "Party walls mm", finding{check, "row-constraint", "A compartment wall lies outside this wall", "Measure from the wall's left edge"})
	}
	if n := len(w.Studs); n > 0 && (w.Studs[0] < 0 || w.Studs[n-1] > w.Width) {
		bad("Studs mm", "A stud lies outside the wall", "Measure from the wall's left edge")
	}
}

func (r *reader) checkProfiles(rec *record, w *engine.Wall) {
	bad := func(field, what, do string) {
		r.at(rec, field, finding{stop, "row-constraint", what, do})
	}
	for _, p := range []struct {
		field  string
		points measure.Profile
	}{{"Base profile", w.BaseProfile}, {"Top profile", w.TopProfile}} {
		if len(p.points) > 0 && (p.points[0].X > 0 || p.points[len(p.points)-1].X < w.Width) {
			bad(p.field, "The profile does not reach from edge to edge of the wall", "Give points from x = 0 to the wall's width")
		}
	}
	if len(w.TopProfile) > 0 && (w.ApexHeight.Set || w.HeightRight.Set) {
		bad("Top profile", "The top is given twice: as a profile and as an apex or a right height", "Leave one of them")
	}
	if len(w.BaseProfile) > 0 && w.StepLeft.Set {
		bad("Base profile", "The base is given twice: as a profile and as a step", "Leave one of them")
	}
}

// checkOpening compares the cells of an opening's row with each other.
func (r *reader) checkOpening(rec *record, o *engine.Opening) {
	if o.SillWidth.Set && o.SillWidth.Value < o.Width {
		r.at(rec, "Sill width mm", finding{check, "row-constraint", "The sill is narrower than the opening", "Give the width over its horns, or leave it blank"})
	}
	if o.SillDepth.Set && o.SillDepth.Value >= o.Height {
		r.at(rec, "Sill depth mm", finding{stop, "row-constraint", "The sill is as high as the whole opening", "Give how high the sill's horns stand"})
	}
	if o.Lined && o.Reveal == 0 {
		r.at(rec, "Reveal mm", finding{stop, "row-constraint", "The reveal is lined but has no depth", "Give the depth of the reveal, or say that it is not lined"})
	}
}
