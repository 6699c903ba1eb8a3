package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwright/engine"
)

func itoa(n int) string { return strconv.Itoa(n) }

// key is a name as names are compared: without regard to case and spaces.
func key(name string) string { return strings.ToLower(tidy(name)) }

// plotKey compares names of plots: "Plot 12" and "12" are the same.
func plotKey(plot string) string { return key(barePlot(plot)) }

// barePlot takes the word plot off the front of a plot's name.
func barePlot(plot string) string {
	plot = tidy(plot)
	if len(plot) < 5 || !strings.EqualFold(plot[:4], "plot") || !strings.ContainsAny(plot[4:5], " .:#-") {
		return plot
	}
	rest := strings.TrimLeft(plot[5:], " .:#-")
	if len(rest) > 3 && strings.EqualFold(rest[:2], "no") && strings.ContainsAny(rest[2:3], " .:") {
		rest = strings.TrimLeft(rest[2:], " .:")
	}
	if rest == "" {
		return plot
	}
	return rest
}

func wallKey(plot, wall string) string { return plotKey(plot) + "\x00" + key(wall) }

// place names a record's row and field for another row's flag.
func (rec *record) place(field string) string {
	return rec.t.sheet.Name + "!" + rec.t.sheet.Address(rec.t.col(field), rec.row.Number)
}

// group is a wall with the openings that name it.
type group struct {
	wall     *lineItem
	openings []*lineItem
}

// link compares rows with each other, puts openings into their walls and
// fills the job. A wall with a fault of its own or of an opening stays out.
func (r *reader) link() {
	groups, orphans := r.group()
	r.linkPlots(groups)
	r.checkJob(groups)
	for _, g := range groups {
		r.checkGroup(g)
	}
	r.checkMeets(groups)
	r.settleNames(groups)
	r.senseAll(groups)
	for _, g := range groups {
		r.finish(g)
	}
	for _, o := range orphans {
		r.reject(&o.rec, nil, false)
	}
	r.sortRejected()
}

// group finds each opening's wall. Of two walls of one name the later is left
// out and flagged; openings go to the first.
func (r *reader) group() (groups []*group, orphans []*lineItem) {
	byName := map[string]*group{}
	for i := range r.lines {
		l := &r.lines[i]
		if l.wall == nil {
			continue
		}
		g := &group{wall: l}
		groups = append(groups, g)
		k := wallKey(l.rec.plot, l.rec.name)
		if first := byName[k]; first == nil || l.rec.name == "" {
			byName[k] = g
		} else {
			r.at(&l.rec, "Wall", finding{stop, "primary-key", "The wall " + l.rec.name + " stands in " + first.wall.rec.place("Wall") + " already; its openings were given to that one",
				"Name it otherwise, or leave one of them out"})
		}
	}
	names := namesOf(groups)
	for i := range r.lines {
		l := &r.lines[i]
		if l.open == nil {
			continue
		}
		if g := byName[wallKey(l.rec.plot, l.rec.name)]; g != nil && l.rec.name != "" {
			g.openings = append(g.openings, l)
			continue
		}
		orphans = append(orphans, l)
		if l.rec.name != "" {
			r.at(&l.rec, "Wall", finding{stop, "foreign-key", names.noSuchWall(l), "Name a wall of the Walls sheet, with the same Plot"})
		}
	}
	return groups, orphans
}

// wallNames lists walls by plot, and plots by wall, for suggestions.
type wallNames struct{ byPlot, plotOf map[string][]string }

func namesOf(groups []*group) wallNames {
	n := wallNames{map[string][]string{}, map[string][]string{}}
	for _, g := range groups {
		p, w := plotKey(g.wall.rec.plot), key(g.wall.rec.name)
		n.byPlot[p] = append(n.byPlot[p], g.wall.rec.name)
		n.plotOf[w] = append(n.plotOf[w], g.wall.rec.plot)
	}
	return n
}

func (n wallNames) noSuchWall(l *lineItem) string {
	what := "There is no wall " + quote(l.rec.name)
	if l.rec.plot != "" {
		what += " in plot " + quote(l.rec.plot)
	}
	if plots := n.plotOf[key(l.rec.name)]; len(plots) > 0 {
		return what + "; there is one in plot " + quote(plots[0])
	}
	return what + suggestion(l.rec.name, n.byPlot[plotKey(l.rec.plot)])
}

// linkPlots keeps the plots whose house type has walls.
func (r *reader) linkPlots(groups []*group) {
	if len(r.plotRows) == 0 {
		return
	}
	types, wanted, names := map[string]bool{}, map[string]bool{}, []string{}
	for _, g := range groups {
		if !types[plotKey(g.wall.rec.plot)] {
			names = append(names, g.wall.rec.plot)
		}
		types[plotKey(g.wall.rec.plot)] = true
	}
	for i := range r.plotRows {
		p := &r.plotRows[i]
		wanted[plotKey(p.plot.HouseType)] = true
		if types[plotKey(p.plot.HouseType)] {
			r.job.Plots = append(r.job.Plots, p.plot)
			continue
		}
		r.at(&p.rec, "House type", finding{stop, "foreign-key", "No wall is of the house type " + quote(p.plot.HouseType) + suggestion(p.plot.HouseType, names), "Give the type's walls in the Walls sheet, with it as their Plot"})
		r.reject(&p.rec, nil, false)
	}
	said := map[string]bool{}
	for _, g := range groups {
		if k := plotKey(g.wall.rec.plot); !wanted[k] && !said[k] {
			said[k] = true
			r.at(&g.wall.rec, "Plot", finding{check, "foreign-key", "No plot is of the house type " + quote(g.wall.rec.plot) + "; its walls are not built", "Name a plot of this type in the Plots sheet, or leave the type out"})
		}
	}
}

// checkJob stops every wall where the job itself leaves nothing to set out
// with: a board that is not in the catalogue, or laps that no gauge can keep.
func (r *reader) checkJob(groups []*group) {
	if r.job.Board != "" && r.board() == nil {
		var codes []string
		for _, p := range r.job.Products {
			if p.Role == "board" {
				codes = append(codes, p.Code)
			}
		}
		r.stopAll(groups, "Board", engine.Flag{Code: "foreign-key", What: "The board " + quote(r.job.Board) + " is not in the catalogue" + suggestion(r.job.Board, codes),
			Do: "Write one of " + several(codes) + ", or add the board to Products"})
	}
	least, most := r.job.Rules.LapLeast, r.job.Rules.LapMost
	field := "Lap most"
	if most == engine.DefaultRules().LapMost {
		field = "Lap least"
	}
	if least > most {
		r.stopAll(groups, field, engine.Flag{Code: "row-constraint", What: fmt.Sprintf("Lap least is %v mm, more than Lap most, %v mm", least, most), Do: "Set Lap most to at least Lap least"})
	} else if b := r.board(); b != nil && b.Width > 0 && most >= b.Width {
		r.stopAll(groups, field, engine.Flag{Code: "row-constraint", What: fmt.Sprintf("Lap most is %v mm, but the board is only %v mm wide", most, b.Width), Do: "Set Lap most to less than the board's width"})
	}
}

// stopAll flags an item of the job or a rule, and leaves every wall out.
func (r *reader) stopAll(groups []*group, item string, f engine.Flag) {
	f.Severity, f.Place, f.Do = stop, r.job.Origins[item], f.Do+"; until then no wall is taken"
	r.flags = append(r.flags, placed{f, r.order[f.Place.File+"\x00"+f.Place.Sheet], 0, 0})
	for _, g := range groups {
		g.wall.rec.leave()
		g.wall.rec.why = append(g.wall.rec.why, f.Place.Sheet+"!"+f.Place.Cell+": "+f.What)
	}
}

// board returns the board walls are set out with, or nil.
func (r *reader) board() *engine.Product {
	for i := range r.job.Products {
		p := &r.job.Products[i]
		if p.Role == "board" && (r.job.Board == "" || key(p.Code) == key(r.job.Board)) {
			return p
		}
	}
	return nil
}

// checkMeets makes sure that walls that are said to meet exist.
func (r *reader) checkMeets(groups []*group) {
	names, byPlot := map[string]bool{}, map[string][]string{}
	for _, g := range groups {
		names[wallKey(g.wall.rec.plot, g.wall.rec.name)] = true
		byPlot[plotKey(g.wall.rec.plot)] = append(byPlot[plotKey(g.wall.rec.plot)], g.wall.rec.name)
	}
	for _, g := range groups {
		w := g.wall.wall
		for _, side := range []struct {
			field string
			name  *string
		}{{"Left meets", &w.LeftMeets}, {"Right meets", &w.RightMeets}} {
			switch {
			case *side.name == "":
			case key(*side.name) == key(w.Name):
				r.at(&g.wall.rec, side.field, finding{check, "row-constraint", "The wall is said to meet itself; that was not read", "Name the other wall of the corner"})
				*side.name = ""
			case !names[wallKey(w.Plot, *side.name)]:
				what := "There is no wall " + quote(*side.name) + " in this plot; the corner is counted for this wall alone" + suggestion(*side.name, byPlot[plotKey(w.Plot)])
				r.at(&g.wall.rec, side.field, finding{check, "foreign-key", what, "Name a wall of the same plot"})
				*side.name = ""
			}
		}
	}
}

// finish puts a wall with its openings into the job, or on the list of rows
// not taken.
func (r *reader) finish(g *group) {
	w, why := g.wall, []string{}
	for _, o := range g.openings {
		if at := o.rec.place("Opening"); o.rec.stopped && !slices.Contains(why, at) {
			why = append(why, at)
		}
	}
	if !w.rec.stopped && len(why) == 0 {
		r.nameOpenings(g)
		for _, o := range g.openings {
			w.wall.Openings = append(w.wall.Openings, *o.open)
		}
		r.job.Walls = append(r.job.Walls, *w.wall)
		return
	}
	if !w.rec.stopped {
		r.leaveOut(&w.rec, "Wall", "The wall is not taken off, because of its openings at "+strings.Join(why, ", "))
	}
	r.reject(&w.rec, w.outline(), len(why) > 0)
	for _, o := range g.openings {
		if o.open.Width > 0 && o.open.Height > 0 {
			w.wall.Openings = append(w.wall.Openings, *o.open)
		}
		if !o.rec.stopped {
			r.leaveOut(&o.rec, "Opening", "The opening is left out with its wall")
			r.reject(&o.rec, nil, true)
		} else {
			r.reject(&o.rec, nil, false)
		}
	}
}

func (r *reader) leaveOut(rec *record, field, what string) {
	r.at(rec, field, finding{note, "left-out", what, "Mend the fault that is flagged there"})
	rec.leave()
	rec.why = append(rec.why, what)
}

// outline returns the wall if its outline is known.
func (l *lineItem) outline() *engine.Wall {
	if !l.known {
		return nil
	}
	return l.wall
}

// reject lists a row that was not taken.
func (r *reader) reject(rec *record, w *engine.Wall, sound bool) {
	for i := range r.rejected {
		if x := &r.rejected[i]; x.Row == rec.row.Number && x.Sheet == rec.t.sheet.Name && x.File == rec.t.sheet.File {
			x.Why = strings.Trim(x.Why+"; "+strings.Join(rec.why, "; "), "; ") // an opening in its wall's own row
			return
		}
	}
	r.rejected = append(r.rejected, Rejected{
		File: rec.t.sheet.File, Sheet: rec.t.sheet.Name, As: rec.t.schema.Name, Row: rec.row.Number, Line: rec.t.sheet.RowName(rec.row.Number),
		Plot: rec.plot, Name: rec.called(), Cells: r.texts(rec.row), Why: strings.Join(rec.why, "; "), Wall: w, Stopped: sound,
	})
}

func (r *reader) sortRejected() {
	slices.SortStableFunc(r.rejected, func(a, b Rejected) int {
		return cmp.Or(cmp.Compare(r.order[a.File+"\x00"+a.Sheet], r.order[b.File+"\x00"+b.Sheet]), cmp.Compare(a.Row, b.Row))
	})
}

// nameOpenings sorts a wall's openings from left to right, so that the order
// of rows has no meaning, and names those that have no name or one twice.
func (r *reader) nameOpenings(g *group) {
	slices.SortStableFunc(g.openings, func(a, b *lineItem) int {
		return cmp.Or(cmp.Compare(a.open.Left, b.open.Left), cmp.Compare(a.open.Sill, b.open.Sill))
	})
	used, counts := map[string]*lineItem{}, map[string]int{}
	for _, o := range g.openings {
		name := o.open.Name
		if name == "" {
			counts[o.open.Kind]++
			o.open.Name = fmt.Sprintf("%s %d", o.open.Kind, counts[o.open.Kind])
			name = o.open.Name
		}
		for n := 2; used[key(o.open.Name)] != nil; n++ {
			o.open.Name = fmt.Sprintf("%s (%d)", name, n)
		}
		used[key(o.open.Name)] = o
	}
}
