package report

import (
	"fmt"
	"strings"
	"testing"
)

// TestMissedSillIsNotCalledMet: whoever looks for sills that are met, by the words
// a note's parts begin with, finds only those; a missed one is said as such, on the
// sheet Storey rod and on the wall's.
func TestMissedSillIsNotCalledMet(t *testing.T) {
	in := fullInput(t)
	w := &in.Result.Walls[0]
	w.Courses[1].Note = "sill met in part: O2, O3"
	w.Courses[2].Note = "top ripped; sill met by top: O4"
	f := opened(t, written(t, in))
	for _, name := range []string{"1 =1+1", "Storey rod"} {
		var met []string
		said := allText(t, f, name)
		for _, words := range strings.FieldsFunc(said, func(r rune) bool { return strings.ContainsRune("|;\n", r) }) {
			if words = strings.TrimSpace(words); strings.HasPrefix(words, "sill met") {
				met = append(met, words)
			}
		}
		if fmt.Sprint(met) == "[]" || strings.Contains(fmt.Sprint(met), "O2") {
			t.Errorf("%s: said to be met: %q", name, met)
		}
		if !strings.Contains(said, "sill missed, in the lap: O2, O3") {
			t.Errorf("%s does not say which sills are missed:\n%s", name, said)
		}
	}
}
