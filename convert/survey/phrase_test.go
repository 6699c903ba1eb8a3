package survey

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

func TestOpeningsInWords(t *testing.T) {
	r := testReader(t)
	for text, want := range map[string]string{
		"1200 x 1050 @ 900 at 700":                                "window  1200x1050 @900 at 700",
		"1200x1050@900 at 700":                                    "window  1200x1050 @900 at 700",
		"2 no. 1200 x 1050 @ 900 at 700, 3000":                    "window  1200x1050 @900 at 700; window  1200x1050 @900 at 3000",
		"2no 1200 x 1050 @ 900 at 700 and 3000":                   "window  1200x1050 @900 at 700; window  1200x1050 @900 at 3000",
		"door 1010 x 2250 @ 0 at 800":                             "door  1010x2250 @0 at 800",
		"2 nr doors 1010 x 2250 @ 0 from left 800 & 4000":         "door  1010x2250 @0 at 800; door  1010x2250 @0 at 4000",
		"W1: 1.2m x 1.05m @ 0.9m at 0.7m":                         "window W1 1200x1050 @900 at 700",
		"W1 1200 × 1050 @ 900 at 700; W2 600 x 600 @ 900 at 3000": "window W1 1200x1050 @900 at 700; window W2 600x600 @900 at 3000",
		"1200 x 1050 @ 900\n600 x 600 at 90":                      "window  1200x1050 @900 lacks the distance from the left; window  600x600 lacks the sill",
		"1200 x 1050":                                             "window  1200x1050 lacks the sill and the distance from the left",
		"":                                                        "", "none": "", "N/A": "", "-": "", "No openings.": "",
		"D1 door: 900 x 2100 @ 0 at 1500":              "door D1 900x2100 @0 at 1500",
		"Kitchen window 1200 x 1050 @ 900 at 700":      "window Kitchen window 1200x1050 @900 at 700",
		"2 x 1200 x 1050 @ 900 at 700, 3000":           "window  1200x1050 @900 at 700; window  1200x1050 @900 at 3000",
		"1no 1200w x 1050h @ 900 at 700":               "window  1200x1050 @900 at 700",
		"1200(w) x 1050 high @ 900 at 700":             "window  1200x1050 @900 at 700",
		"1050h x 1200w @ 900 at 700":                   "?",
		"4'0\" x 3'-6 1/2\" @ 3' at 2ft 6in, 9ft":      "?",
		"2 no 4'0\" x 3'-6 1/2\" @ 3' at 2ft 6in, 9ft": "window  1219x1080 @914 at 762; window  1219x1080 @914 at 2743",
		"48\" x 42½\" @ 36in at 30\"":                  "window  1219x1080 @914 at 762",
		"120 x 105 x 10 @ 900":                         "?",
		"2 no. 1200 x 1050 @ 900 at 700":               "window  1200x1050 @900 at 700; window  1200x1050 @900 lacks the distance from the left",
		"0 no. 1200 x 1050 @ 900":                      "?",
		"1200":                                         "?",
		"1200 x @ 900":                                 "?",
		"1.2.0 x 1050 @ 900":                           "?",
		"1200 x 1050 @ 900 at 700, 3000":               "?",
		"two windows":                                  "?",
	} {
		some, _, ok := r.parsePhrases(text, unit{})
		var parts []string
		for _, s := range some {
			o := s.opening
			line := fmt.Sprintf("%s %s %vx%v", o.Kind, o.Name, o.Width, o.Height)
			if !strings.Contains(s.missing, "sill") {
				line += fmt.Sprintf(" @%v", o.Sill)
			}
			if s.missing != "" {
				line += " lacks " + s.missing
			} else {
				line += fmt.Sprintf(" at %v", o.Left)
			}
			parts = append(parts, line)
		}
		got := strings.Join(parts, "; ")
		if !ok {
			got = "?"
		}
		if got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
}

// The examples of the README are read as they promise, and the help of the
// column shows one that is.
func TestTheDocumentedExamplesAreUnderstood(t *testing.T) {
	r := testReader(t)
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(text), "under a header such as Openings or Windows:\n\n```\n")
	lines, _, ok := strings.Cut(after, "\n```")
	if !ok {
		t.Fatal("the README shows no openings in words")
	}
	help := r.schema("Walls").Field("Openings").Description
	_, help, _ = strings.Cut(help, ": ")
	help, _, _ = strings.Cut(help, " (")
	for _, example := range append(strings.Split(lines, "\n"), help) {
		some, bad, ok := r.parsePhrases(example, unit{})
		if !ok || len(some) != 2 || some[0].missing+some[1].missing != "" {
			t.Errorf("%q is read as %+v; %q is not understood", example, some, bad)
		}
	}
}

// FuzzPhrase: whatever comes, an opening that is understood has a size, and
// what is not understood is named.
func FuzzPhrase(f *testing.F) {
	f.Add("2 no. window 1200 x 1050 @ 900 at 700, 3000; 600x600")
	f.Add("W1: 1.2m x 1.05m @ 0.9m at 0.7m")
	r := testReader(f)
	f.Fuzz(func(t *testing.T, text string) {
		some, bad, ok := r.parsePhrases(text, unit{})
		if !ok && bad == "" {
			t.Errorf("%q is refused without naming a part", text)
		}
		for _, s := range some {
			if s.opening.Width < 0 || s.opening.Height < 0 || s.missing == "" && s.opening.Left < 0 {
				t.Errorf("%q gives %+v", text, s)
			}
		}
	})
}
