package report

import (
	"fmt"
	"strings"

	"lapwright/convert/drawing"
	"lapwright/engine"
	"lapwright/engine/measure"
)

// A wall of a dwelling that is built mirrored is sawn and fixed mirrored, so its
// sheet says everything as it is built. The tables of the workbook list each wall
// once, as surveyed.

// way is one way that a wall is built.
type way struct {
	*engine.WallResult        // as built, and how often so
	other              int    // how many are built the other way
	plots              string // in which it is built so
	elevation          *sketch
}

// waysOf returns how a wall is built: as surveyed, handed, or both.
func waysOf(job *engine.Job, w *engine.WallResult) []way {
	plain, handed := plotsOf(job, w, false), plotsOf(job, w, true)
	switch {
	case w.Mirrored == 0:
		return []way{newWay(w, 0, plain)}
	case allHanded(w):
		return []way{newWay(w.Handed(), 0, handed)}
	}
	asSurveyed := *w
	asSurveyed.Quantity, asSurveyed.Mirrored = w.Quantity-w.Mirrored, 0
	return []way{newWay(&asSurveyed, w.Mirrored, plain), newWay(w.Handed(), asSurveyed.Quantity, handed)}
}

func newWay(w *engine.WallResult, other int, plots string) way {
	out := way{WallResult: w, other: other, plots: plots}
	out.elevation = newSketch("wall "+wallName(w), func(d *drawing.Drawer) ([]drawing.Picture, error) {
		f, _ := out.form()
		pic, err := d.Elevation(w, f.picture)
		return []drawing.Picture{pic}, err
	})
	return out
}

// drawnWalls returns the walls that have a sheet of their own, as many as the
// rules allow.
func drawnWalls(res *engine.Result) [][]way {
	var out [][]way
	for i := range res.Walls[:min(len(res.Walls), max(0, res.Job.Rules.WallSheetsMost))] {
		out = append(out, waysOf(res.Job, res.Whole(i)))
	}
	return out
}

// allHanded reports whether a wall is built mirrored wherever it is built.
func allHanded(w *engine.WallResult) bool { return w.Mirrored > 0 && w.Mirrored >= w.Quantity }

// handedWalls says how many walls are built otherwise than the tables list
// them.
func handedWalls(res *engine.Result) string {
	n := 0
	for i := range res.Walls {
		n += res.Walls[i].Mirrored
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("Built HANDED: %d. Tables list every wall as surveyed; sheets of walls and the Saw sheet show those as built.", n)
}

// sawn returns a piece as the saw sheet draws it, and in words how it is sawn:
// of the hand that is built, and how many of all are of the other one where
// both are.
func sawn(w *engine.WallResult, p *engine.Piece, full measure.Length) (engine.Piece, string) {
	other := p.Handed()
	words, otherWords := strings.Join(shapeWords(p, full), ", "), strings.Join(shapeWords(&other, full), ", ")
	switch {
	case w.Mirrored == 0 || words == otherWords:
		return *p, words
	case allHanded(w):
		return other, otherWords + " (handed, as built)"
	}
	return *p, fmt.Sprintf("%s (%d of all %d HANDED: mirror left to right)", words, w.Mirrored, w.Quantity)
}
