package engine

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// The area of a polygon over a stretch: a board 1000 x 180 with a notch 100
// deep from 400 to 600; over 300-500 it is 200 x 180 - 100 x 100 = 26 000; of a
// triangle 0-1000, 180 high on the left, over 500-1000 half of 500 x 90 = 22 500.
func TestAreaOver(t *testing.T) {
	point := func(x, z int64) measure.Point { return measure.Point{X: mm(x), Z: mm(z)} }
	notched := measure.Polygon{point(0, 0), point(1000, 0), point(1000, 180), point(600, 180), point(600, 80), point(400, 80), point(400, 180), point(0, 180)}
	wedge := measure.Polygon{point(0, 0), point(1000, 0), point(0, 180)}
	for _, test := range []struct {
		p      measure.Polygon
		lo, hi int64
		want   float64
	}{
		{notched, 300, 500, 26000}, {notched, -50, 2000, 160000}, {notched, 1000, 1500, 0}, {wedge, 500, 1000, 22500}, {wedge, 0, 1000, 90000},
	} {
		got := areaOver(test.p, measure.Span{Lo: mm(test.lo), Hi: mm(test.hi)})
		if d := got - test.want; d > 1e-6 || d < -1e-6 {
			t.Errorf("over %d-%d: %g mm2, want %g", test.lo, test.hi, got, test.want)
		}
	}
}

// The parts that a wall's fixings carry make up its boards: nothing is carried
// twice or by nobody.
func TestFixingsCarryTheWholeWall(t *testing.T) {
	for seed := range uint64(25) {
		g := newGenerator(seed)
		res := takeOff(t, testJob(g.wall("wall")))
		for i := range res.Walls {
			w := &res.Walls[i]
			carried, boards := make([]float64, len(w.Pieces)), 0
			var k fixer
			k.hold(w)
			for i, h := range k.held {
				if h.from == h.to {
					continue
				}
				xs, _ := w.Pieces[i].Outline.Bounds()
				for _, bay := range bays(nil, w.Screws[h.from:h.to], w.Pieces[i].Outline, xs, mm(180)) {
					carried[i] += bay.Metres() * 0.18
				}
			}
			for k := range w.Pieces {
				if p := &w.Pieces[k]; carried[k] > 0 {
					near(t, p.Mark, carried[k], p.Outline.SquareMetres(), 1e-4)
					boards++
				}
			}
			if boards == 0 {
				t.Errorf("seed %d: no board is fixed", seed)
			}
		}
	}
}

// Studs 600 apart and a window from 1,000 to 1,700 in a wall of 3,000. Its jambs'
// battens, 75 wide and 10 clear of it, have their middles at 952.5 and 1,747.5: moved
// to whole millimetres they cover 914 to 990 at most and 1,710 to 1,786, which is no
// stud, nor is what short ones cover. Their fixings do not pass, those of the others
// do. With studs at 950 and 1,750 the jambs' battens stand on them.
func TestBattensOffTheStuds(t *testing.T) {
	wall := Wall{Name: "studs", Width: mm(3000), Height: mm(2500), Base: measure.Some(mm(150)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Studs:    []measure.Length{mm(35), mm(600), mm(1200), mm(1800), mm(2400), mm(2965)},
		Openings: []Opening{{Name: "O", Left: mm(1000), Width: mm(700), Sill: mm(900), Height: mm(1000)}}}
	job := builderJob(wall).declare("Batten fixing resistance N", "2000", "design")
	job.Wind = WindInput{PeakPressure: 300, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(9000)}
	res := takeOff(t, job)
	off := 0
	for _, b := range res.Walls[0].Battens {
		if want := b.Why == "jamb" || b.Why == "short"; b.Off != want {
			t.Errorf("%s, %s at %v: off the studs %v", b.Mark, b.Why, b.Centre, b.Off)
		}
		if b.Off {
			off++
		}
	}
	if f := flagged(res, "batten-no-stud"); off < 2 || len(f) != 1 || strings.Count(f[0].What, "-N") != off {
		t.Errorf("%d off the studs: %+v", off, f)
	}
	for _, r := range res.Walls[0].Fixings {
		if r.Role != RoleBattenFixing {
			continue
		}
		if passes, want := r.Verdict == string(fixing.Passes), !strings.HasSuffix(r.Where, ", off the studs"); passes != want {
			t.Errorf("%s: %s, %s", r.Where, r.Verdict, r.Basis)
		}
	}
	wall.Studs = []measure.Length{mm(35), mm(600), mm(950), mm(1200), mm(1750), mm(2400), mm(2965)}
	job.Walls[0] = wall
	for _, b := range takeOff(t, job).Walls[0].Battens {
		if b.Off && b.Why != "short" {
			t.Errorf("studs at the jambs: %s, %s at %v is off them", b.Mark, b.Why, b.Centre)
		}
	}
}

// Studs 1200 apart where 600 is the most: bays to add battens in, and the
// fixing between two of them carries twice a bay. 2100 Pa declared hold 1290.5
// in B at 600 mm (61.5 %), and not twice that.
func TestStudsTooFarApart(t *testing.T) {
	wall := longWall()
	wall.Studs = []measure.Length{mm(25), mm(600), mm(1200), mm(1800), mm(2400), mm(3000), mm(3600), mm(4800), mm(6000), mm(6600), mm(7200), mm(7800)}
	job := builderJob(wall).declare("System resistance Pa", "2100", "design", "System lap mm", "40", "", "System centres mm", "600", "")
	job.Wind = WindInput{PeakPressure: 661.8, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
	res := takeOff(t, job)
	if f := flagged(res, "bay-wide"); len(f) != 1 || !strings.Contains(f[0].What, "2 bays") || !strings.Contains(f[0].What, "3600 to 4800") {
		t.Errorf("%+v", f)
	}
	if f := flagged(res, "fixing-overloaded"); len(f) != 1 || !strings.Contains(f[0].What, "zone B") {
		t.Errorf("%+v", f)
	}
	// Of a board of 3 m over the stud at 4800 one end butts at 3600 or 6000, its
	// fixing 21 mm in. If at the other of the two the next course butts over
	// every such board, the fixings there stand 15 mm aside, towards the board's
	// middle: (2400 - 21 - 15)/2 = 1182 mm, 1182/600 x 1290.5/2100 = 121.06 %. If
	// over some it does not, (2400 - 21)/2 = 1189.5 mm and 121.83 %.
	use := row(t, &res.Walls[0], "B", "board field", false).Use
	want := 121.06
	if use > 121.4 {
		want = 121.83
	}
	near(t, "use", use, want, 0.0005)
}

// Counts of the schedule are those of the screws themselves.
func TestScheduleRecounts(t *testing.T) {
	job := builderJob(longWall())
	job.Walls[0].Openings = []Opening{{Name: "w1", Kind: "window", Left: mm(2000), Sill: mm(907), Width: mm(1200), Height: mm(1050)}}
	w := &takeOff(t, job).Walls[0]
	screws, drilled, visible := 0, 0, 0
	for _, r := range w.Fixings {
		if !slices.Contains([]string{"board", "trim", "batten"}, strings.Fields(r.Where)[0]) || r.Count == 0 || r.Centres == 0 {
			t.Errorf("%+v", r)
		}
		if strings.HasPrefix(r.Where, "board") {
			screws, drilled, visible = screws+r.Count, drilled+r.PreDrilled, visible+r.Visible
		}
	}
	for _, c := range w.Screws {
		screws, drilled, visible = screws-1, drilled-btoi(c.PreDrilled), visible-btoi(c.Visible)
	}
	if screws != 0 || drilled != 0 || visible != 0 {
		t.Errorf("the rows are off by %d, pre-drilled %d, visible %d", screws, drilled, visible)
	}
}

// A strip 60 wide between the wall's end and a window has one batten: its
// pieces are flagged once and marked, so that the audit looks for no more. The
// window is called w1, so the wall is marked H1.
func TestPieceOnOneBatten(t *testing.T) {
	wall := longWall()
	wall.Left = OpenEnd
	wall.Openings = []Opening{{Name: "w1", Kind: "window", Left: mm(70), Sill: mm(900), Width: mm(1200), Height: mm(1050)}}
	res := takeOff(t, builderJob(wall))
	w := &res.Walls[0]
	few := 0
	for i := range w.Pieces {
		p := &w.Pieces[i]
		n := 0
		for _, c := range w.Screws {
			n += btoi(c.Piece == i)
		}
		if p.Few != (n < 2) {
			t.Errorf("%s: %d fixings, few %v", p.Mark, n, p.Few)
		}
		few += btoi(p.Few)
	}
	if f := flagged(res, "fixing-few"); few == 0 || len(f) != 1 || !strings.Contains(f[0].Do, "batten or a nogging") || !strings.Contains(f[0].What, "fewer than two fixings: H1-") {
		t.Errorf("%d pieces; %+v", few, f)
	}
}

// Under a slope of 1 in 10 a board's tip is lower than the lap and the edge
// distance over a bay and more: one flag names the tips and how far they reach.
func TestRakedTipsAreFlaggedOnce(t *testing.T) {
	wall := longWall()
	wall.Top, wall.HeightRight, wall.Left = Verge, measure.Some(mm(3240)), OpenEnd
	res := takeOff(t, builderJob(wall))
	f := flagged(res, "fixing-tip")
	if len(f) != 1 || !strings.Contains(f[0].What, "raked tips reach up to") {
		t.Fatalf("%+v", f)
	}
	w := &res.Walls[0]
	for i := range w.Pieces {
		p := &w.Pieces[i]
		for _, b := range p.Bare {
			if x, _ := p.Outline.Bounds(); !x.Holds(w.Battens[b].Centre) {
				t.Errorf("%s: bare batten %v does not cross it", p.Mark, w.Battens[b].Centre)
			}
			for _, c := range w.Screws {
				if c.Piece == i && c.Batten == b {
					t.Errorf("%s: fixed to the batten it is said not to be", p.Mark)
				}
			}
		}
	}
}

// A declared system resists so many pascals on whatever face: 1,290.5 Pa of
// design suction in zone B use 129 % of 1,000 Pa and 61.5 % of 2,100 at every
// fixing, at a board's end and at a joint too, where a fixing holds less board
// and has less board to hold with. So the schedule never passes what the flag of
// the zone fails.
func TestSystemHoldsItsPascalsOnAnyFace(t *testing.T) {
	for _, test := range []struct {
		declared, whole string // over a board of 180 mm that no other laps: 140 parts of 180
		use             float64
		verdict         string
	}{{"1000", "778", 129.05, "fails"}, {"2100", "1633", 61.45, "passes"}} {
		job := builderJob(longWall()).declare("System resistance Pa", test.declared, "design", "System lap mm", "40", "", "System centres mm", "600", "")
		job.Wind = WindInput{PeakPressure: 661.8, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
		rows, seen := 0, 0
		for _, row := range takeOff(t, job).Walls[0].Fixings {
			if seen += btoi(row.Role == RoleVisibleScrew); row.Role == RoleVisibleScrew && !strings.HasPrefix(row.Basis, "declared system, "+test.declared+" Pa at lap 40, centres 600: design; over a whole board's face "+test.whole+" Pa") {
				t.Errorf("%s Pa, in sight: %s", test.declared, row.Basis)
			}
			if row.Zone != "B" || row.Role != RoleScrew {
				continue
			}
			rows++
			if row.Use < test.use-0.1 || row.Verdict != test.verdict {
				t.Errorf("%s Pa, %s: use %.2f %%, %s", test.declared, row.Where, row.Use, row.Verdict)
			}
			near(t, row.Where+": load by resistance", 100*row.Load/row.Resistance, row.Use, 1e-6)
		}
		if rows < 2 || seen == 0 {
			t.Errorf("%s Pa: %d rows, and %d of screws in sight", test.declared, rows, seen)
		}
	}
}
