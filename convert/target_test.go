package convert

import (
	"archive/zip"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/engine"
)

// bareTakeoff is the least that is known for a takeoff: a package with its mark,
// behind as many sheets and names as a survey of thousands of walls has before it.
func bareTakeoff(t *testing.T) string {
	t.Helper()
	var out strings.Builder
	z := zip.NewWriter(&out)
	w, err := z.Create("xl/workbook.xml")
	if err == nil {
		_, err = io.WriteString(w, strings.Repeat("<definedName/>", 1<<17)+`<definedName name="`+report.RunName+`"/>`)
	}
	if err := errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// bareSource is a survey of which nothing is known but its name.
func bareSource(path string) *source {
	return &source{path: path, survey: &survey.Survey{}, origin: report.Held{Survey: filepath.Base(path)}}
}

func TestTarget(t *testing.T) {
	tests := []struct {
		name       string
		there      []string // files in the folder
		in         string
		out        string
		keep       []string
		want, kept string
	}{
		{"beside the survey", nil, "house.xlsx", "", nil, "house.takeoff.xlsx", ""},
		{"an old one is replaced", []string{"house.takeoff.xlsx"}, "house.xlsx", "", nil, "house.takeoff.xlsx", ""},
		{"dots in the name", nil, "house v1.2.xlsx", "", nil, "house v1.2.takeoff.xlsx", ""},
		{"CSV", nil, "walls.csv", "", nil, "walls.takeoff.xlsx", ""},
		{"a takeoff fed in again", []string{"house.takeoff.xlsx"}, "house.takeoff.xlsx", "", nil, "house.takeoff (2).xlsx", "house.takeoff.xlsx"},
		{"and once more", []string{"house.takeoff.xlsx", "house.takeoff (2).xlsx"}, "house.takeoff (2).xlsx", "", nil,
			"house.takeoff (3).xlsx", "house.takeoff.xlsx"},
		{"to another place", nil, "house.takeoff (2).xlsx", "other.xlsx", nil, "other.xlsx", ""},
		{"the input named as output", []string{"house.xlsx"}, "house.xlsx", "house.xlsx", nil, "house (2).xlsx", "house.xlsx"},
		{"another input in the way", []string{"house.takeoff.xlsx"}, "house.xlsx", "", []string{"house.takeoff.xlsx"},
			"house.takeoff (2).xlsx", "house.takeoff.xlsx"},
		{"a file to keep that is not there", nil, "house.xlsx", "", []string{"house.takeoff.xlsx"}, "house.takeoff.xlsx", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			at := func(name string) string {
				if name == "" {
					return ""
				}
				return filepath.Join(dir, name)
			}
			for _, name := range tt.there {
				put(t, at(name), bareTakeoff(t), 0o644)
			}
			var o Options
			o.Out = at(tt.out)
			for _, k := range tt.keep {
				o.Keep = append(o.Keep, at(k))
			}
			got := bareSource(at(tt.in)).target(true, o)
			if got.Name != at(tt.want) || got.Kept != at(tt.kept) || (got.Why == "") != (tt.kept == "") {
				t.Errorf("target(%q): got %+v, want %q, %q, and why", tt.in, got, at(tt.want), at(tt.kept))
			}
		})
	}
}

// A takeoff is known by its mark whatever it is called, and written over unless
// something holds it; anything else is somebody's work.
func TestKeeps(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"made.xlsx", "read only.xlsx", "open.xlsx", "open too.xlsx"} {
		if _, err := Convert(context.Background(), Example, Options{Out: at(name), Effort: engine.EffortQuick}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Template(at("survey.xlsx"), true); err != nil {
		t.Fatal(err)
	}
	put(t, at("other.xlsx"), "no workbook", 0o644)
	put(t, at("own.takeoff.xlsx"), "no workbook", 0o644)
	put(t, at("~$open.xlsx"), "x", 0o644)
	put(t, at(".~lock.open too.xlsx#"), "x", 0o644)
	if err := os.Chmod(at("read only.xlsx"), 0o444); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"made.xlsx": "", "none.xlsx": "", "survey.xlsx": "did not make it", "other.xlsx": "did not make it", "own.takeoff.xlsx": "did not make it",
		"read only.xlsx": "read-only", "open.xlsx": "(~$open.xlsx lies beside it)", "open too.xlsx": "(.~lock.open too.xlsx# lies",
	} {
		got := keeper{mark: report.RunName}.keeps(at(name))
		if !strings.Contains(got, want) || (got == "") != (want == "") {
			t.Errorf("%s is kept because %q, want %q", name, got, want)
		}
	}
}

func TestTargetOfAFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "house.v2")
	if _, err := makeFolder(dir); err != nil {
		t.Fatal(err)
	}
	for _, in := range []string{dir, dir + string(filepath.Separator)} {
		if got := bareSource(in).target(true, Options{}); got.Name != dir+".takeoff.xlsx" {
			t.Errorf("target(%q): got %q, want %q", in, got.Name, dir+".takeoff.xlsx")
		}
	}
}

// The names are those that the two spreadsheet programs at hand were seen to write
// (from memory).
func TestLocks(t *testing.T) {
	for name, want := range map[string]bool{"~$a.xlsx": true, "x/.~lock.a b.xlsx#": true, "a.xlsx": false, ".~lock.a.xlsx": false, "~a.xlsx": false, "x~$a.xlsx": false} {
		if got := IsLock(name); got != want {
			t.Errorf("IsLock(%q) is %v", name, got)
		}
	}
}

func TestSurveyOf(t *testing.T) {
	tests := []struct {
		path, stem string
		ok         bool
	}{
		{"house.xlsx", "house", false},
		{"house.takeoff.xlsx", "house", true},
		{"a/house.takeoff (12).xlsx", "a/house", true},
		{"house.Takeoff.XLSX", "house", true},
		{"takeoff.xlsx", "takeoff", false},
		{"house.takeoff notes.xlsx", "house.takeoff notes", false},
	}
	for _, tt := range tests {
		if stem, ok := SurveyOf(tt.path); stem != tt.stem || ok != tt.ok {
			t.Errorf("SurveyOf(%q): got %q, %v, want %q, %v", tt.path, stem, ok, tt.stem, tt.ok)
		}
	}
}
