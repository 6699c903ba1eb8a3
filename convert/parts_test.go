package convert

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/engine"
)

// partsSurvey writes a survey of plots of two house types with a fault in a
// plot's row and one in a wall's.
func partsSurvey(t *testing.T, plots ...string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "estate")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"Walls.csv": "Plot,Wall,Width mm,Height mm\nA,Front,4000,2700\nA,Side,5300,2600\nB,Front,6000,2700\nB,Back,6000,\n",
		"Plots.csv": "Plot,House type,Handed,Colour,Drop\n1,A,no,,\n2,A,no,,north\n3,A,maybe,,\n4,A,yes,,south\n5,B,no,,\n" + strings.Join(plots, ""),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A part of what was planned before comes out as if it were the only one, byte
// for byte, and a plot has its own flags and no other's.
func TestPartsAlike(t *testing.T) {
	for _, by := range []SplitBy{SplitPlot, SplitDrop, SplitType} {
		t.Run(string(by), func(t *testing.T) { partsAlike(t, by) })
	}
}

func partsAlike(t *testing.T, by SplitBy) {
	in := partsSurvey(t)
	o := Options{Effort: engine.EffortQuick}
	ctx := context.Background()
	shared := readParts(t, in, o)
	parts, err := shared.Split(by)
	if err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	for i, p := range parts {
		o.Out = filepath.Join(out, p.Name+".xlsx")
		rep, err := shared.ConvertPart(ctx, p, o)
		if err != nil {
			t.Fatal(err)
		}
		alone := readParts(t, in, o)
		same, err := alone.Split(by)
		if err != nil {
			t.Fatal(err)
		}
		o.Out = filepath.Join(out, p.Name+" alone.xlsx")
		if _, err := alone.ConvertPart(ctx, same[i], o); err != nil {
			t.Fatal(err)
		}
		a, _ := os.ReadFile(rep.Out)
		b, _ := os.ReadFile(o.Out)
		if len(a) == 0 || !bytes.Equal(a, b) {
			t.Errorf("%s differs from itself alone (%d and %d bytes)", p.Name, len(a), len(b))
		}
		if by != SplitPlot {
			continue
		}
		for _, f := range rep.Flags {
			if strings.Contains(f.Place.File, "Plots") && f.Plot != p.Name && f.Plot != "" && p.Name != restName {
				t.Errorf("plot %s has the flag of another: %+v", p.Name, f)
			}
		}
		if left := map[string]int{"5": 1}[p.Name]; rep.Left != left {
			t.Errorf("plot %s leaves %d walls out, want %d", p.Name, rep.Left, left)
		}
	}
	if by == SplitPlot && (len(shared.uses) != 2 || len(shared.plans) != 0) { // types A and B
		t.Errorf("%d plans for plots of 2 kinds, %d of them still held", len(shared.uses), len(shared.plans))
	}
}

func readParts(t *testing.T, in string, o Options) *Survey {
	t.Helper()
	s, err := Read(context.Background(), in, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What belongs to no part is a part of its own, so that no row is lost: a plot of
// a type that is not there, one whose row is at fault, a type that no plot has.
func TestPartOfTheRest(t *testing.T) {
	for by, want := range map[SplitBy]string{SplitPlot: "1 2 4 5 not taken", SplitType: "A B not taken", SplitDrop: "no drop north south not taken"} {
		s := readParts(t, partsSurvey(t, "6,C,no,,\n"), Options{Effort: engine.EffortQuick})
		parts, err := s.Split(by)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		stops := map[string]int{}
		for _, p := range parts {
			names = append(names, p.Name)
			rep, err := s.ConvertPart(context.Background(), p, Options{Effort: engine.EffortQuick, CheckOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			stops[p.Name] = rep.Stops()
			if p.Name == restName && (rep.Built != 0 || len(s.part(p).Rejected) != 2) {
				t.Errorf("by %s the rest builds %d walls and has %d rows; want none and those of plots 3 and 6", by, rep.Built, len(s.part(p).Rejected))
			}
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("by %s the parts are %s, want %s", by, got, want)
		}
		if stops[restName] != 2 {
			t.Errorf("by %s the rest has %d stops, want those of plots 3 and 6", by, stops[restName])
		}
	}
}

// A part asks what concerns its own dwellings.
func TestPartsAskTheirOwn(t *testing.T) {
	s := readParts(t, partsSurvey(t), Options{Effort: engine.EffortQuick})
	parts, err := s.Split(SplitPlot)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parts {
		var at []string
		for _, q := range s.part(p).Asks {
			at = append(at, q.Place.Sheet+"!"+q.Place.Cell)
		}
		want := map[string]string{"5": "Walls!D5", restName: "Plots!C4"}[p.Name] // plot 3, whose own row is at fault, is no part of its own
		if got := strings.Join(at, " "); got != want {
			t.Errorf("plot %s asks about %q, want %q", p.Name, got, want)
		}
	}
}

// A row of plots, walls or openings that names no plot is no part's: what is said
// of it stands in the rest alone. So in a sheet of a column a wall.
func TestARowWithoutAPlotIsOfNoPart(t *testing.T) {
	for name, walls := range map[string]string{
		"in rows":    "Plot,Wall,Width mm,Height mm\nA,Front,4000,2700\nA,Side,5000,2700\n,Lost,,2700\n",
		"in columns": "Plot,A,A,\nWall,Front,Side,Lost\nWidth mm,4000,5000,\nHeight mm,2700,2700,2700\n",
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			put(t, filepath.Join(dir, "Walls.csv"), walls, 0o644)
			put(t, filepath.Join(dir, "Plots.csv"), "Plot,House type\n1,A\n,A\n", 0o644)
			s := readParts(t, dir, Options{Effort: engine.EffortQuick})
			parts, err := s.Split(SplitPlot)
			if err != nil || len(parts) != 2 {
				t.Fatalf("%d parts, %v; want plot 1 and the rest", len(parts), err)
			}
			whole, err := Convert(t.Context(), dir, Options{Effort: engine.EffortQuick, CheckOnly: true})
			if err != nil || whole.Stops() < 2 {
				t.Fatalf("the whole has %d stops, %v; want those of both rows without a plot", whole.Stops(), err)
			}
			for _, p := range parts {
				rep, err := s.ConvertPart(t.Context(), p, Options{Effort: engine.EffortQuick, CheckOnly: true})
				if err != nil {
					t.Fatal(err)
				}
				want := 0
				if p.Name == restName {
					want = whole.Stops()
				}
				if part := s.part(p); rep.Stops() != want || (len(part.Rejected) == 2) != (want > 0) || (len(part.Asks) > 0) != (want > 0) {
					t.Errorf("%s has %d stops, %d rows not taken and %d questions; want %d stops, and the rest alone the rows", p.Name, rep.Stops(), len(part.Rejected), len(part.Asks), want)
				}
			}
		})
	}
}

// The parts of a large survey are planned with the effort of the whole, whose time
// they share; those of a small one with normal effort.
func TestPartsEffort(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		drops int
		want  engine.Effort
	}{{2, engine.EffortNormal}, {40, engine.EffortQuick}} {
		dir := t.TempDir()
		var plots strings.Builder
		for i := range c.drops {
			fmt.Fprintf(&plots, "%d,A,no,drop %d\n%d b,B,no,drop %d\n", i, i, i, i)
		}
		for name, text := range map[string]string{
			"Job.csv":   "Item,Value\nCut together by,drop\n",
			"Walls.csv": "Plot,Wall,Width mm,Height mm\nA,Front,4000,2700\nA,Side,5300,2600\nB,Front,6000,2700\n",
			"Plots.csv": "Plot,House type,Handed,Drop\n" + plots.String(),
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		s := readParts(t, dir, Options{})
		parts, err := s.Split(SplitDrop)
		if err != nil || len(parts) != c.drops {
			t.Fatal(len(parts), err)
		}
		rep, err := s.ConvertPart(ctx, parts[1], Options{CheckOnly: true})
		if err != nil || rep.Effort != c.want {
			t.Errorf("a drop of %d: effort %q, want %q (%v)", c.drops, rep.Effort, c.want, err)
		}
	}
}
