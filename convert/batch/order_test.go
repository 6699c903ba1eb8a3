package batch

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lapwright/convert"
	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/engine"
	"lapwright/engine/quantity"
)

func orderOf(name, currency string, lines ...exchange.OrderLine) source {
	return source{name: name, currency: currency, lines: lines}
}

// Lines of one drop, role and code are added up and rounded to packs once;
// others stay apart, in the order of an order.
func TestMerge(t *testing.T) {
	board := exchange.OrderLine{Drop: "1", Role: engine.RoleBoard, Code: "B", Unit: "each", Net: 36, Spare: 10, Pack: 25, Price: 2}
	more := board
	more.Net = 46
	other := board
	other.Drop, other.Net = "2", 5
	screw := exchange.OrderLine{Drop: "1", Role: engine.RoleScrew, Code: "S", Unit: "each", Net: 100, Spare: 5, Pack: 200, Price: 0.1}
	red := exchange.OrderLine{Drop: "1", Role: engine.RolePaint, Colour: "Red", Unit: "l", Net: 1, Pack: 1}
	green := exchange.OrderLine{Drop: "1", Role: engine.RolePaint, Colour: "Green", Unit: "l", Net: 2, Pack: 1}
	lines, err := merge([]source{orderOf("a", "GBP", red, screw, board), orderOf("b", "GBP", other, more, green)})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, l := range lines {
		got = append(got, l.Drop+l.Role+l.Colour)
	}
	if strings.Join(got, ",") != "1board,1screw,1paintGreen,1paintRed,2board" {
		t.Errorf("the lines are %v", got)
	}
	if l := lines[0]; l.Net != 82 || l.Spare != 10 || l.Takeoffs != 2 || l.Remark != "" {
		t.Errorf("the merged line is %+v", l)
	}
	// apart: 40 and 51 boards, 2 + 3 packs; together 90.2, 91 boards, 4 packs
	if n := quantity.Packs(quantity.Order(lines[0].Net, lines[0].Spare), lines[0].Pack); n != 4 {
		t.Errorf("%v packs, want 4", n)
	}
}

// What readers have set differently is said, and no takeoff's spare is lost.
func TestMergeDiffers(t *testing.T) {
	a := exchange.OrderLine{Role: engine.RoleBoard, Code: "B", Net: 30, Spare: 10, Pack: 1, Price: 2}
	b := exchange.OrderLine{Role: engine.RoleBoard, Code: "B", Net: 10, Spare: 30, Pack: 5, Price: 3}
	lines, err := merge([]source{orderOf("a", "GBP", a), orderOf("b", "GBP", b)})
	if err != nil {
		t.Fatal(err)
	}
	l := lines[0]
	if want := 30*1.1 + 10*1.3; math.Abs(l.Net*(1+l.Spare/100)-want) > 1e-9 {
		t.Errorf("with spare it is %v, want %v", l.Net*(1+l.Spare/100), want)
	}
	if l.Pack != 1 || l.Price != 2 {
		t.Errorf("pack %v and price %v are not those of the larger quantity", l.Pack, l.Price)
	}
	for _, want := range []string{"pack is 1 in a but 5 in b", "price is 2 in a but 3 in b", "spare differs"} {
		if !strings.Contains(l.Remark, want) {
			t.Errorf("the remark %q lacks %q", l.Remark, want)
		}
	}
	// A price is taken before none, whatever the quantity; of two products of one
	// code the line says so.
	blank, priced := a, b
	blank.Price, blank.Description, priced.Description = 0, "Board, 3 m", "Board, 4 m"
	lines, err = merge([]source{orderOf("a", "GBP", blank), orderOf("b", "GBP", priced)})
	if err != nil {
		t.Fatal(err)
	}
	if l := lines[0]; l.Price != 3 || l.Pack != 1 || !strings.Contains(l.Remark, "description is Board, 3 m in a but Board, 4 m in b") {
		t.Errorf("with a blank price: %+v", l)
	}
	if _, err := merge([]source{orderOf("a", "GBP", a), orderOf("b", "EUR", b)}); convert.KindOf(err) != convert.Unusable {
		t.Errorf("two currencies: got %v", err)
	}
}

// Names of files are safe, short and unlike each other, however parts are
// called.
func TestFileName(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range []struct{ name, want string }{
		{"12", "12"}, {"3/4", "3-4"}, {"3:4", "3-4 (2)"}, {"a", "a"}, {"A", "A (2)"}, {"", "part"}, {"..", "part (2)"},
		{"lapwright-batch", "part lapwright-batch"}, {"~$x", "$x"}, {strings.Repeat("é", 100), strings.Repeat("é", 80)},
	} {
		if got := fileName(c.name, taken); got != c.want {
			t.Errorf("%q: got %q, want %q", c.name, got, c.want)
		}
	}
}

// What two orders both count: one content wherever the takeoffs lie, one name in
// one folder, and no plot that only one of them holds.
func TestSharedBy(t *testing.T) {
	of := func(name, survey, digest string, plots ...string) source {
		return source{name: name, held: []report.Held{{Survey: survey, Digest: digest, Plots: plots}}}
	}
	merged := of("all.xlsx", "a.xlsx", "1", "P1", "P9")
	merged.merged = true
	for _, c := range []struct {
		name    string
		sources []source
		want    []string
	}{
		{"other plots", []source{of("x", "a.xlsx", "1", "P1"), of("y", "a.xlsx", "1", "P2")}, nil},
		{"other surveys of one name", []source{of("x/t", "a.xlsx", "1", ""), of("y/t", "a.xlsx", "2", "")}, nil},
		{"a copy", []source{of("x/t", "a.xlsx", "1", ""), of("y/t", "b.xlsx", "1", "")}, []string{"x/t and y/t both count the survey b.xlsx"}},
		{"changed", []source{of("t", "a.xlsx", "1", "P1", "P2"), of("./u", "A.xlsx", "2", "P2")}, []string{"t and ./u both count plot P2 of A.xlsx, which was changed between them or is of one name only"}},
		{"many plots", []source{of("t", "a", "1", "1", "2", "3", "4", "5"), of("u", "a", "1", "1", "2", "3", "4", "5")}, []string{"t and u both count plot 1, 2, 3 and 2 more of a"}},
		{"a merged order", []source{merged, of("t", "a.xlsx", "2", "P9"), of("u/t", "a.xlsx", "1", "P9")}, []string{"all.xlsx and u/t both count plot P9 of a.xlsx"}},
		{"in turn", []source{of("t", "a", "1", ""), of("u", "a", "1", ""), of("v", "a", "1", "")}, []string{"t and u both count the survey a", "t and v both count the survey a"}},
	} {
		var got []string
		for _, s := range sharedBy(c.sources) {
			got = append(got, s.words())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}
