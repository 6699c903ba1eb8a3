package fixing

import (
	"math/rand/v2"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// Batten fixings of 300 N at 400 mm spacing under 1500 Pa of design suction
// carry 300/(1500 x 0.4) = 0.5 m of wall: 450 mm hold, 600 do not (360 N).
func TestSolve(t *testing.T) {
	pullOut := Strength{300, "test on site"}
	systems := []System{
		{Resistance: 1200, Lap: mm(40), Centres: mm(600), Source: "r1"},
		{Resistance: 1550, Lap: mm(40), Centres: mm(400), Source: "r2"},
	}
	for _, test := range []struct {
		name    string
		change  func(*Hold)
		centres int64
		holds   bool
		verdict Verdict
		governs string
		why     string
	}{
		{"nothing declared", func(*Hold) {}, 600, true, NotChecked, "", "nothing is declared"},
		{"batten fixings govern", func(h *Hold) { h.PullOut = pullOut }, 450, true, NotChecked, "batten", "120 % at 600"},
		// 1500 Pa: 1200 at 600 and 450 fails, 1550 at 400 holds.
		{"system governs", func(h *Hold) { h.Systems, h.PullOut = systems, pullOut }, 400, true, Passes, "board", "125 % at 450"},
		{"nothing holds", func(h *Hold) { h.Systems, h.PullOut, h.Suction = systems, pullOut, 1100 }, 300, false, Fails, "board", "106 % even at 300"},
		{"system only for closer centres", func(h *Hold) { h.Systems, h.PullOut = systems[1:], pullOut }, 400, true, Passes, "board", "beyond 400"},
		// 4.3 x 1500 x 0.135 = 870.75 N a metre of centres: 400 N carry 459 mm.
		{"estimate", func(h *Hold) { h.Withdrawal, h.PullThrough = Strength{400, "a"}, Strength{500, "b"} }, 450, true, NotChecked, "board", "131 % at 600"},
		{"estimate, all else declared", func(h *Hold) {
			h.Withdrawal, h.PullThrough, h.PullOut = Strength{400, "a"}, Strength{500, "b"}, pullOut
			h.BendingClass, h.BendingFactor = 5, 2
		}, 450, true, Estimate, "board", "131 % at 600"},
		// 4.05 MPa at 600, 2.28 at 450; 7/2 = 3.5.
		{"bending governs", func(h *Hold) { h.BendingClass, h.BendingFactor = 2, 2 }, 450, true, NotChecked, "bending", "116 % at 600"},
		{"all held at the widest", func(h *Hold) {
			h.Systems, h.PullOut, h.Suction = systems, pullOut, 400 // 600 of 1200 Pa; 144 of 300 N
		}, 600, true, Passes, "board", "board used 50 %"},
	} {
		h := common()
		test.change(&h)
		s, err := Solve(h, nil)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if s.Centres != mm(test.centres) || s.Holds != test.holds || s.Verdict != test.verdict {
			t.Errorf("%s: %v mm, holds %v, %s, want %d, %v, %s", test.name, s.Centres, s.Holds, s.Verdict, test.centres, test.holds, test.verdict)
		}
		if s.Governs != test.governs || !strings.Contains(s.Why, test.why) {
			t.Errorf("%s: governs %q, %q, want %q, saying %q", test.name, s.Governs, s.Why, test.governs, test.why)
		}
	}
}

// The list may be in any order and is left as it was.
func TestSolveTakesItsList(t *testing.T) {
	h := common()
	h.PullOut = Strength{300, "x"}
	list := []measure.Length{mm(350), mm(500), mm(200), mm(501)}
	s, err := Solve(h, list)
	if err != nil || s.Centres != mm(500) { // 300 N exactly at 500 mm
		t.Errorf("%v mm, %v, want 500", s.Centres, err)
	}
	if list[0] != mm(350) || list[3] != mm(501) {
		t.Errorf("the list was changed: %v", list)
	}
}

// random returns a hold with anything declared or not.
func random(r *rand.Rand) Hold {
	maybe := func(v float64) float64 {
		if r.IntN(3) == 0 {
			return 0
		}
		return v * (0.2 + r.Float64())
	}
	h := common()
	h.Suction, h.Pressure = 2000*r.Float64(), 1500*r.Float64()
	h.Withdrawal.Design, h.PullThrough.Design, h.PullOut.Design = maybe(500), maybe(500), maybe(400)
	h.Bending, h.BendingFactor = maybe(9), []float64{0, 1.5}[r.IntN(2)]
	for range r.IntN(4) {
		h.Systems = append(h.Systems, System{
			Resistance: maybe(2000),
			Lap:        mm(30 + r.Int64N(15)),
			Centres:    mm([]int64{250, 300, 400, 450, 600}[r.IntN(5)]),
		})
	}
	return h
}

// Over many walls: more wind never means wider centres, and at every wider
// centres tried something fails or a system is not declared for it.
func TestSolveProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 3000 {
		h := random(r)
		s, err := Solve(h, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, wider := range []int64{600, 450, 400, 300} {
			if mm(wider) <= s.Centres {
				break
			}
			held := true
			for _, c := range checksAt(t, h, mm(wider)) {
				held = held && c.Use <= 1 && !strings.HasPrefix(c.Basis, "no system")
			}
			if held {
				t.Fatalf("wall %d: %v mm chosen though %d hold: %+v", i, s.Centres, wider, h)
			}
		}
		more := h
		more.Suction *= 1 + r.Float64()
		more.Pressure *= 1 + r.Float64()
		if m, _ := Solve(more, nil); m.Centres > s.Centres || (m.Holds && !s.Holds) {
			t.Fatalf("wall %d: %v mm (holds %v), with more wind %v mm (holds %v): %+v", i, s.Centres, s.Holds, m.Centres, m.Holds, h)
		}
		if s.Verdict == Passes && !s.Holds {
			t.Fatalf("wall %d passes and does not hold: %+v", i, s)
		}
	}
}

// Closer centres never raise a load or a use; nothing that is not declared
// passes; an estimate never does.
func TestChecksProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 3000 {
		h := random(r)
		last := map[string]Check{}
		for centres := int64(620); centres > 200; centres -= 20 {
			now := checksAt(t, h, mm(centres))
			for what, c := range now {
				if w, there := last[what]; there && (c.Load > w.Load || (w.Use > 0 && c.Use > w.Use)) {
					t.Fatalf("wall %d, %s: load %.1f, use %.3f at %d mm, wider: %.1f, %.3f", i, what, c.Load, c.Use, centres, w.Load, w.Use)
				}
				if c.Verdict == Passes && (c.Use > 1 || c.Resistance == 0) {
					t.Fatalf("wall %d: passes with use %.3f of %.3f: %+v", i, c.Use, c.Resistance, c)
				}
				if strings.HasPrefix(c.Basis, "estimate") && c.Verdict == Passes {
					t.Fatalf("wall %d: an estimate passes: %+v", i, c)
				}
				if (c.Verdict == NotChecked) != (c.Resistance == 0) {
					t.Fatalf("wall %d: %s with resistance %g: %+v", i, c.Verdict, c.Resistance, c)
				}
			}
			last = now
		}
	}
}
