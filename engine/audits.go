package engine

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"lapwright/engine/audit"
	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// ErrAudit is wrapped by the error of a takeoff whose own check found a fault:
// a mistake of this program, after which nothing may be written.
var ErrAudit = errors.New("the takeoff does not pass its own audit")

// blame notes the walls that faults of the audit name, to be kept out of the
// next plan. It reports false if a fault names none, so that leaving walls out
// would mend nothing.
func (t *takeoff) blame(faults []audit.Fault) bool {
	rows := map[string]int{}
	for i := range t.result.Walls {
		rows[t.result.Walls[i].auditName()] = slices.Index(t.faces, t.stands[i].face)
	}
	for _, f := range faults {
		row, ok := rows[f.Wall]
		if !ok {
			return false
		}
		if _, told := t.faulty[row]; !told {
			t.faulty[row] = fmt.Sprintf("%s %s: %s", f.Mark, f.Rule, f.What)
		}
	}
	return true
}

func (t *takeoff) auditJob() audit.Job {
	job := audit.Job{Kerf: t.rules.Kerf, More: t.auditParts()}
	for _, p := range t.packers() {
		job.Packers = append(job.Packers, p.Thickness)
	}
	for _, o := range t.job.Offcuts {
		job.Hand = append(job.Hand, audit.Hand{Code: o.Code, Colour: o.Colour, Length: o.Length, Count: o.Count})
	}
	for _, l := range t.result.Order {
		if l.Role != RoleMembrane && l.Role != RolePaint { // those go by area and by brush
			job.Order = append(job.Order, audit.Line{Code: l.Code, Colour: l.Colour, Net: l.Net})
		}
	}
	for _, p := range t.result.Pools {
		job.Pools = pooled(job.Pools, audit.Pool{Name: p.Pool, Code: p.Code, Colour: p.Colour,
			Boards: p.Boards + p.OnHand, Bounds: []int{p.PlanBound, p.LayoutBound}, Others: p.Others})
	}
	return job
}

// pooled adds a pool to the list, or to one of the same product there: linings
// cut from the wall's own board are planned apart and counted together.
func pooled(list []audit.Pool, p audit.Pool) []audit.Pool {
	for i := range list {
		q := &list[i]
		if q.Name == p.Name && q.Colour == p.Colour && (q.Code == p.Code || slices.Contains(q.Others, p.Code)) {
			q.Boards += p.Boards
			for k := range q.Bounds {
				q.Bounds[k] += p.Bounds[k]
			}
			return list
		}
	}
	return append(list, p)
}

// auditParts states walls and cutting plan: all in one part, or, of a large job, some
// pools at a time.
func (t *takeoff) auditParts() iter.Seq[*audit.Part] {
	return func(yield func(*audit.Part) bool) {
		if t.result.again != nil {
			t.eachPart(yield)
			return
		}
		all := make([]int, len(t.stands))
		for i := range all {
			all[i] = i
		}
		cuts := 0
		for i := range t.result.Cutting {
			cuts += len(t.result.Cutting[i].Cuts)
		}
		yield(&audit.Part{Next: t.auditWalls(all), Boards: t.auditBoards(t.result.CutRows(0, len(t.result.Cutting))), Cuts: cuts})
	}
}

// eachPart states a large job, as many pools at a time as have walls enough to be
// held at once. Rows of a pool that has no wall belong to the first part, which will
// find nothing that they cut.
func (t *takeoff) eachPart(yield func(*audit.Part) bool) {
	type part struct {
		walls, blocks []int
		cuts          int
	}
	of, parts := map[string]int{}, make([]part, 1)
	for i := range t.result.Walls {
		pool := t.result.Walls[i].Pool
		n, known := of[pool]
		if !known {
			if n = len(parts) - 1; len(parts[n].walls) >= t.held {
				n++
				parts = append(parts, part{})
			}
			of[pool] = n
		}
		parts[n].walls = append(parts[n].walls, i)
	}
	rows := &t.result.again.rows
	for i := range rows.blocks {
		p := &parts[of[rows.blocks[i].lot.Pool]]
		p.blocks, p.cuts = append(p.blocks, i), p.cuts+rows.blocks[i].cuts
	}
	for i := range parts {
		p := &parts[i]
		if !yield(&audit.Part{Next: t.auditWalls(p.walls), Boards: t.auditBoards(rows.of(p.blocks)), Cuts: p.cuts}) {
			return
		}
	}
}

// auditBoards states rows of the cutting plan, as auditWalls does walls.
func (t *takeoff) auditBoards(rows iter.Seq[*CutRow]) iter.Seq[*audit.Board] {
	return func(yield func(*audit.Board) bool) {
		var b audit.Board
		for row := range rows {
			if t.auditBoard(&b, row); !yield(&b) {
				return
			}
		}
	}
}

func (t *takeoff) auditBoard(b *audit.Board, row *CutRow) {
	*b = audit.Board{Name: row.Board, Pool: row.Pool, Code: row.Code, Colour: row.Colour, Stock: row.Stock,
		Count: row.Count, Cuts: b.Cuts[:0], Offcut: row.Offcut, Shared: row.Shared, OnHand: row.OnHand}
	for i := range row.Cuts {
		b.Cuts = append(b.Cuts, audit.Cut{Marks: row.Cuts[i].Marks, Length: row.Cuts[i].Length})
	}
	if row.Role == RoleBoard || row.Role == RoleReveal {
		p := t.product(row.Role, row.Code, row.Colour)
		b.Width, b.Turns = p.Width, p.Turns
	}
}

func (t *takeoff) auditLimits(f *face) audit.Limits {
	r := t.rules
	return audit.Limits{
		Width: f.width, LapLeast: r.LapLeast, LapMost: r.LapMost,
		JointGap: r.JointGap, JointOff: measure.Millimetre / 2, WideWidth: r.WideBattenWidth,
		BattenShort: r.VentilationGap, StaggerLeast: f.apart(r.StaggerBays), Repeat: r.JointRepeat,
		PieceLeast: r.PieceLeastFor(f.bay()), EndLeast: r.EndDistanceLeast, EndMost: endMost, EdgeLeast: r.EdgeDistance, BattenEnd: r.BattenEndLeast, BelowLeast: t.belowLeast(), EndUseful: endUseful, StripReach: stripReach, TrimBeside: besideTrim, StripSlope: besideSlope,
		PreDrillWithin: r.PreDrillWithin, FixHeight: r.LapMost, // where only a lap touches a batten, the board need not be fixed
		Thickness: t.board.Thickness, PackerLeast: packerLeast, GaugeUnder: max(1, f.width-r.LapMost), CutFeet: f.cutBase(),
		Behind: t.tapeThickness(), Depth: t.battenDepth() - spareTimber,
	}
}

// near returns how near joints of neighbouring courses do not come, however many
// bays apart: half of the bays stated (common practice). Where an opening moves a
// batten, its bay may be a hand wide, and joints on both sides of it look like one.
func (f *face) near(bays int) measure.Length { return measure.Length(bays) * f.bay() / 2 }

// apart returns how far apart joints of neighbouring courses are.
func (f *face) apart(bays int) measure.Length {
	least := f.staggerLeast(bays)
	if len(f.off) > 0 {
		return least
	}
	return max(least, f.near(bays))
}

// staggerLeast returns the least distance of two battens of the grid that are
// the stated number of bays apart; so many bays where no two are.
func (f *face) staggerLeast(bays int) measure.Length {
	least := measure.Length(0)
	for i := range f.lines {
		a := &f.lines[i]
		for k := i + 1; k < len(f.lines) && a.Bay >= 0; k++ {
			b := &f.lines[k]
			if d := b.Centre - a.Centre; b.Bay-a.Bay >= bays && (least == 0 || d < least) {
				least = d
			}
		}
	}
	return cmp.Or(least, measure.Length(bays)*f.bay())
}

// auditName tells the walls of a result apart.
func (w *WallResult) auditName() string { return name(w.Plot, w.Name, w.Colour, w.Drop) }

// auditWalls states walls one after another, each over the one before: all at once
// would be as much again as the result.
func (t *takeoff) auditWalls(walls []int) func(*audit.Wall) bool {
	var again WallResult
	return func(a *audit.Wall) bool {
		if len(walls) == 0 {
			return false
		}
		i := walls[0]
		walls = walls[1:]
		w := &t.result.Walls[i]
		if t.result.again != nil {
			over := again.Pieces
			again = *w
			w = &again
			t.result.again.whole(w, i, over)
		}
		t.auditWall(a, w, t.stands[i].face)
		return true
	}
}

// auditWall writes a wall over another, whose memory it keeps.
func (t *takeoff) auditWall(a *audit.Wall, w *WallResult, f *face) {
	*a = audit.Wall{Name: w.auditName(), Pool: w.Pool, Quantity: w.Quantity, Studs: f.wall.Studs,
		Limits: t.auditLimits(f), Base: w.Clad.Base, Top: w.Clad.Top,
		Voids: a.Voids[:0], Openings: a.Openings[:0], Courses: a.Courses[:0], Pieces: a.Pieces[:0], Battens: a.Battens[:0], Screws: a.Screws[:0], Packings: a.Packings[:0],
		Trims: a.Trims[:0], Strips: a.Strips[:0], Zones: a.Zones[:0], Fixings: a.Fixings[:0]}
	for _, v := range w.Voids {
		for _, k := range v.Keep {
			a.Voids = append(a.Voids, audit.Rect(k))
		}
		for _, p := range v.Frame {
			x, z := p.Bounds()
			a.Openings = append(a.Openings, audit.Rect{X: x, Z: z})
		}
	}
	a.Pieces, a.Screws = slices.Grow(a.Pieces, len(w.Pieces)), slices.Grow(a.Screws, len(w.Screws))
	for _, c := range w.Courses {
		a.Courses = append(a.Courses, audit.Course{Number: c.Number - f.first + 1, Bottom: c.Bottom, Top: c.Top, Gauge: c.Gauge, Lap: c.Lap})
	}
	for i := range w.Pieces {
		a.Pieces = append(a.Pieces, auditPiece(&w.Pieces[i], f.first))
	}
	for i := range w.Battens {
		b := &w.Battens[i]
		a.Battens = append(a.Battens, audit.Batten{Mark: b.Mark, Code: b.Code, Stock: b.Stock, Centre: b.Centre, Width: b.Width, Z: b.Z, Roll: t.battenProduct(b.Width).Length <= 0, Tight: b.Tight, Off: b.Off})
	}
	for i := range w.Screws {
		s := &w.Screws[i]
		a.Screws = append(a.Screws, audit.Screw{X: s.X, Z: s.Z, Piece: s.Piece, Batten: s.Batten, PreDrilled: s.PreDrilled, Visible: s.Visible})
	}
	for i := range w.Packings {
		a.Packings = append(a.Packings, t.auditPacking(&w.Packings[i], w.Colour))
	}
	t.auditBought(a, w)
}

func (t *takeoff) auditPacking(k *Packing, colour string) audit.Packing {
	out := audit.Packing{Piece: k.Piece, Batten: k.Batten, Foot: k.Foot, Thick: k.Thick, Fixing: k.Fixing, Length: k.Length, Flagged: k.misfits()}
	seat := t.seat(0)
	if d := t.screwDiameter(t.product(RoleVisibleScrew, k.Fixing, colour)); !k.Foot && d > 0 {
		if _, err := seat.Range(d); err == nil { // else any length is flagged
			out.Reach = max(seat.Penetration, 6*d)
		}
	}
	for _, code := range k.Packers {
		out.Packers = append(out.Packers, audit.Packer{Code: code, Thickness: t.product(RolePacker, code, "").Thickness})
	}
	return out
}

// auditBought states what of a wall is ordered by the metre and by number.
func (t *takeoff) auditBought(a *audit.Wall, w *WallResult) {
	for i := range w.Trims {
		tr := &w.Trims[i]
		p := t.product(tr.Role, tr.Code, tr.Colour)
		a.Trims = append(a.Trims, audit.Trim{Mark: tr.Mark, Role: tr.Role, Code: tr.Code, Colour: p.Colour, Stock: tr.Stock, From: tr.From, To: tr.To,
			Length: tr.Length, Quantity: tr.Quantity, Roll: p.Length <= 0,
			Strip: tr.acrossBattens(), Up: tr.upBattens(), Screws: tr.Screws, Loose: tr.Loose})
	}
	for i := range w.Strips {
		s := &w.Strips[i]
		p := t.catalogue.pickWide(s.Role, "", s.Width)
		a.Strips = append(a.Strips, audit.Strip{Code: p.Code, Colour: p.Colour, Length: s.Length})
	}
	for i := range w.Zones {
		a.Zones = append(a.Zones, audit.Zone{Name: w.Zones[i].Name, X: w.Zones[i].X})
	}
	for i := range w.Fixings {
		x := &w.Fixings[i]
		p := t.fixingProduct(*x, w.Colour)
		trim, _ := strings.CutPrefix(x.Where, "trim ")
		packed := x.Packers.Hi > 0
		if x.Role != RoleTrimFixing || packed {
			trim = ""
		}
		a.Fixings = append(a.Fixings, audit.FixingCount{Zone: x.Zone, Code: p.Code, Colour: p.Colour, Trim: trim, Packed: packed,
			Holds: x.Verdict == string(fixing.Passes), Battens: x.Role == RoleBattenFixing, Centres: x.Centres,
			Board: x.Role == RoleScrew || x.Role == RoleVisibleScrew, Count: x.Count, PreDrilled: x.PreDrilled, Visible: x.Visible})
	}
}

func auditPiece(p *Piece, first int) audit.Piece {
	out := audit.Piece{Mark: p.Mark, Code: p.Code, Colour: p.Colour, Stock: p.Stock, Course: p.Course,
		Outline: p.Outline, Length: p.Length, Width: p.Width, Quantity: p.Quantity,
		JointLeft: p.Left.Kind == Joint, JointRight: p.Right.Kind == Joint,
		Short: p.Short, Stagger: p.Relaxed, Fragile: p.Fragile,
		Unfixed: p.Few, Loose: p.Loose, Bare: p.Bare}
	if p.Course > 0 {
		out.Course = p.Course - first + 1
	}
	if p.Left.Kind == Rake {
		out.LeftRake = p.Left.Degrees
	}
	if p.Right.Kind == Rake {
		out.RightRake = p.Right.Degrees
	}
	for _, c := range p.Cutouts {
		out.Cutouts = append(out.Cutouts, audit.Rect(c))
	}
	return out
}
