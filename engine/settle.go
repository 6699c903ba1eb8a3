package engine

import (
	"slices"
	"strings"

	"lapwright/engine/courses"
)

// settle notes how a target came out, at the course it concerns and as a flag
// where it wants a decision.
func (f *face) settle(o *Opening, out courses.Outcome) {
	name := ""
	if o != nil {
		name = o.Name
	}
	f.targets = append(f.targets, TargetResult{Kind: out.Kind.String(), Name: name, At: out.At, Met: out.Met.String(), Off: out.Off})
	f.note(name, out)
	if out.Fragile {
		f.flagFragile(o, out)
	}
	switch {
	case out.Met != courses.Missed:
	case out.Kind == courses.Pin:
		f.flag(f.wall, Check, "pin-missed", "Pin mark mm",
			"no course mark could be set at "+out.At.String()+" mm, the nearest is at "+(out.At+out.Off).String(),
			"change the pinned mark, another pin of this level line or the lap limits")
	case out.Kind == courses.Base:
		f.flagRaised(out)
	}
}

// note writes what a fixer must know of a course into its note, in the
// words that readers of the storey rod look for and with the openings they are
// said of; of a sill also which edge of the board meets it. A full board at the top
// and a line at the eaves are as they should be and need none.
func (f *face) note(name string, out courses.Outcome) {
	i := out.Course + 1 - f.first
	if i < 0 || i >= len(f.courses) {
		return
	}
	text := ""
	switch {
	case out.Kind == courses.Top && out.Met == courses.Missed:
		text = "top ripped"
	case out.Kind == courses.Sill && out.Met == courses.Partly: // neither edge of a board stands at it
		text = "sill missed, in the lap"
	case out.Met == courses.Missed || out.Met == courses.Clear:
		return
	case out.Kind == courses.Sill && out.Met == courses.BoardTop:
		text = "sill met by top"
	case out.Kind == courses.Sill:
		text = "sill met by bottom"
	case out.Kind == courses.Head:
		text = "head met"
	default:
		return
	}
	f.courses[i].Note = noted(f.courses[i].Note, text, strings.ReplaceAll(name, ";", ","))
}

// noted adds to a note that a text holds of an opening, or of none; a text that is
// there already takes the opening in.
func noted(note, text, name string) string {
	var parts []string
	if note != "" {
		parts = strings.Split(note, "; ")
	}
	i := slices.IndexFunc(parts, func(p string) bool { return p == text || strings.HasPrefix(p, text+": ") })
	switch {
	case i < 0 && name == "":
		parts = append(parts, text)
	case i < 0:
		parts = append(parts, text+": "+name)
	case name != "":
		parts[i] += ", " + name
	}
	return strings.Join(parts, "; ")
}

// flagRaised says that boards start higher than the survey asks, on the course
// line above.
func (f *face) flagRaised(out courses.Outcome) {
	header := "Base mm"
	switch {
	case f.raised:
		header = "Base profile"
	case f.wall.StepLeft.Set && f.wall.StepBase.Or(0) == out.At:
		header = "Base step mm"
	}
	severity := Check
	if out.Off <= f.level {
		severity = Note
	}
	f.flag(f.wall, severity, "base-raised", header,
		"no course line falls at "+out.At.String()+" mm: boards start "+out.Off.String()+" mm higher, at "+(out.At+out.Off).String(),
		"move this base to a course line, or give the wall a level line of its own")
}

// flagFragile asks for a decision on a strip too thin to last, at the cell that
// would change it.
func (f *face) flagFragile(o *Opening, out courses.Outcome) {
	what := "a strip of only " + out.Strip.String() + " mm is left at the " + out.Kind.String()
	do := "move the " + out.Kind.String() + " or the base by a few millimetres, or widen the lap limits; Setting out in the Summary says what would help"
	if o != nil {
		header := "Sill mm"
		if out.Kind == courses.Head {
			header = "Height mm"
		}
		f.flags = append(f.flags, Flag{Check, "strip-fragile", f.wall.Plot, f.wall.Name, o.Origin.At(header), what + " of " + o.Name, do})
		return
	}
	f.flag(f.wall, Check, "strip-fragile", f.topHeader(), what, do)
}

// topHeader returns the column that gives a wall's top its highest point.
func (f *face) topHeader() string {
	switch w := f.wall; {
	case len(w.TopProfile) >= 2:
		return "Top profile"
	case w.ApexHeight.Set:
		return "Apex height mm"
	case w.HeightRight.Or(w.Height) > w.Height:
		return "Height right mm"
	default:
		return "Height mm"
	}
}
