package report

import (
	"fmt"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// mmOf is whole millimetres.
func mmOf(n int64) measure.Length { return measure.MM(n) }

func span2(lo, hi int64) measure.Span { return measure.Span{Lo: mmOf(lo), Hi: mmOf(hi)} }

// fixture is a takeoff built by hand: a house wall of three courses with a
// vent notched into the middle one, and a gable of two raked courses. Its
// numbers are made up but agree with each other.
func fixture() *engine.Result {
	job := &engine.Job{
		Name: "Example & Sons' house", Site: "1 Invented Lane", PreparedBy: "A. Surveyor", SurveyDate: "2024-03-01",
		Pool: engine.PoolPlot, Rules: engine.DefaultRules(), Currency: "GBP",
		Declared: []engine.Declared{{Item: "Lap least", Value: "30", Unit: "mm", Source: "declared by the maker"}},
	}
	job.Rules.Kerf = mmOf(3)
	res := &engine.Result{
		Job: job, Board: engine.Product{Role: "board", Code: "B-175", Description: "Lap board", Unit: "each",
			Length: mmOf(3600), Width: mmOf(175), Thickness: mmOf(8), Weight: 8.2, Price: 9.5},
		Walls: []engine.WallResult{houseWall(), gableWall()},
		Left:  []engine.LeftWall{{Plot: "1", Wall: "Rear", Quantity: 1, NetArea: 12.5, Boards: 30.2, Why: "an opening lies outside the wall"}},
		Notes: []string{"The wall's face length is not given; the whole wall is taken as an end zone."},
		Flags: fixtureFlags(), Effort: engine.EffortNormal, Undeclared: []string{"Pull-through"},
		Options:  []engine.Alternative{{Change: "Batten centres 400 mm", Boards: 9, Waste: 12.5, Floor: 10, Joints: 3, Cost: 99.5}},
		Measured: []engine.Measured{{Plot: "1", Item: "Lap boarding", Unit: "m2", Quantity: 3.125, Note: "voids up to 1 m2 not deducted"}},
	}
	res.Cutting, res.Pools = fixtureCutting()
	res.Order = []engine.OrderLine{
		{Role: "board", Code: "B-175", Description: "Lap board 3600", Colour: "grey", Unit: "each", Net: 100, Spare: 10, Pack: 4, Price: 9.5, Weight: 8.2},
		{Role: "screw", Code: "S-40", Description: "=cmd", Unit: "each", Net: 61, Spare: 5, Pack: 250, Price: 0.04},
		{Role: "paint", Code: "P-1", Description: "Edge sealer", Unit: "l", Net: 0.35, Spare: 5, Pack: 1, Price: 18},
	}
	return res
}

func houseWall() engine.WallResult {
	wall := &engine.Wall{Plot: "1", Name: "=1+1", Width: mmOf(4000), Height: mmOf(600), Quantity: 2}
	w := engine.WallResult{
		Wall: wall, Plot: "1", Name: "=1+1", Code: "A", Colour: "grey", Quantity: 2, Mirrored: 1, Pool: "1",
		Outline: measure.Rect(span2(0, 4000), span2(0, 600)), Gross: 2.4, Net: 2.36,
		Advice: []string{"4 mm lower at the head and one notch less."},
	}
	for i := range 3 {
		bottom := int64(150 + 135*i)
		c := engine.Course{Number: i + 1, Bottom: mmOf(bottom), Top: mmOf(bottom + 175)}
		if i < 2 {
			c.Gauge, c.Lap = mmOf(135), mmOf(40)
		} else {
			c.Note = "top ripped"
		}
		w.Courses = append(w.Courses, c)
		joint := int64(2400)
		if i == 1 {
			joint = 1800
		}
		w.Pieces = append(w.Pieces, board(i+1, 0, joint-1, bottom, 1), board(i+1, joint+1, 4000, bottom, 2))
	}
	notch(&w.Pieces[2])
	opening := &engine.Opening{Name: "V1", Kind: "vent", Left: mmOf(600), Sill: mmOf(400), Width: mmOf(200), Height: mmOf(150)}
	wall.Openings = []engine.Opening{*opening}
	w.Voids = []engine.Void{{Opening: opening, Frame: []measure.Polygon{measure.Rect(span2(600, 800), span2(400, 550))},
		Keep: []engine.VoidRect{{X: span2(590, 810), Z: span2(390, 560)}}}}
	for i := range 8 {
		x := int64(25 + 564*i)
		w.Battens = append(w.Battens, engine.Batten{Mark: fmt.Sprintf("A-b%d", i+1), Centre: mmOf(x), Width: mmOf(50), Z: span2(150, 590), Why: "grid", Code: "T-50", Stock: "S1"})
	}
	w.Trims = []engine.Trim{{Mark: "A-t1", Role: "starter", Code: "ST", Where: "base", Length: mmOf(4000), From: measure.Point{Z: mmOf(150)}, To: measure.Point{X: mmOf(4000), Z: mmOf(150)}, Quantity: 2}}
	w.Fixings = []engine.FixingRow{
		{Zone: "A", Fixing: "S-40", Where: "board", Centres: mmOf(600), Count: 30, PreDrilled: 4, Visible: 7, Load: 120, Resistance: 300, Use: 40, Basis: "declared"},
		{Zone: "", Fixing: "S-60", Where: "batten", Centres: mmOf(400), Count: 16, Basis: "not checked"},
	}
	w.Screws = []engine.Screw{{PreDrilled: true}, {Visible: true}}
	w.Zones = []engine.Zone{{Name: "A", X: span2(0, 1200), Suction: 1100, Pressure: 800}, {Name: "B", X: span2(1200, 2800)}, {Name: "A", X: span2(2800, 4000), Suction: 1100, Pressure: 800}}
	return w
}

func board(course int, from, to, bottom int64, n int) engine.Piece {
	p := engine.Piece{
		Mark: fmt.Sprintf("A%d.%d", course, n), Course: course, Outline: measure.Rect(span2(from, to), span2(bottom, bottom+175)),
		Length: mmOf(to - from), Width: mmOf(175), Colour: "grey", Code: "B-175", Quantity: 2, Stock: "B1",
	}
	if n == 1 {
		p.Right.Kind = engine.Joint
	} else {
		p.Left.Kind = engine.Joint
	}
	return p
}

// notch cuts the vent out of the top edge of a piece.
func notch(p *engine.Piece) {
	xs, zs := p.Outline.Bounds()
	p.Cutouts = []engine.VoidRect{{X: span2(590, 810), Z: measure.Span{Lo: mmOf(390), Hi: zs.Hi}}}
	p.Outline = measure.Polygon{{X: xs.Lo, Z: zs.Lo}, {X: xs.Hi, Z: zs.Lo}, {X: xs.Hi, Z: zs.Hi},
		{X: mmOf(810), Z: zs.Hi}, {X: mmOf(810), Z: mmOf(390)}, {X: mmOf(590), Z: mmOf(390)}, {X: mmOf(590), Z: zs.Hi}, {X: xs.Lo, Z: zs.Hi}}
}

func gableWall() engine.WallResult {
	wall := &engine.Wall{Plot: "1", Name: "Gable", Width: mmOf(2000), Height: mmOf(300), ApexHeight: measure.Some(mmOf(1300)), Quantity: 1}
	w := engine.WallResult{
		Wall: wall, Plot: "1", Name: "Gable", Code: "G", Colour: "grey", Quantity: 1, Pool: "1", Gross: 1.6, Net: 1.6,
		Outline: measure.Polygon{{}, {X: mmOf(2000)}, {X: mmOf(2000), Z: mmOf(300)}, {X: mmOf(1000), Z: mmOf(1300)}, {Z: mmOf(300)}},
		Courses: []engine.Course{{Number: 1, Bottom: mmOf(300), Top: mmOf(475), Gauge: mmOf(135), Lap: mmOf(40)}, {Number: 2, Bottom: mmOf(435), Top: mmOf(610)}},
	}
	for i, z := range []int64{300, 435} {
		in := z - 300
		w.Pieces = append(w.Pieces, engine.Piece{
			Mark: fmt.Sprintf("G%d.1", i+1), Course: i + 1, Length: mmOf(2000 - 2*in), Width: mmOf(175),
			Outline: measure.Polygon{{X: mmOf(in), Z: mmOf(z)}, {X: mmOf(2000 - in), Z: mmOf(z)},
				{X: mmOf(2000-in) - 174900, Z: mmOf(z + 175)}, {X: mmOf(in) + 174900, Z: mmOf(z + 175)}},
			Left: engine.End{Kind: engine.Rake, Degrees: 45}, Right: engine.End{Kind: engine.Rake, Degrees: 45},
			Colour: "grey", Code: "B-175", Quantity: 1, Stock: "B3",
		})
	}
	w.Pieces = append(w.Pieces, engine.Piece{Mark: "G-r1", Reveal: "W1 left", Length: mmOf(900), Width: mmOf(120),
		Colour: "grey", Code: "B-175", Quantity: 1, Stock: "B4"})
	return w
}

func fixtureCutting() ([]engine.CutRow, []engine.PoolResult) {
	cut := func(l int64, marks ...string) engine.Cut { return engine.Cut{Marks: marks, Length: mmOf(l)} }
	row := func(name string, count int, offcut int64, cuts ...engine.Cut) engine.CutRow {
		return engine.CutRow{Board: name, Lot: &engine.Lot{Pool: "1", Role: "board", Code: "B-175", Colour: "grey", Stock: mmOf(3600)}, Count: count, Cuts: cuts, Offcut: mmOf(offcut)}
	}
	rows := []engine.CutRow{
		row("B1", 4, 1195, cut(2399, "A1.1")), row("B2", 2, 1795, cut(1799, "A2.1")),
		row("B3", 2, 1394, cut(2199, "A2.2")), row("B4", 2, 390, cut(1599, "A1.2"), cut(1599, "A3.2")),
		row("B5", 1, 689, cut(2000, "G1.1"), cut(900, "G-r1")), row("B6", 1, 1867, cut(1730, "G2.1")),
	}
	rows[0].Cuts = []engine.Cut{cut(2399, "A1.1")}
	rows[0].Count = 2
	rows = append(rows, row("B7", 2, 1195, cut(2399, "A3.1")))
	pool := engine.PoolResult{Pool: "1", Role: "board", Code: "B-175", Colour: "grey", Boards: 12, PlanBound: 11, LayoutBound: 10,
		Hand: 14, HandName: "full boards from the left", Used: mmOf(28_000), Bought: mmOf(43_200), Price: 9.5, Cost: 114, CostBound: 95, HandCost: 133}
	return rows, []engine.PoolResult{pool}
}

func fixtureFlags() []engine.Flag {
	at := func(cell string) engine.Place {
		return engine.Place{File: "survey.xlsx", Sheet: "Walls o'r", Cell: cell}
	}
	return []engine.Flag{
		{Severity: engine.Note, Code: "hidden-row", Plot: "1", Wall: "=1+1", Place: at("B2"), What: "The row is hidden.", Do: "Nothing: it was taken like any other."},
		{Severity: engine.Check, Code: "piece-short", Plot: "1", Wall: "=1+1", Place: at("B2"), What: "Piece A1.2 is short.", Do: "Look at it on the drawing."},
		{Severity: engine.Stop, Code: "opening-outside", Plot: "1", Wall: "Rear", Place: at("C3"), What: "The opening lies outside.", Do: "Measure again."},
	}
}
