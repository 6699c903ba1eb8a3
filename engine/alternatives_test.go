package engine

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// Each alternative is what a takeoff with that one thing changed gives: it is
// compared with one made outside, by hand.
func TestAlternativesAreTakeoffs(t *testing.T) {
	job := func() *Job {
		j := testJob(Wall{Name: "w", Width: mm(7300), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Openings: []Opening{{Name: "o", Kind: "window", Left: mm(1700), Sill: mm(900), Width: mm(1000), Height: mm(1200)}}})
		longer := j.Products[0]
		longer.Code, longer.Length, longer.Price = "B36", mm(3600), 12
		j.Products = append(j.Products, longer)
		return j
	}
	planned := job()
	planned.Effort = EffortNormal
	res := mustTakeoff(t, planned)
	if len(res.Options) == 0 || !res.Options[0].Current || res.Options[0].Boards != res.Boards().Boards {
		t.Fatalf("the first line is not the plan itself: %+v", res.Options)
	}
	for _, c := range []struct {
		change string
		do     func(*Job)
	}{
		{"batten centres of 450 mm", func(j *Job) { j.Rules.BattenCentres = mm(450) }},
		{"boards of 3000 mm only", func(j *Job) { j.Board = "B30" }},
		{"boards of 3600 mm only", func(j *Job) { j.Board = "B36" }},
		{"the least lap everywhere, 30 mm", func(j *Job) { j.Walls[0].PinGauge = measure.Some(mm(150)) }},
	} {
		found := false
		for _, a := range res.Options {
			if a.Change == c.change {
				found = true
				other := job()
				if strings.Contains(a.Note, "with its effort") {
					other.Effort = EffortNormal
				}
				c.do(other)
				want := mustTakeoff(t, other).alternative(c.change)
				a.Note = ""
				if a != want {
					t.Errorf("%s: got %+v, want %+v", c.change, a, want)
				}
			}
		}
		if !found {
			t.Errorf("%s is not among the alternatives", c.change)
		}
	}
	if note := res.Options[0].Note; !strings.Contains(note, "save") {
		t.Errorf("the plan's line does not say whether a change would save: %q", note)
	}
}

// A change that is said to save costs less than the plan itself, by what is
// said, when it is taken off by itself with the same effort.
func TestSavingIsTrue(t *testing.T) {
	said := 0
	for i := range 12 {
		job := func() *Job {
			j := testJob(Wall{Name: "w", Width: mm(5000 + 370*int64(i)), Height: mm(2600 + 90*int64(i)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
			j.Effort = EffortNormal
			return j
		}
		res := mustTakeoff(t, job())
		cost := Amount(res.Order)
		var save float64
		if _, err := fmt.Sscanf(res.Options[0].Note, "this change would save %f", &save); err != nil {
			continue
		}
		if !strings.HasSuffix(res.Options[0].Note, "the least lap everywhere, 30 mm") {
			continue // the one change that is made here by hand
		}
		said++
		other := job()
		other.Walls[0].PinGauge = measure.Some(mm(150))
		if got := cost - Amount(mustTakeoff(t, other).Order); save <= 0 || math.Abs(got-save) > 0.005 {
			t.Errorf("wall %d: said to save %v, and saves %v", i, save, got)
		}
	}
	if said == 0 {
		t.Error("the least lap was never said to save: nothing was compared")
	}
}

// Quick effort is for thousands of walls: nothing is planned twice.
func TestQuickEffortComparesNothing(t *testing.T) {
	res := mustTakeoff(t, testJob(Wall{Name: "w", Width: mm(3000), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground}))
	if len(res.Options) != 1 || !strings.Contains(res.Options[0].Note, "normal effort") {
		t.Errorf("got %+v", res.Options)
	}
}

// What an alternative would give is said in words that no text file's reader
// takes for a formula.
func TestAlternativesInWords(t *testing.T) {
	base := Alternative{Boards: 180, Cost: 6290.95}
	for _, c := range []struct {
		a    Alternative
		want string
	}{
		{Alternative{Boards: 217, Cost: 6395.2}, "37 boards more, 104.25 dearer"},
		{Alternative{Boards: 179, Cost: 6281.05}, "1 board fewer, 9.90 cheaper"},
		{Alternative{Boards: 180, Cost: 6290.950001}, "as many boards, at the same cost"},
	} {
		if got := c.a.beside(base); got != c.want {
			t.Errorf("got %q", got)
		}
	}
}
