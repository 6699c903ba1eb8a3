package convert

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"lapwright/convert/survey"
	"lapwright/engine"
)

// Survey is a survey that is read once and taken off part by part.
type Survey struct {
	in    string
	src   *source
	walls rowsBy // of the job's walls
	flags rowsBy
	left  rowsBy // of the rows not taken
	asks  rowsBy // of the questions

	different int // walls that are laid out

	uses  map[alike]int // how many plots are alike
	mu    sync.Mutex
	plans map[alike]*plan

	layouts engine.Layouts // of drops, which hold the same houses
}

// alike is what makes two plots equal in what is planned for them.
type alike struct {
	houseType, colour string
	drop              string // where a reader's edits may tell drops apart
}

func (s *Survey) alike(p engine.Plot) alike {
	a := alike{houseType: p.HouseType, colour: p.Colour}
	if len(s.src.survey.Edits) > 0 {
		a.drop = p.Drop
	}
	return a
}

// plan is the takeoff of the first of some plots that are alike.
type plan struct {
	once sync.Once
	res  *engine.Result
	own  int // flags at its head that came from the survey's rows
	err  error
	left int // plots that have not asked for it
}

// Read reads a survey without taking it off. The error is an [*Error].
func Read(ctx context.Context, in string, o Options) (*Survey, error) {
	src, err := open(ctx, in, o)
	if err != nil {
		return nil, failure(shown(in), asTyped(err, in, o))
	}
	src.book = nil // the parts leave the survey's own sheets where they are
	s := &Survey{in: in, src: src, different: src.survey.Job.Different(), uses: map[alike]int{}, plans: map[alike]*plan{}, walls: rowsBy{}, flags: rowsBy{}, left: rowsBy{}, asks: rowsBy{}}
	for i, w := range src.survey.Job.Walls {
		s.walls.add(w.Plot, i)
	}
	for _, p := range src.survey.Job.Plots {
		s.uses[s.alike(p)]++
	}
	lost := map[[3]string]bool{}
	for i, r := range src.survey.Rejected {
		s.left.add(cmp.Or(r.Plot, nameless), i)
		lost[[3]string{r.File, r.Sheet, r.Line}] = r.Plot == ""
	}
	of := func(plot string, at engine.Place) string {
		if plot == "" && (lost[[3]string{at.File, at.Sheet, strings.TrimLeft(at.Cell, letters)}] || lost[[3]string{at.File, at.Sheet, strings.TrimRight(at.Cell, "0123456789")}]) {
			return nameless
		}
		return plot
	}
	for i, f := range src.survey.Flags {
		s.flags.add(of(f.Plot, f.Place), i)
	}
	for i, q := range src.survey.Asks {
		s.asks.add(of(q.Plot, q.Place), i)
	}
	return s, nil
}

// nameless stands for the plot of rows that were not taken and name none: what is
// said of them is of no plot, and not of the whole job.
const nameless = "\x00"

// letters are those that name a column.
const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// rowsBy finds rows by their plot, so that a survey of thousands is not gone
// through for each.
type rowsBy map[string][]int

func (r rowsBy) add(plot string, i int) { r[plot] = append(r[plot], i) }

// of returns the rows of some plots in the survey's order.
func (r rowsBy) of(plots map[string]bool) []int {
	var out []int
	for p, wanted := range plots {
		if wanted {
			out = append(out, r[p]...)
		}
	}
	slices.Sort(out)
	return out
}

// SplitBy is what makes the parts of a survey of many dwellings.
type SplitBy string

// The ways to split a survey.
const (
	SplitPlot SplitBy = "plot"
	SplitDrop SplitBy = "drop"
	SplitType SplitBy = "type"
)

// Part is some dwellings of a survey: those of one plot, drop or house type; or
// what belongs to none of them.
type Part struct {
	Name  string
	by    SplitBy
	types map[string]bool // Plot of the walls that belong to it
	plots []engine.Plot
	rest  map[string]bool // Plot of rows that belong to it and build nothing
}

// restName names the part of what belongs to no other: plots whose rows were not
// taken, and what was flagged of house types that no plot has.
const restName = "not taken"

// Pool returns what the survey cuts together, the default where it says
// nothing.
func (s *Survey) Pool() engine.Pool {
	return cmp.Or(s.src.survey.Job.Pool, engine.PoolPlot)
}

// Split returns the parts of a survey in the order first met. A split that
// would part boards that are cut together is an [*Error].
func (s *Survey) Split(by SplitBy) ([]Part, error) {
	job := s.src.survey.Job
	if err := s.splits(by); err != nil {
		return nil, err
	}
	var out []Part
	at := map[string]int{}
	part := func(name string) *Part {
		i, ok := at[name]
		if !ok {
			i = len(out)
			at[name] = i
			out = append(out, Part{Name: name, by: by, types: map[string]bool{}})
		}
		return &out[i]
	}
	for _, p := range job.Plots {
		name := map[SplitBy]string{SplitPlot: p.Name, SplitDrop: p.Drop, SplitType: p.HouseType}[by]
		p2 := part(name)
		p2.types[p.HouseType] = true
		p2.plots = append(p2.plots, p)
	}
	if len(job.Plots) == 0 {
		for _, plot := range s.dwellings() {
			part(plot).types[plot] = true
		}
	}
	for i := range out {
		out[i].Name = cmp.Or(out[i].Name, "no "+string(by))
	}
	if rest := s.rest(out); len(rest) > 0 {
		out = append(out, Part{Name: restName, by: by, rest: rest})
	}
	return out, nil
}

// rest lists the plots of rows that were not taken, or not without a doubt, and
// belong to no part.
func (s *Survey) rest(parts []Part) map[string]bool {
	known := map[string]bool{"": true}
	for _, p := range parts {
		maps.Copy(known, p.types)
		for _, plot := range p.plots {
			known[plot.Name] = true
		}
	}
	out := map[string]bool{}
	whole := slices.ContainsFunc(parts, func(p Part) bool { return p.types[""] })
	for _, r := range s.src.survey.Rejected {
		if !known[r.Plot] || r.Plot == "" && !whole {
			out[cmp.Or(r.Plot, nameless)] = true
		}
	}
	for _, f := range s.src.survey.Flags {
		if f.Severity != engine.Note && !known[f.Plot] {
			out[f.Plot] = true
		}
	}
	return out
}

// dwellings lists the plots of the rows of walls, taken or not.
func (s *Survey) dwellings() []string {
	var out []string
	seen := map[string]bool{}
	add := func(plot string) {
		if !seen[plot] {
			seen[plot] = true
			out = append(out, plot)
		}
	}
	for i := range s.src.survey.Job.Walls {
		add(s.src.survey.Job.Walls[i].Plot)
	}
	for _, r := range s.src.survey.Rejected {
		if r.As == "Walls" {
			add(r.Plot)
		}
	}
	return out
}

// splits refuses a split across a pool, or of what is promised once.
func (s *Survey) splits(by SplitBy) error {
	job, pool := s.src.survey.Job, s.Pool()
	refuse := func(what, do string) error { return &Error{Unusable, s.in, what, do, nil} }
	switch {
	case by != SplitPlot && by != SplitDrop && by != SplitType:
		return refuse("cannot be split by "+string(by), "Split it by plot, drop or type")
	case by == SplitDrop && len(job.Plots) == 0:
		return refuse("cannot be split by drop: it has no sheet Plots that names them", "Split it by plot")
	case pool == engine.PoolJob:
		return refuse("is cut together as one job, so no part of it can be cut alone", `Set "Cut together by" to plot or drop, or do without parts`)
	case pool == engine.PoolDrop && by != SplitDrop:
		return refuse("is cut together by drop, so a "+string(by)+" cannot be cut alone", `Split it by drop, or set "Cut together by" to plot`)
	case len(job.Offcuts) > 0:
		return refuse("lists stock on hand, which cannot be promised to several parts at once", "Leave the sheet Offcuts out, or do without parts")
	}
	return nil
}

// ConvertPart takes off one part of a survey, as [Convert] does a whole one.
// Parts may be converted at the same time.
func (s *Survey) ConvertPart(ctx context.Context, p Part, o Options) (rep Report, err error) {
	defer func() {
		if e := recover(); e != nil {
			err = failure(s.in, fmt.Errorf("%v\n%s", e, debug.Stack()))
		}
	}()
	o.WithoutSurvey = true
	src := &source{path: s.src.path, survey: s.part(p), origin: s.src.origin}
	rep = newReport(s.in)
	rep.Digest = src.survey.Digest
	res, err := s.planned(ctx, p, src, o)
	if err == nil {
		err = s.finish(ctx, src, res, &rep, o)
	}
	if err != nil {
		err = failure(s.in, err)
	}
	return rep, err
}

// planned takes off a part; plots that are alike are planned once, and so are
// equal pools of drops.
func (s *Survey) planned(ctx context.Context, p Part, src *source, o Options) (*engine.Result, error) {
	switch {
	case p.by == SplitDrop:
		return takeoff(ctx, src.survey, o, &s.layouts)
	case len(p.plots) != 1:
		return takeoff(ctx, src.survey, o, nil)
	}
	first := s.plan(s.alike(p.plots[0]))
	first.once.Do(func() {
		first.own = len(src.survey.Flags)
		first.res, first.err = takeoff(ctx, src.survey, o, nil)
	})
	if first.err != nil {
		return nil, first.err
	}
	job := *first.res.Job
	job.Name, job.Plots = src.survey.Job.Name, src.survey.Job.Plots
	res := first.res.For(&job)
	res.Flags = slices.Concat(src.survey.Flags, first.res.Flags[first.own:])
	return res, nil
}

// plan returns the plan of plots that are alike, and forgets it when the last of
// them has it, so that thousands of house types are not held at once.
func (s *Survey) plan(key alike) *plan {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.plans[key]
	if p == nil {
		p = &plan{left: s.uses[key]}
		s.plans[key] = p
	}
	if p.left--; p.left == 0 {
		delete(s.plans, key)
	}
	return p
}

func (s *Survey) finish(ctx context.Context, src *source, res *engine.Result, rep *Report, o Options) (err error) {
	rep.fill(res)
	if o.Strict && rep.Stops() > 0 {
		return &Error{Refused, s.in, "has stops, and --strict was asked for: nothing was written", "Mend the flagged cells and run again", nil}
	}
	if o.CheckOnly {
		return nil
	}
	return writeAll(ctx, src, res, rep, o)
}

// part returns the survey as if it held that part alone. Flags of the whole
// job stand in every part.
func (s *Survey) part(p Part) *survey.Survey {
	whole := s.src.survey
	job := *whole.Job
	job.Left = slices.Clone(job.Left)
	job.Walls = nil
	for _, i := range s.walls.of(p.types) {
		job.Walls = append(job.Walls, whole.Job.Walls[i])
	}
	job.Plots, job.Whole = p.plots, s.different
	job.Name = strings.TrimSpace(job.Name + " " + p.Name)
	out := &survey.Survey{Job: &job, Edits: whole.Edits, Plain: true, Digest: whole.Digest}
	mine := map[string]bool{}
	maps.Copy(mine, p.types)
	maps.Copy(mine, p.rest)
	for _, plot := range p.plots {
		mine[plot.Name] = true
	}
	mine[nameless] = p.types[""] || p.rest[nameless]
	for _, i := range s.left.of(mine) {
		if r := whole.Rejected[i]; r.As != "Walls" || p.types[r.Plot] || p.rest[cmp.Or(r.Plot, nameless)] { // no walls of a type that is called like a plot
			out.Rejected = append(out.Rejected, r)
		}
	}
	mine[""] = true // what is said of the whole job
	for _, i := range s.flags.of(mine) {
		out.Flags = append(out.Flags, whole.Flags[i])
	}
	for _, i := range s.asks.of(mine) {
		out.Asks = append(out.Asks, whole.Asks[i])
	}
	sum := sha256.Sum256(fmt.Appendf(nil, "%s %s %s", whole.Digest, p.by, p.Name))
	out.Digest = hex.EncodeToString(sum[:])
	return out
}

// Save writes a file whole or not at all and returns its name: a numbered one
// where the file cannot be replaced.
func Save(path string, write func(io.Writer) error) (string, error) { return save(path, write) }

// Digest returns the SHA-256 of all that was read.
func (s *Survey) Digest() string { return s.src.survey.Digest }
