package engine

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// An advice on the survey names heights as they stand there, and not those of
// the boards, which keep a gap: only so can they be found and changed.
func TestAdviceNamesHeightsOfTheSurvey(t *testing.T) {
	named := regexp.MustCompile(`[Tt]he (sill|head|top|eaves)s? at ([0-9.]+) mm set`)
	seen := map[string]int{}
	for i := range int64(40) {
		sill, height, top := 700+37*i, 1000+23*i, 2900+31*i
		job := testJob(Wall{Name: "w", Width: mm(4000), Height: mm(top), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Openings: []Opening{{Name: "o", Kind: "window", Left: mm(900), Sill: mm(sill), Width: mm(1200), Height: mm(min(height, top-sill-300))}}})
		o := job.Walls[0].Openings[0]
		want := map[string]string{"sill": o.Sill.String(), "head": (o.Sill + o.Height).String(), "top": mm(top).String()}
		res := mustTakeoff(t, job)
		for _, m := range named.FindAllStringSubmatch(strings.Join(res.Walls[0].Advice, "\n"), -1) {
			seen[m[1]]++
			if m[2] != want[m[1]] {
				t.Errorf("wall %d: the %s is said to be at %s, and is surveyed at %s", i, m[1], m[2], want[m[1]])
			}
		}
	}
	for i := range int64(40) { // eaves: boards end on a corner's trim, a little off the edge that the survey gives a height for
		low, sill := 2900+13*i, 700+37*i
		job := testJob(Wall{Name: "w", Width: mm(7937), Height: mm(low + 454), HeightRight: measure.Some(mm(low)), Left: Abutment, Right: ExternalCorner, Top: Verge, Bottom: Ground,
			Openings: []Opening{{Name: "o", Kind: "window", Left: mm(900), Sill: mm(sill), Width: mm(1200), Height: mm(1000)}, {Name: "p", Kind: "window", Left: mm(4000), Sill: mm(sill + 61), Width: mm(1200), Height: mm(1000)}}})
		for _, m := range named.FindAllStringSubmatch(strings.Join(mustTakeoff(t, job).Walls[0].Advice, "\n"), -1) {
			if m[1] == "eaves" {
				seen["eaves"]++
				if m[2] != mm(low).String() {
					t.Errorf("sloped wall %d: the eaves are said to be at %s, and are surveyed at %d", i, m[2], low)
				}
			}
		}
	}
	if seen["eaves"] < 3 {
		t.Errorf("hardly any advice was given on eaves: %v", seen)
	}
	if !slices.ContainsFunc([]string{"sill", "head"}, func(s string) bool { return seen[s] > 3 }) {
		t.Errorf("hardly any advice was given: %v", seen)
	}
}
