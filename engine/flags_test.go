package engine

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// surveyed gives every row of a job its place: cells are named by their own
// header, "Sill mm!101" being the sill of the first opening of the first wall.
func surveyed(j *Job) *Job {
	headers := map[string]string{}
	for _, h := range []string{"Wall", "Width mm", "Height mm", "Height right mm", "Apex height mm", "Top profile", "Base mm", "Base step mm", "Base profile",
		"Left meets", "Right meets", "Pin gauge mm", "Pin mark mm", "Batten centres mm", "Studs mm", "From left mm", "Sill mm", "Reveal mm", "Value", "Face length mm"} {
		headers[h] = h + "!"
	}
	sheet := func(name string) *SheetMap {
		return &SheetMap{File: "survey", Sheet: name, Columns: headers, Last: "Last!"}
	}
	walls, openings, declared := sheet("Walls"), sheet("Openings"), sheet("Declared")
	for i := range j.Walls {
		j.Walls[i].Origin = Origin{Sheet: walls, Row: i + 2}
		for k := range j.Walls[i].Openings {
			j.Walls[i].Openings[k].Origin = Origin{Sheet: openings, Row: 100*(i+1) + k + 1}
		}
	}
	for i := range j.Declared {
		j.Declared[i].Origin = Origin{Sheet: declared, Row: i + 2}
	}
	j.Origins = map[string]Place{"Board": {Sheet: "Job", Cell: "board"}, "Peak velocity pressure Pa": {Sheet: "Job", Cell: "pressure"}}
	return j
}

// front is a wall of 6,000 by 2,635 with a window that its courses meet.
func front() Wall {
	return Wall{Name: "front", Width: mm(6000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Openings: []Opening{{Name: "w", Kind: "window", Left: mm(1000), Sill: mm(970), Width: mm(1000), Height: mm(1060)}}}
}

// window adds a second window to a wall.
func window(w *Wall, left, sill, width, height int64) {
	w.Openings = append(w.Openings, Opening{Name: "v", Kind: "window", Left: mm(left), Sill: mm(sill), Width: mm(width), Height: mm(height)})
}

// Every trade problem of set-out and geometry is flagged once, with its own
// code, at the cell that would mend it.
func TestFlagsAtTheirCells(t *testing.T) {
	wall := func(change func(*Wall)) func(*Job) { return func(j *Job) { change(&j.Walls[0]) } }
	opening := func(change func(*Opening)) func(*Job) {
		return func(j *Job) { change(&j.Walls[0].Openings[0]) }
	}
	second := func(change func(a, b *Wall)) func(*Job) {
		return func(j *Job) {
			j.Walls = append(j.Walls, front())
			j.Walls[1].Name = "side"
			j.Walls[0].LevelLine, j.Walls[1].LevelLine = "house", "house"
			change(&j.Walls[0], &j.Walls[1])
		}
	}
	for _, c := range []struct {
		name, code, cell string
		severity         Severity
		change           func(*Job)
	}{
		{"no width", "wall-size", "Width mm!2", Stop, wall(func(w *Wall) { w.Width = 0 })},
		{"narrower than its end allowances", "wall-size", "Width mm!2", Stop, wall(func(w *Wall) { w.Width, w.Openings = mm(15), nil })},
		{"40 mm between base and soffit", "wall-too-low", "Height mm!2", Stop, wall(func(w *Wall) { w.Height, w.Openings = mm(200), nil })},
		{"apex below the eaves", "apex-outside", "Apex height mm!2", Stop, wall(func(w *Wall) { w.ApexHeight = measure.Some(mm(2000)) })},
		{"apex beside the wall", "apex-outside", "Apex height mm!2", Stop, wall(func(w *Wall) { w.ApexHeight, w.ApexLeft = measure.Some(mm(4000)), measure.Some(mm(7000)) })},
		{"two heights 20 mm apart", "soffit-uneven", "Height right mm!2", Check, wall(func(w *Wall) { w.HeightRight = measure.Some(mm(2655)) })},
		{"three readings 12 mm apart", "soffit-uneven", "Top profile!2", Check, wall(func(w *Wall) {
			w.TopProfile = measure.Profile{{X: 0, Z: mm(2640)}, {X: mm(3000), Z: mm(2635)}, {X: mm(6000), Z: mm(2647)}}
		})},
		{"two heights 60 mm apart over 6 m", "top-scribed", "Height right mm!2", Check, wall(func(w *Wall) { w.HeightRight = measure.Some(mm(2695)) })},
		{"a profile that rises 60 mm", "top-scribed", "Top profile!2", Check, wall(func(w *Wall) {
			w.TopProfile = measure.Profile{{X: 0, Z: mm(2640)}, {X: mm(3000), Z: mm(2700)}, {X: mm(6000), Z: mm(2700)}}
		})},
		{"opening without height", "opening-size", "Width mm!101", Stop, opening(func(o *Opening) { o.Height = 0 })},
		{"opening past the right edge", "opening-outside", "From left mm!101", Stop, opening(func(o *Opening) { o.Left = mm(5500) })},
		{"opening above the top", "opening-too-high", "Height mm!101", Stop, opening(func(o *Opening) { o.Height = mm(2000) })},
		{"opening with a corner above the rake", "opening-at-slope", "Height mm!101", Check, func(j *Job) {
			w := &j.Walls[0]
			w.ApexHeight, w.Top, w.Openings[0].Height = measure.Some(mm(5000)), Verge, mm(2700)
		}},
		{"a window 50 mm below the boards", "opening-below-base", "Sill mm!101", Check, opening(func(o *Opening) { o.Sill = mm(100) })},
		{"a hatch wholly below the boards", "opening-below-base", "Sill mm!101", Check, opening(func(o *Opening) { o.Kind, o.Sill, o.Height = "other", 0, mm(140) })},
		{"a corner whose lines differ", "corner-lines", "Base mm!3", Check, second(func(a, b *Wall) {
			b.LevelLine, b.Base, b.Left, b.LeftMeets, a.Right = "other", measure.Some(mm(200)), ExternalCorner, "front", ExternalCorner
		})},
		{"a slot of 20 between two jambs' battens, too narrow for one over it", "strip-loose", "Wall!2", Check, opening(func(o *Opening) { o.Width = mm(20) })},
		{"a sill's horns beside the first 60 of a course that no batten backs", "strip-loose", "Wall!2", Check, opening(func(o *Opening) {
			o.Sill, o.SillWidth, o.SillDepth, o.Height = mm(970), measure.Some(o.Width+mm(100)), measure.Some(mm(50)), mm(1060)
		})},
		{"two walls with corners that may be one", "corner-unnamed", "Left meets!2", Check, second(func(a, b *Wall) {
			a.Left, a.RightMeets = ExternalCorner, ""
			b.LeftMeets, b.Right = "", ExternalCorner
		})},
		{"a corner whose bases differ by three gauges of 135", "corner-bases", "Base mm!3", Note, second(func(a, b *Wall) {
			b.Base, b.Left, b.LeftMeets, a.Right = measure.Some(mm(555)), ExternalCorner, "front", ExternalCorner
			a.PinGauge = measure.Some(mm(135))
		})},
		{"openings that overlap", "opening-overlap", "From left mm!102", Stop, wall(func(w *Wall) { window(w, 1500, 1000, 1000, 500) })},
		{"300 mm between two windows", "pier-narrow", "From left mm!102", Note, wall(func(w *Wall) { window(w, 2300, 970, 1000, 1060) })},
		{"15 mm between two windows", "pier-closed", "From left mm!102", Check, wall(func(w *Wall) { window(w, 2015, 970, 1000, 1060) })},
		{"a sill no course can spare", "strip-fragile", "Sill mm!101", Check, opening(func(o *Opening) { o.Sill, o.Height = mm(200), mm(1830) })},
		// two courses at most: 150 and 280 to 300; a head kept at 440 leaves 20 to
		// 40 under a soffit kept at 460 to 480
		{"a head just below the top", "strip-fragile", "Height mm!101", Check, wall(func(w *Wall) {
			w.Height = mm(470)
			w.Openings[0].Sill, w.Openings[0].Height = 0, mm(420)
		})},
		{"an apex too small to fix", "strip-fragile", "Apex height mm!2", Check, func(j *Job) {
			w := &j.Walls[0]
			w.Openings, w.Top, w.Height, w.Width, w.ApexHeight = nil, Verge, mm(295), mm(2900), measure.Some(mm(400))
			j.Rules.StripLeast = mm(120)
		}},
		{"a ripped top of 40", "strip-fragile", "Height mm!2", Check, wall(func(w *Wall) {
			// marks 150 + 135 k; the board from 2,445 ends at 2,625, and the
			// next, from 2,580, has 48 left below 2,628
			w.PinGauge, w.Height, w.Openings = measure.Some(mm(135)), mm(2638), nil
		})},
		{"a pinned gauge beyond the laps", "pin-gauge", "Pin gauge mm!2", Check, wall(func(w *Wall) { w.PinGauge = measure.Some(mm(160)) })},
		{"two pinned gauges", "pin-conflict", "Pin gauge mm!3", Check, second(func(a, b *Wall) { a.PinGauge, b.PinGauge = measure.Some(mm(135)), measure.Some(mm(140)) })},
		{"a mark no gauge reaches", "pin-missed", "Pin mark mm!2", Check, wall(func(w *Wall) { w.PinMark = measure.Some(mm(350)) })},
		{"two marks too near each other", "pin-missed", "Pin mark mm!3", Check, second(func(a, b *Wall) { a.PinMark, b.PinMark = measure.Some(mm(555)), measure.Some(mm(570)) })},
		{"a second base between two marks", "base-raised", "Base mm!3", Check, second(func(a, b *Wall) { b.Base = measure.Some(mm(350)) })},
		{"a step between two marks", "base-raised", "Base step mm!2", Check, wall(func(w *Wall) { w.StepLeft, w.StepBase = measure.Some(mm(3000)), measure.Some(mm(350)) })},
		{"a flat roof between two marks", "base-raised", "Base profile!2", Check, wall(func(w *Wall) {
			w.Bottom, w.Openings = Roof, nil
			w.BaseProfile = measure.Profile{{X: 0, Z: 0}, {X: mm(3000), Z: 0}, {X: mm(3000), Z: mm(200)}, {X: mm(6000), Z: mm(200)}}
		})},
		{"laps no board allows", "set-out", "Height mm!2", Stop, func(j *Job) { j.Rules.LapMost = mm(100) }},
		{"a reveal wider than a board", "reveal-wide", "Reveal mm!101", Check, opening(func(o *Opening) { o.Lined, o.Reveal = true, mm(200) })},
		{"studs too far apart", "bay-wide", "Studs mm!2", Check, wall(func(w *Wall) {
			w.Studs = []measure.Length{mm(400), mm(2600), mm(3200), mm(3800), mm(4400), mm(5000), mm(5600)}
		})},
		{"no stud behind a long course", "run-unlaid", "Batten centres mm!2", Stop, wall(func(w *Wall) { w.Studs = []measure.Length{mm(400)} })},
		{"studs that leave a piece of 290", "piece-short", "Wall!2", Check, wall(func(w *Wall) { w.Width, w.Openings, w.Studs = mm(3100), nil, []measure.Length{mm(300), mm(2800)} })},
		{"stagger that a short board cannot keep", "joint-rules", "Wall!2", Check, func(j *Job) {
			j.Products[0].Length, j.Rules.StaggerBays, j.Rules.JointRepeat = mm(1250), 3, 4
		}},
		{"a board the catalogue lacks", "board-unknown", "board", Check, func(j *Job) { j.Board = "none" }},
		{"no board at all", "board-missing", "board, Wall!2", Stop, func(j *Job) { j.Products = j.Products[1:] }},
		{"a board without width", "board-size", "board, Wall!2", Stop, func(j *Job) { j.Products[0].Width = 0 }},
		{"no wind", "wind-not-given", "pressure", Check, func(*Job) {}},
		{"no place in the face", "wind-assumed", "Face length mm!2, Face length mm!2", Note, func(j *Job) {
			j.Wind = WindInput{PeakPressure: 800, BuildingHeight: mm(6000), BuildingDepth: mm(8000)}
		}},
		{"a face shorter than its wall", "wind-not-checked", "Face length mm!2", Check, func(j *Job) {
			j.Wind = WindInput{PeakPressure: 800, BuildingHeight: mm(6000), BuildingDepth: mm(8000)}
			j.Walls[0].FaceLength, j.Walls[0].FaceLeft = measure.Some(mm(4000)), measure.Some(mm(1000))
		}},
		{"a bending class that is none", "fixing-not-checked", "Batten centres mm!2", Check, func(j *Job) {
			j.Wind = WindInput{PeakPressure: 800, BuildingHeight: mm(6000), BuildingDepth: mm(8000)}
			j.Declared = []Declared{{Item: declClass, Value: "9"}}
		}},
		{"no tape in the catalogue", "product-missing", "", Check, func(j *Job) {
			j.Products = slices.DeleteFunc(j.Products, func(p Product) bool { return p.Role == RoleTape })
		}},
		{"battens of 10 mm", "cavity-shallow", "", Check, func(*Job) {}},
		{"battens of 10 mm, on timber frame", "cavity-situation", "", Check, func(*Job) {}},
		{"vent strips of unknown openness", "ventilation-share", ", ", Note, func(*Job) {}},
		{"no screw long enough for packers", "packer-screw", "Wall!2", Check, func(j *Job) {
			j.Products = slices.DeleteFunc(j.Products, func(p Product) bool { return p.Code == "SV50" || p.Code == "SV55" })
		}},
		{"packers of 10 only, for gaps of 5", "packer-misfit", "Wall!2", Check, packersOf(mm(10))},
		{"packers of unknown thickness", "packer-thickness", ", , ", Check, packersOf(0)},
		{"battens without a length", "stock-length-missing", "Length mm!2, Length mm!2", Check, func(j *Job) {
			for i := range j.Products {
				if p := &j.Products[i]; p.Role == RoleBatten || p.Role == RoleWideBatten {
					p.Length, p.Origin = 0, Origin{Sheet: &SheetMap{Columns: map[string]string{"Length mm": "Length mm!"}}, Row: 2}
				}
			}
		}},
		{"no packers", "product-missing", "", Check, func(j *Job) {
			j.Products = slices.DeleteFunc(j.Products, func(p Product) bool { return p.Role == RolePacker })
		}},
		{"a board of unknown thickness", "packers-not-known", "", Check, func(j *Job) { j.Products[0].Thickness = 0 }},
		{"thin screws", "screw-withdrawal", "Width mm!2, Width mm!2", Note, func(j *Job) {
			j.Products = builderProducts()
			for i := range j.Products {
				j.Products[i].Origin = Origin{Sheet: &SheetMap{Columns: map[string]string{"Width mm": "Width mm!"}}, Row: 2}
			}
		}},
		{"a rule beyond what is declared", "rule-beyond-declared", "Value!2", Check, func(j *Job) {
			j.Declared, j.Rules.LapLeast = []Declared{{Item: declLapLeast, Value: "35"}}, mm(32)
		}},
	} {
		j := testJob(front())
		c.change(j)
		r := mustTakeoff(t, surveyed(j))
		var at []string
		for _, f := range r.Flags {
			if f.Code == c.code {
				if at = append(at, f.Place.Cell); f.Severity != c.severity {
					t.Errorf("%s: %s is a %s, want a %s", c.name, c.code, f.Severity, c.severity)
				}
				if f.What == "" || f.Do == "" {
					t.Errorf("%s: %s does not say what is wrong and what to do: %+v", c.name, c.code, f)
				}
			}
		}
		if len(at) == 0 || strings.Join(at, ", ") != c.cell {
			var all []string
			for _, f := range r.Flags {
				all = append(all, f.Code)
			}
			t.Errorf("%s: %s is flagged at %q, want %q alone (all: %s)", c.name, c.code, at, c.cell, strings.Join(all, " "))
		}
	}
}

// No flag's code is left without a test that names it.
func TestEveryCodeIsTested(t *testing.T) {
	code := regexp.MustCompile(`"[a-z]+(-[a-z]+)+"`)
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	used, tested := map[string]string{}, map[string]bool{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range code.FindAllString(string(text), -1) {
			if strings.HasSuffix(file, "_test.go") {
				tested[c] = true
			} else {
				used[c] = file
			}
		}
	}
	if len(used) < 30 {
		t.Fatalf("only %d codes found", len(used))
	}
	for c, file := range used {
		if !tested[c] {
			t.Errorf("%s in %s is named by no test", c, file)
		}
	}
}

// A sheet with a wall in each column has the row number in its map and the
// column in the origin: column 28 is AB.
func TestTurnedPlaces(t *testing.T) {
	o := Origin{Sheet: &SheetMap{Sheet: "Walls", Columns: map[string]string{"Width mm": "3"}, Last: "2", Turned: true}, Row: 28}
	if a, b := o.At("Width mm").Cell, o.At("Height mm").Cell; a != "AB3" || b != "AB2" {
		t.Errorf("the width is at %s and a missing height at %s, want AB3 and AB2", a, b)
	}
	o.Sheet.Last, o.Row = "", 26
	if got := o.At("Height mm").Cell; got != "Z1" {
		t.Errorf("a field without a place is at %s, want Z1", got)
	}
}

// A colour that a role is not listed in is missed even where a line without a
// colour serves; where no line of the role has a colour, nothing is missed, nor
// where the colour is listed.
func TestColourWithoutALine(t *testing.T) {
	for _, test := range []struct {
		name    string
		colours []string // of the edge trims listed
		want    string
	}{
		{"listed", []string{"", "Red"}, ""},
		{"listed plain only", []string{""}, ""},
		{"listed plain and in another", []string{"Grey", ""}, "no product has the role edge trim in Red: E1, which is listed without a colour, is taken for it"},
		{"listed in another only", []string{"Grey"}, "no product has the role edge trim in Red: its quantity is listed without code or price"},
	} {
		job := testJob(longWall())
		job.Walls[0].Colour = "Red"
		edge := job.Products[slices.IndexFunc(job.Products, func(p Product) bool { return p.Role == RoleEdge })]
		job.Products = slices.DeleteFunc(job.Products, func(p Product) bool { return p.Role == RoleEdge })
		for i, c := range test.colours {
			edge.Code, edge.Colour = "E"+itoa(i), c
			job.Products = append(job.Products, edge)
		}
		var got []string
		for _, f := range flagged(takeOff(t, job), "product-missing") {
			if strings.Contains(f.What, "edge trim") {
				got = append(got, f.What)
			}
		}
		if (test.want == "") != (len(got) == 0) || test.want != "" && (len(got) != 1 || got[0] != test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// packersOf makes all packers of a job that thick.
func packersOf(thick measure.Length) func(*Job) {
	return func(j *Job) {
		for i := range j.Products {
			if p := &j.Products[i]; p.Role == RolePacker {
				p.Thickness = thick
			}
		}
	}
}
