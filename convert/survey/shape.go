package survey

import (
	"fmt"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// topOf returns the line above a wall, as surveyed.
func topOf(w *engine.Wall) measure.Profile {
	if len(w.TopProfile) > 0 {
		return w.TopProfile
	}
	right := w.HeightRight.Or(w.Height)
	if !w.ApexHeight.Set {
		return measure.Profile{{X: 0, Z: w.Height}, {X: w.Width, Z: right}}
	}
	at := w.ApexLeft.Or(w.Width / 2)
	return measure.Profile{{X: 0, Z: w.Height}, {X: at, Z: w.ApexHeight.Value}, {X: w.Width, Z: right}}
}

// baseOf returns the line the first boards start on, as surveyed; of a profile
// the ground itself.
func (r *reader) baseOf(w *engine.Wall) measure.Profile {
	if len(w.BaseProfile) > 0 {
		return w.BaseProfile
	}
	base := w.Base.Or(r.job.Rules.GroundClearance)
	if !w.StepLeft.Set {
		return measure.Level(measure.Span{Lo: 0, Hi: w.Width}, base)
	}
	at, step := w.StepLeft.Value, w.StepBase.Value
	return measure.Profile{{X: 0, Z: base}, {X: at, Z: base}, {X: at, Z: step}, {X: w.Width, Z: step}}
}

// mostOpenings is how many openings of a wall are compared with each other.
const mostOpenings = 1000

// checkGroup compares a wall with the board and with its openings, and the
// openings with each other. Rows that a fault keeps out are not compared.
func (r *reader) checkGroup(g *group) {
	r.sameNames(g)
	if n := len(g.openings); n > mostOpenings {
		r.at(&g.wall.rec, "Wall", finding{stop, "constraint-error", itoa(n) + " openings name this wall, more than are compared", "Check the names of walls and plots in Openings"})
		return
	}
	if g.wall.rec.stopped && len(g.wall.rec.why) > 0 && !g.wall.known {
		return
	}
	w := g.wall.wall
	if !g.wall.rec.stopped {
		r.checkLow(g.wall)
	}
	for i, o := range g.openings {
		if o.rec.stopped {
			continue
		}
		r.checkInside(w, o)
		for _, earlier := range g.openings[:i] {
			if !earlier.rec.stopped {
				r.checkOverlap(earlier, o)
			}
		}
	}
}

// sameNames flags the later of two openings of one name; both are taken.
func (r *reader) sameNames(g *group) {
	first := map[string]*lineItem{}
	for _, o := range g.openings {
		k := key(o.open.Name)
		if k == "" {
			continue
		}
		if f := first[k]; f != nil {
			r.at(&o.rec, "Opening", finding{check, "primary-key", "The opening " + o.open.Name + " stands in " + f.rec.place("Opening") + " already; it is taken as another one of that name", "Name each opening of a wall once"})
			continue
		}
		first[k] = o
	}
}

// checkLow stops a wall that is lower than one board.
func (r *reader) checkLow(l *lineItem) {
	board := r.board()
	if board == nil || board.Width <= 0 {
		return
	}
	span := measure.Span{Lo: 0, Hi: l.wall.Width}
	room := topOf(l.wall).Most(span) - r.baseOf(l.wall).Least(span)
	if room < board.Width {
		r.at(&l.rec, "Height mm", finding{stop, "wall-low", fmt.Sprintf("From the base to the top there are %v mm, less than one board of %v mm", room, board.Width), "Check Height and Base, both from the datum"})
	}
}

// checkInside stops a wall with an opening that reaches out of it.
func (r *reader) checkInside(w *engine.Wall, l *lineItem) {
	o := l.open
	right := o.Left + o.Width
	if right > w.Width {
		r.at(&l.rec, "From left mm", finding{stop, "opening-outside", fmt.Sprintf("The opening ends at %v mm, beyond the wall's width of %v mm", right, w.Width), "Check From left and Width, and the wall's Width"})
		return
	}
	span := measure.Span{Lo: o.Left, Hi: right}
	if top := topOf(w).Least(span); o.Sill+o.Height > top {
		r.at(&l.rec, "Height mm", finding{stop, "opening-outside", fmt.Sprintf("The opening's head is at %v mm, above the top of the wall there, %v mm", o.Sill+o.Height, top), "Check Sill and Height, and the wall's heights"})
		return
	}
	if base := r.baseOf(w).Least(span); o.Sill+o.Height <= base {
		r.at(&l.rec, "Sill mm", finding{check, "opening-outside", fmt.Sprintf("The opening ends at %v mm, below the first board at %v mm", o.Sill+o.Height, base), "Check that Sill is measured from the datum"})
	}
}

// checkOverlap stops a wall in which two openings overlap; the later is
// flagged. Openings that touch do not overlap.
func (r *reader) checkOverlap(a, b *lineItem) {
	p, q := a.open, b.open
	if p.Left < q.Left+q.Width && q.Left < p.Left+p.Width && p.Sill < q.Sill+q.Height && q.Sill < p.Sill+p.Height {
		r.at(&b.rec, "From left mm", finding{stop, "opening-overlap", "The opening overlaps the one in " + a.rec.place("From left mm"), "Check the places and sizes of both"})
	}
}
