package engine

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"lapwright/engine/audit"
	"lapwright/engine/measure"
)

// takeoff is one run of the engine.
type takeoff struct {
	job       *Job
	rules     Rules
	catalogue catalogue
	board     Product
	onHand    []Offcut       // what is not yet promised to a pool
	stacks    func() []stack // of packers, once the board is chosen
	faces     []*face
	meets     map[meet][]*face // walls by what finds them
	stands    []*stand
	pools     []*pool
	result    *Result
	figures   bool // only its figures are wanted: no advice
	fixer     fixer
	dealer    dealer
	layouts   *Layouts

	held   int            // so many walls at most are held with all that is on them
	faulty map[int]string // rows of the job's walls that did not pass the audit before, and what it said
}

// Takeoff turns a surveyed job into its takeoff. Faults of the survey come as
// flags in the result, and a wall with a stop is kept out of it. So is a wall
// that does not pass the audit: the others are planned again without it. An
// error is either the context's or [ErrAudit]: a fault of this program that
// concerns no single wall.
func Takeoff(ctx context.Context, job *Job) (*Result, error) {
	return (*Layouts)(nil).Takeoff(ctx, job)
}

// Takeoff is [Takeoff], with equal pools planned once for all jobs. A nil l keeps
// nothing.
func (l *Layouts) Takeoff(ctx context.Context, job *Job) (*Result, error) {
	faulty := map[int]string{}
	for {
		t := newTakeoff(job)
		t.faulty, t.layouts = faulty, l
		if err := t.plan(ctx); err != nil {
			return nil, err
		}
		t.collect()
		t.assumptions()
		faults := audit.Check(t.auditJob())
		if len(faults) == 0 {
			if err := t.alternatives(ctx); err != nil {
				return nil, err
			}
			return t.result, ctx.Err()
		}
		if !t.blame(faults) {
			return nil, fmt.Errorf("%w: %d faults, the first: %v", ErrAudit, len(faults), faults[0])
		}
	}
}

func newTakeoff(job *Job) *takeoff {
	t := &takeoff{job: job, rules: job.Rules, catalogue: catalogue{products: job.Products},
		onHand: slices.Clone(job.Offcuts), meets: map[meet][]*face{}, result: &Result{Job: job}, held: holdMost}
	t.stacks = sync.OnceValue(t.stackable)
	return t
}

// plan runs every stage, from the survey's rows to the order.
func (t *takeoff) plan(ctx context.Context) error {
	t.declare()
	if t.chooseBoard() {
		t.shapeWalls()
		t.setOut()
		t.batten()
		t.flagCorners()
		t.flagLooseCorners()
		if err := t.lay(ctx); err != nil {
			return err
		}
	}
	t.result.Board, t.result.Effort = t.board, t.effort()
	return t.detail(ctx)
}

// chooseBoard picks the board the job is set out with. Without one nothing can
// be taken off: every wall stops.
func (t *takeoff) chooseBoard() bool {
	board, ok := t.catalogue.board(t.job)
	switch {
	case !ok:
		t.stopAll("board-missing", "the catalogue has no line with the role board", "add one to Products")
	case board.Width <= 0 || board.Length <= 0:
		t.stopAll("board-size", "the board "+board.Code+" has no length or no width", "give both in Products")
	case t.job.Board != "" && board.Code != t.job.Board && len(t.job.Walls) > 0: // a survey stops its walls for it itself
		t.jobFlag(Check, "board-unknown", "Board", "no board has the code "+t.job.Board+"; "+board.Code+" was taken", "choose a code from Products")
		t.board = board
		return true
	default:
		t.board = board
		return true
	}
	return false
}

func (t *takeoff) stopAll(code, what, do string) {
	t.jobFlag(Stop, code, "Board", what, do)
	for i := range t.job.Walls {
		w := &t.job.Walls[i]
		t.faces = append(t.faces, &face{wall: w, shape: shape{flags: []Flag{{Stop, code, w.Plot, w.Name, w.Origin.At("Wall"), what, do}}}})
	}
}

// jobFlag flags an item of the sheet Job.
func (t *takeoff) jobFlag(severity Severity, code, item, what, do string) {
	t.result.Flags = append(t.result.Flags, Flag{Severity: severity, Code: code, Place: t.job.Origins[item], What: what, Do: do})
}

// shapeWalls works out the shape of every wall.
func (t *takeoff) shapeWalls() {
	for i := range t.job.Walls {
		w := &t.job.Walls[i]
		f := &face{wall: w, width: t.board.Width, level: t.rules.LevelTolerance, shape: shapeOf(w, t.rules)}
		if what, ok := t.faulty[i]; ok {
			f.flagOnce(Flag{Stop, "audit", w.Plot, w.Name, w.Origin.At("Wall"),
				"a fault of this program: what it planned for the wall does not pass its own check (" + what + ")",
				"set this wall out by hand, and report the fault with the survey"})
		}
		t.faces = append(t.faces, f)
		t.index(f)
	}
}

// lay plans the boards of every pool. A run that no layout can cover may be
// jointed off the grid, and one that still none can stops its wall: the pools are
// planned again.
func (t *takeoff) lay(ctx context.Context) error {
	for again := true; again; {
		again = false
		t.stands = standsOf(t.job, slices.DeleteFunc(slices.Clone(t.faces), func(f *face) bool { return !f.covered() }), t.board)
		t.pools = poolsOf(t.stands)
		t.onHand = slices.Clone(t.job.Offcuts)
		t.planPools(ctx)
		for _, p := range t.pools {
			if p.err != nil {
				return p.err
			}
			for _, ref := range p.plan.Unlaid {
				f := p.stands[ref.Wall].face
				again = true
				if f.jointOff(ref.Run) {
					continue
				}
				f.flagOnce(Flag{Stop, "run-unlaid", f.wall.Plot, f.wall.Name, f.wall.Origin.At("Batten centres mm"),
					fmt.Sprintf("from course %d on, a stretch without battens is longer than every board", f.first+t.runsOf(f)[ref.Run].Course),
					"give closer batten centres or studs, or a longer board"})
			}
		}
	}
	return ctx.Err()
}

// collect gathers what the stages flagged, wall by wall, and the walls left
// out.
func (t *takeoff) collect() {
	for _, f := range t.faces {
		t.result.Flags = append(t.result.Flags, f.flags...)
		if f.covered() {
			continue
		}
		why := ""
		if i := slices.IndexFunc(f.flags, func(g Flag) bool { return g.Severity == Stop }); i >= 0 {
			why = f.flags[i].What
		}
		t.leave(f.wall.Plot, f.wall.Name, why, f)
	}
	for _, l := range t.job.Left {
		var f *face
		if l.Wall != nil {
			f = &face{wall: l.Wall, shape: shapeOf(l.Wall, t.rules)}
		}
		t.leave(l.Plot, l.Name, l.Why, f)
	}
}

// leave notes a wall that is not taken off, with its quantity by area as far
// as its outline is known.
func (t *takeoff) leave(plot, name, why string, f *face) {
	left := LeftWall{Plot: plot, Wall: name, Quantity: 1, Why: why}
	if f != nil {
		left.Quantity = max(1, f.wall.Quantity)
		left.NetArea = f.netArea()
	}
	if face := t.rules.faceArea(t.board); face > 0 {
		left.Boards = left.NetArea / face
	}
	t.result.Left = append(t.result.Left, left)
}

// faceArea returns the square metres one board shows at the middle of the lap
// limits.
func (r Rules) faceArea(b Product) float64 {
	return b.Length.Metres() * (b.Width - (r.LapLeast+r.LapMost)/2).Metres()
}

// netArea returns the square metres of the wall's face less its openings, as
// far as they are known.
func (f *face) netArea() float64 {
	if len(f.top) < 2 {
		return 0
	}
	area := f.grossArea()
	for i := range f.wall.Openings {
		area -= f.openArea(&f.wall.Openings[i])
	}
	return max(0, area)
}

// openArea returns the square metres that an opening takes out of the face: the
// part of a door below the boards takes nothing.
func (f *face) openArea(o *Opening) float64 {
	x := measure.Span{Lo: o.Left, Hi: o.Left + o.Width}.And(measure.Span{Lo: 0, Hi: f.wall.Width})
	if x.Empty() || o.Height <= 0 {
		return 0
	}
	lo, hi := o.Sill, o.Sill+o.Height
	return measure.Between(f.baseLine().Cut(x).Clamp(lo, hi), f.top.Cut(x).Clamp(lo, hi)).SquareMetres()
}

// baseLine returns the line the boards start on, as far as it is known.
func (f *face) baseLine() measure.Profile {
	if len(f.base) >= 2 {
		return f.base
	}
	return f.ground
}

// grossArea returns the square metres between the base of the boards and the
// top, over the wall's own width.
func (f *face) grossArea() float64 {
	return f.outline().SquareMetres()
}

// outline returns the wall's face from where boards start to its top.
func (f *face) outline() measure.Polygon {
	s := measure.Span{Lo: 0, Hi: f.wall.Width}
	base := f.baseLine()
	return measure.Between(base.Cut(s), f.top)
}
