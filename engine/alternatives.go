package engine

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// alternativesMost is how many different walls a job may have and still be
// planned again for every alternative.
const alternativesMost = 40

// savingsMost is how many changes that quick effort finds cheaper are planned
// with the plan's own effort, which takes as long as the plan itself, each.
const savingsMost = 3

// alternatives plans the job again for every other board length, batten
// centres and lap that the catalogue and the rules allow, with quick effort,
// and names a change that would save. Like is compared with like: with a plan
// of the same effort. A job that asks for quick effort, or has too many walls,
// is not planned again.
func (t *takeoff) alternatives(ctx context.Context) error {
	now := t.result.alternative("as planned")
	now.Current = true
	if len(t.stands) == 0 || len(t.stands) > alternativesMost || t.result.Effort == EffortQuick {
		now.Note = "nothing else was compared: that takes normal effort and at most " + itoa(alternativesMost) + " different walls"
		t.result.Options = []Alternative{now}
		return nil
	}
	tried := append([]change{{"as planned, with quick effort", func(*Job) {}}}, t.changes()...)
	list, errs := make([]Alternative, len(tried)), make([]error, len(tried))
	parallel.Each(len(tried), func(_, i int) { list[i], errs[i] = t.again(ctx, tried[i], EffortQuick) })
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	base := list[0]
	list[0].Floor = max(base.Floor, now.Floor) // the same rules, and the better bound holds for both
	list[0].Note = "what the lines with quick effort are compared with"
	for i := range list[1:] {
		list[1+i].Note = list[1+i].beside(base) + ", against the plan with quick effort"
	}
	saves, err := t.saving(ctx, now, tried, list)
	if err != nil {
		return err
	}
	now.Note = "no change planned with the plan's effort would save money and leave no more to check"
	if saves >= 0 {
		now.Note = strings.TrimSpace(fmt.Sprintf("this change would save %.2f %s", now.Cost-list[saves].Cost, t.job.Currency)) + ": " + list[saves].Change
	}
	t.result.Options = append([]Alternative{now}, list...)
	return nil
}

// saving returns the index of a change that is cheaper than the plan when it is
// planned with the plan's own effort, and leaves no more to be checked, or -1. What quick effort finds cheaper is
// planned so, the cheapest first and only the first few, and its line says so.
func (t *takeoff) saving(ctx context.Context, now Alternative, tried []change, list []Alternative) (int, error) {
	var cheaper []int
	for i := range list {
		if i > 0 && list[i].Cost < max(list[0].Cost, now.Cost) && list[i].checks <= max(list[0].checks, now.checks) {
			cheaper = append(cheaper, i)
		}
	}
	slices.SortStableFunc(cheaper, func(a, b int) int { return cmp.Compare(list[a].Cost, list[b].Cost) })
	for _, i := range cheaper[:min(len(cheaper), savingsMost)] {
		a, err := t.again(ctx, tried[i], t.result.Effort)
		if err != nil {
			return -1, err
		}
		a.Note = a.beside(now) + ", against the plan, with its effort"
		list[i] = a
		if a.Cost < now.Cost && a.checks <= now.checks {
			return i, nil
		}
	}
	return -1, nil
}

// beside says in words how an alternative compares with another. It begins with
// no sign: a text file's reader would take that for a formula.
func (a Alternative) beside(base Alternative) string {
	boards, cost := "as many boards", "at the same cost"
	switch n := a.Boards - base.Boards; {
	case n > 0:
		boards = plural(n, "board") + " more"
	case n < 0:
		boards = plural(-n, "board") + " fewer"
	}
	switch d := math.Round(100*(a.Cost-base.Cost)) / 100; {
	case d > 0:
		cost = fmt.Sprintf("%.2f dearer", d)
	case d < 0:
		cost = fmt.Sprintf("%.2f cheaper", -d)
	}
	if n := a.checks - base.checks; n > 0 {
		cost += ", with " + plural(n, "check") + " more"
	}
	return boards + ", " + cost
}

type change struct {
	name string
	do   func(*Job)
}

// changes lists what else the catalogue and the rules allow.
func (t *takeoff) changes() []change {
	var out []change
	for _, length := range t.boardLengths() {
		if t.job.Board != "" && length == t.board.Length {
			continue // that is the plan
		}
		out = append(out, change{"boards of " + length.String() + " mm only", func(j *Job) { j.keepBoards(t.board, length) }})
	}
	if n := len(t.boardLengths()); n > 1 && t.job.Board != "" {
		out = append(out, change{"boards of every length, by price", func(j *Job) { j.Board = "" }})
	}
	for _, c := range t.rules.CentresTried {
		if c != t.rules.BattenCentres && c <= max(t.rules.BattenCentres, t.length(declSpan)) {
			out = append(out, change{"batten centres of " + c.String() + " mm", func(j *Job) { j.Rules.BattenCentres = c }})
		}
	}
	out = append(out, change{"no joint in a course that one board spans", func(j *Job) { j.Rules.WholeCourses = true }})
	gauge := t.board.Width - t.rules.LapLeast
	return append(out, change{"the least lap everywhere, " + t.rules.LapLeast.String() + " mm", func(j *Job) {
		for i := range j.Walls {
			j.Walls[i].PinGauge = measure.Some(gauge)
		}
	}})
}

// boardLengths returns the stock lengths of the board that is set out, rising,
// but none if there is only the one that is planned with.
func (t *takeoff) boardLengths() []measure.Length {
	all := map[measure.Length]bool{}
	for _, p := range t.catalogue.products {
		if p.Role == RoleBoard && p.Width == t.board.Width && p.Thickness == t.board.Thickness {
			all[p.Length] = true
		}
	}
	if len(all) < 2 {
		return nil
	}
	return slices.Sorted(maps.Keys(all))
}

// keepBoards drops from the catalogue every board like main of another length.
func (j *Job) keepBoards(main Product, length measure.Length) {
	j.Board = ""
	j.Products = slices.DeleteFunc(slices.Clone(j.Products), func(p Product) bool {
		return p.Role == RoleBoard && p.Width == main.Width && p.Thickness == main.Thickness && p.Length != length
	})
}

// again takes the job off once more with a change, and nothing but its figures
// is kept.
func (t *takeoff) again(ctx context.Context, c change, effort Effort) (Alternative, error) {
	job := *t.job
	job.Walls = slices.Clone(t.job.Walls)
	job.Effort = effort
	c.do(&job)
	u := newTakeoff(&job)
	u.figures, u.layouts = true, t.layouts
	if err := u.plan(ctx); err != nil {
		return Alternative{}, err
	}
	u.collect()
	return u.result.alternative(c.name), nil
}

// alternative sums a result into one line.
func (r *Result) alternative(name string) Alternative {
	b := r.Boards()
	a := Alternative{Change: name, Boards: b.Boards, Waste: b.Waste, Floor: b.Floor}
	for i := range r.Walls {
		a.Joints += r.Walls[i].jointed * r.Walls[i].Quantity
	}
	a.Cost = Amount(r.Order)
	for i := range r.Flags {
		if r.Flags[i].Severity >= Check {
			a.checks++
		}
	}
	return a
}

// assumptions says in words what the takeoff took for granted.
func (t *takeoff) assumptions() {
	r := t.rules
	add := func(format string, args ...any) {
		t.result.Notes = append(t.result.Notes, fmt.Sprintf(format, args...))
	}
	add("Sizes are on the face of the wall behind the battens; x runs from the wall's left edge seen from outside, heights from the survey's datum.")
	add("Every cut edge is sealed: paint is reckoned for both ends of every piece, slopes along their length, cut-outs and rips, at %g m of edge a litre.", r.PaintCoverage)
	add("The membrane covers the gross area, openings not deducted, its strips lapping by %v mm.", r.MembraneLap)
	add("Spare added to what is cut from stock (boards, trims, battens): %g %%; to everything else: %g %%.", r.SpareCut, r.SpareOther)
	if t.job.Board == "" {
		add("No board is named: the first in the wall's colour was taken, in every stock length listed, by price.")
	}
	add("Offcuts are shared within each %s; a saw cut takes %v mm.", cmp.Or(string(t.job.Pool), string(PoolPlot)), r.Kerf)
	if t.result.Wind.Checked {
		add("Wind zones A, B and C and their net pressures, outside and inside together, are those of EN 1991-1-4 7.2.2 and table 7.1, with e the lesser of the building's size across the wind and twice its height; the Fixing schedule gives the edges and the suction of each.")
		add("Loads are design values of one fixing: 1.5 times the wind's net suction in its zone, times the board it holds; the schedule says where the turning of a board about its top edge is in them.")
	}
	add("Battens stand at %v mm centres at most, closer where a wall or the wind asks.", r.BattenCentres)
	if slices.ContainsFunc(t.stands, func(s *stand) bool { return s.face.wall.Bottom == Roof }) {
		add("Above a lower roof the flashing behind the boards is by others and not ordered; boards keep %v mm, measured upright, above a roof given as Base profile.", r.GroundClearance)
	}
	if slices.ContainsFunc(t.result.Walls, func(w WallResult) bool {
		return slices.ContainsFunc(w.Pieces, func(p Piece) bool { return p.Reveal != "" })
	}) {
		add("Boards that line a reveal: the head's is as wide as the opening, the jambs' end under it. They are held by the trims at their edges and what the reveal is made of asks for: no screws, grounds or battens are counted for them.")
	}
	add("Ends of boards: %v mm beyond the wall at external corners, %v mm at internal ones, %v mm at abutments (negative: short of it).", r.AllowExternal, r.AllowInternal, r.AllowAbutment)
}
