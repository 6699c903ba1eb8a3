package engine

import (
	"regexp"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// Readers of the storey rod look for words at the beginning of each part of a note,
// and for sills that are met by those that begin so: one that falls in a lap, where
// neither edge of a board stands, is not called met. Behind a sill or head stand the openings of the wall, each at the height
// that is met. The walls are the example's, which have gables, sills and heads that
// are met and missed, and a row of random ones.
func TestNotesBeginWithTheirWords(t *testing.T) {
	words := regexp.MustCompile(`^(top ripped|sill met by top|sill met by bottom|sill missed, in the lap|head met)(?:: (.+))?$`)
	walls := exampleWalls(t)
	g := newGenerator(5)
	for _, name := range []string{"A", "B", "C", "D", "E", "F"} {
		walls = append(walls, g.wall(name))
	}
	for _, h := range []int64{380, 420, 460} { // too low for two full boards within the laps
		walls = append(walls, Wall{Name: measure.MM(h).String(), Width: measure.MM(3000), Height: measure.MM(h), Quantity: 1})
	}
	seen := map[string]int{}
	for _, w := range mustTakeoff(t, testJob(walls...)).Walls {
		for _, c := range w.Courses {
			if c.Note == "" {
				continue
			}
			for _, part := range strings.Split(c.Note, "; ") {
				m := words.FindStringSubmatch(part)
				if m == nil || (m[1] == "top ripped") != (m[2] == "") {
					t.Errorf("wall %s, course %d: note %q is none of the words", w.Name, c.Number, c.Note)
					continue
				}
				seen[m[1]]++
				for _, name := range strings.Split(m[2], ", ") {
					if name != "" && !metBy(&w, &c, m[1], name) {
						t.Errorf("wall %s, course %d from %v to %v: %q is not so of opening %s", w.Name, c.Number, c.Bottom, c.Top, m[1], name)
					}
				}
			}
		}
	}
	for _, want := range []string{"top ripped", "sill met by top", "sill met by bottom", "sill missed, in the lap", "head met"} {
		if seen[want] == 0 {
			t.Errorf("no course of these walls is noted %q: the test shows nothing", want)
		}
	}
}

// metBy reports whether an edge of a course stands at the gap of 10 mm below an
// opening's sill or above its head.
func metBy(w *WallResult, c *Course, words, name string) bool {
	for _, v := range w.Voids {
		o := v.Opening
		if o.Name != name {
			continue
		}
		switch gap := mm(10); words {
		case "sill met by top":
			return c.Top == o.Sill-gap
		case "sill met by bottom":
			return c.Bottom == o.Sill-gap
		case "head met":
			return c.Bottom == o.Sill+o.Height+gap
		case "sill missed, in the lap":
			return c.Bottom < o.Sill && c.Top > o.Sill-gap
		}
	}
	return false
}
