package engine

import (
	"context"
	"testing"

	"lapwright/engine/measure"
)

var mm = measure.MM

// testProducts is a plain catalogue in one colour.
func testProducts() []Product {
	p := func(role, code, unit string, length, width int64) Product {
		return Product{Role: role, Code: code, Unit: unit, Length: mm(length), Width: mm(width), Pack: 1, Price: 10, Thickness: mm(10)}
	}
	packer := func(thick int64) Product {
		return Product{Role: RolePacker, Code: "PK" + itoa(int(thick)), Unit: "piece", Pack: 1, Price: 1, Thickness: mm(thick)}
	}
	return []Product{
		p(RoleBoard, "B30", "piece", 3000, 180), p(RoleReveal, "RB", "piece", 3000, 180),
		p(RoleStarter, "ST", "piece", 3000, 0), p(RoleVent, "VS", "piece", 2500, 0),
		p(RoleEdge, "ET", "piece", 3000, 0), p(RoleInternal, "IC", "piece", 3000, 0),
		p(RoleExternal, "EC", "piece", 3000, 0), p(RoleUnequal, "UC", "piece", 3000, 0),
		p(RoleFrame, "FT", "piece", 3000, 0), p(RoleBatten, "BT50", "piece", 4800, 50),
		p(RoleWideBatten, "BT75", "piece", 4800, 75), p(RoleTape, "T60", "m", 0, 60),
		p(RoleTape, "T85", "m", 0, 85), p(RoleMembrane, "BM", "m2", 0, 1500),
		p(RoleScrew, "SC", "piece", 45, 0), p(RoleVisibleScrew, "SV", "piece", 45, 0),
		p(RoleBattenFixing, "BF", "piece", 0, 0), p(RoleTrimFixing, "TF", "piece", 0, 0), p(RolePaint, "PT", "l", 0, 0),
		p(RoleVisibleScrew, "SV50", "piece", 50, 0), p(RoleVisibleScrew, "SV55", "piece", 55, 0), packer(2), packer(3), packer(5),
	}
}

func testJob(walls ...Wall) *Job {
	return &Job{Name: "test", Rules: DefaultRules(), Products: testProducts(), Walls: walls, Currency: "GBP", Effort: EffortQuick}
}

func TestTakeoffPlainWall(t *testing.T) {
	w := Wall{Name: "Front", Width: mm(6000), Height: mm(2700), Left: ExternalCorner, Right: ExternalCorner, Top: Soffit, Bottom: Ground, Quantity: 1,
		Openings: []Opening{
			{Name: "w1", Kind: "window", Left: mm(1000), Sill: mm(900), Width: mm(1200), Height: mm(1050), Reveal: mm(100), Lined: true},
			{Name: "d1", Kind: "door", Left: mm(3500), Sill: mm(0), Width: mm(900), Height: mm(2100)},
		}}
	res, err := Takeoff(context.Background(), testJob(w))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range res.Flags {
		t.Log(f.Severity, f.Code, f.What)
	}
	for _, o := range res.Order {
		t.Log(o.Role, o.Code, o.Net, o.Order)
	}
	t.Logf("%+v", res.Boards())
	for _, c := range res.Walls[0].Courses {
		t.Logf("%+v", c)
	}
}
