package report

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// How a wall's courses were chosen, and what another limit or another survey
// would meet, is for the office to weigh. It stands in the Summary and not on the
// sheet that goes up the scaffold, where it could be taken for what to do.

// setOut is the Summary's section of it, a line for all walls that it is alike
// for; the walls are those with a sheet of their own.
func (s *summary) setOut() {
	s.begin(settingOut)
	var texts []string
	walls := map[string][]string{}
	for i := range s.b.res.Walls[:min(len(s.b.res.Walls), max(0, s.b.res.Job.Rules.WallSheetsMost))] {
		w := &s.b.res.Walls[i]
		if len(w.Advice) == 0 {
			continue
		}
		text := strings.Join(asSurveyed(w), "\n")
		if walls[text] == nil {
			texts = append(texts, text)
		}
		walls[text] = append(walls[text], wallName(w))
	}
	for _, text := range texts {
		names := walls[text]
		item := strings.Join(names[:min(len(names), namedMost)], ", ")
		if more := len(names) - namedMost; more > 0 {
			item += fmt.Sprintf(" and %d more", more)
		}
		s.add(item, cell{}, "", text)
	}
}

const (
	settingOut = "Setting out"
	namedMost  = 6 // walls named on one line of the Summary
)

// setOutLines say on a wall's sheet where that stands.
func setOutLines(w *engine.WallResult) []string {
	if len(w.Advice) == 0 {
		return nil
	}
	return []string{"Courses: as on the rod. Whether another lap, start or opening height would meet more is for the office: Summary, " + settingOut + "."}
}

// heightMoved finds the height in an advice to move one.
var heightMoved = regexp.MustCompile(`^(The (\w+) at )([0-9.]+)( mm set )`)

// asSurveyed is a wall's advice with heights as they can be found in the survey:
// of eaves, which boards meet a little off the wall's edge, the height given for
// that edge. Others are in whole millimetres.
func asSurveyed(w *engine.WallResult) []string {
	out := slices.Clone(w.Advice)
	for i, s := range out {
		m := heightMoved.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		mm, err := strconv.ParseFloat(m[3], 64)
		if err != nil {
			continue
		}
		at := measure.Length(mm * float64(measure.Millimetre))
		if m[2] == "eaves" {
			at = surveyedEaves(w.Wall, at)
		}
		out[i] = m[1] + at.Nearest(measure.Millimetre).String() + m[4] + s[len(m[0]):]
	}
	return out
}

// surveyedEaves returns the height of the survey that eaves at a height stem from:
// the nearest of those given, if one is near.
func surveyedEaves(w *engine.Wall, at measure.Length) measure.Length {
	const near = 100 * measure.Millimetre
	given := []measure.Length{w.Height, w.HeightRight.Or(w.Height)}
	for _, p := range w.TopProfile {
		given = append(given, p.Z)
	}
	best := at
	for _, h := range given {
		off := max(h-at, at-h)
		if off <= near && (best == at || off < max(best-at, at-best)) {
			best = h
		}
	}
	return best
}
