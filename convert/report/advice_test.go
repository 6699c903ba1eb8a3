package report

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// TestAdviceIsForTheOffice: what another limit would meet could be taken on the
// scaffold for what to do. The Summary has it, the wall's sheet says where.
func TestAdviceIsForTheOffice(t *testing.T) {
	in := fullInput(t)
	in.Result.Walls[0].Advice = []string{"Set out by itself: 3 courses.", "A least lap of 27 mm (3 mm less) would meet every base."}
	in.Result.Walls[0].Name = "North"
	in.Result.Walls[0].Wall.Name = "North"
	f := opened(t, written(t, in))
	for _, sheet := range f.GetSheetList() {
		if has := strings.Contains(allText(t, f, sheet), "A least lap of 27 mm (3 mm less) would meet every base."); has != (sheet == "Summary") {
			t.Errorf("the advice stands on the sheet %s: %v", sheet, has)
		}
	}
	said := strings.Join(panelLines(&in.Result.Walls[0], in.Result), "\n")
	if !strings.Contains(said, "is for the office: Summary, Setting out.") {
		t.Errorf("the panel does not say where it stands:\n%s", said)
	}
	if s := allText(t, f, "Summary"); !strings.Contains(s, "Setting out|1 North|") {
		t.Errorf("the Summary does not say of which wall it is:\n%s", s)
	}
}

// TestAdviceAsSurveyed: a wall falls from 3,390 to 2,936 over 7,937, so that at
// 38 mm outside its right edge, where boards end on the corner's trim, its top is
// 38 x 454/7,937 = 2.17 lower: the eaves there are those surveyed at 2,936.
func TestAdviceAsSurveyed(t *testing.T) {
	w := engine.WallResult{
		Wall: &engine.Wall{Height: mmOf(3390), HeightRight: measure.Some(mmOf(2936))},
		Advice: []string{
			"The eaves at 2933.827 mm set 16 mm higher would bring a course line to the eaves.",
			"The top at 2450.4 mm set 3 mm lower would end the wall on a full board.",
			"The sill at 1000 mm set 9 mm higher would meet every sill.",
			"9 mm more ground clearance would meet every base.",
		},
	}
	want := []string{
		"The eaves at 2936 mm set 16 mm higher would bring a course line to the eaves.",
		"The top at 2450 mm set 3 mm lower would end the wall on a full board.",
		"The sill at 1000 mm set 9 mm higher would meet every sill.",
		"9 mm more ground clearance would meet every base.",
	}
	if got := asSurveyed(&w); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
