package audit

import (
	"fmt"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// mirror turns a job's walls left for right, as a handed dwelling is built:
// what was right stays right, and each fault stays at its place.
func mirror(j *Job) {
	for i := range j.Walls {
		w := &j.Walls[i]
		sum := w.Base[0].X + w.Base[len(w.Base)-1].X
		span := func(s *measure.Span) { s.Lo, s.Hi = sum-s.Hi, sum-s.Lo }
		flip := func(ps []measure.Point) {
			for k := range ps {
				ps[k].X = sum - ps[k].X
			}
			slices.Reverse(ps)
		}
		flip(w.Base)
		flip(w.Top)
		for k := range w.Voids {
			span(&w.Voids[k].X)
		}
		for k := range w.Studs {
			w.Studs[k] = sum - w.Studs[k]
		}
		for k := range w.Zones {
			span(&w.Zones[k].X)
		}
		for k := range w.Pieces {
			p := &w.Pieces[k]
			flip(p.Outline)
			for c := range p.Cutouts {
				span(&p.Cutouts[c].X)
			}
			p.JointLeft, p.JointRight = p.JointRight, p.JointLeft
			p.LeftRake, p.RightRake = p.RightRake, p.LeftRake
		}
		for k := range w.Battens {
			w.Battens[k].Centre = sum - w.Battens[k].Centre
		}
		for k := range w.Screws {
			w.Screws[k].X = sum - w.Screws[k].X
		}
	}
}

// shift moves a job's walls by d.
func shift(j *Job, d measure.Point) {
	for i := range j.Walls {
		w := &j.Walls[i]
		add := func(ps []measure.Point) {
			for k := range ps {
				ps[k].X, ps[k].Z = ps[k].X+d.X, ps[k].Z+d.Z
			}
		}
		rect := func(r *Rect) {
			r.X, r.Z = measure.Span{Lo: r.X.Lo + d.X, Hi: r.X.Hi + d.X}, measure.Span{Lo: r.Z.Lo + d.Z, Hi: r.Z.Hi + d.Z}
		}
		add(w.Base)
		add(w.Top)
		for k := range w.Voids {
			rect(&w.Voids[k])
		}
		for k := range w.Courses {
			w.Courses[k].Bottom += d.Z
			w.Courses[k].Top += d.Z
		}
		for k := range w.Pieces {
			add(w.Pieces[k].Outline)
			for c := range w.Pieces[k].Cutouts {
				rect(&w.Pieces[k].Cutouts[c])
			}
		}
		for k := range w.Battens {
			b := &w.Battens[k]
			b.Centre, b.Z.Lo, b.Z.Hi = b.Centre+d.X, b.Z.Lo+d.Z, b.Z.Hi+d.Z
		}
		for k := range w.Screws {
			w.Screws[k].X += d.X
			w.Screws[k].Z += d.Z
		}
		for k := range w.Studs {
			w.Studs[k] += d.X
		}
		for k := range w.Zones {
			w.Zones[k].X.Lo += d.X
			w.Zones[k].X.Hi += d.X
		}
	}
}

// rules returns which rules are broken, where it does not matter at which of
// two pieces a fault between them is told.
func rules(job *Job) []string {
	var out []string
	for _, f := range Check(*job) {
		out = append(out, f.Rule)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestMirrored checks that left and right are treated alike, in right walls
// and in spoilt ones.
func TestMirrored(t *testing.T) {
	for _, base := range []func() Wall{plain, gable, stepped, vent, cheek} {
		job := whole(base())
		mirror(job)
		for _, f := range Check(*job) {
			t.Errorf("mirrored: %v", f)
		}
	}
	for _, list := range [][]mutation{geometry, jointing, fixed, filled, trimmed, stocked, summed} {
		for _, m := range list {
			job, other := whole(m.base()), whole(m.base())
			m.do(job, &job.Walls[0])
			m.do(other, &other.Walls[0])
			mirror(other)
			if m.name == "profile runs back" || strings.Contains(m.name, "clockwise") {
				continue // mirrored they are something else
			}
			if got, want := rules(other), rules(job); !slices.Equal(got, want) {
				t.Errorf("%s: mirrored %v, as drawn %v", m.name, got, want)
			}
		}
	}
}

// TestShifted checks that nothing depends on where a wall's zero is.
func TestShifted(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, list := range [][]mutation{geometry, jointing, fixed} {
		for _, m := range list {
			job := whole(m.base())
			m.do(job, &job.Walls[0])
			want := found(job)
			d := measure.Point{X: measure.Length(r.IntN(9e6)) - 4e6, Z: measure.Length(r.IntN(9e6)) - 4e6}
			shift(job, d)
			if got := found(job); !slices.Equal(got, want) {
				t.Errorf("%s: shifted by %v %v, at its place %v", m.name, d, got, want)
			}
		}
	}
}

// TestOrderOfInput checks that the order of a wall's parts means nothing.
func TestOrderOfInput(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for _, base := range []func() Wall{plain, gable, stepped, vent, cheek} {
		for range 20 {
			job := whole(base())
			w := &job.Walls[0]
			perm := r.Perm(len(w.Pieces))
			pieces := make([]Piece, len(perm))
			for from, to := range perm {
				pieces[to] = w.Pieces[from]
			}
			w.Pieces = pieces
			for i := range w.Screws {
				w.Screws[i].Piece = perm[w.Screws[i].Piece]
			}
			r.Shuffle(len(w.Screws), func(a, b int) { w.Screws[a], w.Screws[b] = w.Screws[b], w.Screws[a] })
			r.Shuffle(len(job.Boards), func(a, b int) { job.Boards[a], job.Boards[b] = job.Boards[b], job.Boards[a] })
			r.Shuffle(len(job.Order), func(a, b int) { job.Order[a], job.Order[b] = job.Order[b], job.Order[a] })
			for _, f := range Check(*job) {
				t.Errorf("in another order: %v", f)
			}
		}
	}
}

// TestPureAndSteady checks that a job is left as it was and that equal jobs
// have equal faults, in equal order, whatever was checked before.
func TestPureAndSteady(t *testing.T) {
	for _, m := range slices.Concat(geometry, jointing, fixed, filled, trimmed, stocked, summed) {
		job, twin := whole(m.base(), gable()), whole(m.base(), gable())
		m.do(job, &job.Walls[0])
		m.do(twin, &twin.Walls[0])
		first := Check(*job)
		if !reflect.DeepEqual(job, twin) {
			t.Errorf("%s: the job was changed", m.name)
		}
		if again := Check(*twin); !slices.Equal(first, again) {
			t.Errorf("%s: first %v, then %v", m.name, first, again)
		}
	}
}

// TestEveryRuleIsBroken checks that the rule codes the package lists are the
// ones the spoilt jobs break, each at least once.
func TestEveryRuleIsBroken(t *testing.T) {
	broken := map[string]bool{"shared": true} // TestShared breaks it
	for _, m := range slices.Concat(geometry, jointing, fixed, filled, trimmed, stocked, summed) {
		for _, f := range strings.Split(m.want, ";") {
			broken[f[strings.LastIndex(f, " ")+1:]] = true
		}
	}
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, _ := strings.Cut(string(doc), "# Rule codes")
	list, _, _ = strings.Cut(list, "# Tolerance")
	listed := strings.FieldsFunc(list, func(c rune) bool { return strings.ContainsRune(" ,.:/\n", c) })
	for rule := range broken {
		if rule != "" && !slices.Contains(listed, rule) {
			t.Errorf("%s is not listed", rule)
		}
	}
	for _, word := range listed {
		group := word[0] >= 'A' && word[0] <= 'Z' // Geometry, Joints, ...
		if !group && !broken[word] {
			t.Errorf("%s is listed and no job breaks it", word)
		}
	}
}

// TestIndependent checks that the package stands apart: of the module it
// imports measure alone, and of measure it uses no algorithm on shapes.
func TestIndependent(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path := strings.Trim(i.Path.Value, `"`)
			if strings.HasPrefix(path, "lapwright/") && path != "lapwright/engine/measure" && path != "lapwright/engine/parallel" ||
				slices.Contains([]string{"os", "time", "net", "log"}, path) {
				t.Errorf("%s imports %s", name, path)
			}
		}
		for _, call := range []string{"measure.Between", "measure.Rect(", "measure.Less", "measure.Level", "measure.Segment",
			".Area2", ".Bounds(", ".Tidy(", ".IsRect(", ".Cut(s", ".Clamp(", ".Above(", ".Below(", ".Least(", ".Most(", ".At("} {
			if strings.Contains(string(text), call) {
				t.Errorf("%s uses %s, which the planning stages use too", name, call)
			}
		}
	}
}

// TestWords reads some faults as a person would.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		do   func(j *Job, w *Wall)
		want string
	}{
		{func(j *Job, w *Wall) { j.drop(w, "S-1a") }, "S : uncovered: nothing covers x 0 to 2400, z 150 to 285"},
		{func(j *Job, w *Wall) { w.piece("S-6a").Length += mm(0.1) },
			"S S-6a: size: it is stated as 1799.1 by 175, its outline is 1799 by 175"},
		{func(j *Job, w *Wall) { j.board("S-1a").Offcut = 0 },
			" B1: board-fit: of 3600 its cuts leave 1200 before the last kerf; the offcut is stated as 0"},
		{func(j *Job, w *Wall) { j.Order[0].Net-- }, " BD36: order: grey: stated net 29, it recounts to 30"},
		{func(j *Job, w *Wall) { w.Limits.StaggerLeast = mm(1300) },
			"S S-4a: stagger: its joint at x 1800 is not 1300 from the joint of S-3a below"},
	} {
		job := whole(stepped())
		c.do(job, &job.Walls[0])
		got := fmt.Sprint(Check(*job))
		if !strings.Contains(got, c.want) {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
	}
}
