package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
)

// Dwellings that are built alike share the sheets of their walls. Each sheet says
// for which plots it is, and a table says of each plot which sheets are its own.

// plotRow is a wall of one plot.
type plotRow struct {
	plot     *engine.Plot
	wall     string
	colour   string
	marks    string // what the marks of its pieces begin with
	quantity int    // of it in the plot
	sheet    string // blank: none of its own
	left     bool   // out, by a stop
}

// manyPlots reports whether the walls' sheets are for several plots: with one,
// all are.
func manyPlots(res *engine.Result) bool { return len(res.Job.Plots) > 1 }

func (b *book) plotTable(sheet string) table[plotRow] {
	t := table[plotRow]{sheet: sheet, name: "Plot_sheets", rows: b.plotRows(), columns: b.plotColumns()}
	t.before = func() error {
		return t.link(b, "Sheet", plotLinks, func(r plotRow) string {
			if r.sheet == "" {
				return ""
			}
			return ref(r.sheet) + "!A1"
		})
	}
	return t
}

func (b *book) writePlots(sheet string) error { return b.plotTable(sheet).write(b) }

// plotRows lists the walls of every plot, in the order of the survey.
func (b *book) plotRows() []plotRow {
	plots := b.res.Job.Plots
	of := make([][]plotRow, len(plots))
	for i := range b.res.Walls {
		w := &b.res.Walls[i]
		row := plotRow{wall: w.Name, colour: w.Colour, marks: w.Code + "-", quantity: w.Quantity / max(1, len(w.Plots))}
		if i < len(b.wallSheets) {
			row.sheet = b.wallSheets[i]
		}
		for _, n := range w.Plots {
			row.plot = &plots[n]
			of[n] = append(of[n], row)
		}
	}
	var out []plotRow
	for n := range plots {
		out = append(out, of[n]...)
		for _, l := range b.res.Left {
			if l.Plot == plots[n].HouseType {
				out = append(out, plotRow{plot: &plots[n], wall: l.Wall, quantity: 1, left: true})
			}
		}
	}
	return out
}

func (b *book) plotColumns() []column[plotRow] {
	return []column[plotRow]{
		{"Plot", b.nameWidths().plot, func(r plotRow, _ int) cell { return text(r.plot.Name) }},
		{"Wall", b.nameWidths().wall, func(r plotRow, _ int) cell { return long(r.wall) }},
		{"Sheet", 32, func(r plotRow, _ int) cell {
			switch {
			case r.left:
				return text("left out: see Flagged issues")
			case r.sheet == "":
				return text("none: see the tables")
			}
			return cell{v: r.sheet, l: link}
		}},
		{"Handed", 9, func(r plotRow, _ int) cell { return text(yesOrNo(r.plot.Handed)) }},
		{"Drop", 12, func(r plotRow, _ int) cell { return text(r.plot.Drop) }},
		{"Colour", 14, func(r plotRow, _ int) cell { return text(r.colour) }},
		{"House type", b.nameWidths().plot, func(r plotRow, _ int) cell { return long(r.plot.HouseType) }},
		{"Marks", 9, func(r plotRow, _ int) cell { return text(r.marks) }},
		{"Quantity", 10, func(r plotRow, _ int) cell { return count(r.quantity) }},
		{"Address", 30, func(r plotRow, _ int) cell { return long(r.plot.Address) }},
	}
}

func yesOrNo(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

// plotLinks is the most rows that are linked: the library looks through all links
// for each.
const plotLinks = 5000

// plotsNamed is the most plots that a page names.
const plotsNamed = 60

// plotsOf names the plots in which a wall is built the one way or the other;
// blank where the job has no plots.
func plotsOf(job *engine.Job, w *engine.WallResult, handed bool) string {
	var names []string
	for _, n := range w.Plots {
		if p := job.Plots[n]; p.Handed == handed {
			names = append(names, p.Name)
		}
	}
	switch n := len(names); {
	case n == 0:
		return ""
	case n == 1:
		return "plot " + names[0]
	case n > plotsNamed:
		return fmt.Sprintf("%d plots: see the sheet Plot sheets", n)
	}
	return "plots " + strings.Join(names, ", ")
}

// apart tells the walls of one plot and name apart, by what their sheets differ
// in: the colour, the drop or both; blank for a wall that stands alone.
func apart(walls []engine.WallResult) []string {
	type name struct{ plot, wall string }
	type differs struct{ colour, drop bool }
	first, by := map[name]*engine.WallResult{}, map[name]differs{}
	for i := range walls {
		w := &walls[i]
		n := name{w.Plot, w.Name}
		if f := first[n]; f == nil {
			first[n] = w
		} else {
			by[n] = differs{by[n].colour || f.Colour != w.Colour, by[n].drop || f.Drop != w.Drop}
		}
	}
	out := make([]string, len(walls))
	for i := range walls {
		var words []string
		d := by[name{walls[i].Plot, walls[i].Name}]
		if d.colour {
			words = append(words, walls[i].Colour)
		}
		if d.drop {
			words = append(words, dropName(walls[i].Drop))
		}
		out[i] = strings.TrimSpace(strings.Join(words, " "))
	}
	return out
}
