package engine

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"testing"

	"lapwright/engine/audit"
	"lapwright/engine/courses"
	"lapwright/engine/measure"
)

// exampleWalls reads the walls of the filled example that the program carries.
func exampleWalls(t testing.TB) []Wall {
	t.Helper()
	var walls []Wall
	for _, row := range table(t, "walls") {
		w := Wall{Name: row["Wall"], Width: row.length("Width mm"), Height: row.length("Height mm"), HeightRight: row.opt("Height right mm"),
			ApexHeight: row.opt("Apex height mm"), ApexLeft: row.opt("Apex from left mm"), Base: row.opt("Base mm"),
			StepLeft: row.opt("Base step from left mm"), StepBase: row.opt("Base step mm"), Quantity: 1,
			Left: Edge(row["Left edge"]), Right: Edge(row["Right edge"]), Top: Edge(row["Top edge"]), Bottom: Edge(row["Base edge"]),
			LeftMeets: row["Left meets"], RightMeets: row["Right meets"]}
		for _, o := range table(t, "openings") {
			if o["Wall"] == w.Name {
				w.Openings = append(w.Openings, Opening{Name: o["Opening"], Kind: o["Kind"], Left: o.length("From left mm"), Sill: o.length("Sill mm"),
					SillWidth: o.opt("Sill width mm"), SillDepth: o.opt("Sill depth mm"), Width: o.length("Width mm"), Height: o.length("Height mm"),
					Reveal: o.length("Reveal mm"), Lined: o["Lined"] == "yes"})
			}
		}
		walls = append(walls, w)
	}
	return walls
}

// fields is a row of a table by its headers.
type fields map[string]string

func table(t testing.TB, name string) []fields {
	t.Helper()
	f, err := os.Open("../templates/example/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []fields
	for _, row := range rows[1:] {
		r := fields{}
		for i, v := range row {
			r[rows[0][i]] = v
		}
		out = append(out, r)
	}
	return out
}

func (r fields) length(header string) measure.Length { return r.opt(header).Value }

func (r fields) opt(header string) Opt {
	n, err := strconv.ParseInt(r[header], 10, 64)
	if err != nil {
		return Opt{}
	}
	return measure.Some(mm(n))
}

// house returns four walls round a house as one is found: two eaves walls and
// two gables, one or two storeys, windows at a few sills and heads.
func (g generator) house() []Wall {
	storeys := 1 + g.Int64N(2)
	storey := g.length(2400, 2600, 50)
	soffit := storey*measure.Length(storeys) + g.length(-10, 50, 1)
	head := g.length(2050, 2170, 10)
	sills := [2]measure.Length{g.length(900, 1100, 10), g.length(1200, 1500, 10)}
	names := []string{"front", "right", "back", "left"}
	var walls []Wall
	for i, name := range names {
		w := Wall{Name: name, Quantity: 1, Width: g.length(5000, 9000, 10), Height: soffit, Left: ExternalCorner, Right: ExternalCorner,
			Top: Soffit, Bottom: Ground, LeftMeets: names[(i+3)%4], RightMeets: names[(i+1)%4]}
		if i%2 == 1 {
			w.Top, w.ApexHeight = Verge, measure.Some((soffit + w.Width/3).DownTo(mm(10)))
		}
		if i == 3 && g.IntN(4) == 0 {
			w.Base = measure.Some(g.length(300, 900, 10))
		}
		for floor := range storeys {
			g.floor(&w, storey*measure.Length(floor), head, sills[g.IntN(2)], floor == 0 && i%2 == 0)
		}
		walls = append(walls, w)
	}
	return walls
}

// floor adds the openings of one storey: up to three windows, a door before
// them if asked for.
func (g generator) floor(w *Wall, datum, head, sill measure.Length, door bool) {
	left := g.length(400, 900, 5)
	add := func(sill, width, head measure.Length) bool {
		if left+width > w.Width-mm(400) {
			return false
		}
		w.Openings = append(w.Openings, Opening{Name: fmt.Sprintf("o%d", len(w.Openings)+1), Kind: "window", Left: left, Sill: datum + sill, Width: width, Height: head - sill})
		left += width + g.length(500, 1800, 5)
		return true
	}
	if door {
		add(0, mm(940), mm(2110))
	}
	width := g.length(600, 1800, 100)
	for range 1 + g.IntN(3) {
		if !add(sill, width, head) {
			return
		}
	}
}

// tallied counts the pieces of a job that want more than a square cut, and the
// targets behind them.
type tallied struct{ pieces, notched, deep, ripped, fragile, targets, met int }

func (c *tallied) add(r *Result) {
	for i := range r.Walls {
		w := &r.Walls[i]
		for k := range w.Pieces {
			p := &w.Pieces[k]
			if p.Course == 0 {
				continue
			}
			c.pieces++
			deepest := measure.Length(0)
			for _, n := range p.Cutouts {
				deepest = max(deepest, n.Z.Length())
			}
			c.notched += btoi(deepest > 0)
			c.deep += btoi(deepest > mm(50)) // more than the greatest lap
			c.ripped += btoi(p.Ripped)
			c.fragile += btoi(p.Fragile)
		}
		for _, g := range w.Targets {
			c.targets++
			c.met += btoi(g.Met != courses.Missed.String() && g.Met != courses.Partly.String())
		}
	}
}

func (c *tallied) report(b *testing.B) {
	b.ReportMetric(float64(c.targets), "targets")
	b.ReportMetric(float64(c.met), "met")
	b.ReportMetric(float64(c.pieces), "pieces")
	b.ReportMetric(float64(c.notched), "notched")
	b.ReportMetric(float64(c.deep), "deep-notched")
	b.ReportMetric(float64(c.ripped), "ripped")
	b.ReportMetric(float64(c.fragile), "fragile")
}

// byOneGauge pins on every level line the gauge that is chosen by hand: one
// from bottom to top, with which the highest top ends on a full board if any
// gauge within the limits does that.
func byOneGauge(job *Job) *Job {
	out := *job
	out.Walls = append([]Wall(nil), job.Walls...)
	u := newTakeoff(&out)
	u.chooseBoard()
	u.shapeWalls()
	for _, line := range levelLines(u.faces) {
		var wishes []wish
		for _, f := range line {
			wishes = append(wishes, u.wishOf(f))
		}
		p, _ := u.lineProblem(wishes)
		plan, err := courses.Uniform(p)
		if n := len(plan.Marks) - 1; err == nil && n > 0 {
			for _, f := range line {
				f.wall.PinGauge = measure.Some((plan.Marks[n] - plan.Marks[0]) / measure.Length(n))
			}
		}
	}
	return &out
}

// BenchmarkAgainstOneGauge counts the pieces with a notch (deep: more than a
// lap), ripped and fragile ones, and the targets met, set out and with one
// gauge: on the example and on 200 houses.
func BenchmarkAgainstOneGauge(b *testing.B) {
	jobs := map[string][]*Job{"example": {testJob(exampleWalls(b)...)}}
	for seed := range uint64(200) {
		jobs["200 houses"] = append(jobs["200 houses"], testJob(newGenerator(1000+seed).house()...))
	}
	for _, name := range []string{"example", "200 houses"} {
		for _, how := range []struct {
			name   string
			change func(*Job) *Job
		}{{"one gauge", byOneGauge}, {"set out", func(j *Job) *Job { return j }}} {
			b.Run(name+"/"+how.name, func(b *testing.B) {
				var sum tallied
				for b.Loop() {
					sum = tallied{}
					for _, j := range jobs[name] {
						u := newTakeoff(how.change(j))
						if err := u.plan(context.Background()); err != nil {
							b.Fatal(err)
						}
						sum.add(u.result)
					}
				}
				sum.report(b)
			})
		}
	}
}

// BenchmarkGeometry is the engine from the survey's rows to runs of boards, set
// out and on battens, without the cutting.
func BenchmarkGeometry(b *testing.B) {
	var street []Wall
	for seed := range uint64(100) {
		for _, w := range newGenerator(2000 + seed).house() {
			w.Plot = fmt.Sprint(seed)
			street = append(street, w)
		}
	}
	house := newGenerator(1).house()
	for _, c := range []struct {
		name  string
		walls []Wall
	}{{"1 wall", []Wall{threeWindows()}}, {"4 walls", house}, {"400 walls", street}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				u := newTakeoff(testJob(c.walls...))
				u.declare()
				u.chooseBoard()
				u.shapeWalls()
				u.setOut()
				u.batten()
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(c.walls)), "us/wall")
		})
	}
}

// BenchmarkWithoutCutting is the engine but for the layout of joints and the
// cutting of stock: set-out, battens, runs, pieces, trims, fixings, quantities
// and audit, of houses with plots of their own.
func BenchmarkWithoutCutting(b *testing.B) {
	for _, houses := range []int{1, 100} {
		var walls []Wall
		for seed := range uint64(houses) {
			for _, w := range newGenerator(2000 + seed).house() {
				w.Plot = fmt.Sprint(seed)
				walls = append(walls, w)
			}
		}
		b.Run(fmt.Sprintf("walls=%d", len(walls)), func(b *testing.B) {
			ctx, job := context.Background(), testJob(walls...)
			job.Effort = EffortQuick
			for b.Loop() {
				u := newTakeoff(job)
				u.declare()
				u.chooseBoard()
				u.shapeWalls()
				u.setOut()
				u.batten()
				b.StopTimer()
				if err := u.lay(ctx); err != nil {
					b.Fatal(err)
				}
				u.result.Board = u.board
				b.StartTimer()
				u.asBuilt(ctx)
				b.StopTimer()
				if err := u.cutAll(ctx); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				u.quantify()
				u.collect()
				u.assumptions()
				if faults := audit.Check(u.auditJob()); len(faults) > 0 {
					b.Fatal(faults[0])
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(walls)), "us/wall")
		})
	}
}
