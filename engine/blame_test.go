package engine

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/audit"
)

// A wall whose plan does not pass the audit is left out with a stop, and the
// others are as if it had never been there but for their marks.
func TestFaultyWallIsLeftOut(t *testing.T) {
	side := front()
	side.Name = "side"
	job := surveyed(testJob(front(), side))
	u := newTakeoff(job)
	u.faulty = map[int]string{}
	if err := u.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	u.result.Walls[0].Screws[3].Visible = !u.result.Walls[0].Screws[3].Visible // a fault of ours
	faults := audit.Check(u.auditJob())
	if !u.blame(faults) || len(u.faulty) != 1 || !strings.Contains(u.faulty[0], "visible") {
		t.Fatalf("%v is blamed on %v", faults, u.faulty)
	}
	again := newTakeoff(job)
	again.faulty = u.faulty
	if err := again.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	again.collect()
	res := again.result
	if len(res.Walls) != 1 || res.Walls[0].Name != "side" || len(res.Left) != 1 || res.Left[0].Wall != "front" || res.Left[0].Boards <= 0 {
		t.Errorf("taken off %d walls, left out %+v", len(res.Walls), res.Left)
	}
	if i := slices.IndexFunc(res.Flags, func(f Flag) bool { return f.Code == "audit" }); i < 0 || res.Flags[i].Severity != Stop || res.Flags[i].Wall != "front" {
		t.Errorf("flags %+v", res.Flags)
	}
}

// A fault of the order is no single wall's: leaving walls out would mend nothing.
func TestFaultOfNoWall(t *testing.T) {
	u := newTakeoff(testJob(front()))
	u.faulty = map[int]string{}
	if err := u.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	u.result.Order[0].Net++
	if faults := audit.Check(u.auditJob()); len(faults) == 0 || u.blame(faults) {
		t.Errorf("%v is blamed on %v", faults, u.faulty)
	}
}
