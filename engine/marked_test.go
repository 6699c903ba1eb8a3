package engine

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// A wall of 3,100 whose studs leave every course a piece of 290 is built in five
// drops: it is one flag, which gives the marks of three, the others counted. In two
// colours of one drop, and of two, it says by what they differ.
func TestFlagsNameTheMarksOfEveryDrop(t *testing.T) {
	for _, c := range []struct {
		name  string
		plots []Plot
		says  []string // behind the first group's marks, which begin with W1-
	}{
		{"five drops", []Plot{{Drop: "1"}, {Drop: "2"}, {Drop: "3"}, {Drop: "4"}, {Drop: "5"}}, []string{"in drop 2: W2-", "in drop 3: W3-", "and in 2 more drops or colours"}},
		{"alike", []Plot{{Drop: "1"}, {Drop: "1"}}, nil},
		{"two colours", []Plot{{Colour: "chalk"}, {Colour: "slate"}}, []string{"in slate: W2-"}},
		{"one colour in each drop", []Plot{{Colour: "chalk", Drop: "1"}, {Colour: "slate", Drop: "2"}}, []string{"in drop 2, slate: W2-"}},
	} {
		w := Wall{Plot: "A", Name: "w", Width: mm(3100), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Studs: []measure.Length{mm(300), mm(2800)}}
		job := testJob(w)
		for i, p := range c.plots {
			p.Name, p.HouseType = itoa(i+1), "A"
			job.Plots = append(job.Plots, p)
		}
		flags := flagged(mustTakeoff(t, job), "piece-short")
		if len(flags) != 1 {
			t.Fatalf("%s: %d flags, want 1: %+v", c.name, len(flags), flags)
		}
		said := strings.Split(flags[0].What, "; ")
		if !strings.Contains(said[0], ": W1-") || !slices.EqualFunc(said[1:], c.says, strings.HasPrefix) {
			t.Errorf("%s: got %q, want the marks of W1 and %q", c.name, flags[0].What, c.says)
		}
	}
}

// A jamb's trim without a batten is named by its opening, alike in both drops: it is
// said once.
func TestFlagsSayWhatIsAlikeOnce(t *testing.T) {
	w := longWall()
	w.Plot, w.Left = "A", OpenEnd
	w.Openings = []Opening{{Name: "w1", Kind: "window", Left: mm(30), Sill: mm(900), Width: mm(1200), Height: mm(1050)}}
	job := builderJob(w)
	job.Plots = []Plot{{Name: "1", HouseType: "A", Drop: "1"}, {Name: "2", HouseType: "A", Drop: "2"}}
	f := flagged(takeOff(t, job), "trim-unbacked")
	if len(f) != 1 || !strings.HasSuffix(f[0].What, "trim: w1 left jamb") {
		t.Errorf("got %+v", f)
	}
}
