package engine

import (
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// A wall of 8 x 2.44 m with a window 1.2 x 1.05 from 2 m, sill at 0.9 (boards
// from 150 to 2430, over 8.038 m: 38 round the corner on the left, none at the
// open end on the right).
//
//	openings  2 x (1.2 + 1.05) = 4.5 m
//	base and top  2 x 8.038 = 16.076 m
//	sides  the open end, 2430 - 150 = 2.28 m; the corner goes on
//	floors  at 1.5 m 8.038 - 1.2 = 6.838, at 2.2 m 8.038, at 5 m nothing: 14.876 m
//	compartment walls  at 2.5 m 2.28 - 1.05 = 1.23, at 8 m 2.28: 3.51 m
//
// Two such walls: twice that.
func TestBarriersByHand(t *testing.T) {
	w := longWall()
	w.Quantity, w.Party = 2, []measure.Length{mm(2500), mm(8000)}
	w.Openings = []Opening{{Name: "w1", Kind: "window", Left: mm(2000), Sill: mm(900), Width: mm(1200), Height: mm(1050)}}
	job := builderJob(w)
	job.Storeys = []measure.Length{mm(1500), mm(2200), mm(5000)}
	res := takeOff(t, job)
	want := map[string]float64{"around openings": 9, "at base and top": 32.152, "at sides": 4.56, "at floors": 29.752, "at compartment walls": 7.02}
	for _, m := range res.Measured {
		kind, ok := strings.CutPrefix(m.Item, "cavity barrier, ")
		if !ok {
			continue
		}
		if m.Unit != "m" || !strings.Contains(m.Note, "not ordered") {
			t.Errorf("%+v", m)
		}
		near(t, kind, m.Quantity, want[kind], 1e-9)
		delete(want, kind)
	}
	if len(want) > 0 {
		t.Errorf("not measured: %v", want)
	}
	f := flagged(res, "cavity-barriers")
	if len(f) != 1 || f[0].Severity != Note || !strings.Contains(f[0].What, "vent strip is no cavity barrier") || strings.Contains(f[0].What, "storey") {
		t.Errorf("%+v", f)
	}
}

// Under a gable the top runs along both slopes, a floor above the eaves is as
// wide as the gable there. Eaves 2440, apex 4440 in the middle of 8 m: each
// slope 4 m by 2 m. At 3430 the clad top, 10 below, leaves 2 x (4440 - 10 - 3430) =
// 2 x 1000 up the slope, 2 m each side: 4 m wide.
func TestBarriersOfAGable(t *testing.T) {
	w := longWall()
	w.Top, w.ApexHeight, w.Left = Verge, measure.Some(mm(4440)), OpenEnd
	job := builderJob(w)
	job.Storeys = []measure.Length{mm(3430)}
	for _, m := range takeOff(t, job).Measured {
		switch m.Item {
		case "cavity barrier, at floors":
			near(t, m.Item, m.Quantity, 4, 1e-9)
		case "cavity barrier, at base and top":
			near(t, m.Item, m.Quantity, 8+2*4.472136, 1e-6)
		}
	}
}

// Regulation 7(2) of the Building Regulations bites from 18 m, in Scotland from
// 11 m; without a height there is one note.
func TestBattensAgainstHeight(t *testing.T) {
	for _, test := range []struct {
		height     measure.Length
		code, says string
	}{
		{0, "building-height-missing", "not given"}, {mm(10999), "", ""}, {mm(11000), "battens-combustible", "Scotland"},
		{mm(17999), "battens-combustible", "Scotland"}, {mm(18000), "battens-combustible", "7(2)"},
	} {
		a, b := longWall(), longWall()
		b.Name = "Other"
		job := builderJob(a, b)
		job.Wind.BuildingHeight = test.height
		job.Origins = map[string]Place{"Building height m": {Sheet: "Job", Cell: "B9"}}
		res := takeOff(t, job)
		found := append(flagged(res, "building-height-missing"), flagged(res, "battens-combustible")...)
		if test.code == "" {
			if len(found) > 0 {
				t.Errorf("%v: %+v", test.height, found)
			}
			continue
		}
		if len(found) != 1 || found[0].Code != test.code || !strings.Contains(found[0].What, test.says) || found[0].Place.Cell != "B9" {
			t.Errorf("%v: %+v, want %s", test.height, found, test.code)
		}
	}
}

// The cavity is as deep as the shallowest batten. NHBC Standards 6.2.10 table
// 2: 15 mm behind cladding on timber frame, 50 mm in very severe exposure.
func TestCavityDepth(t *testing.T) {
	for _, test := range []struct {
		rule, batten measure.Length
		declared     string
		codes        string
	}{
		{mm(38), mm(38), "", "note cavity-situation"},
		{mm(50), mm(50), "", ""},
		{mm(25), 0, "", "check cavity-shallow note cavity-situation"},
		{mm(38), mm(25), "", "check cavity-shallow check batten-depth note cavity-situation"},
		{mm(12), mm(12), "", "check cavity-shallow check cavity-situation"},
		{mm(38), mm(38), "40", "check cavity-shallow note cavity-situation"},
		{mm(38), mm(38), "20", "note cavity-situation"},
	} {
		job := builderJob(longWall())
		job.Rules.BattenDepth = test.rule
		for i := range job.Products {
			if p := &job.Products[i]; p.Role == RoleBatten || p.Role == RoleWideBatten {
				p.Thickness = test.batten
			}
		}
		if test.declared != "" {
			job.declare("Cavity depth mm", test.declared, "a maker")
		}
		var got []string
		for _, f := range takeOff(t, job).Flags {
			if strings.HasPrefix(f.Code, "cavity-s") || f.Code == "batten-depth" {
				got = append(got, f.Severity.String()+" "+f.Code)
			}
		}
		if strings.Join(got, " ") != test.codes {
			t.Errorf("%v, batten %v, declared %q: %v, want %s", test.rule, test.batten, test.declared, got, test.codes)
		}
	}
}

// A gap of 10 mm opens 10 x 1000 = 10 000 mm2 a metre; a strip open by 40 %
// leaves 4000 of it, by 50 % the 5000 that are wanted.
func TestVentilationOpening(t *testing.T) {
	for _, test := range []struct {
		gap   measure.Length
		share string
		codes string
	}{
		{mm(10), "", "ventilation-share ventilation-share"},
		{mm(10), "50", ""},
		{mm(10), "40", "ventilation-base ventilation-top"},
		{mm(4), "", "ventilation-base ventilation-top"},
	} {
		job := builderJob(longWall())
		job.Rules.VentilationGap, job.Rules.SoffitGap = test.gap, test.gap
		if test.share != "" {
			job.declare("Vent strip open share %", test.share, "a maker")
		}
		var got []string
		for _, f := range takeOff(t, job).Flags {
			if strings.HasPrefix(f.Code, "ventilation-") {
				got = append(got, f.Code)
			}
		}
		if strings.Join(got, " ") != test.codes {
			t.Errorf("gap %v, share %q: %v, want %s", test.gap, test.share, got, test.codes)
		}
	}
	open := longWall()
	open.Name, open.Top = "open", OpenTop
	job := builderJob(longWall(), open)
	job.declare("Vent strip open share %", "50", "a maker")
	if f := flagged(takeOff(t, job), "ventilation-top"); len(f) != 1 || f[0].Wall != "open" || !strings.Contains(f[0].What, "the top is open") {
		t.Errorf("an open top: %+v", f) // the other wall's gap of 10 leaves the 5000 that are wanted
	}
	job = builderJob(longWall())
	for i := range job.Products {
		if job.Products[i].Role == RoleVent {
			job.Products[i].Role = RolePaint
		}
	}
	if f := flagged(takeOff(t, job), "vent-strip-missing"); len(f) != 1 {
		t.Errorf("%+v", f)
	}
}
