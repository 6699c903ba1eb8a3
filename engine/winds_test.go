package engine

import (
	"context"
	"math"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// builderProducts is the test catalogue with the sizes that fixings go by:
// battens 38 deep, tape 1 thick, board screws 4.5 x 40, longer ones in sight 45 and 50.
func builderProducts() []Product {
	list := testProducts()
	sheet := &SheetMap{File: "survey.xlsx", Sheet: "Products", Columns: map[string]string{"Length mm": "F", "Width mm": "G"}}
	for i := range list {
		p := &list[i]
		p.Origin = Origin{Sheet: sheet, Row: i + 2}
		switch p.Role {
		case RoleBatten, RoleWideBatten:
			p.Thickness = mm(38)
		case RoleTape:
			p.Thickness = mm(1)
		case RoleScrew, RoleVisibleScrew:
			p.Length, p.Width = p.Length-mm(5), mm(9)/2
		}
	}
	return list
}

// builderJob is a job whose laps are all 40, so that its gauge is 140.
func builderJob(walls ...Wall) *Job {
	job := testJob(walls...)
	job.Products = builderProducts()
	job.Rules.LapLeast, job.Rules.LapMost = mm(40), mm(40)
	return job
}

func takeOff(t *testing.T, job *Job) *Result {
	t.Helper()
	res, err := Takeoff(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// declare adds declared values, as item, value, source in turn.
func (j *Job) declare(list ...string) *Job {
	for i := 0; i < len(list); i += 3 {
		j.Declared = append(j.Declared, Declared{Item: list[i], Value: list[i+1], Source: list[i+2]})
	}
	return j
}

// flagged returns the flags of a code.
func flagged(res *Result, code string) []Flag {
	var out []Flag
	for _, f := range res.Flags {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// row returns the schedule row of a zone and place.
func row(t *testing.T, w *WallResult, zone, where string, visible bool) FixingRow {
	t.Helper()
	for _, r := range w.Fixings {
		if r.Zone == zone && r.Where == where && (r.Role == RoleVisibleScrew) == visible {
			return r
		}
	}
	t.Fatalf("no row %s %s in %+v", zone, where, w.Fixings)
	return FixingRow{}
}

// longWall stands at the left end of a face of 60 m: 8 m of it, 15 gauges of
// 140 and a full top board: 150 + 15 x 140 + 180 + 10 = 2440.
func longWall() Wall {
	return Wall{Name: "Long", Width: mm(8000), Height: mm(2440), Left: ExternalCorner, Right: OpenEnd, Top: Soffit, Bottom: Ground,
		Quantity: 1, FaceLength: measure.Some(mm(60000)), FaceLeft: measure.Some(mm(0))}
}

// A wall worked by hand from the wind to the last fixing.
//
// Wind. Steel Buildings in Europe, Single-Storey Steel Buildings part 3,
// appendix B: vb 26 m/s, terrain III, a building 8 m high, 60 m long, 32 m
// across. By EN 1991-1-4: kr = 0.19 (0.3/0.05)^0.07 = 0.2154, cr = kr
// ln(8/0.3) = 0.2154 x 3.2834 = 0.7072, Iv = 1/3.2834 = 0.3046, qp = (1 + 7 x
// 0.3046) x 0.625 x (0.7072 x 26)^2 = 661.8 Pa (published 659, from rounded
// steps). e = min(32, 2 x 8) = 16: zone A reaches e/5 = 3.2 m, B the next 12.8.
//
// Suction. cpe,1 of table 7.1 is -1.4 in A and -1.1 in B; inside +0.2 (7.2.9(6)):
// A 1.6 x 661.8 = 1058.9, B 1.3 x 661.8 = 860.3 Pa. Design, gammaQ 1.5: 1588.3
// and 1290.5 Pa.
//
// System, declared (invented): 2400 Pa at lap 40 and centres 600. Lapped
// courses: A 1588.3/2400 = 66.2 %, B 53.8 %. Top course: its whole 180 mm are
// out in the wind where the system has 140, so it counts as 2400 x 140/180 =
// 1866.7 Pa: A 85.1 %, B 69.1 %.
//
// Battens, one fixing every 400 mm, declared (invented) design value 320 N. In
// A at 600: 1588.3 x 0.6 x 0.4 = 381.2 N, 119 %; at 450: 285.9 N, 89.3 %. In B
// at 600: 1290.5 x 0.6 x 0.4 = 309.7 N, 96.8 %. So A takes 450 and B 600.
//
// Board bending, EN 12467 class 2: 7 MPa, declared (invented) partial factor
// 1.8: 3.889 MPa. M = w l2/8, W = t2/6 a metre: 0.75 w (l/t)2 = in A 0.75 x
// 1588.3 x 45^2 = 2.412 MPa, 62 %; in B 0.75 x 1290.5 x 60^2 = 3.484, 89.6 %.
//
// One field fixing in A carries 1588.3 x 0.45 x 0.14 = 100.07 N of 2400 x 0.45 x
// 0.14 = 151.2 N; in the top course 1588.3 x 0.45 x 0.18 = 128.7 N. The
// fixing of a joint carries half a bay less half the way to the gap. Where a
// board's fixing stands 15 mm aside of a joint of the next course, one beside it
// carries 7.5 mm more: on battens at 38, 488 and 938 in A, with a joint over the
// third, (953 - 38)/2 = 457.5 mm: 100.07 x 457.5/450 = 101.73 N, 67.3 %. Which of
// the two it is depends on where the joints fall. None of those in B has more
// than its 600.
func TestWorkedWall(t *testing.T) {
	job := builderJob(longWall()).declare("System resistance Pa", "2400", "invented, design", "System lap mm", "40", "invented",
		"System centres mm", "600", "invented", "Batten fixing resistance N", "320", "invented design value",
		"Board bending class", "2", "invented", "Board partial factor", "1.8", "invented")
	job.Wind = WindInput{BasicVelocity: 26, Terrain: "III", BuildingHeight: mm(8000), BuildingDepth: mm(32000), BuildingWidth: mm(60000)}
	res := takeOff(t, job)
	near(t, "peak pressure", res.Wind.Pressure, 661.8, 1e-3)
	w := &res.Walls[0]
	if len(w.Zones) != 2 || w.Zones[0].Name != "A" || w.Zones[1].Name != "B" || w.Zones[0].X.Hi != mm(3200) {
		t.Fatalf("zones %+v", w.Zones)
	}
	for i, want := range []struct {
		suction float64
		centres measure.Length
	}{{1058.9, mm(450)}, {860.3, mm(600)}} {
		near(t, "suction", w.Zones[i].Suction, want.suction, 1e-3)
		if w.Zones[i].Centres != want.centres || !strings.Contains(w.Zones[i].Why, "batten") {
			t.Errorf("zone %s: %v mm, %s; want %v, by the battens", w.Zones[i].Name, w.Zones[i].Centres, w.Zones[i].Why, want.centres)
		}
	}
	checkSpacing(t, w)
	field := row(t, w, "A", "board field", false)
	load, use := 100.07, 66.2
	if w.widestBay(w.Zones[0].X.Hi) > 450 {
		load, use = 101.73, 67.3
	}
	near(t, "field load", field.Load, load, 0.001)
	near(t, "field resistance", field.Resistance, 151.2, 1e-6)
	near(t, "field use", field.Use, use, 0.001)
	top := row(t, w, "A", "board field", true)
	near(t, "top load", top.Load, 128.7, 0.002)
	near(t, "top use", top.Use, 85.1, 0.002)
	near(t, "B field use", row(t, w, "B", "board field", false).Use, 53.8, 0.002)
	near(t, "batten load", row(t, w, "B", "batten grid", false).Load, 309.7, 0.002)
	near(t, "batten use", row(t, w, "A", "batten grid", false).Use, 89.3, 0.002)
	for _, r := range w.Fixings {
		if strings.HasPrefix(r.Where, "board") && (r.Verdict != "passes" || !strings.Contains(r.Basis, "declared system") || !strings.Contains(r.Basis, "board bending used")) {
			t.Errorf("%s %s: %s, %s", r.Zone, r.Where, r.Verdict, r.Basis)
		}
	}
	if f := flagged(res, "centres-closer"); len(f) != 1 || f[0].Severity != Note || !strings.Contains(f[0].What, "zone A") || strings.Contains(f[0].What, "zone B") {
		t.Errorf("closer centres flagged as %+v", f)
	}
	for _, code := range []string{"wind-fails", "wind-estimate", "wind-not-proven", "fixing-overloaded", "screw-short", "screw-long"} {
		if f := flagged(res, code); len(f) > 0 {
			t.Errorf("%+v", f)
		}
	}
}

// widestBay is the most, in mm, that a screw in the field of a board, left of x,
// carries: half the way to the screws on its left and right.
func (w *WallResult) widestBay(x measure.Length) float64 {
	most := measure.Length(0)
	for i := 1; i+1 < len(w.Screws); i++ {
		a, b, c := &w.Screws[i-1], &w.Screws[i], &w.Screws[i+1]
		if a.Piece == b.Piece && b.Piece == c.Piece && b.Kind == "field" && b.X < x {
			most = max(most, c.X-a.X)
		}
	}
	return most.Millimetres() / 2
}

// checkSpacing checks that no two neighbouring battens are farther apart than
// the zones between them allow.
func checkSpacing(t *testing.T, w *WallResult) {
	t.Helper()
	var at []measure.Length
	for _, b := range w.Battens {
		at = append(at, b.Centre)
	}
	for i := 1; i < len(at); i++ {
		if at[i] < at[i-1] {
			t.Fatal("battens are not in order")
		}
		zone := w.zoneAt(at[i])
		if at[i]-at[i-1] > zone.Centres {
			t.Errorf("battens at %v and %v in zone %s: more than %v", at[i-1], at[i], zone.Name, zone.Centres)
		}
	}
}

// The joint's two fixings share the batten's load between them: each carries
// from the gap to half way to the next batten. Joint at x, gap 2, end distance
// 20, next batten 600 off: the piece's end is 1 mm from the middle and its
// fixing 21 mm. Where the next course butts on that next batten the fixing there
// stands 15 mm aside, away from this joint: (21 + 615)/2 - 1 = 317 mm or 52.8 %
// of a bay.
func TestJointFixingsCarryHalfABay(t *testing.T) {
	job := builderJob(longWall()).declare("System resistance Pa", "2400", "design", "System lap mm", "40", "", "System centres mm", "600", "")
	job.Wind = WindInput{PeakPressure: 661.8, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
	w := &takeOff(t, job).Walls[0]
	field, joint := row(t, w, "B", "board field", false), row(t, w, "B", "board joint", false)
	if joint.Count%2 != 0 || joint.Count == 0 {
		t.Errorf("%d joint fixings", joint.Count)
	}
	near(t, "joint against field", joint.Load/field.Load, 0.5283, 0.0005)
}

// A wall in the middle of a row of 24 m, the building 8 m high and 8 m across:
// e = min(8, 16) = 8, A reaches 1.6 and B 8 m from the row's ends. The wall from
// 8 to 16 m is all C; the one at the row's end has A, B.
func TestZonesOfATerrace(t *testing.T) {
	for _, test := range []struct {
		left  measure.Length
		party []measure.Length
		want  string
	}{
		{mm(8000), []measure.Length{0, mm(8000)}, "C"},
		{0, []measure.Length{mm(8000)}, "A B"},
		{mm(16000), []measure.Length{0}, "B A"},
	} {
		wall := longWall()
		wall.FaceLength, wall.FaceLeft, wall.Party = measure.Some(mm(24000)), measure.Some(test.left), test.party
		wall.Left, wall.Right = OpenEnd, OpenEnd
		job := builderJob(wall)
		job.Wind = WindInput{PeakPressure: 700, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(8000)}
		w := &takeOff(t, job).Walls[0]
		var got []string
		for _, z := range w.Zones {
			got = append(got, z.Name)
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("from %v: zones %v, want %s", test.left, got, test.want)
		}
	}
}

// Behind an end wall, as long as the building is deep, the wind meets the
// building's width.
func TestAcross(t *testing.T) {
	job := builderJob()
	job.Wind = WindInput{BuildingDepth: mm(6000), BuildingWidth: mm(7200)}
	tk := &takeoff{job: job}
	for _, test := range []struct{ face, width, want measure.Length }{
		{mm(7200), mm(7200), mm(6000)}, {mm(6000), mm(6000), mm(7200)}, {mm(5900), mm(5900), mm(7200)},
		{0, mm(6000), mm(7200)}, {0, mm(7200), mm(6000)}, {mm(28800), mm(6000), mm(6000)},
	} {
		w := &Wall{Width: test.width}
		if test.face > 0 {
			w.FaceLength = measure.Some(test.face)
		}
		if got := tk.across(w); got != test.want {
			t.Errorf("face %v: %v across, want %v", test.face, got, test.want)
		}
	}
}

// More wind never means wider centres, anywhere along the wall, whatever is
// declared.
func TestMoreWindNeverWider(t *testing.T) {
	for name, declared := range map[string][]string{
		"system":   {"System resistance Pa", "1800", "", "System lap mm", "40", "", "System centres mm", "450", ""},
		"estimate": {"Board pull-through N", "900", "design", "Screw withdrawal N", "1500", ""},
		"battens":  {"Batten fixing resistance N", "900", ""},
		"bending":  {"Board bending class", "1", ""},
	} {
		var before *WallResult
		for pressure := 200.0; pressure < 2500; pressure *= 1.25 {
			job := builderJob(longWall()).declare(declared...)
			job.Wind = WindInput{PeakPressure: pressure, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
			w := &takeOff(t, job).Walls[0]
			if before != nil {
				for i, z := range w.Zones {
					if z.Centres > before.Zones[i].Centres {
						t.Errorf("%s: zone %s at %.0f Pa: %v mm, with less wind %v", name, z.Name, pressure, z.Centres, before.Zones[i].Centres)
					}
				}
			}
			if before = w; w.Zones[0].Centres > w.Zones[1].Centres {
				t.Errorf("%s at %.0f Pa: A %v, B %v", name, pressure, w.Zones[0].Centres, w.Zones[1].Centres)
			}
			checkSpacing(t, w)
		}
		if before.Zones[0].Centres == mm(600) {
			t.Errorf("%s: the most wind of all still has 600 mm", name)
		}
	}
}

// Centres given for a wall are the widest allowed: where the wind asks for
// closer ones they are taken, and that wants a decision. A list of the user's
// own is what is tried.
func TestPinnedCentres(t *testing.T) {
	wall := longWall()
	wall.Centres = measure.Some(mm(500))
	job := builderJob(wall).declare("Batten fixing resistance N", "320", "design")
	job.Wind = WindInput{PeakPressure: 661.8, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
	job.Rules.CentresTried = []measure.Length{mm(480), mm(420), mm(0)}
	res := takeOff(t, job)
	// A: 1588.3 x 0.4 x centres <= 320 allows 503.7 mm; B more. So 500 stays.
	if z := res.Walls[0].Zones; z[0].Centres != mm(500) || z[1].Centres != mm(500) || len(flagged(res, "centres-closer")) != 0 {
		t.Errorf("zones %+v", z)
	}
	job.Declared[0].Value = "270" // allows 425.0 in A, 523 in B
	res = takeOff(t, job)
	if z := res.Walls[0].Zones; z[0].Centres != mm(420) || z[1].Centres != mm(500) {
		t.Errorf("zones %+v", z)
	}
	if f := flagged(res, "centres-closer"); len(f) != 1 || f[0].Severity != Check {
		t.Errorf("flags %+v", f)
	}
	job.Declared[0].Value = "150" // not even 420 holds in A
	if f := flagged(takeOff(t, job), "wind-fails"); len(f) != 1 || !strings.Contains(f[0].What, "zone A") {
		t.Errorf("flags %+v", f)
	}
}

// Without wind or without anything declared nothing passes, and the schedule
// says why.
func TestNothingIsInvented(t *testing.T) {
	job := builderJob(longWall())
	for _, pressure := range []float64{0, 700} {
		job.Wind = WindInput{PeakPressure: pressure, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
		res := takeOff(t, job)
		for _, r := range res.Walls[0].Fixings {
			if r.Verdict != "not checked" || r.Resistance != 0 || r.Use != 0 || !strings.Contains(r.Basis, "not checked") {
				t.Errorf("%g Pa: %+v", pressure, r)
			}
			if (r.Load > 0) != (pressure > 0 && !strings.HasPrefix(r.Where, "trim")) {
				t.Errorf("%g Pa: load %g at %s", pressure, r.Load, r.Where)
			}
		}
		code, want := "wind-not-given", 1
		if pressure > 0 {
			code, want = "wind-not-proven", 3 // the boards' fixings, the boards, the battens' fixings
		}
		if len(flagged(res, code)) != want {
			t.Errorf("%g Pa: %s flagged %d times, want %d", pressure, code, len(flagged(res, code)), want)
		}
	}
}

// What several walls leave unproven is one flag for each reason, however many
// zones they have; a reason that only one has is that wall's.
func TestUnprovenIsSaidOnce(t *testing.T) {
	job := builderJob(longWall(), longWall(), longWall())
	for i := range job.Walls {
		job.Walls[i].Name = []string{"Front", "Side", "Back"}[i]
	}
	job.Wind = WindInput{PeakPressure: 700, PressureSource: "invented", BuildingHeight: mm(8000), BuildingDepth: mm(32000)}
	f := flagged(takeOff(t, job), "wind-not-proven")
	if len(f) != 3 {
		t.Fatalf("%d flags: %+v", len(f), f)
	}
	for _, g := range f {
		if !strings.HasSuffix(g.What, ": all 3 walls") || g.Wall != "" || strings.Count(g.What, "not checked") != 1 {
			t.Errorf("%+v", g)
		}
	}
}
