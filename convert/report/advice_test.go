package report

import (
	"strings"
	"testing"
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
