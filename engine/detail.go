package engine

import (
	"context"
	"runtime"
	"slices"
	"strings"

	"lapwright/engine/boards"
	"lapwright/engine/layout"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// detail writes down every wall as built: pieces, battens, trims and fixings,
// then cuts what is cut from stock and orders it all.
func (t *takeoff) detail(ctx context.Context) error {
	t.asBuilt(ctx)
	if err := t.cutAll(ctx); err != nil {
		return err
	}
	t.quantify()
	return nil
}

// asBuilt writes down every wall as built: all pools at once, or, in a large job,
// some at a time, of which not everything is held on to.
func (t *takeoff) asBuilt(ctx context.Context) {
	for _, p := range t.pools {
		p.handJoints()
	}
	t.splice(ctx)
	t.result.Walls = make([]WallResult, 0, len(t.stands))
	if t.large() {
		t.result.again = newAgain()
	}
	letter := wallLetter(t.job.Walls)
	for i, s := range t.stands {
		s.number = i
		t.result.Walls = append(t.result.Walls, wallResult(letter+itoa(i+1), s))
	}
	names, lacks := &namer{prefix: "B"}, make([]lack, len(t.stands))
	for len(t.pools) > 0 {
		some := t.pools[:t.together()]
		t.pools = t.pools[len(some):]
		var stands []*stand
		for _, p := range some {
			stands = append(stands, p.stands...)
		}
		t.findRuns(stands)
		t.pieceWalls(ctx, some, names)
		t.standWalls(stands, lacks)
	}
	t.pools = nil
	for i := range lacks {
		t.catalogue.note(lacks[i])
	}
	flagWalls(t.stands)
	if t.large() {
		t.result.again.of(t)
	}
}

// together returns how many of the pools left are written down at once.
func (t *takeoff) together() int {
	if !t.large() {
		return len(t.pools)
	}
	n, walls := 0, 0
	for ; n < len(t.pools) && walls < t.held; n++ {
		walls += len(t.pools[n].stands)
	}
	return n
}

// handJoints gives the stands of a pool their joints.
func (p *pool) handJoints() {
	for i, s := range p.stands {
		s.joints = p.plan.Joints[i]
	}
	for _, ref := range p.plan.Relaxed {
		s := p.stands[ref.Wall]
		if s.relaxed == nil {
			s.relaxed = make([]bool, len(s.joints))
		}
		s.relaxed[ref.Run] = true
	}
}

// standWalls writes down battens, trims and fixings of walls, on all cores. A core has a catalogue of its own; what they find missing, and
// what they flag, is taken over in the order of the walls.
func (t *takeoff) standWalls(stands []*stand, lacks []lack) {
	cores := make([]*takeoff, runtime.GOMAXPROCS(0))
	parallel.Each(len(stands), func(core, i int) {
		if cores[core] == nil {
			own := *t
			own.catalogue = t.catalogue.copied()
			cores[core] = &own
		}
		s, own := stands[i], cores[core]
		known := own.catalogue.lacks()
		own.standWall(s, &t.result.Walls[s.number])
		lacks[s.number] = own.catalogue.lacks().since(known)
	})
	for _, s := range stands {
		s.face.runs = nil // written down now, as pieces, but for another group of dwellings
		if t.large() {
			t.letGo(s, &t.result.Walls[s.number])
		}
	}
}

// standWall writes down battens, trims and fixings of one wall.
func (t *takeoff) standWall(s *stand, w *WallResult) {
	t.battenWall(s, w, t.buttsOf(s))
	t.trimWall(s, w)
	t.fixWall(s, w)
	t.flagPieces(s, w)
	t.sumWall(s, w)
}

// quantify orders and measures what is cut, and checks the job as a whole.
func (t *takeoff) quantify() {
	t.order()
	t.measured()
	t.flagMissing()
	t.checks()
	if t.large() {
		t.letGoLists()
	}
}

func wallResult(code string, s *stand) WallResult {
	f := s.face
	w := WallResult{
		Wall: f.wall, Plot: s.plot, Name: f.wall.Name, Code: code, Colour: s.colour,
		Quantity: s.quantity(), Mirrored: s.mirrored, Plots: s.plots, Drop: s.drop, Pool: s.pool,
		LeftMeets: f.wall.LeftMeets, RightMeets: f.wall.RightMeets,
		Outline: f.outline(), Clad: Region{f.base, f.cladTop}, Voids: f.voids,
		Courses: f.courses, Zones: f.zones, Targets: f.targets, Advice: f.advice,
	}
	w.Gross, w.Net = f.grossArea(), f.netArea()
	return w
}

// buttsOf returns the heights over which boards butt on each batten line.
func (t *takeoff) buttsOf(s *stand) [][]measure.Span {
	sites, runs := s.face.siteLines(), t.runsOf(s.face)
	out := make([][]measure.Span, len(s.face.lines))
	for k, joints := range s.joints {
		for _, j := range joints {
			out[sites[j]] = append(out[sites[j]], runs[k].At(s.face.lines[sites[j]].Centre))
		}
	}
	return out
}

// siteLines returns the batten line of each site given to the layout: those of
// the grid, and all where some run may be jointed off it.
func (f *face) siteLines() []int {
	var out []int
	for i, l := range f.lines {
		if l.Bay >= 0 || len(f.off) > 0 {
			out = append(out, i)
		}
	}
	return out
}

// pieceWalls writes the pieces of every wall of some pools, and the cutting
// plan's rows for boards.
func (t *takeoff) pieceWalls(ctx context.Context, pools []*pool, names *namer) {
	for _, p := range pools {
		index := make([][]int, len(p.stands)) // of each run its first piece, as index in Pieces
		parallel.Each(len(p.stands), func(_, i int) {
			s := p.stands[i]
			index[i] = t.pieceWall(s, &t.result.Walls[s.number])
		})
		t.planRows(ctx, p, index, names)
		p.problem, p.plan = layout.Problem{}, layout.Plan{} // as large as a wall's pieces, and written down now
	}
}

// pieceWall writes the pieces of one wall, course by course from the left, and
// returns the index of the first piece of each run.
func (t *takeoff) pieceWall(s *stand, w *WallResult) []int {
	f, runs, lines, sites := s.face, t.runsOf(s.face), s.face.siteLines(), s.face.sites()
	least := t.rules.PieceLeastFor(f.bay())
	index := make([]int, len(runs))
	n := len(runs)
	for _, joints := range s.joints {
		n += len(joints)
	}
	w.Pieces = slices.Grow(w.Pieces[:0], n)
	before := 0 // pieces below this course
	for k := range runs {
		run := &runs[k]
		if index[k] = len(w.Pieces); k > 0 && runs[k-1].Course != run.Course {
			before = len(w.Pieces)
		}
		joints := s.joints[k]
		off := func(n int) bool { return n >= 0 && n < len(joints) && f.lines[lines[joints[n]]].Bay < 0 }
		spans := layout.Pieces(layout.Run{Span: run.Span}, joints, sites, t.rules.JointGap)
		for n, span := range spans {
			piece := newPiece(run.Piece(span), f.first+run.Course)
			piece.Relaxed = s.relaxed != nil && s.relaxed[k]
			piece.OffGrid = off(n-1) || off(n)
			piece.Short = len(spans) > 1 && piece.Length < least
			piece.Mark = w.Code + "-" + itoa(piece.Course) + letter(len(w.Pieces)-before)
			piece.Colour, piece.Quantity = s.colour, s.quantity()
			w.Pieces = append(w.Pieces, piece)
		}
	}
	return index
}

func newPiece(b boards.Piece, course int) Piece {
	p := Piece{Course: course, Outline: b.Outline, Length: b.Length, Width: b.Width,
		Ripped: b.Ripped, Fragile: b.Fragile,
		Left: endOf(b.Left), Right: endOf(b.Right)}
	for _, c := range b.Cutouts {
		p.Cutouts = append(p.Cutouts, VoidRect(c))
	}
	for _, h := range b.Holes {
		p.Holes = append(p.Holes, VoidRect(h))
	}
	return p
}

func endOf(e boards.End) End {
	return End{Kind: EndKind(e.Kind), Degrees: e.Degrees, Under: e.Under}
}

// planRows writes one pool's part of the cutting plan, and what it says of how
// near the limit it is.
func (t *takeoff) planRows(ctx context.Context, p *pool, index [][]int, names *namer) {
	n := p.pools
	mixes := t.job.Pool == PoolDrop || t.job.Pool == PoolJob // else a pool is one dwelling, and of one hand
	s := &sharer{width: t.board.Width, kerf: t.rules.Kerf, known: map[layout.PieceRef][2]rake{},
		piece: func(ref layout.PieceRef) *Piece {
			return &t.result.Walls[p.stands[ref.Wall].number].Pieces[index[ref.Wall][ref.Run]+ref.Piece]
		},
		handed: func(ref layout.PieceRef) bool { return mixes && p.stands[ref.Wall].mirrored > 0 }}
	boards, planBound, layoutBound := t.sawPool(ctx, p, s)
	res := PoolResult{Pool: p.name, Role: RoleBoard, Colour: p.colour, Boards: p.plan.Boards * n,
		PlanBound: planBound * n, LayoutBound: layoutBound * n, Proven: p.plan.Proven,
		Hand: p.plan.Hand.Boards * n, HandName: p.plan.Hand.Name, HandCost: p.cost(p.plan.Hand.Cost), Cost: p.cost(p.plan.Cost)}
	if layoutBound < p.plan.LayoutBound || len(p.problem.Stocks) == 1 && total(boards) < p.plan.Boards {
		res.shared(total(boards)*n, len(p.problem.Stocks) == 1)
	}
	lots := make([]*Lot, len(p.products)) // by stock
	for i, product := range p.products {
		lots[i] = &Lot{Pool: p.name, Drop: p.drop, Role: RoleBoard, Code: product.Code, Colour: p.colour,
			Stock: p.problem.Stocks[i].Length, OnHand: p.onHand[i]}
	}
	rows := make([]CutRow, 0, len(boards))
	for i := range boards {
		row := t.planRow(&boards[i], s, CutRow{Board: names.next(), Lot: lots[boards[i].stock], Count: boards[i].count * p.pools})
		product := p.products[boards[i].stock]
		res.cutFrom(product, row)
		res.tally(row)
		rows = append(rows, row)
	}
	t.addRows(rows)
	switch res.Mixed = p.mixed(); {
	case !res.Mixed:
		res.CostBound = res.Price * float64(res.LayoutBound)
	case !s.turns: // else raked pieces may share cuts, which this bound knows nothing of
		res.CostBound = p.cost(p.plan.LayoutCostBound)
	}
	t.result.Pools = append(t.result.Pools, res)
}

// shared corrects what was said of a pool whose boards share cuts: the bounds
// hold still, but what was proven without sharing no longer says anything.
func (r *PoolResult) shared(boards int, single bool) {
	if single && r.Boards > 0 {
		r.Cost *= float64(boards) / float64(r.Boards)
		r.Boards = boards
	}
	r.Proven = single && r.Boards == r.LayoutBound
}

// planRow completes the row of one pattern; its pieces learn where they come from.
func (t *takeoff) planRow(b *sawn, s *sharer, row CutRow) CutRow {
	row.Shared = b.shared()
	row.Cuts = t.dealer.cuts.take(len(b.refs))
	marks := t.dealer.marks.take(len(b.refs))
	for k, ref := range b.refs {
		piece := s.piece(ref)
		piece.Code = joinName(piece.Code, row.Code)
		piece.Stock = joinName(piece.Stock, row.Board)
		marks[k] = piece.Mark
		row.Cuts[k] = Cut{Marks: marks[k : k+1 : k+1], Length: piece.Length}
		if b.turned != nil {
			row.Cuts[k].Turned, row.Cuts[k].Saved = b.turned[k], b.saved[k]
		}
	}
	row.Offcut = offcut(row, t.rules.Kerf)
	return row
}

// cutFrom notes the product of one row of the plan.
func (r *PoolResult) cutFrom(p Product, row CutRow) {
	switch {
	case r.Code == "":
		r.Code, r.Price = p.Code, p.Price
	case r.Code != p.Code && !slices.Contains(r.Others, p.Code):
		r.Others = append(r.Others, p.Code)
	}
	if row.OnHand {
		r.OnHand += row.Count
	}
}

// joinName adds a name to a list of them, once.
func joinName(list, name string) string {
	switch {
	case list == "":
		return name
	case slices.Contains(strings.Split(list, "; "), name):
		return list
	default:
		return list + "; " + name
	}
}

// bay returns the least batten centres of the wall: one bay.
func (f *face) bay() measure.Length {
	var least measure.Length
	for _, z := range f.zones {
		if least == 0 || z.Centres < least {
			least = z.Centres
		}
	}
	return least
}

// flagPieces flags the pieces of a wall that break a wish: one flag for each
// kind, their marks named.
func (t *takeoff) flagPieces(s *stand, w *WallResult) {
	for _, kind := range []struct {
		code, what, do string
		is             func(*Piece) bool
	}{
		{"piece-short", "shorter than the least piece", "allow a shorter piece, move a batten, or fix these with care",
			func(p *Piece) bool { return p.Short }},
		{"joint-rules", "no layout keeps the joint rules here", "closer battens or a longer board would keep them",
			func(p *Piece) bool { return p.Relaxed }},
		{"joint-off-grid", "jointed on the batten of a jamb or a step, as no batten of the grid stands behind them within a board's length",
			"agree to these joints, or give closer battens, studs or a longer board", func(p *Piece) bool { return p.OffGrid }},
	} {
		var marks []string
		for i := range w.Pieces {
			if kind.is(&w.Pieces[i]) {
				marks = append(marks, w.Pieces[i].Mark)
			}
		}
		if len(marks) > 0 {
			s.flag(Flag{Check, kind.code, w.Plot, w.Name, s.face.wall.Origin.At("Wall"), kind.what, kind.do}, marks...)
		}
	}
}
