package survey

import (
	"fmt"
	"strconv"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Sizes by which a survey is questioned: common practice, no published source.
const (
	nearlyLevel = 15 * measure.Millimetre  // sills and heads nearer than this were surely meant to be level
	doorStep    = 150 * measure.Millimetre // a door's threshold is no higher above base or floor
	floorNear   = 300 * measure.Millimetre
	narrowPier  = 50 * measure.Millimetre
)

// senseAll asks what a good estimator would ask of a survey. Its questions
// keep nothing out of the takeoff.
func (r *reader) senseAll(groups []*group) {
	for _, g := range groups {
		if g.wall.rec.stopped {
			continue
		}
		r.senseHeights(g.wall)
		for i, o := range g.openings {
			if o.rec.stopped {
				continue
			}
			r.senseDoor(g.wall.wall, o)
			r.senseEdges(g.wall.wall, o)
			r.senseLevels(g.openings[:i], o)
		}
	}
	r.senseDigits(groups)
	r.senseCorners(groups)
}

// ask flags a question at a field of a row.
func (r *reader) ask(l *lineItem, field, code, what, do string) {
	r.at(&l.rec, field, finding{check, code, what, do})
}

// senseHeights notes an uneven soffit: it is no slope.
func (r *reader) senseHeights(l *lineItem) {
	right := l.wall.HeightRight
	off := abs(right.Value - l.wall.Height)
	if right.Set && off > 0 && off < r.job.Rules.LevelTolerance {
		r.at(&l.rec, "Height right mm", finding{note, "nearly-level",
			fmt.Sprintf("The left and right heights differ by %v mm, less than the level tolerance; the top is taken as level at the lower one", off),
			"Measure both again, and once in the middle"})
	}
}

func abs(l measure.Length) measure.Length { return max(l, -l) }

// senseDoor questions a door that starts above the base and no floor is near.
func (r *reader) senseDoor(w *engine.Wall, l *lineItem) {
	o := l.open
	base := r.baseOf(w).Most(measure.Span{Lo: o.Left, Hi: o.Left + o.Width})
	if o.Kind != "door" || o.Sill <= base+doorStep {
		return
	}
	for _, floor := range r.job.Storeys {
		if abs(o.Sill-floor) <= floorNear {
			return
		}
	}
	r.ask(l, "Sill mm", "door-sill", fmt.Sprintf("A door whose sill is %v mm above the first board", o.Sill-base),
		"Check the sill, or whether it is a window; for a door on an upper floor give Storey heights on the Job sheet")
}

// senseEdges questions an opening hard by the wall's edge.
func (r *reader) senseEdges(w *engine.Wall, l *lineItem) {
	o := l.open
	right := w.Width - o.Left - o.Width
	if o.Left > 0 && o.Left < narrowPier || right > 0 && right < narrowPier {
		r.ask(l, "From left mm", "narrow-pier", fmt.Sprintf("Only %v mm of wall are left beside the opening", min(o.Left, right)),
			"Check From left and Width; so little can hardly be clad")
	}
}

// senseLevels questions a sill or head that is nearly level with one before it.
func (r *reader) senseLevels(earlier []*lineItem, l *lineItem) {
	for _, line := range []struct {
		field, word string
		of          func(*engine.Opening) measure.Length
	}{
		{"Sill mm", "sill", func(o *engine.Opening) measure.Length { return o.Sill }},
		{"Height mm", "head", func(o *engine.Opening) measure.Length { return o.Sill + o.Height }},
	} {
		var near *lineItem
		for _, e := range earlier {
			off := abs(line.of(e.open) - line.of(l.open))
			if off == 0 {
				near = nil
				break
			}
			if off <= nearlyLevel && !e.rec.stopped {
				near = e
			}
		}
		if near != nil {
			r.ask(l, line.field, "nearly-level", fmt.Sprintf("The %s is %v mm off that of the opening in %s", line.word, abs(line.of(near.open)-line.of(l.open)), near.rec.place(line.field)),
				"If they are meant to be level, give both the same height")
		}
	}
}

// senseDigits questions a size that is another one, used more often, with two
// neighbouring digits swapped.
func (r *reader) senseDigits(groups []*group) {
	type size struct{ w, h measure.Length }
	counts := map[size]int{}
	for _, g := range groups {
		for _, o := range g.openings {
			if !o.rec.stopped {
				counts[size{o.open.Width, o.open.Height}]++
			}
		}
	}
	for _, g := range groups {
		for _, o := range g.openings {
			w, h := o.open.Width, o.open.Height
			if o.rec.stopped || counts[size{w, h}] > 1 {
				continue
			}
			for _, other := range swaps(w) {
				if counts[size{other, h}] > 1 {
					r.ask(o, "Width mm", "digits-swapped", fmt.Sprintf("%v mm once, where other openings of this height are %v mm wide", w, other), "Check whether two digits were swapped")
				}
			}
			for _, other := range swaps(h) {
				if counts[size{w, other}] > 1 {
					r.ask(o, "Height mm", "digits-swapped", fmt.Sprintf("%v mm once, where other openings of this width are %v mm high", h, other), "Check whether two digits were swapped")
				}
			}
		}
	}
}

// swaps returns what a whole number of millimetres is with two neighbouring
// digits swapped.
func swaps(l measure.Length) []measure.Length {
	digits := []byte(l.String())
	var out []measure.Length
	for i := 0; i+1 < len(digits); i++ {
		if digits[i] == digits[i+1] || i == 0 && digits[1] == '0' {
			continue
		}
		digits[i], digits[i+1] = digits[i+1], digits[i]
		if n, err := strconv.ParseInt(string(digits), 10, 64); err == nil {
			out = append(out, measure.MM(n))
		}
		digits[i], digits[i+1] = digits[i+1], digits[i]
	}
	return out
}
