package survey

import (
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
)

const surveys = "../../testdata/surveys"

// said is what a survey says, without places, notes and the order of its rows.
func said(t *testing.T, s *Survey) string {
	t.Helper()
	walls := facts(s.Job)
	slices.SortFunc(walls, func(a, b engine.Wall) int { return cmp.Or(cmp.Compare(a.Plot, b.Plot), cmp.Compare(a.Name, b.Name)) })
	plots := slices.Clone(s.Job.Plots)
	for i := range plots {
		plots[i].Origin = engine.Origin{}
	}
	slices.SortFunc(plots, func(a, b engine.Plot) int { return cmp.Compare(a.Name, b.Name) })
	text, err := json.MarshalIndent([]any{walls, plots, s.Job.Rules}, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Every untidy survey says the same as its clean twin: house--title.xlsx the
// same as the folder house. They were written by openpyxl, SheetJS,
// LibreOffice, excelize and plain text editors.
func TestTwins(t *testing.T) {
	entries, err := os.ReadDir(surveys)
	if err != nil {
		t.Fatal(err)
	}
	pairs := 0
	for _, e := range entries {
		twin, _, untidy := strings.Cut(e.Name(), "--")
		if !untidy {
			continue
		}
		pairs++
		t.Run(e.Name(), func(t *testing.T) {
			clean := read(t, filepath.Join(surveys, twin), Options{})
			for _, f := range clean.Flags {
				t.Errorf("the clean twin is flagged: %+v", f)
			}
			s := read(t, filepath.Join(surveys, e.Name()), Options{})
			if got, want := said(t, s), said(t, clean); got != want {
				t.Errorf("%s", difference(got, want))
				for _, f := range s.Flags {
					t.Logf("%+v", f)
				}
			}
			for _, f := range s.Flags {
				if f.Severity == engine.Stop {
					t.Errorf("it has a stop: %+v", f)
				}
			}
			accounted(t, s)
		})
	}
	if pairs < 35 {
		t.Errorf("%d pairs, want at least 35", pairs)
	}
}

// difference shows the first lines in which two texts differ.
func difference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			from := max(0, i-3)
			return "got\n" + strings.Join(a[from:min(len(a), i+4)], "\n") + "\nwant\n" + strings.Join(b[from:min(len(b), i+4)], "\n")
		}
	}
	return "one is longer than the other"
}
