package engine

import (
	"slices"

	"lapwright/engine/fixing"
)

// doubt is one reason why walls are not proven against the wind, or not exactly.
type doubt struct {
	severity       Severity
	code, what, do string
	header         string // of the cell of a wall that would mend it
	job            string // the item of the job that several walls share, or blank
	faces          []*face
}

// flagUnproven says what the wind could not be checked against, or by estimate
// only, and what was assumed: one flag for each reason, the walls named.
func (t *takeoff) flagUnproven() {
	var doubts []doubt
	for _, f := range t.faces {
		for _, what := range f.assumed {
			doubts = doubted(doubts, doubt{severity: Note, code: "wind-assumed", what: what, header: "Face length mm",
				do: "give the missing value to have it reckoned exactly"}, f)
		}
		for _, z := range f.zones {
			for _, c := range slices.Concat(z.lapped, z.top) {
				if code, what := unproven(c); z.holds && code != "" {
					doubts = doubted(doubts, doubt{severity: Check, code: code, what: what, header: "Batten centres mm", job: "Peak velocity pressure Pa",
						do: "declare the resistance with its source on the sheet Declared, or ask a competent designer"}, f)
				}
			}
		}
	}
	for _, d := range doubts {
		w := d.faces[0].wall
		flag := Flag{Severity: d.severity, Code: d.code, Place: w.Origin.At(d.header), What: d.what + ": " + t.walls(d.faces), Do: d.do}
		switch {
		case len(d.faces) == 1:
			flag.Plot, flag.Wall = w.Plot, w.Name
		case d.job != "":
			flag.Place = t.job.Origins[d.job]
		}
		t.result.Flags = append(t.result.Flags, flag)
	}
}

// doubted adds a wall to the doubt of that code and wording, once: all that is
// doubted of one wall is added before the next.
func doubted(list []doubt, d doubt, f *face) []doubt {
	i := slices.IndexFunc(list, func(o doubt) bool { return o.code == d.code && o.what == d.what })
	if i < 0 {
		i, list = len(list), append(list, d)
	}
	if n := len(list[i].faces); n == 0 || list[i].faces[n-1] != f {
		list[i].faces = append(list[i].faces, f)
	}
	return list
}

// unproven says in one sentence what a check leaves unproven; a blank code:
// nothing.
func unproven(c fixing.Check) (code, what string) {
	held := map[string]string{"board": "board fixings", "bending": "the board between its battens", "batten": "the batten fixings"}[c.What]
	switch c.Verdict {
	case fixing.NotChecked:
		return "wind-not-proven", "the wind is not checked against " + held + ", as " + c.Basis
	case fixing.Estimate:
		if c.What == "bending" {
			return "wind-estimate", "the wind is checked against " + held + " by estimate only, as no partial factor is declared for its strength"
		}
		return "wind-estimate", "the wind is checked against " + held + " by estimate only, as no resistance of the system is declared for this lap and these centres"
	}
	return "", ""
}

// walls names walls for a flag of the whole job.
func (t *takeoff) walls(faces []*face) string {
	covered := 0
	for _, f := range t.faces {
		covered += btoi(f.covered())
	}
	if len(faces) == covered && covered > 1 {
		return "all " + plural(covered, "wall")
	}
	var names []string
	for _, f := range faces {
		names = append(names, name(f.wall.Plot, f.wall.Name))
	}
	return listed(names)
}
