package engine

import (
	"math/rand/v2"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// orderOf returns what is ordered net of a role, by code.
func orderOf(r *Result, role string) map[string]float64 {
	out := map[string]float64{}
	for _, l := range r.Order {
		if l.Role == role {
			out[l.Code] += l.Net
		}
	}
	return out
}

// The sixth course of the three windows, 825 to 1,005 at a gauge of 135, is cut at
// 960 under two sills and fixed at 940 there, 65 below where a full board's top would
// lie: 10 x 65 / 135 = 4.8 off its batten. The ninth is cut as deep. Two battens stand
// under each of the three sills: six packers of 5, each with a screw of the visible
// ones that is longer by 5 at least: of 50, where the ordinary one is 45. The top
// course ends full: its six ordinary ones go straight in.
func TestPackersUnderSills(t *testing.T) {
	r := mustTakeoff(t, testJob(threeWindows()))
	w := &r.Walls[0]
	off, at := map[int]string{}, map[int]int{}
	for i := range w.Packings {
		k := &w.Packings[i]
		n := w.Pieces[k.Piece].Course
		off[n], at[n] = k.Off.Nearest(measure.Tenth).String(), at[n]+1
	}
	same(t, "gaps", off, map[int]string{6: "4.8", 9: "4.8"})
	same(t, "packers in each course", at, map[int]int{6: 4, 9: 2})
	same(t, "packers ordered", orderOf(r, RolePacker), map[string]float64{"PK5": 6})
	same(t, "screws ordered", orderOf(r, RoleVisibleScrew), map[string]float64{"SV": 6, "SV50": 6})
	for _, f := range w.Fixings {
		if packed := f.Where == "board field, packed"; packed != (f.Fixing == "SV50") || packed && (f.Count != 6 || f.Packers != measure.Span{Lo: mm(5), Hi: mm(5)}) {
			t.Errorf("schedule: %+v", f)
		}
	}
}

// Board 10, tape 1, batten 38, gauge 140, a screw of 4.5 x 40 fixed 20 below the top
// edge: it is sure to go 40 - 10 - 1 - 1.429 = 27.571 into the batten, more than 6 d =
// 27. Through packers of p it has to be 10 + 1 + p + 27.571 long at least, and 10 + p +
// 38 - 5 at most: of 5, 43.571 to 48; of 7, 45.571 to 50; of 10, 48.571 to 53.
func TestLengthsThroughPackers(t *testing.T) {
	for _, c := range []struct {
		packers  int64
		lengths  []int64 // of the visible screws there are, the ordinary one first
		code     string
		lo, hi   string
		standard string
	}{
		{5, []int64{40, 45, 50}, "1", "43.571", "48", "45"},
		{7, []int64{40, 45, 50}, "2", "45.571", "50", "50"},
		{7, []int64{40, 60, 50, 46}, "3", "45.571", "50", "50"}, // the shortest that will do
		{10, []int64{40, 45, 50}, "2", "48.571", "53", "50"},
		{10, []int64{40, 45, 55}, "? / visible screw / 50 mm", "48.571", "53", "50"},
		{5, []int64{45, 40}, "? / visible screw / 48 mm", "48", "48", "48"}, // the ordinary one is too long itself: as far as may be
	} {
		job := builderJob()
		job.Products = removeRole(job.Products, RoleVisibleScrew)
		for i, l := range c.lengths {
			job.Products = append(job.Products, Product{Role: RoleVisibleScrew, Code: itoa(i), Length: mm(l), Width: mm(9) / 2})
		}
		tk := &takeoff{job: job, rules: job.Rules, catalogue: catalogue{products: job.Products}, board: Product{Thickness: mm(10), Width: mm(180)}}
		s := &stand{face: &face{wall: &Wall{}, width: mm(180), courses: []Course{{Gauge: mm(140)}, {}}}}
		k := Packing{Thick: mm(c.packers)}
		tk.screwThrough(s, &k)
		if k.Fixing != c.code || k.Needs.Lo.String() != c.lo || k.Needs.Hi.String() != c.hi || standardLength(k.Needs).String() != c.standard {
			t.Errorf("packers of %d, screws %v: %+v, want %s of %s to %s", c.packers, c.lengths, k, c.code, c.lo, c.hi)
		}
	}
}

func removeRole(in []Product, role string) []Product {
	var out []Product
	for _, p := range in {
		if p.Role != role {
			out = append(out, p)
		}
	}
	return out
}

// Where no screw is long enough, or no packer is listed, the order has a line of it
// without code or price, as many as there are places, and it is flagged.
func TestMissingPackersAndScrewsAreOrderedWithoutPrice(t *testing.T) {
	job := testJob(threeWindows())
	job.Products = removeRole(removeRole(job.Products, RolePacker), RoleVisibleScrew)
	job.Products = append(job.Products, Product{Role: RoleVisibleScrew, Code: "SV", Length: mm(45), Price: 1})
	r := mustTakeoff(t, job)
	same(t, "packers", orderOf(r, RolePacker), map[string]float64{"? / packer": 6})
	same(t, "screws", orderOf(r, RoleVisibleScrew), map[string]float64{"SV": 6, "? / visible screw / 50 mm": 6})
	for _, l := range r.Order {
		if strings.HasPrefix(l.Code, "?") && l.Price != 0 {
			t.Errorf("priced: %+v", l)
		}
	}
	if f := flagged(r, "packer-screw"); len(f) != 1 || !strings.Contains(f[0].What, "50 mm long") || !strings.HasSuffix(f[0].What, "W1-6a, W1-9b") {
		t.Errorf("flags: %+v", f)
	}
	if f := flagged(r, "product-missing"); len(f) != 1 || !strings.Contains(f[0].What, "packer") {
		t.Errorf("flags: %+v", f)
	}
}

// A system that is declared with the ordinary screw says nothing of one through
// packers.
func TestSystemDeclaredWithAnotherScrew(t *testing.T) {
	for _, c := range []struct{ fixing, verdict string }{{"SV", "not checked"}, {"", "passes"}} {
		job := builderJob(threeWindows()).declare("System resistance Pa", "9000", "a maker's test", "System lap mm", "30", "", "System centres mm", "600", "")
		if c.fixing != "" {
			job.declare("System fixing", c.fixing, "a maker's test")
		}
		job.Wind = WindInput{PeakPressure: 800, BuildingHeight: mm(6000), BuildingDepth: mm(8000)}
		n := 0
		for _, f := range mustTakeoff(t, job).Walls[0].Fixings {
			if strings.HasSuffix(f.Where, ", packed") {
				if n++; f.Verdict != c.verdict || c.fixing != "" && !strings.Contains(f.Basis, "declared with SV") {
					t.Errorf("declared with %q: %+v", c.fixing, f)
				}
			}
		}
		if n == 0 {
			t.Error("nothing is packed")
		}
	}
}

// Every thickness that some packers make one on another, by trying all ways: the
// stack has as few packers as any of them, and as few cost no less.
func TestStacksAgainstAllWays(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var packers []Product
		for range 1 + r.IntN(4) {
			packers = append(packers, Product{Role: RolePacker, Thickness: measure.Length(1+r.IntN(12)) * 500, Price: float64(1 + r.IntN(9))})
		}
		most := mm(12)
		type way struct {
			n     int
			price float64
		}
		all := map[measure.Length]way{}
		var try func(from int, sum measure.Length, w way)
		try = func(from int, sum measure.Length, w way) {
			if best, ok := all[sum]; w.n > 0 && (!ok || w.n < best.n || w.n == best.n && w.price < best.price) {
				all[sum] = w
			}
			for i := from; i < len(packers); i++ {
				if next := sum + packers[i].Thickness; next <= most && w.n < 12 {
					try(i, next, way{w.n + 1, w.price + packers[i].Price})
				}
			}
		}
		try(0, 0, way{})
		got := stacksOf(packers, most)
		for i, s := range got {
			if i > 0 && got[i-1].thick >= s.thick {
				t.Fatalf("%v: not rising: %v", packers, got)
			}
			want := all[s.thick]
			if len(s.packers) <= 12 && (len(s.packers) != want.n || s.price != want.price) {
				t.Fatalf("%v mm: got %d packers for %v, want %d for %v", s.thick, len(s.packers), s.price, want.n, want.price)
			}
			delete(all, s.thick)
		}
		if len(all) > 0 {
			t.Fatalf("%v: not found: %v", packers, all)
		}
	}
}
