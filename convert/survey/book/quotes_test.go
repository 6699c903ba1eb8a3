package book

import (
	"encoding/csv"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// records reads a text with our reader, blank lines left out as the standard
// library leaves them out.
func records(text string, comma byte) (out [][]string, broken int) {
	r := csvReader{rest: text, comma: comma}
	for {
		rec, ok := r.next()
		if !ok {
			return out, broken
		}
		broken += len(rec.broken)
		if len(rec.values) > 1 || rec.values[0] != "" {
			out = append(out, rec.values)
		}
	}
}

// agree holds our reader to the standard library's: what that one reads
// without a fault, ours reads alike.
func agree(t *testing.T, text string, comma byte) {
	t.Helper()
	if strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") {
		return // a lone carriage return is a letter there and a break nowhere
	}
	std := csv.NewReader(strings.NewReader(text))
	std.Comma, std.FieldsPerRecord = rune(comma), -1
	want, err := std.ReadAll()
	if err != nil {
		return
	}
	want = slices.DeleteFunc(want, func(r []string) bool { return len(r) == 1 && r[0] == "" })
	got, broken := records(text, comma)
	if broken > 0 || !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%q is read as %q with %d open marks, want %q", text, got, broken, want)
	}
}

func TestSoundTextIsReadAsTheStandardLibraryDoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	letters := []string{"a", "b", `"`, `"`, `""`, ",", ",", ";", "\n", "\n", "\r\n", " ", "é"}
	for range 20_000 {
		var b strings.Builder
		for range rng.IntN(14) {
			b.WriteString(letters[rng.IntN(len(letters))])
		}
		agree(t, b.String(), ',')
		agree(t, b.String(), ';')
	}
}

// Whatever comes, no letter is lost but marks, delimiters and line ends.
func FuzzCSV(f *testing.F) {
	f.Add("a,b\n\"x\n1,2\n")
	f.Add("\"a\"\"b\",\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		agree(t, text, ',')
		got, _ := records(text, ',')
		bare := strings.NewReplacer(`"`, "", ",", "", "\r", "", "\n", "")
		var all strings.Builder
		for _, rec := range got {
			for _, v := range rec {
				all.WriteString(v)
			}
		}
		if a, b := bare.Replace(all.String()), bare.Replace(text); a != b {
			t.Errorf("%q holds the letters %q and gives %q", text, b, a)
		}
	})
}
