package courses

import (
	"cmp"
	"math"

	"lapwright/engine/measure"
)

// Cost is what a plan makes one cut and see, compared field by field in this
// order. Costs add; less is better.
type Cost struct {
	Pins     int            // pinned marks missed
	OverStep measure.Length // gauge steps beyond the limit, summed excess
	Fragile  int            // fragile strips and ripped tops, by count
	Work     measure.Length // notches and jambs as a length of sawing
	Step     measure.Length // gauge steps between neighbouring stretches, summed
	Courses  int
}

// unbounded costs more than any plan.
var unbounded = Cost{Pins: math.MaxInt32}

// What a miss costs beside its length of sawing, in sawing of the same worth.
// Common practice: a notch into a board's face is set out on the wall, drilled
// in its corners, carried as a weak piece and packed behind, and the lines miss
// the opening for good, so some openings may rather change their way of being
// met. Where the opening lets a course start lower at its sides, the jamb trims
// run down one lap and the fixings under the sill stay in sight.
const (
	missWork   = 5000 * measure.Millimetre
	partlyWork = 1500 * measure.Millimetre
	jambWork   = 300 * measure.Millimetre
)

// Compare returns a negative number if c is better than d, 0 if they are
// equal, a positive number if c is worse.
func (c Cost) Compare(d Cost) int {
	return cmp.Or(
		cmp.Compare(c.Pins, d.Pins),
		cmp.Compare(c.OverStep, d.OverStep),
		cmp.Compare(c.Fragile, d.Fragile),
		cmp.Compare(c.Work, d.Work),
		cmp.Compare(c.Step, d.Step),
		cmp.Compare(c.Courses, d.Courses))
}

// less is Compare < 0, quicker.
func (c *Cost) less(d *Cost) bool {
	switch {
	case c.Work != d.Work || c.Fragile != d.Fragile || c.OverStep != d.OverStep || c.Pins != d.Pins:
		return c.cutsLess(d)
	case c.Step != d.Step:
		return c.Step < d.Step
	}
	return c.Courses < d.Courses
}

// cutsLess compares all but steps within the limit and courses.
func (c *Cost) cutsLess(d *Cost) bool {
	switch {
	case c.Pins != d.Pins:
		return c.Pins < d.Pins
	case c.OverStep != d.OverStep:
		return c.OverStep < d.OverStep
	case c.Fragile != d.Fragile:
		return c.Fragile < d.Fragile
	}
	return c.Work < d.Work
}

// plus returns the sum of two costs.
func (c *Cost) plus(d *Cost) Cost {
	return Cost{c.Pins + d.Pins, c.OverStep + d.OverStep, c.Fragile + d.Fragile,
		c.Work + d.Work, c.Step + d.Step, c.Courses + d.Courses}
}

// minus returns the difference of two costs.
func (c *Cost) minus(d *Cost) Cost {
	return Cost{c.Pins - d.Pins, c.OverStep - d.OverStep, c.Fragile - d.Fragile,
		c.Work - d.Work, c.Step - d.Step, c.Courses - d.Courses}
}

// charge adds what verdict v on target t, as a total, costs.
func (c *Cost) charge(t *Target, v verdict) {
	n := measure.Length(t.Count)
	if v.fragile {
		c.Fragile += t.Count
	}
	switch v.way {
	case BoardTop:
		c.Work += n * jambWork
	case Partly:
		c.Work += n*(partlyWork+2*v.notch) + t.Sawing
	case CourseLine:
		if v.notch > 0 {
			c.Work += n*2*v.notch + t.Sawing
		}
	case Missed:
		c.chargeMissed(t, v)
	}
}

func (c *Cost) chargeMissed(t *Target, v verdict) {
	n := measure.Length(t.Count)
	switch t.Kind {
	case Pin:
		c.Pins += t.Count
	case Top:
		c.Fragile += t.Count
		c.Work += t.Sawing
	case Sill, Head:
		c.Work += n*(missWork+2*v.notch) + t.Sawing
	case Base: // the wider the gap under the first board, the worse
		c.Work += n * (missWork + v.strip)
	case Eaves:
		c.Work += n * missWork
	}
}

// step adds the change of gauge from one stretch to the next.
func (c *Cost) step(a, b, most measure.Length) {
	if a == 0 || b == 0 {
		return
	}
	d := max(a-b, b-a)
	c.Step += d
	if most > 0 && d > most {
		c.OverStep += d - most
	}
}
