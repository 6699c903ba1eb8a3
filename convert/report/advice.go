package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
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
		text := strings.Join(w.Advice, "\n")
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
