package engine

import (
	"regexp"
	"testing"

	"lapwright/engine/measure"
)

// Readers of the storey rod look for three words at the beginning of a note,
// and nothing else stands there. The walls are the example's, which have
// gables, sills and heads that are met and missed, and a row of random ones.
func TestNotesBeginWithTheirWords(t *testing.T) {
	words := regexp.MustCompile(`^(top ripped|sill met|head met)( in part)?(; (top ripped|sill met|head met)( in part)?)*$`)
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
			if c.Note != "" && !words.MatchString(c.Note) {
				t.Errorf("wall %s, course %d: note %q is none of the words", w.Name, c.Number, c.Note)
			}
			seen[c.Note]++
		}
	}
	for _, want := range []string{"top ripped", "sill met"} {
		if seen[want] == 0 {
			t.Errorf("no course of these walls is noted %q: the test shows nothing", want)
		}
	}
}
