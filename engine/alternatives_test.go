package engine

import (
	"fmt"
	"math"
	"slices"
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
// said, and leaves no more to check, when it is taken off by itself with the same
// effort.
func TestSavingIsTrue(t *testing.T) {
	said := map[string]int{}
	checks := func(r *Result) (n int) {
		for _, f := range r.Flags {
			if f.Severity >= Check {
				n++
			}
		}
		return n
	}
	for i := range 12 {
		job := func() *Job {
			j := testJob(Wall{Name: "w", Width: mm(5000 + 370*int64(i)), Height: mm(2600 + 90*int64(i)), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
			j.Effort = EffortNormal
			short := j.Products[slices.IndexFunc(j.Products, func(p Product) bool { return p.Role == RoleBoard })]
			j.Board = short.Code
			short.Code, short.Length, short.Price = "short", short.Length/6*5, short.Price/6*5
			j.Products = append(slices.Clone(j.Products), short)
			return j
		}
		res := mustTakeoff(t, job())
		var save float64
		if _, err := fmt.Sscanf(res.Options[0].Note, "this change would save %f", &save); err != nil {
			continue
		}
		u, other := newTakeoff(job()), job()
		u.declare()
		u.chooseBoard()
		for _, c := range u.changes() {
			if strings.HasSuffix(res.Options[0].Note, ": "+c.name) {
				said[c.name]++
				c.do(other)
			}
		}
		then := mustTakeoff(t, other)
		if got := Amount(res.Order) - Amount(then.Order); save <= 0 || math.Abs(got-save) > 0.005 {
			t.Errorf("wall %d: said to save %v, and saves %v", i, save, got)
		}
		if was, is := checks(res), checks(then); is > was {
			t.Errorf("wall %d: %s leaves %d to check in place of %d", i, res.Options[0].Note, is, was)
		}
	}
	if len(said) < 2 {
		t.Errorf("said to save: %v", said)
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
		{Alternative{Boards: 179, Cost: 6281.05, checks: 2}, "1 board fewer, 9.90 cheaper, with 2 checks more"},
	} {
		if got := c.a.beside(base); got != c.want {
			t.Errorf("got %q", got)
		}
	}
}

// Where a board has no price there is no cost to speak of, and the least length
// is bought: the layout takes lengths for prices then.
func TestBoardsWithoutPrice(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(9000), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
	job.Products = slices.Clone(job.Products)
	long := &job.Products[slices.IndexFunc(job.Products, func(p Product) bool { return p.Role == RoleBoard })]
	short := *long
	short.Code, short.Length, short.Price = "short", short.Length/2, 0
	job.Products = append(job.Products, short)
	if b := mustTakeoff(t, job).Boards(); b.Cost != 0 || b.HandCost != 0 || b.CostBound != 0 || b.Boards == 0 {
		t.Errorf("boards without a price come to %+v", b)
	}
}
