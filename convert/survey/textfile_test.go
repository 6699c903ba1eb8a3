package survey

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwright/convert/survey/book"
)

func textSurvey(t *testing.T, text string) *Survey {
	t.Helper()
	path := filepath.Join(t.TempDir(), "Walls.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s := read(t, path, Options{})
	accounted(t, s)
	return s
}

// A quotation mark without its partner swallows no rows; one that finds a
// partner in another row stops its wall, since rows may be part of it.
func TestOpenQuotes(t *testing.T) {
	for _, c := range []struct {
		rows, walls string
		want        []string
	}{
		{"Front,7200,4890,\"broken\nBack,7200,4890,x\nSide,3000,4890,\"a \"\"b\" c\n", "Front Back Side", w("check quote-open Walls!D2", "check quote-open Walls!D4")},
		{"Front,7200,4890,\"broken\nBack,7200,4890,x\n", "Front Back", w("check quote-open Walls!D2")},
		{"Front,7200,4890,\"broken\nBack,7200,4890,broken\"\nSide,3000,4890,x\n", "Side", w("stop quote-open Walls!D2")},
		{"Front,7200,4890,\"two\nlines, with a comma\"\nBack,7200,4890,x\n", "Front Back", nil},
		{"\"Front,7200,4890,x\nBack,7200,4890,x\n", `"Front Back`, w("check quote-open Walls!A2")},
	} {
		s := textSurvey(t, "Wall,Width mm,Height mm,Notes\n"+c.rows)
		var walls []string
		for _, x := range s.Job.Walls {
			walls = append(walls, x.Name)
		}
		got := slices.DeleteFunc(flagLines(s), func(l string) bool { return strings.Contains(l, "default-used") })
		if strings.Join(walls, " ") != c.walls || !slices.Equal(got, c.want) {
			t.Errorf("%q gives the walls %q and the flags %q; want %q and %q", c.rows, walls, got, c.walls, c.want)
		}
	}
}

// A file in another code of letters is read, and said so.
func TestOtherLettersAreSaid(t *testing.T) {
	s := textSurvey(t, "Wall,Width mm,Height mm\nCaf\xE9 \x96 left,7200,4890\n")
	if s.Job.Walls[0].Name != "Café – left" || !slices.Contains(flagLines(s), "note encoding Walls!A1") {
		t.Errorf("read as %q with the flags %q", s.Job.Walls[0].Name, flagLines(s))
	}
	s = textSurvey(t, "Wall,Width mm,Height mm\rFront,7200,4890\rBack,7200,4890\r")
	if len(s.Job.Walls) != 2 {
		t.Errorf("lines that end in carriage returns give %d walls, want 2", len(s.Job.Walls))
	}
}

// However many rows are blank, they are told as they are.
func TestBlankRowsAreToldWhole(t *testing.T) {
	for _, c := range []struct {
		rows []span
		want string
	}{
		{[]span{{4, 100_003}}, "4 to 100003"},
		{[]span{{4, 4}, {6, 7}, {8, 8}, {10, 10}}, "4, 6 to 8, 10"},
	} {
		if got := listRows(&book.Sheet{}, c.rows); got != c.want {
			t.Errorf("%v are listed as %q, want %q", c.rows, got, c.want)
		}
	}
	var many []span
	for n := range 1000 {
		many = append(many, span{2 * n, 2 * n})
	}
	if got := listRows(&book.Sheet{}, many); !strings.HasSuffix(got, "78 and more, the last 1998,") {
		t.Errorf("many rows are listed as %q", got)
	}
}
