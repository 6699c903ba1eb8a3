package report

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
)

// plotted is the fixture's house wall in three plots of one type: two of the first
// drop, one of them handed, and one of the second.
func plotted(t *testing.T) Input {
	t.Helper()
	in := fullInput(t)
	in.Result.Job.Plots = []engine.Plot{
		{Name: "P7", HouseType: "1", Drop: "D1", Address: "7 Invented Row"},
		{Name: "P8", HouseType: "1", Drop: "D2"},
		{Name: "P9", HouseType: "1", Drop: "D1", Handed: true},
	}
	first, second := houseWall(), houseWall()
	first.Drop, first.Plots = "D1", []int{0, 2}
	second.Drop, second.Plots, second.Code, second.Quantity, second.Mirrored = "D2", []int{1}, "B", 1, 0
	in.Result.Walls = []engine.WallResult{first, second}
	return in
}

// Whoever builds P9 finds the sheet of its wall, and on it the handed pages, which
// name it; P7, of the other hand, stands on the pages as surveyed, and P8, of the
// other drop, on a sheet of its own. A wall that is left out is not lost.
func TestPlotSheets(t *testing.T) {
	in := plotted(t)
	want := []string{
		"P7|=1+1|1 =1+1 drop D1|no|D1|grey|1|A-|1|7 Invented Row",
		"P7|Rear|left out: see Flagged issues|no|D1||1||1|7 Invented Row",
		"P8|=1+1|1 =1+1 drop D2|no|D2|grey|1|B-|1",
		"P8|Rear|left out: see Flagged issues|no|D2||1||1",
		"P9|=1+1|1 =1+1 drop D1|yes|D1|grey|1|A-|1",
		"P9|Rear|left out: see Flagged issues|yes|D1||1||1",
	}
	f := opened(t, written(t, in))
	var got []string
	for _, r := range rowsOfSheet(t, f, "Plot sheets")[1:] {
		got = append(got, strings.Join(r, "|"))
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if has, to, err := f.GetCellHyperLink("Plot sheets", "C4"); err != nil || !has || to != "'1 =1+1 drop D2'!A1" {
		t.Errorf("the second plot's link is %v %q, %v", has, to, err)
	}
	first := allText(t, f, "1 =1+1 drop D1")
	plain, handed, _ := strings.Cut(first, "for plot P9;")
	if !strings.Contains(plain, "Wall 1 =1+1: for plot P7;") || !strings.Contains(handed, "HANDED: all on these pages") || strings.Contains(first, "P8") {
		t.Errorf("the first drop's sheet says\n%s", first)
	}
	if second := allText(t, f, "1 =1+1 drop D2"); !strings.Contains(second, "for plot P8;") {
		t.Errorf("the second drop's sheet says\n%s", second)
	}
	in.Result.Job.Rules.WallSheetsMost = 1
	if got := rowsOfSheet(t, opened(t, written(t, in)), "Plot sheets")[3][2]; got != "none: see the tables" {
		t.Errorf("a wall without a sheet of its own says %q", got)
	}
	in.Result.Job.Plots = in.Result.Job.Plots[:1]
	in.Result.Walls[0].Plots, in.Result.Walls = []int{0}, in.Result.Walls[:1]
	if slices.Contains(opened(t, written(t, in)).GetSheetList(), "Plot sheets") {
		t.Error("there is a table of sheets for one plot, whose all are")
	}
}

// A page names so many plots that a reader still finds one; of more it says where
// they stand, as half a list misleads.
func TestPlotsOf(t *testing.T) {
	job := &engine.Job{}
	w := &engine.WallResult{}
	for i := range plotsNamed + 1 {
		job.Plots, w.Plots = append(job.Plots, engine.Plot{Name: string(rune('A' + i))}), append(w.Plots, i)
	}
	if got, want := plotsOf(job, w, false), "61 plots: see the sheet Plot sheets"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	w.Plots = w.Plots[1:]
	if got := plotsOf(job, w, false); !strings.HasPrefix(got, "plots B, C, ") || strings.Count(got, ",") != 59 {
		t.Errorf("got %q", got)
	}
	if got := plotsOf(job, w, true); got != "" {
		t.Errorf("no plot is handed, got %q", got)
	}
}

// TestApart: sheets of one name say by what they differ; one that stands alone
// says nothing.
func TestApart(t *testing.T) {
	wall := func(name, colour, drop string) engine.WallResult {
		return engine.WallResult{Plot: "A", Name: name, Colour: colour, Drop: drop}
	}
	got := apart([]engine.WallResult{wall("x", "chalk", "1"), wall("y", "chalk", "1"), wall("x", "slate", "1"),
		wall("z", "chalk", "Drop 2"), wall("z", "chalk", "3"), wall("v", "chalk", ""), wall("v", "slate", "4")})
	want := []string{"chalk", "", "slate", "Drop 2", "drop 3", "chalk", "slate drop 4"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
