package engine

import (
	"context"
	"fmt"
	"reflect"
	"testing"

	"lapwright/engine/audit"
	"lapwright/engine/measure"
)

// A job whose walls are not held says of everything what the same job says that
// holds them: walls worked out again, cutting plan, order, flags.
func TestWholeAsHeld(t *testing.T) {
	var walls []Wall
	for seed := range uint64(4) {
		for i, w := range newGenerator(700 + seed).house() {
			w.Plot, w.Colour = fmt.Sprint("type ", seed), []string{"grey", "red", ""}[(int(seed)+i)%3]
			for k := range w.Openings {
				w.Openings[k].Lined, w.Openings[k].Reveal = k%2 == 0, mm(100)
			}
			walls = append(walls, w)
		}
	}
	for i := range walls { // the rows of a dwelling need not stand together
		k := i * 7 % len(walls)
		walls[i], walls[k] = walls[k], walls[i]
	}
	seen := map[string]bool{}
	for _, pool := range []Pool{PoolPlot, PoolWall, PoolDrop, PoolJob} {
		job := testJob(walls...)
		job.Pool, job.Rules.PaintCoverage = pool, 100
		for i := range 6 {
			job.Plots = append(job.Plots, Plot{Name: fmt.Sprint(i), HouseType: fmt.Sprint("type ", i%4), Handed: i%2 == 0, Drop: fmt.Sprint(i % 3)})
		}
		held, few := planned(t, job, 1<<20), planned(t, job, 3)
		if held.again != nil || few.again == nil {
			t.Fatal("not one of each kind")
		}
		for i := range few.Walls {
			want := &held.Walls[i]
			if got := few.Whole(i); !reflect.DeepEqual(got, want) {
				t.Errorf("pool %s: wall %s %s is not what it was", pool, want.Plot, want.Name)
			}
			if n, is := few.Counts(i), held.Counts(i); n != is || n.Pieces == 0 || n.Pieces != len(few.Pieces(i, nil)) {
				t.Errorf("pool %s: wall %s %s has %+v; counted %+v", pool, want.Plot, want.Name, is, n)
			}
			for _, p := range want.Pieces {
				seen["reveal"] = seen["reveal"] || p.Course == 0
				seen["bare"] = seen["bare"] || len(p.Bare) > 0
				seen["raked"] = seen["raked"] || p.Left.Kind == Rake
				seen["notched"] = seen["notched"] || len(p.Cutouts) > 0
				seen["unfixed"] = seen["unfixed"] || len(p.Unfixed) > 0
			}
		}
		samePlan(t, few, held)
		few.Walls, held.Walls, few.again, held.Cutting = nil, nil, nil, nil
		if !reflect.DeepEqual(few, held) {
			t.Errorf("pool %s: the rest of the result differs", pool)
		}
	}
	for _, what := range []string{"reveal", "bare", "raked", "notched", "unfixed"} {
		if !seen[what] {
			t.Errorf("no piece is %s: the walls are no test", what)
		}
	}
}

// samePlan wants two results to have one cutting plan, wherever one begins to read
// it, and rows that stay what they are when others are read.
func samePlan(t *testing.T, few, held *Result) {
	t.Helper()
	n := held.CutCount()
	if few.CutCount() != n || few.Cutting != nil || n == 0 {
		t.Fatalf("%d rows of %d, %d of them held", few.CutCount(), n, len(few.Cutting))
	}
	for _, from := range []int{0, 1, n / 2, n - 1, n} {
		for _, to := range []int{from, (from + n) / 2, n} {
			var got, want []CutRow
			for row := range few.CutRows(from, to) {
				got = append(got, *row)
			}
			for row := range held.CutRows(from, to) {
				want = append(want, *row)
			}
			if len(got) != to-from || !reflect.DeepEqual(got, want) {
				t.Errorf("rows %d to %d of the cutting plan are not what they were", from, to)
			}
		}
	}
}

// Whatever stands in a row comes back, each field in its own.
func TestBytesOfFields(t *testing.T) {
	var out codec
	out.words = &words{}
	in := WallResult{Battens: []Batten{{}, {}}, Trims: []Trim{}, Strips: []Strip{{}}, Fixings: []FixingRow{{}, {}}}
	row := CutRow{Cuts: []Cut{{}, {}, {}}}
	for _, v := range []any{&in.Battens, &in.Strips, &in.Fixings, &row.Cuts, &row.Board, &row.Count, &row.Offcut, &row.Shared} {
		fill(t, reflect.ValueOf(v).Elem(), new(int))
	}
	trims := []Trim{{Screws: []measure.Length{1, 2}}, {Screws: []measure.Length{}}, {}}
	for i := range trims {
		screws := trims[i].Screws
		fill(t, reflect.ValueOf(&trims[i]).Elem(), new(int))
		trims[i].Screws = screws
	}
	for _, list := range [][]Trim{trims, {}, nil} {
		in.Trims = list
		out.lists(&in)
		out.row(&row)
		text := out.written()
		back, again := WallResult{}, CutRow{}
		p := codec{words: out.words, from: text, reads: true}
		p.lists(&back)
		if p.row(&again); !reflect.DeepEqual(back, in) || !reflect.DeepEqual(again, row) || p.from != "" {
			t.Errorf("written and read:\n%+v\n%+v\nbefore:\n%+v\n%+v", back, again, in, row)
		}
	}
}

// fill gives every field a value of its own, numbers of either sign.
func fill(t *testing.T, v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i), n)
		}
	case reflect.Slice:
		if v.Len() == 0 && v.CanSet() {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		}
		for i := range v.Len() {
			fill(t, v.Index(i), n)
		}
	case reflect.String:
		v.SetString(fmt.Sprint("é", *n))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n*1234567) * int64(1-2*(*n%2)))
	case reflect.Float64:
		v.SetFloat(-float64(*n) / 7)
	case reflect.Bool:
		v.SetBool(true)
	default:
		t.Fatal("no value for a ", v.Kind())
	}
}

// planned takes a job off as [Takeoff] does, holding so many walls at most.
func planned(t *testing.T, job *Job, held int) *Result {
	t.Helper()
	u := newTakeoff(job)
	u.held = held
	if err := u.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	u.collect()
	u.assumptions()
	if faults := audit.Check(u.auditJob()); len(faults) > 0 {
		t.Fatal(faults[0])
	}
	return u.result
}
